"""How a riser in detail lies on its sheet: a column of rooms on one or both sides of the racks."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.drawings import graph
from proposal.drawings.colours import BAND, INK, MUTED, PAPER, stroke
from proposal.drawings.drawing import graph_kind
from proposal.drawings.legend import Foot
from proposal.drawings.lettering import wrapped
from proposal.drawings.riser_detail import (
    DetailCable,
    DetailDevices,
    DetailRack,
    DetailRoom,
    DetailSpec,
    alternative,
    spec_of,
)
from proposal.field_classes import dataclass

# All rooms stand on one side while there are no more rows than this.
_ONE_SIDE = 30
# A room breaks between the sides only where a column would have more rows than this.
_COLUMN_ROWS = 44
_HEAD_ROWS = 2
_COLUMNS = 7
_LINE_WIDTH = 28
_ROW_HEIGHT = 14
_RULE = "#d5dbe1"


@dataclass(frozen=True, slots=True)
class _Side:
    name: str
    rooms: tuple[DetailRoom, ...]


def source(spec: DetailSpec) -> str:
    """Return the DOT text of a sheet of the riser in detail."""
    drawing = graph.digraph(ranksep="1.8", nodesep="0.3")
    racks = {rack.tag: f"rack{place}" for place, rack in enumerate(spec.racks)}
    for rack in spec.racks:
        drawing.node(racks[rack.tag], label=graph.label(_rack(rack)))
    sides = _sides(spec.rooms)
    for name in racks.values():
        # Keeps the columns in order where no line does.
        drawing.edge("left", name, style="invis")
        if len(sides) > 1:
            drawing.edge(name, "right", style="invis")
    if not racks and len(sides) > 1:
        drawing.edge("left", "right", style="invis")
    for side in sides:
        drawing.node(side.name, label=graph.label(_column(side, racks)))
        for number, room in enumerate(side.rooms):
            for order, cable in enumerate(room.cables):
                if cable.end not in racks:
                    continue
                here, there = f"{side.name}:c{number}x{order}", f"{racks[cable.end]}:box"
                # Lines are drawn from left to right, which keeps the columns in order.
                pair = (f"{here}:e", f"{there}:w") if side.name == "left" else (f"{there}:e", f"{here}:w")
                drawn = stroke(cable.signal)
                drawing.edge(
                    *pair,
                    dir="none",
                    color=drawn.colour,
                    style=drawn.style,
                    penwidth=f"{drawn.width:g}",
                    tooltip=graph.tip(f"{cable.identity}, {cable.type}, {cable.length}"),
                )
    return str(drawing.source)


def _rows(room: DetailRoom) -> int:
    return _HEAD_ROWS + len(room.devices) + len(room.cables)


def _sides(rooms: tuple[DetailRoom, ...]) -> list[_Side]:
    """Return the rooms shared out to one or two columns, as alike in height as can be."""
    counts = [_rows(room) for room in rooms]
    if sum(counts) <= _ONE_SIDE:
        return [_Side("left", rooms)]

    def taller(split: int) -> int:
        return max(sum(counts[:split]), sum(counts[split:]))

    best = min(range(1, len(rooms) + 1), key=taller)
    if sum(counts) <= _COLUMN_ROWS and taller(best) > 0.8 * sum(counts):
        return [_Side("left", rooms)]
    if taller(best) <= _COLUMN_ROWS:
        sides = [_Side("left", rooms[:best]), _Side("right", rooms[best:])]
        return [side for side in sides if side.rooms]
    return _broken(rooms, (sum(counts) + _HEAD_ROWS + 1) // 2)


def _broken(rooms: Sequence[DetailRoom], rows: int) -> list[_Side]:
    """Return the rooms in two columns, the room at the foot of the first going on in the second."""
    left: list[DetailRoom] = []
    rest = list(rooms)
    while rest and rows >= _rows(rest[0]):
        rows -= _rows(rest[0])
        left.append(rest.pop(0))
    if rest:
        room = rest[0]
        kept = max(0, rows - _HEAD_ROWS - len(room.devices))
        if kept:
            left.append(replace(room, cables=room.cables[:kept]))
            rest[0] = replace(room, note=room.note or "continued", devices=(), cables=room.cables[kept:])
    return [_Side("left", tuple(left)), _Side("right", tuple(rest))]


def _column(side: _Side, racks: Mapping[str, str]) -> str:
    """Return a column of rooms; on the right its cells run from the racks outwards."""
    rows: list[str] = []
    for number, room in enumerate(side.rooms):
        rows.append(graph.row(_heading(room)))
        rows += [_devices(devices, side.name) for devices in room.devices]
        before = ""
        for order, cable in enumerate(room.cables):
            told = replace(cable, device="", model="") if cable.device == before else cable
            line = _to_rack(cable) if cable.end in racks else _to_device(cable, side.name)
            rows.append(_cable(told, line, f"c{number}x{order}", side.name))
            before = cable.device
        if number < len(side.rooms) - 1:
            rows.append(graph.filler(8, colspan=_COLUMNS))
    return graph.table(rows, cellpadding=1)


def _heading(room: DetailRoom) -> str:
    title = graph.text([room.tag], size_pt=graph.LARGER_PT, bold=True)
    name = graph.text(wrapped(room.name, 240, 1))
    note = graph.SPACE + graph.text([f"({room.note})"], colour=MUTED) if room.note else ""
    return graph.cell(
        f"{title}{graph.SPACE}{name}{note}",
        colspan=_COLUMNS,
        align="LEFT",
        bgcolor=BAND,
        cellpadding=3,
        border=1,
        sides="T",
        color=INK,
    )


def _devices(devices: DetailDevices, side: str) -> str:
    """Return a row of devices from which no cable starts."""
    place = f", in {devices.place}" if devices.place else ""
    tags = graph.text([", ".join(devices.tags)])
    about = graph.text([f"{devices.kind} {devices.model}".rstrip() + place], colour=MUTED)
    return graph.row(
        graph.cell(
            f"{tags}{graph.SPACE}{about}",
            colspan=_COLUMNS,
            align="LEFT" if side == "left" else "RIGHT",
            **_ruled(),
        )
    )


def _cable(cable: DetailCable, line: Sequence[str], port: str, side: str) -> str:
    """Return a row of one cable.

    line: cells that draw the cable on to the edge of the column.  port: of the row.
    """
    drawn = stroke(cable.signal)
    outer = "LEFT" if side == "left" else "RIGHT"
    model = graph.text(wrapped(cable.model, 80, 1), colour=MUTED)
    kind = graph.text(wrapped(cable.type, 84, 1), colour=drawn.colour)
    cells = [
        graph.cell(graph.text([cable.device], bold=True), align=outer, **_ruled()),
        graph.cell(model, align=outer, **_ruled()),
        graph.cell(graph.text([cable.identity]), align="LEFT", **_ruled()),
        graph.cell(kind, align="LEFT", **_ruled()),
        graph.cell(graph.text([cable.length], bold=True), align="RIGHT", **_ruled()),
        *(part.replace("<TD", f'<TD PORT="{port}"', 1) for part in line[-1:]),
    ]
    cells[-1:-1] = line[:-1]
    return graph.row(*(cells if side == "left" else cells[::-1]))


def _to_rack(cable: DetailCable) -> list[str]:
    """Return the piece of a cable that leads to the edge of the column, where its line begins."""
    return [graph.cell(_drawn(cable), colspan=2, cellpadding=0)]


def _to_device(cable: DetailCable, side: str) -> list[str]:
    """Return the whole of a cable that stays in the room, and what it ends in."""
    end = graph.text([cable.end], bold=True)
    box = graph.table([graph.row(graph.cell(end, align="LEFT", cellpadding=1))], bgcolor=BAND)
    return [graph.cell(_drawn(cable), cellpadding=0), graph.cell(box, cellpadding=0, align="LEFT")]


def _drawn(cable: DetailCable) -> str:
    """Return a line across half the height of a row."""
    drawn = stroke(cable.signal)
    border = max(1, round(drawn.width))
    above = (_ROW_HEIGHT + border) // 2
    line = graph.cell(
        "", height=above, width=_LINE_WIDTH, border=border, sides="B", color=drawn.colour, style=drawn.style
    )
    return graph.table([graph.row(line), graph.filler(_ROW_HEIGHT - above)], cellpadding=0)


def _ruled() -> dict[str, object]:
    return {"border": 1, "sides": "B", "color": _RULE, "cellpadding": 1}


def _rack(rack: DetailRack) -> str:
    tag = graph.text([rack.tag], size_pt=graph.LARGER_PT, bold=True, colour=PAPER)
    rows = [graph.row(graph.cell(tag, align="LEFT", bgcolor=INK, cellpadding=4, width=120))]
    about = [line for words in rack.about if words for line in wrapped(words, 150, 2)]
    rows.append(
        graph.row(graph.cell(graph.text(about, colour=MUTED), align="LEFT", balign="LEFT", cellpadding=4))
    )
    box = graph.table(rows, border=1, cellpadding=0, color=INK, bgcolor=PAPER)
    return graph.table([graph.row(graph.cell(box, port="box", cellpadding=0))])


def _foot(spec: DetailSpec) -> Foot:
    return Foot(entries=spec.legend)


KIND = graph_kind(spec_of, alternative, source, _foot)
