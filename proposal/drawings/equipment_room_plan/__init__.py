"""The plan of an equipment room: its racks with what is free around them, pathways, outlets, earthing bar."""

from collections.abc import Iterator, Sequence

from proposal.document.document import Document
from proposal.document.rows.pathways import NodeRow, PathwayRow
from proposal.document.rows.rooms import EquipmentRoomRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.wall_passages import openings_on
from proposal.drawings.device_schedule.racked_devices import hooks_words, size_words
from proposal.drawings.plan.openings import DoorLines, doors_of
from proposal.drawings.plan.pathway_words import placed_at, size_of
from proposal.drawings.plan.plan_marks import natural
from proposal.drawings.plan.storey_pieces import cut_line
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting
from proposal.quantities.level_ways import level_parts
from proposal.quantities.wall_openings import right_angled

Point = tuple[float, float]
Box = tuple[float, float, float, float]
CLEAR_M = {"metric": (1.0, 0.6), "us_customary": (0.9906, 0.6096)}
"""What is free before and behind a rack at least (common practice): 1 m and 0.6 m, 3 ft 3 in and 2 ft."""
EARTHING = "earthing"
_SAME_M = 0.01
_ASIDE = {"north": (1.0, 0.0), "south": (1.0, 0.0), "east": (0.0, 1.0), "west": (0.0, 1.0)}
"""Along which way racks stand side by side, by where their fronts look."""


@dataclass(frozen=True, slots=True)
class RoomRack:
    """A rack as it stands: tag, corners from the west, south, east and north, m, and side of its front."""

    tag: str
    box: Box
    faces: str


@dataclass(frozen=True, slots=True)
class RoomPathway:
    """A pathway within the room: tag, kind, its points there, m; where it rises one, and its way in words."""

    tag: str
    kind: str
    points: tuple[Point, ...]
    way: str = ""


@dataclass(frozen=True, slots=True)
class RoomOpening:
    """An opening in a wall of the room: tag, place, m, and whether the wall runs from south to north."""

    tag: str
    at: Point
    upright: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentRoomSpec:
    """All that the plan of an equipment room shows; positions are in the building, m.

    units: metric or us_customary.
    free: what is free from the racks to each wall: start and end of the line, m, and the length in words.
    short: what is less than it should be, in sentences.
    ways: of cables from pathways to the racks.
    table: what the table says, a row of three cells each: what, where, and what else.
    """

    strip: TitleBlock
    units: str
    locale: str
    tag: str
    name: str
    storey: str
    outline: tuple[Point, ...]
    doors: tuple[DoorLines, ...]
    racks: tuple[RoomRack, ...]
    free: tuple[tuple[Point, Point, str], ...]
    short: tuple[str, ...]
    pathways: tuple[RoomPathway, ...]
    ways: tuple[tuple[Point, ...], ...]
    openings: tuple[RoomOpening, ...]
    outlets_at: Point | None
    earthing_at: Point | None
    table: tuple[tuple[str, str, str], ...]


def spec_of(edition: Edition, sheet: SheetRow) -> EquipmentRoomSpec:
    """Return what the plan of an equipment room shows; the subject of the sheet is its tag."""
    document = edition.document
    room = next(row for row in document.equipment_rooms if row.tag == sheet.subject)
    racks = tuple(_racks(document, room))
    box = _reach(room.outline)
    free, short = _free(document, box, racks)
    pathways = tuple(_pathways(document, room, box))
    openings = tuple(
        RoomOpening(one.tag, one.at, one.upright)
        for one in openings_on(document, room.storey)
        if _on_wall(one.at, box)
    )
    return EquipmentRoomSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        tag=room.tag,
        name=room.name,
        storey=room.storey,
        outline=room.outline,
        # Doors stand in walls: corners at one place have none between them.
        doors=doors_of(room.outline, [(at, width) for _, at, width in room.doors])
        if len(set(room.outline)) > 1
        else (),
        racks=racks,
        free=free,
        short=short,
        pathways=pathways,
        ways=_ways(document, room),
        openings=openings,
        outlets_at=room.outlets_at,
        earthing_at=room.earthing_at,
        table=tuple(_table(document, room, pathways, openings)),
    )


