"""What the schedule of a storey says of how devices are held: in a tile, on which furniture."""

from collections.abc import Sequence

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.drawings.plan.plan_marks import held_at
from proposal.drawings.plan.tile_middle import from_corner, tile_middle
from proposal.drawings.plan.turning import turned

TILED = "middle of tile"
ON_FURNITURE = ("table", "under table", "furniture")
NOT_DRAWN = "furniture not drawn"
MOST_NAMES = 2
"""So much furniture is named for devices that share a line; room plans show the rest."""


def held_words(document: Document, rows: Sequence[DeviceRow]) -> str:
    """Return how devices that share a line are held.

    rows: of one kind and model, at one location.
    What hangs in a ceiling of tiles hangs in the middle of one: where that is not its place, it is told.
    """
    one = rows[0]
    if one.location in ON_FURNITURE:
        names = dict.fromkeys(furniture_of(document, row) or NOT_DRAWN for row in rows)
        if len(names) > MOST_NAMES:
            return f"{held_at(one.location)}: see room plan"
        return ": ".join(dict.fromkeys((held_at(one.location), ", ".join(names))))
    middle = tile_middle(document, one) if len(rows) == 1 else ""
    if not middle:
        return held_at(one.location)
    if one.at is not None and middle == from_corner(document, one, one.at):
        return TILED
    return f"{TILED} at {middle}"


def furniture_of(document: Document, row: DeviceRow) -> str:
    """Return the name of the furniture on or under which a device stands; empty where none is drawn there."""
    from shapely import Point, Polygon

    room = next((one for one in document.rooms if one.tag == row.room), None)
    kind = next((one for one in document.room_sheets if room and one.key == room.sheet), None)
    if room is None or kind is None or row.at is None:
        return ""
    for name, corners in kind.furniture:
        if Polygon(turned(corners, kind.outline, room.outline)).buffer(0.01).covers(Point(row.at)):
            return name
    return ""
