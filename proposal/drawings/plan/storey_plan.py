"""What the floor plan and the ceiling plan of a storey show: rooms, devices, pathways and their cables."""

import math
from collections.abc import Mapping, Sequence, Set

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.pathways import PathwayRow
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.rows.sheets import ROOM_PLAN, SheetRow
from proposal.document.wall_passages import openings_on
from proposal.drawings.plan.holds import holds_of
from proposal.drawings.plan.openings import DoorLines, Line, doors_of, grid_lines
from proposal.drawings.plan.pathway_words import placed_at, size_of
from proposal.drawings.plan.plan_marks import (
    code_of,
    marks_of,
    natural,
    outlets_of,
    schedules_of,
    shortened,
    standing_in_rooms,
)
from proposal.drawings.plan.storey_pieces import parted
from proposal.drawings.plan.storey_spec import (
    Level,
    PlanNode,
    PlanPathway,
    PlanPlace,
    PlanRoom,
    PlanRun,
    Point,
    StoreyPlanSpec,
)
from proposal.drawings.plan.turning import turned
from proposal.drawings.sheet import strip_of
from proposal.editions import Edition
from proposal.quantities import formatting
from proposal.quantities.floor_runs import SIDE_BY_SIDE_M

OVERHEAD_M = 2.0
"""From this height on, what hangs on a wall stands on the ceiling plan."""
_HIGH_M = 1.0


def storey_plan(edition: Edition, sheet: SheetRow, level: Level) -> StoreyPlanSpec:
    """Return what the floor plan or the ceiling plan of a storey shows to an edition's reader.

    level: floor or ceiling.
    """
    document = edition.document
    storey = next(row for row in document.storeys if row.tag == sheet.subject)
    here = [row for row in standing_in_rooms(document) if row.storey == storey.tag and on_level(row, level)]
    drawn = {row.tag for row in _drawn_pathways(document, storey.tag, level)}
    whole = StoreyPlanSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        level=level,
        storey=storey.tag,
        name=storey.name,
        outer_walls=((*storey.outline, storey.outline[0]),) if storey.outline else (),
        walls=storey.walls,
        origin=document.cover.origin,
        holds=holds_of(document, storey.tag),
        rooms=_rooms(document, storey.tag, here, level),
        places=tuple(
            PlanPlace(place.tag, place.name, place.at, place.racks, *_standing(document, place.racks))
            for place in document.equipment_rooms
            if place.storey == storey.tag
        ),
        nodes=tuple(
            PlanNode(node.tag, node.kind, node.at)
            for node in document.nodes
            if node.storey == storey.tag
            and node.kind != "junction"
            and (node.height_m > _HIGH_M) == (level == "ceiling")
        ),
        pathways=_pathways(document, storey.tag, level),
        runs=_runs(document, storey.tag, {row.tag for row in here}, level),
        schedules=schedules_of(document, (storey.tag,)),
        passages=_passages(document, storey.tag, {row.tag for row in here}, drawn, level),
        openings=any(
            one.crosses == "floor" or one.storey == storey.tag
            for one in document.penetrations
            if one.pathway in drawn
        ),
    )
    return parted(whole, document, sheet)


def _standing(document: Document, racks: Sequence[str]) -> tuple[str, tuple[float, ...]]:
    """Return the side that the fronts of racks look at, and how much of the floor a single one takes, m.

    Empty where it is not given, or not one.
    """
    rows = [row for row in document.racks if row.tag in racks]
    sides = {row.faces for row in rows}
    faces = sides.pop() if len(sides) == 1 else ""
    if len(rows) != 1 or not faces or rows[0].width_m is None or rows[0].depth_m is None:
        return faces, ()
    size = rows[0].width_m, rows[0].depth_m
    return faces, size if faces in ("north", "south") else size[::-1]


def on_level(device: DeviceRow, level: Level) -> bool:
    """Return whether a device stands on the floor plan or on the ceiling plan.

    level: floor or ceiling.
    """
    high = device.location == "wall" and device.height_m is not None and device.height_m >= OVERHEAD_M
    return (device.location == "ceiling" or high) == (level == "ceiling")


