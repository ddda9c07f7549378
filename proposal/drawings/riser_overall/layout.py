"""How an overall riser lies on its sheet.

Rooms stand on one or both sides of the equipment rooms, in bands that are level across the sheet. Each
column is one box for the layout engine, so that the order of storeys is the building's own.
"""

import itertools
import math
from collections.abc import Iterator, Sequence

from graphviz import Digraph

from proposal.drawings import graph
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, stroke
from proposal.drawings.drawing import graph_kind
from proposal.drawings.legend import Foot
from proposal.drawings.lettering import width_pt, wrapped, wrapped_list
from proposal.drawings.riser_overall import (
    RiserCables,
    RiserEquipmentRoom,
    RiserOpening,
    RiserRoom,
    RiserSpec,
    RiserStorey,
    alternative,
    spec_of,
)
from proposal.field_classes import dataclass

_ROOM_WIDTH = 236
_LINES_WIDTH = 216
_CENTRE_WIDTH = 210
_GAP = 6
_HEAD = 20
_LINE_HEIGHT = 14
_EMPTY_BAND = 34
# Rooms stand on one side while the sheet is not taller than this, which keeps it narrow on a screen.
_ONE_SIDE = 640


@dataclass(frozen=True, slots=True)
class _Band:
    """A storey with its rooms shared out to the sides.  place: of the storey, from the top."""

    storey: RiserStorey
    place: int
    left: tuple[RiserRoom, ...]
    right: tuple[RiserRoom, ...]

    @property
    def height(self) -> int:
        return _HEAD + max(
            _EMPTY_BAND,
            _stacked([_room_height(room) for room in self.left]),
            _stacked([_room_height(room) for room in self.right]),
            _stacked([_equipment_height(place) for place in self.storey.equipment_rooms])
            + _openings_height(self.storey.openings),
        )


def source(spec: RiserSpec) -> str:
    """Return the DOT text of an overall riser."""
    bands = [_Band(storey, place, storey.rooms, ()) for place, storey in enumerate(spec.storeys)]
    if sum(band.height for band in bands) > _ONE_SIDE:
        bands = [_on_both_sides(band) for band in bands]
    drawing = graph.digraph(ranksep="1.7", nodesep="0.1")
    columns = {
        "left": [_side(band, "left") for band in bands],
        "centre": [_centre(band) for band in bands],
    }
    if any(band.right for band in bands):
        columns["right"] = [_side(band, "right") for band in bands]
    for name, cells in columns.items():
        rows = [part for band, cell in zip(bands, cells, strict=True) for part in (cell, _floor(band))]
        drawing.node(name, label=graph.label(graph.table(rows, cellpadding=0, bgcolor=BAND)))
    _draw_floors(drawing, bands, list(columns))
    _draw_cables(drawing, bands)
    return str(drawing.source)


def _draw_floors(drawing: Digraph, bands: Sequence[_Band], columns: Sequence[str]) -> None:
    """Draw the floors on across the gaps between the columns."""
    for band in bands:
        for here, there in itertools.pairwise(columns):
            port = f"floor{band.place}"
            drawing.edge(
                f"{here}:{port}:e",
                f"{there}:{port}:w",
                dir="none",
                color=FRAME,
                penwidth="2",
                weight="100",
            )


def _draw_cables(drawing: Digraph, bands: Sequence[_Band]) -> None:
    ports = {
        place.tag: _equipment_port(band, number)
        for band in bands
        for number, place in enumerate(band.storey.equipment_rooms)
    }
    for band in bands:
        for side, room, cables, port in _cables_of(band):
            if cables.end not in ports:
                continue
            here, there = f"{side}:{port}", f"centre:{ports[cables.end]}"
            # Lines are drawn from left to right, which keeps the columns in order.
            ends = (f"{here}:e", f"{there}:w") if side == "left" else (f"{there}:e", f"{here}:w")
            drawn = stroke(cables.signal)
            drawing.edge(
                *ends,
                dir="none",
                color=drawn.colour,
                style=drawn.style,
                penwidth=f"{drawn.width:g}",
                tooltip=graph.tip(f"{room.tag} to {cables.end}: {cables.what}, {cables.span}"),
            )


def _cables_of(band: _Band) -> Iterator[tuple[str, RiserRoom, RiserCables, str]]:
    """Yield the side, the room, its cables of one type and their port."""
    for side, rooms in (("left", band.left), ("right", band.right)):
        for number, room in enumerate(rooms):
            for order, cables in enumerate(room.cables):
                yield side, room, cables, _cables_port(band, number, order)


def _cables_port(band: _Band, room: int, order: int) -> str:
    return f"c{band.place}x{room}x{order}"


def _equipment_port(band: _Band, number: int) -> str:
    return f"er{band.place}x{number}"


