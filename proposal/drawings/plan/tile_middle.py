"""Where a device hangs that is in a ceiling tile: in the middle of the tile."""

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.drawings.plan.turning import turned
from proposal.quantities import formatting
from proposal.quantities.tile_grid import to_tile_middle_m


def tile_middle(document: Document, row: DeviceRow) -> str:
    """Return how far the middle of its ceiling tile is from the west and the south wall of a device's room.

    Empty where there is no grid.
    """
    room = next((one for one in document.rooms if one.tag == row.room), None)
    kind = next((one for one in document.room_sheets if room and one.key == room.sheet), None)
    if room is None or kind is None or row.at is None or row.location != "ceiling" or not kind.ceiling_tile_m:
        return ""
    (own,) = turned((row.at,), room.outline, kind.outline)
    dx, dy = to_tile_middle_m(own, kind.ceiling_tile_m)
    (middle,) = turned(((own[0] + dx, own[1] + dy),), kind.outline, room.outline)
    corner = min(x for x, _ in room.outline), min(y for _, y in room.outline)
    units, locale = document.cover.units, document.cover.locale
    return ", ".join(
        formatting.short_quantity(far - by, "length", units, locale)
        for far, by in zip(middle, corner, strict=True)
    )