def _rooms(
    document: Document, storey: str, devices: Sequence[DeviceRow], level: Level
) -> tuple[PlanRoom, ...]:
    enlarged = {
        tag: sheet.number for sheet in document.sheets if sheet.kind == ROOM_PLAN for tag in sheet.members
    }
    kinds = {kind.key: kind for kind in document.room_sheets}
    found = []
    for room in document.rooms:
        if room.storey != storey:
            continue
        own = [device for device in devices if device.room == room.tag]
        kind = kinds.get(room.sheet)
        told: list[str] = []
        if kind and level == "ceiling":
            ceiling = _length(document, kind.ceiling_height_m)
            told = [f"{kind.ceiling_kind} ceiling at {ceiling}", *_heights(document, own)]
        found.append(
            PlanRoom(
                tag=room.tag,
                name=room.name,
                told=tuple(told),
                outline=room.outline,
                furniture=tuple(turned(points, kind.outline, room.outline) for _, points in kind.furniture)
                if kind and level == "floor"
                else (),
                doors=_doors(room, kind) if kind else (),
                levels=tuple(corners for _, corners in room.levels) if level == "floor" else (),
                grid=_grid(room, kind) if kind and level == "ceiling" else (),
                marks=(*marks_of(own), *outlets_of(document, own)),
                enlarged=enlarged.get(room.tag, ""),
            )
        )
    return tuple(found)


def _doors(room: RoomRow, kind: RoomSheet) -> tuple[DoorLines, ...]:
    placed = turned([at for _, at, _ in kind.doors], kind.outline, room.outline)
    widths = [width_m for _, _, width_m in kind.doors]
    return doors_of(room.outline, zip(placed, widths, strict=True))


def _grid(room: RoomRow, kind: RoomSheet) -> tuple[Line, ...]:
    lines = grid_lines(kind.outline, kind.ceiling_tile_m)
    ends = turned([end for line in lines for end in line], kind.outline, room.outline)
    return tuple(zip(ends[::2], ends[1::2], strict=True))


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)


def _heights(document: Document, devices: Sequence[DeviceRow]) -> list[str]:
    """Return which devices hang at which height, a line for each height."""
    heights: dict[float, list[str]] = {}
    for device in devices:
        if device.height_m is not None:
            heights.setdefault(device.height_m, []).append(code_of(device.tag, device.room))
    return [
        f"{shortened(sorted(codes, key=natural))} at {_length(document, height)}"
        for height, codes in sorted(heights.items())
    ]


def _drawn_pathways(document: Document, storey: str, level: Level) -> list[PathwayRow]:
    """Return the pathways of a storey that lie high, or low, and those that leave it."""
    nodes = {node.tag: node for node in document.nodes}
    found = []
    for row in document.pathways:
        if not {row.from_node, row.to_node} <= nodes.keys():
            continue
        ends = [nodes[row.from_node], nodes[row.to_node]]
        here = [node for node in ends if node.storey == storey]
        within = len(here) == len(ends)
        high = [node.height_m > _HIGH_M for node in here]
        if here and (not within or any(one == (level == "ceiling") for one in high)):
            found.append(row)
    return found


def _pathways(document: Document, storey: str, level: Level) -> tuple[PlanPathway, ...]:
    """Return the pathways of a plan with what lies in them; those that leave the storey as a point."""
    nodes = {node.tag: node for node in document.nodes}
    names = {row.tag: row.name for row in document.storeys}
    carried = _carried(document)
    found = []
    for row in _drawn_pathways(document, storey, level):
        ends = [nodes[row.from_node], nodes[row.to_node]]
        here = [node for node in ends if node.storey == storey]
        lines = [" ".join(part for part in (row.tag, row.kind, size_of(document, row)) if part)]
        if len(here) == len(ends):
            lines += placed_at(document, ends[0], ends[1])
        for away in ends:
            if away not in here:
                way = _towards(document, storey, away.storey).replace("storey ", "")
                lines.append(f"{way} {names.get(away.storey, '')}".strip())
        lines += [
            f"{one.tag}: {one.crosses} {one.fire_rating or 'fire-rated'}"
            for one in document.penetrations
            if one.pathway == row.tag and (one.crosses == "floor" or one.storey == storey)
        ]
        lines += carried.get(row.tag, ())
        points = tuple(dict.fromkeys(node.at for node in here))
        there = next((node.storey for node in ends if node not in here), storey)
        found.append(PlanPathway(row.kind, points, tuple(lines), _way_of(document, storey, there)))
    return tuple(found)


def _carried(document: Document) -> Mapping[str, tuple[str, ...]]:
    """Return what lies in each pathway: cables by their signal."""
    counts: dict[str, dict[str, int]] = {}
    for row in document.pathway_contents:
        signals = counts.setdefault(row.pathway, {})
        signals[row.signal] = signals.get(row.signal, 0) + row.count
    return {
        tag: tuple(f"{count} × {signal}" for signal, count in sorted(signals.items()))
        for tag, signals in counts.items()
    }


