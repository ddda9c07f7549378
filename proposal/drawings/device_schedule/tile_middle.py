"""Where the middle of a device's ceiling tile lies, seen from the device."""

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.drawings.plan.turning import turned
from proposal.quantities import formatting
from proposal.quantities.tile_grid import to_tile_middle_m

_EXACT_M = 0.005
"""What is nearer to the middle of its tile than this hangs there, m."""


def to_tile_middle(document: Document, row: DeviceRow) -> str:
    """Return where the middle of its ceiling tile lies, seen from a device; empty where there is no grid."""
    room = next((one for one in document.rooms if one.tag == row.room), None)
    kind = next((one for one in document.room_sheets if room and one.key == room.sheet), None)
    if room is None or kind is None or row.at is None or row.location != "ceiling" or not kind.ceiling_tile_m:
        return ""
    (own,) = turned((row.at,), room.outline, kind.outline)
    dx, dy = to_tile_middle_m(own, kind.ceiling_tile_m)
    (middle,) = turned(((own[0] + dx, own[1] + dy),), kind.outline, room.outline)
    units, locale = document.cover.units, document.cover.locale
    parts = [
        f"{formatting.short_quantity(abs(far), 'short_length', units, locale)} {ways[far < 0]}"
        for far, ways in zip(
            (middle[0] - row.at[0], middle[1] - row.at[1]), (("E", "W"), ("N", "S")), strict=True
        )
        if abs(far) >= _EXACT_M
    ]
    return ", ".join(parts) or "here"
