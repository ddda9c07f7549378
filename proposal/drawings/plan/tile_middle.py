"""Where a device hangs that is in a ceiling tile: in the middle of the tile."""

from collections.abc import Sequence

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
    return from_corner(document, row, middle)


def from_corner(document: Document, row: DeviceRow, at: Sequence[float]) -> str:
    """Return how far a point is from the west and the south wall of a device's room, as sheets say it.

    at: the point in the building, m.
    """
    outline = next((one.outline for one in document.rooms if one.tag == row.room), ((0.0, 0.0),))
    corner = min(x for x, _ in outline), min(y for _, y in outline)
    units, locale = document.cover.units, document.cover.locale
    return ", ".join(
        formatting.short_quantity(far - by, "length", units, locale)
        for far, by in zip(at, corner, strict=True)
    )