def _passages(
    document: Document, storey: str, standing: set[str], drawn: set[str], level: Level
) -> tuple[tuple[str, Point, bool], ...]:
    """Return tag, place and lie of the openings in walls that pathways or runs of a plan pass.

    standing: tags of the devices on the plan.  drawn: tags of the pathways on it.
    What goes up in its room passes walls above the ceiling.
    """
    rising = {cable.identity for cable in document.cables if rising_at(document, cable) is not None}
    passing = {cable.identity for cable in document.cables if cable.from_tag in standing}
    shown = drawn | (passing | rising if level == "ceiling" else passing - rising)
    return tuple(
        (one.tag.removeprefix(f"{one.wall}-") if one.side else one.tag, one.at, one.upright)
        for one in openings_on(document, storey)
        if shown & set(one.names)
    )


def rising_at(document: Document, cable: CableRow) -> Point | None:
    """Return where the cable of a device below the ceiling goes up to its way above it, in the building, m.

    None for a device at the ceiling, and for a way that begins low.
    """
    device = next((row for row in document.devices if row.tag == cable.from_tag), None)
    room = next((row for row in document.rooms if row.tag == cable.room), None)
    if device is None or device.at is None or room is None or device.storey != room.storey:
        return None
    if cable.first_run_m is None or cable.first_run_m <= _HIGH_M or on_level(device, "ceiling"):
        return None
    if device.location == "wall":
        return _near(device.at) if device.at != (*cable.turns, None)[0] else None
    return cable.rises_at


def _runs(document: Document, storey: str, standing: set[str], level: Level) -> tuple[PlanRun, ...]:
    """Return the runs outside pathways: from devices of this plan to where they enter, and on to racks.

    standing: tags of the devices on the plan.
    """
    at = {device.tag: device.at for device in document.devices}
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    drawn = {row.tag for row in _drawn_pathways(document, storey, level)}
    other = "down to" if level == "ceiling" else "up to"
    counted: dict[tuple[Point, Point, str], dict[str, int]] = {}
    if level == "ceiling":
        counted |= _risen(document, storey, racks)
    for cable in document.cables:
        start, end = at.get(cable.from_tag), at.get(cable.to_tag)
        if start is None or end is None or _together(cable, start, end):
            continue
        runs: list[tuple[Point, Point, str]] = []
        if cable.from_panel and cable.turns and cable.from_storey == storey and level == "ceiling":
            runs.append((cable.turns[0], start, ""))
        if cable.from_storey == storey and cable.from_tag in standing:
            up = rising_at(document, cable)
            if up and not cable.pathways and cable.to_tag in racks:
                # From the furniture at a wall nothing is drawn but what goes on above the ceiling.
                if cable.floor_m:
                    runs.append((start, up, f"{other} {cable.to_tag}"))
            elif cable.turns:
                runs.append((start, up or cable.turns[0], _leaving(document, cable, drawn, other)))
            else:
                ends_here = cable.to_tag in standing or cable.to_tag in racks
                words = "" if ends_here else f"{other} {code_of(cable.to_tag, cable.room)}"
                runs.append((start, end if ends_here else cable.comes_down_at or end, words))
        if cable.turns and cable.to_storey == storey and level == "ceiling":
            if cable.pathways:
                runs.append((cable.turns[-1], end, ""))
            else:
                runs.append((end, cable.turns[-1], _towards(document, storey, cable.from_storey)))
        for one, two, goes_on in runs:
            if _near(one) != _near(two):
                signals = counted.setdefault((_near(one), _near(two), goes_on), {})
                signals[cable.signal] = signals.get(cable.signal, 0) + 1
    return tuple(
        PlanRun((one, two), tuple(sorted(signals.items())), goes_on)
        for (one, two, goes_on), signals in sorted(counted.items())
    )


def _together(cable: CableRow, start: Point, end: Point) -> bool:
    """Return whether a cable joins two devices that stand side by side, so that no run of it is drawn."""
    if cable.turns or cable.rises_at or cable.comes_down_at or cable.to_storey != cable.from_storey:
        return False
    return math.dist(start, end) <= SIDE_BY_SIDE_M