def _reach(points: Sequence[Point]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _on_wall(at: Point, box: Box) -> bool:
    """Return whether a point lies on a wall of a room."""
    inside = all(box[n] - _SAME_M <= at[n] <= box[n + 2] + _SAME_M for n in (0, 1))
    return inside and any(abs(at[n % 2] - box[n]) <= _SAME_M for n in range(4))


def _racks(document: Document, room: EquipmentRoomRow) -> Iterator[RoomRack]:
    """Yield the racks of a room as they stand: side by side about their place, those of known size."""
    rows = sorted((row for row in document.racks if row.tag in room.racks), key=lambda row: natural(row.tag))
    known = [(row, row.width_m, row.depth_m) for row in rows if row.width_m and row.depth_m]
    whole = sum(width for _, width, _ in known)
    before = 0.0
    for row, width, depth in known:
        across = _ASIDE.get(row.faces, (1.0, 0.0))
        far = before + width / 2 - whole / 2
        middle = room.at[0] + far * across[0], room.at[1] + far * across[1]
        half = (width / 2, depth / 2) if across[0] else (depth / 2, width / 2)
        before += width
        box = middle[0] - half[0], middle[1] - half[1], middle[0] + half[0], middle[1] + half[1]
        yield RoomRack(row.tag, box, row.faces)


def _free(
    document: Document, room: Box, racks: Sequence[RoomRack]
) -> tuple[tuple[tuple[Point, Point, str], ...], tuple[str, ...]]:
    """Return what is free from all racks to each wall, and what of that is less than it should be."""
    if not racks:
        return (), ()
    west, south, east, north = (
        choose(rack.box[n] for rack in racks) for n, choose in ((0, min), (1, min), (2, max), (3, max))
    )
    x, y = (west + east) / 2, (south + north) / 2
    lines = {
        "south": ((x, room[1]), (x, south), south - room[1]),
        "north": ((x, north), (x, room[3]), room[3] - north),
        "west": ((room[0], y), (west, y), west - room[0]),
        "east": ((east, y), (room[2], y), room[2] - east),
    }
    before_m, behind_m = CLEAR_M["us_customary" if document.cover.units == "us_customary" else "metric"]
    opposite = {"north": "south", "south": "north", "east": "west", "west": "east"}
    wanted = {side: before_m for side in {rack.faces for rack in racks} if side}
    wanted |= {opposite[side]: behind_m for side in tuple(wanted) if opposite[side] not in wanted}
    short = tuple(
        f"Free to the {side} wall: {_length(document, far)}, less than {_length(document, wanted[side])}."
        for side, (_, _, far) in lines.items()
        if side in wanted and far < wanted[side] - _SAME_M
    )
    found = ((one, two, _length(document, far)) for one, two, far in lines.values() if far > _SAME_M)
    return tuple(found), short


def _pathways(document: Document, room: EquipmentRoomRow, box: Box) -> Iterator[RoomPathway]:
    """Yield the pathways of a storey as far as they lie in a room, and those that rise in it."""
    nodes = {node.tag: node for node in document.nodes}
    heights = {row.tag: row.height_m for row in document.storeys}
    for row in document.pathways:
        ends = [nodes[tag] for tag in (row.from_node, row.to_node) if tag in nodes]
        here = [node for node in ends if node.storey == room.storey]
        if len(ends) < 2 or not here:
            continue
        if len(here) < len(ends):
            away = next(node.storey for node in ends if node not in here)
            way = "up" if heights.get(away, 0.0) > heights.get(room.storey, 0.0) else "down"
            if _within(here[0].at, box):
                yield RoomPathway(row.tag, row.kind, (here[0].at,), f"{way} to {away}")
            continue
        for part in level_parts((ends[0].at, ends[1].at), (ends[0].height_m, ends[1].height_m), row.drops_at):
            for points in cut_line(part.points, box):
                if any(one != points[0] for one in points):
                    yield RoomPathway(row.tag, row.kind, points)


def _within(at: Point, box: Box) -> bool:
    return box[0] <= at[0] <= box[2] and box[1] <= at[1] <= box[3]


def _ways(document: Document, room: EquipmentRoomRow) -> tuple[tuple[Point, ...], ...]:
    """Return the ways of cables from the pathways that they leave to the racks, each once."""
    at = {device.tag: device.at for device in document.devices if device.tag in room.racks}
    found: dict[tuple[Point, ...], None] = {}
    for cable in document.cables:
        for tag, turn in ((cable.to_tag, cable.turns[-1:]), (cable.from_tag, cable.turns[:1])):
            place = at.get(tag)
            if place is None or not turn or (cable.room != room.tag and tag == cable.from_tag):
                continue
            points = tuple(dict.fromkeys((round(x, 3), round(y, 3)) for x, y in right_angled(turn[0], place)))
            if len(points) > 1:
                found[points] = None
    return tuple(found)


def _table(
    document: Document,
    room: EquipmentRoomRow,
    pathways: Sequence[RoomPathway],
    openings: Sequence[RoomOpening],
) -> Iterator[tuple[str, str, str]]:
    for rack in document.racks:
        if rack.tag in room.racks:
            front = f"front to the {rack.faces}" if rack.faces else "front to be agreed"
            weight = formatting.quantity(rack.weight_kg, "mass", document.cover.units, document.cover.locale)
            size = ", ".join(part for part in (rack.model, size_words(document, rack.tag)) if part)
            yield f"rack {rack.tag}", f"{_place(document, room.at)}, {front}", f"{size}, {weight} in it"
    west, south, _, _ = _reach(room.outline)
    yield "walls", f"begin {_place(document, (west, south))}", ""
    for tag, at, width_m in room.doors:
        yield f"door {tag}", _place(document, at), f"{_length(document, width_m)} wide"
    rows = {row.tag: row for row in document.pathways}
    nodes = {node.tag: node for node in document.nodes}
    for tag in dict.fromkeys(one.tag for one in pathways):
        yield _of_pathway(document, rows[tag], nodes, next(one.way for one in pathways if one.tag == tag))
    sleeves = dict(next((row.wall_sleeves for row in document.storeys if row.tag == room.storey), ()))
    for one in openings:
        yield f"opening {one.tag}", _place(document, one.at), sleeves.get(one.tag, "")
    plugs: dict[str, list[str]] = {}
    for outlet in document.mains_outlets:
        if outlet.place == room.tag:
            plugs.setdefault(outlet.plug, []).append(f"{outlet.mark} for {outlet.serves.rpartition('/')[2]}")
    where = _place(document, room.outlets_at) if room.outlets_at else "at the racks"
    for plug, marks in plugs.items():
        yield "mains outlets", where, f"{', '.join(marks)}: {plug or 'plug not stated'}"
    high = sorted(
        {cable.last_run_m for cable in document.cables if cable.to_tag in room.racks and cable.last_run_m}
    )
    if high:
        told = " and ".join(_length(document, height_m) for height_m in high)
        yield "cables to the rack", f"at {told}, then down to it", hooks_words(document).removeprefix(" on ")
    kits = [
        row for row in document.takeoff if row.room == room.tag and EARTHING in row.description.casefold()
    ]
    bond = ", ".join(f"{row.quantity:f} × {row.item} {row.description}" for row in kits)
    bar = _place(document, room.earthing_at) if room.earthing_at else "place to be agreed"
    yield "earthing bar", bar, f"bond each rack to it: {bond}" if bond else "bond each rack to it"


def _of_pathway(
    document: Document, row: PathwayRow, nodes: dict[str, NodeRow], way: str
) -> tuple[str, str, str]:
    """Return what the table says of a pathway."""
    what = f"{row.kind} {row.tag}"
    cables = formatting.count_of(len(row.cables), "cable")
    if way:
        return what, way, f"{size_of(document, row)} {cables}".strip()
    placed = ", ".join(placed_at(document, nodes[row.from_node], nodes[row.to_node]))
    return what, placed, f"{size_of(document, row)}, {cables}"


def _place(document: Document, at: Point) -> str:
    return f"{_length(document, at[0])} E, {_length(document, at[1])} N"


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(round(value_m, 4), "length", document.cover.units, document.cover.locale)


def alternative(spec: EquipmentRoomSpec) -> str:
    """Return what the plan shows in sentences."""
    west, south, east, north = _reach(spec.outline)
    wide, deep = (
        formatting.short_quantity(round(far, 4), "length", spec.units, spec.locale)
        for far in (east - west, north - south)
    )
    sentences = [f"Plan of equipment room {spec.tag} {spec.name} on storey {spec.storey}, {wide} by {deep}."]
    sentences += spec.short
    for what, *more in spec.table:
        said = ", ".join(part for part in more if part)
        sentences.append(f"{what[:1].upper()}{what[1:]}: {said}.")
    return " ".join(sentences)
