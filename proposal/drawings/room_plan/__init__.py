"""The plan of a room, or of rooms built alike: furniture, seats and devices with their heights, to scale."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.holds import holds_in_rooms
from proposal.drawings.plan.openings import DoorLines, Line, doors_of, grid_lines
from proposal.drawings.plan.place_of_a_set import SetPlace
from proposal.drawings.plan.plan_marks import (
    PlanMark,
    called,
    code_of,
    held_at,
    marks_of,
    natural,
    outlets_of,
    schedules_of,
    shortened,
    standing_in_rooms,
    tap_of,
)
from proposal.drawings.plan.symbols import place_in_order
from proposal.drawings.plan.tile_middle import tile_middle
from proposal.drawings.plan.turning import turned
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

Point = tuple[float, float]
MOST_ROWS = 44
"""Lines that the table of a sheet has places for."""
_ROWS_WITH_OUTLETS = 30
"""In a longer table data outlets stand in the lines of their devices."""


@dataclass(frozen=True, slots=True)
class DeviceLine:
    """A line of the table: devices that are fixed alike.

    codes: of them.  what: kind and model.  west, south: from the walls, empty where the plan alone shows it.
    height: above the floor.  tap: of a loudspeaker on its line.
    tile: where the middle of its ceiling tile is, from west and south, where it is not there.
    fixed: where.  cables: what each cable is and where it ends, in the rooms' own
    words; empty where the reader sees no cables.
    """

    codes: str
    what: str
    west: str
    south: str
    height: str
    fixed: str
    cables: tuple[str, ...]
    tile: str = ""
    tap: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPlanSpec:
    """All that the plan of a room shows; positions are from the south-western corner around it, m.

    units: metric or us_customary.
    schedules: numbers of the sheets with the devices and cables of its storeys; empty where there are none.
    rooms: tag and name of each room built so.
    levels: name with its height, and corners.  furniture: name and corners.  seats: tag, name and position.
    site: of a portable set, the place where it stands; none of a room.
    tile: size of the tiles of its ceiling, and grid: the lines between them; empty where they are not given.
    places: code of each microphone, and its distance from the western and the southern wall.
    holds: what waits for an answer, in sentences.
    """

    strip: TitleBlock
    units: str
    locale: str
    title: str
    rooms: tuple[tuple[str, str], ...]
    storeys: tuple[str, ...]
    outline: tuple[Point, ...]
    ceiling_height_m: float
    ceiling_kind: str
    furniture: tuple[tuple[str, tuple[Point, ...]], ...]
    doors: tuple[DoorLines, ...]
    seats: tuple[tuple[str, str, Point], ...]
    levels: tuple[tuple[str, tuple[Point, ...]], ...]
    marks: tuple[PlanMark, ...]
    lines: tuple[DeviceLine, ...]
    schedules: str = ""
    site: SetPlace | None = None
    tile: str = ""
    grid: tuple[Line, ...] = ()
    places: tuple[tuple[str, str, str], ...] = ()
    holds: tuple[str, ...] = ()


def spec_of(edition: Edition, sheet: SheetRow) -> RoomPlanSpec:
    """Return what the plan of the rooms that a sheet names shows to an edition's reader."""
    document = edition.document
    kind = next(row for row in document.room_sheets if row.key == sheet.subject)
    rooms = [row for row in document.rooms if row.tag in sheet.members]
    first = rooms[0]
    corner = (min(x for x, _ in first.outline), min(y for _, y in first.outline))
    devices = [row for row in standing_in_rooms(document) if row.room == first.tag]

    def own(points: Sequence[Point]) -> tuple[Point, ...]:
        built = turned(points, kind.outline, first.outline)
        return tuple((round(x - corner[0], 4), round(y - corner[1], 4)) for x, y in built)

    lines_of_tiles = grid_lines(kind.outline, kind.ceiling_tile_m)
    return RoomPlanSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        title=kind.title,
        rooms=tuple((room.tag, room.name) for room in rooms),
        storeys=tuple(dict.fromkeys(room.storey for room in rooms)),
        outline=own(kind.outline),
        ceiling_height_m=kind.ceiling_height_m,
        ceiling_kind=kind.ceiling_kind,
        furniture=tuple((name, own(points)) for name, points in kind.furniture),
        doors=doors_of(own(kind.outline), [(own((at,))[0], width_m) for _, at, width_m in kind.doors]),
        seats=tuple((tag, name, own((at,))[0]) for tag, name, at in kind.seats),
        levels=_levels(document, kind, first, corner),
        marks=(
            *marks_of(devices, corner),
            *(
                replace(mark, label=formatting.count_of(len(mark.codes), "outlet"))
                for mark in outlets_of(document, devices, corner)
            ),
        ),
        lines=_with_outlets(
            device_lines(document, kind, rooms, devices, corner), _outlet_lines(document, devices, corner)
        ),
        schedules=schedules_of(document, [room.storey for room in rooms]),
        tile=tile_words(document, kind),
        holds=holds_in_rooms(document, sheet.members),
        grid=tuple((ends[0], ends[1]) for line in lines_of_tiles if (ends := own(line))),
        places=_places(document, devices, corner),
    )


