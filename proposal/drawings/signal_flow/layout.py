"""How a signal flow lies on its sheet: from the microphones on the left to the outputs on the right."""

from collections.abc import Mapping, Sequence
from dataclasses import field
from math import ceil

from proposal.drawings import graph
from proposal.drawings.colours import BAND, INK, MUTED, PAPER, stroke
from proposal.drawings.drawing import graph_kind
from proposal.drawings.legend import Foot
from proposal.drawings.lettering import width_pt, wrapped
from proposal.drawings.signal_flow import FlowSpec, alternative, spec_of
from proposal.drawings.signal_flow.boxes import FlowArrow, FlowBox
from proposal.field_classes import dataclass
from proposal.quantities import formatting

# Room for the label of a line above the next one.
_PITCH = 28
_CONNECTOR_LINE = 11
_ABOVE = 6
"""From the words of a line to what is above them, pt."""
_BOX_WIDTH = 104
_LABEL_WIDTH = 92
_NODE_GAP = 9


@dataclass(slots=True)
class _Sides:
    """Numbers of the lines that meet a box on its left and on its right."""

    left: list[int] = field(default_factory=list)
    right: list[int] = field(default_factory=list)


def source(spec: FlowSpec) -> str:
    """Return the DOT text of a sheet of signal flow."""
    drawing = graph.digraph(ranksep="0.3", nodesep=f"{_NODE_GAP / 72:.3f}", splines="polyline")
    names = {box.code: f"box{place}" for place, box in enumerate(spec.boxes)}
    sides = {box.code: _Sides() for box in spec.boxes}
    for number in sorted(range(len(spec.arrows)), key=lambda number: _order(spec, number)):
        first, second = _ends(spec.arrows[number])
        sides[first].right.append(number)
        sides[second].left.append(number)
    heights = {box.code: _height(box, sides[box.code], spec) for box in spec.boxes}
    for box in spec.boxes:
        tall = _ports_heights(box, sides[box.code].left, spec, heights)
        drawing.node(names[box.code], label=graph.label(_box(box, sides[box.code], tall, spec)))
    for number, arrow in enumerate(spec.arrows):
        first, second = _ends(arrow)
        drawn = stroke(arrow.signal)
        ways = (
            {"dir": "back", "arrowtail": drawn.head}
            if arrow.returning
            else {"dir": "forward", "arrowhead": drawn.head}
        )
        drawing.edge(
            f"{names[first]}:r{number}:e",
            f"{names[second]}:l{number}:w",
            label=graph.label(_label(arrow)),
            color=drawn.colour,
            style="dashed" if arrow.returning else drawn.style,
            penwidth=f"{drawn.width:g}",
            **ways,
        )
    return str(drawing.source)


def _ends(arrow: FlowArrow) -> tuple[str, str]:
    """Return the box on the left and the box on the right; return audio runs from right to left."""
    return (arrow.end, arrow.start) if arrow.returning else (arrow.start, arrow.end)


def _order(spec: FlowSpec, number: int) -> tuple[int, int, bool]:
    """Return the place of a line among those of its boxes: as the boxes stand, return audio below."""
    places = {box.code: place for place, box in enumerate(spec.boxes)}
    first, second = _ends(spec.arrows[number])
    return places[first], places[second], spec.arrows[number].returning


def _foot(spec: FlowSpec) -> Foot:
    told = ("Block diagram: further sheets show each box, with ports and cables.",) if spec.overview else ()
    return Foot(entries=spec.legend, notes=(*told, *_notes(spec)))


def _notes(spec: FlowSpec) -> tuple[str, ...]:
    if not spec.rooms:
        return ()
    noun = "Room of this kind: " if len(spec.rooms) == 1 else f"{len(spec.rooms)} rooms of this kind: "
    rooms = noun + formatting.listed(spec.rooms)
    cable = next((arrow.cable for arrow in spec.arrows if arrow.cable), "")
    if not cable:
        return (rooms,)
    told = f"Cable identities omit the room's tag: {cable} is {spec.rooms[0]}-{cable}"
    return rooms, told


def _parts(box: FlowBox) -> list[tuple[str, int]]:
    """Return the texts of a box below its kind, each with its height."""
    title = wrapped(box.title, _BOX_WIDTH * 0.9, 3, graph.LARGER_PT)
    content = graph.text(title, size_pt=graph.LARGER_PT, bold=True, align="CENTER")
    parts = [(content, graph.height_pt(len(title), graph.LARGER_PT, 1))]
    lines = [line for words in box.lines for line in wrapped(words, _BOX_WIDTH, 3)]
    if lines:
        parts.append((graph.text(lines, align="CENTER"), graph.height_pt(len(lines), padding_pt=1)))
    return parts


