"""What the schedule of a storey says of a cable: how it begins, its way, and where it ends."""

from collections.abc import Mapping
from itertools import groupby

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.patch_table import PatchRow
from proposal.drawings.plan.plan_marks import code_of
from proposal.drawings.plan.storey_runs import rising_at
from proposal.quantities import formatting
from proposal.quantities.floor_runs import ALONG_FURNITURE_M

JACK = "jack"


def followed(
    document: Document,
    cable: CableRow,
    patches: Mapping[str, PatchRow],
    corner: tuple[float, float] | None,
) -> tuple[str, ...]:
    """Return what is said of a cable: from how it begins to where it ends and what it is patched to.

    patches: by the identity of the cable.
    corner: south-western, of its room, m; from it is told where the cable enters its pathway. None: untold.
    """
    patch = patches.get(cable.identity)
    begins = [cable.from_panel or cable.from_port, cable.from_connector]
    if patch and patch.first_cord:
        begins.append(f"cord {patch.first_cord}")
    way = [tag for tag, _ in groupby(cable.pathways)]
    ends = " ".join(part for part in (cable.to_tag, code_of(cable.to_port, cable.to_tag)) if part)
    ends += _unit(document, cable) or _plugged(cable)
    if cable.to_storey != cable.from_storey:
        ends += f", {cable.to_storey}"
    patched = ""
    if patch and patch.switch and patch.switch != cable.to_tag:
        patched = f"{patch.switch} port {patch.switch_port}"
        patched += f", over {patch.source}" if patch.source else ""
        cords = [cord for cord in (patch.last_cord, patch.source_cord) if cord]
        if len(cords) > 1 and len(set(cords)) == 1:
            patched += f", {len(cords)} cords {cords[0]}"
        elif cords:
            patched += f", cord {' and '.join(cords)}"
    return (
        cable.identity,
        cable.type,
        length(document, cable.length_m),
        ", ".join(part for part in begins if part),
        ", ".join([_entered(document, cable, way[0], corner), *way[1:]])
        if way
        else _open_way(document, cable),
        ends,
        patched,
    )


def _unit(document: Document, cable: CableRow) -> str:
    """Return the unit of the rack in which a cable ends, from below; empty where it ends in none."""
    name = cable.to_port.rpartition("/")[0] or cable.to_port
    places = (
        place.unit
        for place in document.rack_places
        if place.rack == cable.to_tag and place.name in (name, f"{cable.to_tag}/{name}")
    )
    unit = next(places, None)
    return "" if unit is None else f" (U{unit})"


def _plugged(cable: CableRow) -> str:
    """Return how a cable ends in the port of a device, where it does so otherwise than it begins."""
    made = cable.to_connector
    if made.endswith(JACK):
        return ", plug"
    return f", {made}" if made and made != cable.from_connector else ""


def _entered(document: Document, cable: CableRow, first: str, corner: tuple[float, float] | None) -> str:
    """Return the first pathway of a cable, with where it enters that, seen from the corner of its room.

    first: tag of the pathway.  corner: of the room; None where it need not be told.
    Of a pathway above it is told at which wall the cable goes up.
    """
    room = next((one for one in document.rooms if one.tag == cable.room), None)
    if corner is None or room is None or not cable.turns:
        return first
    x, y = cable.turns[0]
    up = rising_at(document, cable)
    if up is not None:
        into = f"into {first}" if cable.floor_m else f"above the ceiling into {first}"
        floor = f"{_floor(document, cable)}, " if cable.floor_m else ""
        return f"{floor}up the wall at {_from_corner(document, cable, up)}, {into}"
    far_m = cable.floor_m if cable.floor_m > ALONG_FURNITURE_M else 0.0
    if far_m:
        first = f"{_floor(document, cable)} to {first}"
    far = max(one[0] for one in room.outline), max(one[1] for one in room.outline)
    if not (corner[0] <= x <= far[0] and corner[1] <= y <= far[1]):
        return first
    into = first if far_m else f"into {first}"
    return f"{into} at {length(document, x - corner[0])} and {length(document, y - corner[1])}"


def _open_way(document: Document, cable: CableRow) -> str:
    """Return what is said of a cable that lies in no pathway."""
    up, down = cable.rises_at, cable.comes_down_at
    if cable.from_storey != cable.to_storey:
        way = f"no pathway given, to storey {cable.to_storey}"
    elif up is None and down is None:
        return f"no pathway: {cable.route}"
    else:
        way = "along x and y, no pathway"
    floor = [_floor(document, cable)] if cable.floor_m else []
    told = [*floor] if up else []
    told += [f"up the wall at {_from_corner(document, cable, up)}"] if up else []
    told.append(way)
    told += [f"down the wall at {_from_corner(document, cable, down)}"] if down else []
    told += [] if up else floor
    return ", ".join(told)


def _from_corner(document: Document, cable: CableRow, at: tuple[float, float]) -> str:
    """Return how far a point is from the west and from the south wall of the room of a cable."""
    outline = next((one.outline for one in document.rooms if one.tag == cable.room), ((0.0, 0.0),))
    corner = min(x for x, _ in outline), min(y for _, y in outline)
    return " and ".join(length(document, far - by) for far, by in zip(at, corner, strict=True))


def _floor(document: Document, cable: CableRow) -> str:
    """Return how far a cable goes along the floor; what it lies in there, a note of the sheet tells."""
    return f"{length(document, cable.floor_m)} on the floor"


def length(document: Document, value_m: float) -> str:
    """Return a length of a line as it is written.

    value_m: in metres.
    """
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)