def tile_words(document: Document, kind: RoomSheet) -> str:
    """Return the size of the tiles of a ceiling, along x and y of the room; empty where not given."""
    units, locale = document.cover.units, document.cover.locale
    return " × ".join(
        formatting.short_quantity(size, "short_length", units, locale) for size in kind.ceiling_tile_m
    )


def _places(
    document: Document, devices: Iterable[DeviceRow], corner: Point
) -> tuple[tuple[str, str, str], ...]:
    """Return where each microphone stands, other than those that lie in chargers, in order of codes."""

    def length(value_m: float) -> str:
        return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)

    return tuple(
        (code_of(row.tag, row.room), length(row.at[0] - corner[0]), length(row.at[1] - corner[1]))
        for row in sorted(devices, key=lambda row: natural(code_of(row.tag, row.room)))
        if row.at is not None and placed_apart(row)
    )


def placed_apart(device: DeviceRow) -> bool:
    """Return whether a device is placed by number in a table of its own: a microphone out of its charger."""
    return device.kind == "microphone" and device.location != "charger"


def _levels(
    document: Document, kind: RoomSheet, room: RoomRow, corner: Point
) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Return the levels of a room with the height of each above its floor."""
    heights = {
        level.name: formatting.short_quantity(
            level.height_m, "length", document.cover.units, document.cover.locale
        ).replace("-", "−")
        for level in kind.levels
    }
    return tuple(
        (
            f"{name}, floor at {heights.get(name, '')}".removesuffix(", floor at "),
            tuple((round(x - corner[0], 4), round(y - corner[1], 4)) for x, y in corners),
        )
        for name, corners in room.levels
    )


def device_lines(
    document: Document,
    kind: RoomSheet,
    rooms: Sequence[RoomRow],
    devices: Sequence[DeviceRow],
    corner: Point,
) -> tuple[DeviceLine, ...]:
    """Return the table of the devices of a room: one line for each place, one for microphones that are alike.

    Where that is too long for the sheet, devices that are alike share a line; the plan shows where each is.
    """
    leaving = _cables(document, rooms)
    forms = {microphone.code: microphone.form for microphone in kind.microphones}
    placed: dict[tuple[object, ...], list[DeviceRow]] = {}
    alike: dict[tuple[object, ...], list[DeviceRow]] = {}
    for row in sorted(
        devices, key=lambda row: (place_in_order(row.kind), natural(code_of(row.tag, row.room)))
    ):
        same = (called(row), tap_of(document, row), row.location, row.height_m)
        at = None if row.kind == "microphone" else row.at
        placed.setdefault((*same, at), []).append(row)
        alike.setdefault(same, []).append(row)
    lines = _described(document, placed.values(), corner, leaving, forms)
    if _length(lines) > MOST_ROWS:
        lines = _described(document, alike.values(), None, {}, forms)
    return lines


def _outlet_lines(document: Document, devices: Sequence[DeviceRow], corner: Point) -> tuple[DeviceLine, ...]:
    """Return a line for the data outlets at each place, at the height of their devices."""
    units, locale = document.cover.units, document.cover.locale
    lines = []
    for mark in outlets_of(document, devices, corner):
        first = mark.codes[0].partition("/")[0]
        device = next(row for row in devices if code_of(row.tag, row.room) == first)
        west, south, height = (
            "" if far is None else formatting.short_quantity(far, "length", units, locale)
            for far in (*mark.at, device.height_m)
        )
        lines.append(
            DeviceLine(", ".join(mark.codes), mark.kind, west, south, height, held_at(device.location), ())
        )
    return tuple(lines)


def _with_outlets(lines: tuple[DeviceLine, ...], outlets: tuple[DeviceLine, ...]) -> tuple[DeviceLine, ...]:
    """Return the lines of the table with those of outlets: of a long one in the lines of their devices."""
    if _length(lines) + len(outlets) <= _ROWS_WITH_OUTLETS:
        return (*lines, *outlets)
    served = {code.partition("/")[0] for one in outlets for code in one.codes.split(", ")}
    return tuple(
        replace(line, codes=f"{line.codes}, outlet") if set(line.codes.split(", ")) <= served else line
        for line in lines
    )


def _length(lines: Sequence[DeviceLine]) -> int:
    return sum(max(1, len(line.cables)) for line in lines)


def _described(
    document: Document,
    groups: Iterable[Sequence[DeviceRow]],
    corner: Point | None,
    leaving: Mapping[str, tuple[str, ...]],
    forms: Mapping[str, str],
) -> tuple[DeviceLine, ...]:
    def length(value_m: float) -> str:
        return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)

    lines = []
    for rows in groups:
        one = rows[0]
        codes = [code_of(row.tag, row.room) for row in rows]
        form = " ".join(dict.fromkeys(forms[code] for code in codes if code in forms))
        at = one.at if corner is not None and one.kind != "microphone" else None
        west = length(at[0] - corner[0]) if at and corner else ""
        south = length(at[1] - corner[1]) if at and corner else ""
        lines.append(
            DeviceLine(
                codes=shortened(codes)
                if one.location != "charger" and one.kind == "microphone"
                else ", ".join(codes),
                what=called(one, form),
                west=west,
                south=south,
                height="" if one.height_m is None else length(one.height_m),
                fixed="in a charger" if one.location == "charger" else held_at(one.location),
                cables=tuple(line for code in codes for line in leaving.get(code, ())),
                tap=tap_of(document, one).removeprefix("tap "),
                tile=_away_from_middle(document, one, f"{west}, {south}") if at else "",
            )
        )
    return tuple(lines)


def _away_from_middle(document: Document, row: DeviceRow, placed: str) -> str:
    """Return where the middle of a device's tile is, where that is not where the device is.

    placed: from the west and the south wall, as sheets say it.
    """
    middle = tile_middle(document, row)
    return "" if middle == placed else middle


def _cables(document: Document, rooms: Sequence[RoomRow]) -> Mapping[str, tuple[str, ...]]:
    """Return the cables that leave each device, by its code: port and end, and the way if all rooms share it.

    Of rooms built alike, what differs from room to room is left to the cable schedule.
    """
    tags = {room.tag for room in rooms}
    told: dict[str, dict[tuple[str, str], list[CableRow]]] = {}
    for cable in document.cables:
        if cable.room in tags and cable.from_tag.startswith(f"{cable.room}-"):
            code = code_of(cable.from_tag, cable.room)
            end = code_of(cable.to_tag, cable.room)
            told.setdefault(code, {}).setdefault((cable.from_port, end), []).append(cable)
    return {
        code: tuple(
            line for (port, end), cables in sorted(ends.items()) for line in _way(code, port, end, cables)
        )
        for code, ends in told.items()
    }


def _end(code: str, port: str, end: str, cables: Sequence[CableRow]) -> str:
    """Return a cable of rooms built alike with the port that it ends in.

    Racks hold equipment of several rooms: where only the room's tag differs, the port is that of the room's
    own equipment; where more does, each room has a port of its own.
    """
    begins = f"{code}/{port} to"
    whole = {cable.to_port for cable in cables}
    if len(whole) == 1:
        return f"{begins} {end} {whole.pop()}".rstrip()
    own = {code_of(cable.to_port, cable.room) for cable in cables}
    if len(own) == 1:
        device, _, at = own.pop().rpartition("/")
        return f"{begins} {at} of the room's {device} in {end}"
    return f"{begins} {end}, a port for each room"


def _way(code: str, port: str, end: str, cables: Sequence[CableRow]) -> list[str]:
    ways = {cable.pathways for cable in cables}
    away = {cable.to_storey for cable in cables if cable.to_storey != cable.from_storey}
    on = f" on {away.pop()}" if len(away) == 1 else ""
    lines = [f"{_end(code, port, end, cables)}{on}"]
    if len(ways) == 1 and (way := ways.pop()):
        lines.append(f"by {', '.join(tag for tag, _ in groupby(way))}")
    return lines


def alternative(spec: RoomPlanSpec) -> str:
    """Return what the plan shows in sentences."""
    xs, ys = [x for x, _ in spec.outline], [y for _, y in spec.outline]
    size = " by ".join(
        formatting.short_quantity(max(one) - min(one), "length", spec.units, spec.locale) for one in (xs, ys)
    )
    rooms = formatting.listed([f"{tag} {name}" for tag, name in spec.rooms])
    ceiling = formatting.short_quantity(spec.ceiling_height_m, "length", spec.units, spec.locale)
    sentences = [
        f"Plan of {rooms} to scale, north up, {size}; ceiling of {spec.ceiling_kind} at {ceiling}.",
        f"{formatting.count_of(len(spec.seats), 'seat')}.",
    ]
    if spec.tile:
        sentences.append(f"Tiles of {spec.tile}.")
    for code, west, south in spec.places:
        sentences.append(f"Microphone {code}: {west} from the west and {south} from the south.")
    for line in spec.lines:
        where = f", {line.west} from the west and {line.south} from the south" if line.west else ""
        where += f", in the tile whose middle is at {line.tile}" if line.tile else ""
        height = f", {line.height} above the floor" if line.height else ""
        height += f", tap {line.tap}" if line.tap else ""
        sentences.append(f"{line.what[:1].upper()}{line.what[1:]} {line.codes}: {line.fixed}{where}{height}.")
        if line.cables:
            sentences.append(f"Cables: {'; '.join(line.cables)}.")
    return " ".join(sentences)
