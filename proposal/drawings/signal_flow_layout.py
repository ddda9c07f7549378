"""How a signal flow lies on its sheet: from the microphones on the left to the outputs on the right."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from proposal.document import formatting
from proposal.drawings import graph
from proposal.drawings.signal_flow import FlowArrow, FlowBox, FlowSpec

# Room for the label of a line above the next one.
_PITCH = 30
_BOX_WIDTH = 104
_LABEL_WIDTH = 92


@dataclass(slots=True)
class _Sides:
    """Numbers of the lines that meet a box on its left and on its right."""

    left: list[int] = field(default_factory=list)
    right: list[int] = field(default_factory=list)


def source(spec: FlowSpec) -> str:
    """Return the DOT text of a sheet of signal flow."""
    drawing = graph.digraph(spec.strip, spec.legend, _notes(spec), ranksep="0.3", nodesep="0.22")
    names = {box.code: f"box{place}" for place, box in enumerate(spec.boxes)}
    sides = {box.code: _Sides() for box in spec.boxes}
    for number in sorted(range(len(spec.arrows)), key=lambda number: _order(spec, number)):
        first, second = _ends(spec.arrows[number])
        sides[first].right.append(number)
        sides[second].left.append(number)
    for box in spec.boxes:
        drawing.node(names[box.code], label=graph.label(_box(box, sides[box.code])))
    for number, arrow in enumerate(spec.arrows):
        first, second = _ends(arrow)
        drawn = graph.stroke(arrow.signal)
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


def _notes(spec: FlowSpec) -> list[str]:
    if not spec.rooms:
        return []
    noun = "Room built so: " if len(spec.rooms) == 1 else f"{len(spec.rooms)} rooms built so: "
    rooms = graph.wrapped(noun + formatting.listed(spec.rooms), 330, 6)
    return [*rooms, "Cable identities leave the room's tag out: B101-AP1/… reads AP1/…"]


def _box(box: FlowBox, sides: _Sides) -> str:
    title = graph.wrapped(box.title, _BOX_WIDTH * 0.9, 3, graph.LARGER_PT)
    lines = [line for words in box.lines for line in graph.wrapped(words, _BOX_WIDTH, 3)]
    parts: list[tuple[str, float, Sequence[str]]] = [
        (graph.text(title, size_pt=graph.LARGER_PT, bold=True, align="CENTER"), graph.LARGER_PT, title)
    ]
    if lines:
        parts.append((graph.text(lines, align="CENTER"), graph.SMALLEST_PT, lines))
    head = graph.height_pt(1)
    used = head + sum(graph.height_pt(len(shown), size_pt) for _, size_pt, shown in parts)
    height = max(used + 4, max(len(sides.left), len(sides.right)) * _PITCH)
    above = (height - used) // 2
    kind = graph.text([box.kind], colour=graph.MUTED)
    rows = [
        graph.row(graph.cell(kind, bgcolor=graph.BAND, width=_BOX_WIDTH, height=head)),
        graph.filler(above),
        *(
            graph.row(graph.cell(content, height=graph.height_pt(len(shown), size_pt)))
            for content, size_pt, shown in parts
        ),
        graph.filler(height - used - above),
    ]
    body = graph.cell(graph.table(rows), height=height, cellpadding=0)
    cells = [_ports(sides.left, "l"), body, _ports(sides.right, "r")]
    return graph.table([graph.row(*cells)], border=1, cellpadding=0, color=graph.INK, bgcolor=graph.PAPER)


def _ports(numbers: list[int], side: str) -> str:
    """Return the edge of a box as a stack of places at which lines meet it."""
    rows = [
        graph.row(graph.cell("", port=f"{side}{number}", width=1, cellpadding=0)) for number in numbers
    ] or [graph.row(graph.cell("", width=1, cellpadding=0))]
    return graph.cell(graph.table(rows, cellpadding=0), width=1, cellpadding=0)


def _label(arrow: FlowArrow) -> str:
    words = graph.wrapped(arrow.label, _LABEL_WIDTH, 2) if arrow.label else ()
    rows = [graph.row(graph.cell(graph.text([line]), cellpadding=0)) for line in words]
    if arrow.cable:
        rows.append(graph.row(graph.cell(graph.text([arrow.cable], colour=graph.MUTED), cellpadding=0)))
    # Below its words, so that the line does not strike through them.
    return graph.table([*rows, graph.filler(4)], cellpadding=0)