def _on_both_sides(band: _Band) -> _Band:
    """Return a band with its rooms on both sides, as alike in height as can be."""
    rooms = band.storey.rooms
    heights = [_room_height(room) for room in rooms]
    half = min(
        range(len(rooms) + 1), key=lambda count: (abs(2 * sum(heights[:count]) - sum(heights)), -count)
    )
    return _Band(band.storey, band.place, rooms[:half], rooms[half:])


def _room_height(room: RiserRoom) -> int:
    text = graph.height_pt(1 + len(_devices_lines(room)), padding_pt=4)
    return max(text, len(room.cables) * _LINE_HEIGHT + 6) + 2


def _devices_lines(room: RiserRoom) -> tuple[str, ...]:
    return wrapped_list(room.devices, _ROOM_WIDTH - 10, 3)


def _equipment_height(place: RiserEquipmentRoom) -> int:
    racks = [graph.height_pt(1 + len(_rack_lines(inside)), padding_pt=3) for _, inside in place.racks]
    links = [graph.height_pt(1, padding_pt=3)] * len(place.links)
    return graph.height_pt(1, graph.LARGER_PT, 3) + sum(racks) + sum(links) + 2


def _rack_lines(inside: Sequence[str]) -> tuple[str, ...]:
    return wrapped_list(inside or ("no equipment",), _CENTRE_WIDTH - 14, 3)


def _stacked(heights: Sequence[int]) -> int:
    return sum(height + _GAP for height in heights)


def _floor(band: _Band) -> str:
    return graph.row(graph.cell("", port=f"floor{band.place}", height=2, cellpadding=0, bgcolor=FRAME))


def _side(band: _Band, side: str) -> str:
    """Return the band of a storey on one side as a row of exactly the height of the band."""
    rooms = band.left if side == "left" else band.right
    width = _ROOM_WIDTH + _LINES_WIDTH + 2
    rows = [graph.row(graph.cell(_heading(band.storey) if side == "left" else "", height=_HEAD, width=width))]
    for number, room in enumerate(rooms):
        rows += [graph.row(graph.cell(_room(band, room, number, side))), graph.filler(_GAP)]
    rows.append(graph.filler(band.height - _HEAD - _stacked([_room_height(room) for room in rooms])))
    return graph.row(graph.cell(graph.table(rows, cellpadding=0), height=band.height))


def _heading(storey: RiserStorey) -> str:
    name = wrapped(f"{storey.tag} {storey.name}", 260, 1, graph.LARGER_PT)
    return graph.table(
        [
            graph.row(
                graph.cell(graph.text(name, size_pt=graph.LARGER_PT, bold=True), align="LEFT"),
                graph.cell(graph.text([storey.height], colour=MUTED), align="RIGHT"),
            )
        ],
    )


def _room(band: _Band, room: RiserRoom, number: int, side: str) -> str:
    """Return a room's box, its lines on the side of the risers."""
    height = _room_height(room) - 2
    tag = graph.text([room.tag], bold=True)
    left = _ROOM_WIDTH - 14 - width_pt(room.tag) * 1.15
    name = graph.text(wrapped(room.name, left, 1))
    devices = graph.text(_devices_lines(room), colour=MUTED)
    about = graph.table(
        [
            graph.row(graph.cell(f"{tag}{graph.SPACE}{name}", align="LEFT")),
            graph.row(graph.cell(devices, align="LEFT", balign="LEFT")),
            graph.filler(height - graph.height_pt(1 + len(_devices_lines(room)), padding_pt=4)),
        ],
        cellpadding=0,
    )
    what = graph.cell(about, width=_ROOM_WIDTH, height=height, cellpadding=4)
    wide = max((width_pt(_span(cables)) for cables in room.cables), default=0.0)
    # What is said of the longest span takes room from the names of types, which are short.
    beside = min(_LINES_WIDTH - 60, max(_LINES_WIDTH - 114, math.ceil(wide) + 6))
    rows = [
        _cables(cables, _cables_port(band, number, order), beside) for order, cables in enumerate(room.cables)
    ]
    runs = graph.cell(
        graph.table(rows or [graph.row(graph.cell(""))], cellpadding=0), width=_LINES_WIDTH, height=height
    )
    cells = (what, "<VR/>", runs) if side == "left" else (runs, "<VR/>", what)
    return graph.table([graph.row(*cells)], border=1, cellpadding=0, color=FRAME, bgcolor=PAPER)


def _span(cables: RiserCables) -> str:
    """Return what is said of the lengths of a type of cable: of what stays in the room, that it does."""
    return cables.span if cables.end else f"in the room, {cables.span}"


