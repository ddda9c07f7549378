"""What the floor plan and the ceiling plan of a storey show: rooms, devices, pathways and their cables."""

import math
from collections.abc import Sequence

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.rows.sheets import ROOM_PLAN, SheetRow
from proposal.document.wall_passages import openings_on
from proposal.drawings.plan.holds import holds_of
from proposal.drawings.plan.openings import DoorLines, Line, doors_of, grid_lines
from proposal.drawings.plan.plan_marks import (
    code_of,
    marks_of,
    natural,
    outlets_of,
    schedules_of,
    shortened,
    standing_in_rooms,
)
from proposal.drawings.plan.storey_pathways import HIGH_M, drawn_pathways, pathways_of
from proposal.drawings.plan.storey_pieces import parted
from proposal.drawings.plan.storey_runs import on_level, rising_at, runs_of
from proposal.drawings.plan.storey_spec import (
    Level,
    PlanNode,
    PlanPlace,
    PlanRoom,
    Point,
    StoreyPlanSpec,
)
from proposal.drawings.plan.turning import turned
from proposal.drawings.sheet import strip_of
from proposal.editions import Edition
from proposal.quantities import formatting

_AT_IT_M = 0.01
"""So near to a point a corner stands there, m."""


def storey_plan(edition: Edition, sheet: SheetRow, level: Level) -> StoreyPlanSpec:
    """Return what the floor plan or the ceiling plan of a storey shows to an edition's reader.

    level: floor or ceiling.
    """
    document = edition.document
    storey = next(row for row in document.storeys if row.tag == sheet.subject)
    here = [row for row in standing_in_rooms(document) if row.storey == storey.tag and on_level(row, level)]
    drawn = {row.tag for row in drawn_pathways(document, storey.tag, level)}
    whole = StoreyPlanSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        level=level,
        storey=storey.tag,
        name=storey.name,
        outer_walls=((*storey.outline, storey.outline[0]),) if storey.outline else (),
        walls=storey.walls,
        origin=document.cover.origin or _corner_at_the_origin(document, storey.tag),
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
            and (node.height_m > HIGH_M) == (level == "ceiling")
        ),
        pathways=pathways_of(document, storey.tag, level),
        runs=runs_of(document, storey.tag, {row.tag for row in here}, level),
        schedules=schedules_of(document, (storey.tag,)),
        shared_opening_m=storey.shared_opening_m,
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


def _corner_at_the_origin(document: Document, storey: str) -> str:
    """Return the corner of a room of a storey that is the building's origin, in words; empty without one."""
    for room in document.rooms:
        if room.storey == storey and any(math.hypot(*corner) < _AT_IT_M for corner in room.outline):
            south = "south" if max(y for _, y in room.outline) > _AT_IT_M else "north"
            west = "west" if max(x for x, _ in room.outline) > _AT_IT_M else "east"
            return f"the {south}-{west}ern corner of {room.tag}"
    return ""


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
        (one.tag.removeprefix(f"{one.wall}-") if one.side and not one.also else one.tag, one.at, one.upright)
        for one in openings_on(document, storey)
        if shown & set(one.names)
    )


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