def _head(box: FlowBox) -> tuple[tuple[str, ...], int]:
    """Return the lines of a box's kind and their height."""
    lines = wrapped(box.kind, _BOX_WIDTH, 2)
    return lines, graph.height_pt(len(lines), padding_pt=1)


def _height(box: FlowBox, sides: _Sides, spec: FlowSpec) -> int:
    text = _head(box)[1] + sum(height for _, height in _parts(box)) + 4
    return max(
        text, *(sum(_pitch(spec.arrows[number]) for number in side) for side in (sides.left, sides.right))
    )


def _pitch(arrow: FlowArrow) -> int:
    """Return the room for the label of a line above the next one, pt."""
    return _PITCH + (
        _CONNECTOR_LINE * len(wrapped(arrow.connector, _LABEL_WIDTH, 3)) if arrow.connector else 0
    )


def _ports_heights(
    box: FlowBox, numbers: Sequence[int], spec: FlowSpec, heights: Mapping[str, int]
) -> list[int]:
    """Return the height of the place at which each line meets a box on its left.

    The network stands beside all that is joined to it, so that lines run straight to it.
    """
    if box.kind != "network":
        return [0] * len(numbers)
    sources = [_ends(spec.arrows[number])[0] for number in numbers]
    return [(heights[source] + _NODE_GAP) // sources.count(source) for source in sources]


def _box(box: FlowBox, sides: _Sides, left_heights: Sequence[int], spec: FlowSpec) -> str:
    kind, head = _head(box)
    parts = _parts(box)
    used = head + sum(height for _, height in parts)
    height = max(_height(box, sides, spec), sum(left_heights))
    above = (height - used) // 2
    heading = graph.text(kind, colour=MUTED, align="CENTER")
    rows = [
        graph.row(graph.cell(heading, bgcolor=BAND, width=_BOX_WIDTH, height=head, cellpadding=1)),
        graph.filler(above),
        *(graph.row(graph.cell(content, height=tall, cellpadding=1)) for content, tall in parts),
        graph.filler(height - used - above),
    ]
    body = graph.cell(graph.table(rows), height=height, cellpadding=0)
    left, right = _names(box, sides.left, spec), _names(box, sides.right, spec)
    # As wide on both sides, so that the words stand in the middle.
    width = max((ceil(width_pt(name)) + 6 for name in (*left, *right) if name), default=1)
    cells = [
        _ports(sides.left, "l", left_heights, left, width),
        body,
        _ports(sides.right, "r", [0] * len(sides.right), right, width),
    ]
    return graph.table([graph.row(*cells)], border=1, cellpadding=0, color=INK, bgcolor=PAPER)


def _names(box: FlowBox, numbers: Sequence[int], spec: FlowSpec) -> list[str]:
    """Return the names of the ports at which lines meet a box; empty where none is named."""
    arrows = [spec.arrows[number] for number in numbers]
    return [arrow.start_port if arrow.start == box.code else arrow.end_port for arrow in arrows]


def _ports(
    numbers: Sequence[int], side: str, heights: Sequence[int], names: Sequence[str], width: int
) -> str:
    """Return the edge of a box as a stack of places at which lines meet it, with the names of its ports."""
    rows = [
        graph.row(
            graph.cell(
                graph.text([name] if name else (), colour=MUTED),
                port=f"{side}{number}",
                width=width,
                height=max(height, graph.height_pt(1, padding_pt=1)) if name else height,
                cellpadding=0,
                align="LEFT" if side == "l" else "RIGHT",
            )
        )
        for number, height, name in zip(numbers, heights, names, strict=True)
    ] or [graph.row(graph.cell("", width=width, cellpadding=0))]
    return graph.cell(graph.table(rows, cellpadding=0), width=width, cellpadding=1 if width > 1 else 0)


def _label(arrow: FlowArrow) -> str:
    words = wrapped(arrow.label, _LABEL_WIDTH, 2) if arrow.label else ()
    rows = [graph.row(graph.cell(graph.text([line]), cellpadding=0)) for line in words]
    if arrow.cable:
        rows.append(graph.row(graph.cell(graph.text([arrow.cable], colour=MUTED), cellpadding=0)))
    if arrow.connector:
        lines = wrapped(arrow.connector, _LABEL_WIDTH, 3)
        rows += [graph.row(graph.cell(graph.text([line], colour=MUTED), cellpadding=0)) for line in lines]
    # Its line is below its words, and nearer than any above: it does not strike through them.
    return graph.table([graph.filler(_ABOVE), *rows, graph.filler(3)], cellpadding=0)


KIND = graph_kind(spec_of, alternative, source, _foot)