def _cables(cables: RiserCables, port: str, beside: int) -> str:
    """Return a row of one type of cable; what stays in the room is said in words, without a line.

    beside: width of what is said of its lengths, pt.
    """
    drawn = stroke(cables.signal)
    leaves = bool(cables.end)
    wide = _LINES_WIDTH - 8 - beside
    what = wrapped(cables.what, wide - 8, 1)
    kind = graph.text(what, colour=drawn.colour if leaves else MUTED, bold=leaves)
    inside = graph.table(
        [
            graph.row(
                graph.cell("", width=4),
                graph.cell(kind, width=wide, align="LEFT"),
                graph.cell(graph.text([_span(cables)]), width=beside, align="RIGHT"),
                graph.cell("", width=4),
            )
        ],
        cellpadding=0,
    )
    return graph.row(graph.cell(inside, port=port, height=_LINE_HEIGHT))


def _centre(band: _Band) -> str:
    """Return the band of a storey between the sides, its equipment rooms standing on the floor."""
    places = band.storey.equipment_rooms
    used = _stacked([_equipment_height(place) for place in places]) + _openings_height(band.storey.openings)
    rows = [graph.filler(band.height - used, width=_CENTRE_WIDTH + 2)]
    for number, place in enumerate(places):
        box = graph.cell(_equipment_room(place), port=_equipment_port(band, number))
        rows += [graph.row(box), graph.filler(_GAP)]
    if band.storey.openings:
        rows.append(graph.row(graph.cell(_openings(band.storey.openings))))
    return graph.row(graph.cell(graph.table(rows, cellpadding=0), height=band.height))


def _openings_height(openings: Sequence[RiserOpening]) -> int:
    return sum(graph.height_pt(len(_opening_lines(one)), padding_pt=3) for one in openings) + (
        2 if openings else 0
    )


def _opening_lines(opening: RiserOpening) -> tuple[str, ...]:
    room = _CENTRE_WIDTH - 14
    return (
        *wrapped(f"{opening.tag}: {opening.what}", room * 0.9, 2),
        *wrapped(f"{opening.opening}: {opening.closed}", room, 2),
        *(wrapped(", ".join(opening.sleeves), room, 3) if opening.sleeves else ()),
    )


def _openings(openings: Sequence[RiserOpening]) -> str:
    """Return what passes through the floor, on the line of the floor: pathways, and how openings close."""
    rows = []
    for one in openings:
        lines = _opening_lines(one)
        height = graph.height_pt(len(lines), padding_pt=3)
        rows.append(
            graph.row(
                graph.cell(
                    graph.text(lines),
                    height=height,
                    cellpadding=3,
                    width=_CENTRE_WIDTH,
                    align="LEFT",
                    balign="LEFT",
                )
            )
        )
    return graph.table(rows, border=1, color=MUTED, style="dashed", cellpadding=0, bgcolor=PAPER)


def _equipment_room(place: RiserEquipmentRoom) -> str:
    """Return an equipment room's box with its racks."""
    name = wrapped(f"{place.tag} {place.name}", (_CENTRE_WIDTH - 14) * 0.9, 1, graph.LARGER_PT)
    title = graph.text(name, size_pt=graph.LARGER_PT, bold=True, colour=PAPER)
    rows = [
        graph.row(
            graph.cell(
                title,
                align="LEFT",
                bgcolor=INK,
                cellpadding=3,
                width=_CENTRE_WIDTH,
                height=graph.height_pt(1, graph.LARGER_PT, 3),
            )
        )
    ]
    for rack, inside in place.racks:
        lines = _rack_lines(inside)
        content = graph.table(
            [
                graph.row(graph.cell(graph.text([rack], bold=True), align="LEFT")),
                graph.row(graph.cell(graph.text(lines, colour=MUTED), align="LEFT", balign="LEFT")),
            ],
            cellpadding=0,
        )
        height = graph.height_pt(1 + len(lines), padding_pt=3)
        rows.append(graph.row(graph.cell(content, height=height, cellpadding=3)))
    for link in place.links:
        where = f"to {link.end}" if link.end else "inside racks"
        words = wrapped(f"{where}: {link.what}, {link.span}", _CENTRE_WIDTH - 14, 1)
        line = graph.text(words, colour=stroke(link.signal).colour, bold=True)
        height = graph.height_pt(1, padding_pt=3)
        rows.append(graph.row(graph.cell(line, height=height, cellpadding=3, align="LEFT")))
    return graph.table(rows, border=1, cellpadding=0, color=INK, bgcolor=PAPER)


def _foot(spec: RiserSpec) -> Foot:
    openings = any(storey.openings for storey in spec.storeys)
    told = (
        "Dashed boxes stand on the floor that their pathways pass. Openings in rated floors are closed with "
        "a firestop system listed for that rating, by those licensed for it, as local codes ask.",
    )
    sleeved = any(opening.sleeves for storey in spec.storeys for opening in storey.openings)
    sizes = (
        "Sleeves are conduit: in mm its outside diameter (IEC 60423), else its trade size; filled no further "
        "than the code allows one.",
    )
    return Foot(entries=spec.legend, notes=(*(told if openings else ()), *(sizes if sleeved else ())))


KIND = graph_kind(spec_of, alternative, source, _foot)
