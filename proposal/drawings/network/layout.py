"""How the network lies on its sheet: the first switch above, those behind it below."""

from proposal.drawings import graph
from proposal.drawings.colours import BAND, INK, MUTED, PAPER, stroke
from proposal.drawings.drawing import graph_kind
from proposal.drawings.legend import Foot
from proposal.drawings.lettering import wrapped
from proposal.drawings.network import NetworkBox, NetworkLink, NetworkSpec, alternative, kinds_of, spec_of

_WIDTHS = (20, 128, 34, 70, 70)
_HEADINGS = ("", "devices", "VLAN", "audio sent", "audio taken")


def source(spec: NetworkSpec) -> str:
    """Return the DOT text of a sheet of the network."""
    drawing = graph.digraph(rankdir="TB", ranksep="0.45", nodesep="0.3")
    names = {box.name: f"box{place}" for place, box in enumerate(spec.boxes)}
    for box in spec.boxes:
        drawing.node(names[box.name], label=graph.label(_box(box)))
    for link in spec.links:
        drawn = stroke("fibre" if link.medium == "fibre" else "network")
        drawing.edge(
            names[link.near],
            names[link.far],
            label=graph.label(_label(link)),
            dir="none",
            color=drawn.colour,
            style=drawn.style,
            penwidth=f"{drawn.width:g}",
        )
    return str(drawing.source)


def _foot(spec: NetworkSpec) -> Foot:
    behind = any(group.behind for box in spec.boxes for group in box.groups)
    shared = " Those behind a breakout share its port." if behind else ""
    loads = " Loads of links: tagged streams and control." if spec.links else ""
    ports = f"Each device has a port of its own on its switch.{shared}{loads}"
    return Foot(entries=spec.legend, notes=(*spec.vlans, spec.isolation, ports))


def _box(box: NetworkBox) -> str:
    name = wrapped(box.name, sum(_WIDTHS) * 0.9, 2, graph.LARGER_PT)
    about = [line for words in box.lines for line in wrapped(words, sum(_WIDTHS), 2)]
    heading = graph.text(name, size_pt=graph.LARGER_PT, bold=True, align="CENTER")
    wide = len(_WIDTHS) if box.groups else 1
    rows = [graph.row(graph.cell(heading, bgcolor=BAND, colspan=wide))]
    if about:
        rows.append(graph.row(graph.cell(graph.text(about, colour=MUTED, align="CENTER"), colspan=wide)))
    if box.groups:
        rows.append(_cells(_HEADINGS, MUTED))
    for group in box.groups:
        cells = (str(group.count), kinds_of(group), group.vlans, group.sent, group.taken)
        rows.append(_cells(cells, INK))
    return graph.table(rows, border=1, color=INK, bgcolor=PAPER)


def _cells(words: tuple[str, ...], colour: str) -> str:
    return graph.row(
        *(
            graph.cell(
                graph.text(wrapped(word, width, 2) if word else (), colour=colour),
                align="LEFT" if place in (1, 2) else "RIGHT",
                width=width,
            )
            for place, (word, width) in enumerate(zip(words, _WIDTHS, strict=True))
        )
    )


def _label(link: NetworkLink) -> str:
    lines = [
        f"{link.near_port} to {link.far_port}, {link.medium or 'none suits'}, {link.speed}",
        f"towards {link.near}: {link.inwards}",
        f"away from it: {link.outwards}",
    ]
    if not link.holds:
        lines.append("fails")
    return graph.table(
        [
            # Space beside its words, so that the line does not strike through them.
            graph.row(
                graph.cell("", width=8, cellpadding=0),
                graph.cell(graph.text([piece]), cellpadding=0, align="LEFT"),
            )
            for line in lines
            for piece in wrapped(line, 290, 2)
        ],
        cellpadding=0,
        bgcolor=PAPER,
    )


KIND = graph_kind(spec_of, alternative, source, _foot)