def _risen(
    document: Document, storey: str, racks: Set[str]
) -> dict[tuple[Point, Point, str], dict[str, int]]:
    """Return what goes on above the ceiling of a storey from where cables come up, counted by signal.

    racks: tags of all; to these a cable may go without a pathway.
    """
    at = {device.tag: device.at for device in document.devices}
    together: dict[tuple[Point, Point, str, str], list[CableRow]] = {}
    for cable in document.cables:
        if cable.from_storey == storey and (up := rising_at(document, cable)) is not None:
            into = cable.turns[0] if cable.turns else at.get(cable.to_tag)
            if into is not None and (cable.turns or cable.to_tag in racks):
                away = "" if cable.pathways else _towards(document, storey, cable.to_storey)
                together.setdefault((_near(into), _near(up), cable.room, away), []).append(cable)
    found: dict[tuple[Point, Point, str], dict[str, int]] = {}
    for (into, up, room, away), cables in together.items():
        codes = shortened(sorted({code_of(cable.from_tag, room) for cable in cables}, key=natural))
        # One that leaves the storey without a pathway says at both ends where it goes.
        middle = _half_way(up, into) if away else into
        ends = [(middle, up, f"down to {codes}"), *([(middle, into, away)] if away else [])]
        for run in ends:
            signals = found.setdefault(run, {})
            for cable in cables:
                signals[cable.signal] = signals.get(cable.signal, 0) + 1
    return found


def _half_way(start: Point, end: Point) -> Point:
    """Return the middle of the longer leg of a right-angled run, along x first, then along y."""
    corner = end[0], start[1]
    one, two = max(((start, corner), (corner, end)), key=lambda leg: math.dist(*leg))
    return _near(((one[0] + two[0]) / 2, (one[1] + two[1]) / 2))


def _leaving(document: Document, cable: CableRow, drawn: set[str], other: str) -> str:
    """Return where a run goes on off the plan; empty where its pathway is drawn there.

    drawn: tags of the pathways on the plan.  other: towards the other plan of the storey, in words.
    """
    if not cable.pathways:
        return _towards(document, cable.from_storey, cable.to_storey)
    return "" if cable.pathways[0] in drawn else f"{other} {cable.pathways[0]}"


def _towards(document: Document, here: str, there: str) -> str:
    """Return the way from a storey to another in words: where no pathway is given, to its tag alone."""
    heights = {storey.tag: storey.height_m for storey in document.storeys}
    if here == there:
        return ""
    return f"{'up' if heights[there] > heights[here] else 'down'} to storey {there}"


def _way_of(document: Document, here: str, there: str) -> str:
    words = _towards(document, here, there)
    return words.split()[0] if words else ""


def _near(at: Point) -> Point:
    return round(at[0], 3), round(at[1], 3)


def storey_words(spec: StoreyPlanSpec) -> str:
    """Return what the plan shows in sentences."""

    def length(value_m: float) -> str:
        return formatting.length(value_m, spec.units, spec.locale)

    sentences = [f"{spec.level.capitalize()} plan of {spec.storey} {spec.name} to scale, north up."]
    if spec.pieces:
        numbers = formatting.listed([piece.number for piece in spec.pieces])
        shown = "The storey is shown in pieces on" if spec.here < 0 else "This sheet is one of the pieces on"
        sentences.append(f"{shown} {numbers}.")
    sentences += spec.holds
    for room in spec.rooms:
        xs, ys = [x for x, _ in room.outline], [y for _, y in room.outline]
        size = f"{length(max(xs) - min(xs))} by {length(max(ys) - min(ys))}"
        corner = f"{length(min(xs))} east and {length(min(ys))} north"
        sentences.append(f"Room {room.tag} {room.name}, {size}, begins {corner} of the building's origin.")
        held = [f"{mark.kind} {', '.join(mark.codes)}" for mark in room.marks]
        if held:
            sentences.append(f"In it: {'; '.join(held)}.")
        if room.told:
            sentences.append(f"{room.told[0][:1].upper()}{'; '.join(room.told)[1:]}.")
    for place in spec.places:
        front = f", front to the {place.faces}" if place.faces else ""
        sentences.append(f"Equipment room {place.tag} {place.name} with {', '.join(place.racks)}{front}.")
    for pathway in spec.pathways:
        first, *more = pathway.lines
        sentences.append(f"Pathway {first}: {', '.join(more) if more else 'no cables'}.")
    if spec.runs:
        sentences.append("Thin lines show right-angled runs of cables outside pathways.")
    return " ".join(sentences)
