"""The signal flow of a kind of room: microphones, radio, network, mix, outputs and return audio."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from proposal.document.document import Document
from proposal.document.rows.room_contents import FlowEdge, FlowNode
from proposal.document.rows.rooms import RoomSheet
from proposal.document.rows.sheets import SheetRow
from proposal.drawings import graph
from proposal.drawings.colours import Stroke, stroke
from proposal.drawings.legend import LegendEntry
from proposal.drawings.plan.plan_marks import natural
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.drawings.signal_flow.boxes import FlowArrow, FlowBox, by_kind, with_chargers_joined
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

# What stands before the network and is shared out to the sheets of a large room.
_SHARED_OUT = frozenset({"access point", "charger"})


@dataclass(frozen=True, slots=True)
class FlowSpec:
    """A sheet of the signal flow of a kind of room.

    room: what the kind is called.  rooms: tags of the rooms built so.
    overview: whether boxes of one kind are one, as further sheets show them apart.
    """

    strip: TitleBlock
    room: str
    rooms: tuple[str, ...]
    boxes: tuple[FlowBox, ...]
    arrows: tuple[FlowArrow, ...]
    legend: tuple[LegendEntry, ...]
    overview: bool = False


def spec_of(edition: Edition, sheet: SheetRow) -> FlowSpec:
    """Return what a sheet of signal flow shows.

    sheet: of kind `signal flow`; its subject is the key of a room sheet.
    Raises ValueError where the document has no such room sheet.
    """
    found = [room for room in edition.document.room_sheets if room.key == sheet.subject]
    if not found:
        raise ValueError(f"sheet {sheet.number} shows an unknown kind of room, {sheet.subject!r}")
    room = found[0]
    hidden = _hidden(room, sheet.members)
    boxes = _with_switches(
        _boxes(node for node in room.flow_nodes if node.code not in hidden), edition.document, room
    )
    codes = {box.code for box in boxes}
    arrows = tuple(_arrow(edge) for edge in room.flow_edges if edge.start in codes and edge.end in codes)
    overview = not sheet.members and sheet.parts > 1
    boxes, arrows = by_kind(boxes, arrows) if overview else with_chargers_joined(boxes, arrows)
    return FlowSpec(
        strip_of(edition, sheet), room.title, room.rooms, boxes, arrows, _legend(arrows), overview
    )


def _arrow(edge: FlowEdge) -> FlowArrow:
    return FlowArrow(
        start=edge.start,
        end=edge.end,
        signal=edge.signal,
        label=edge.label,
        cable=edge.cable,
        returning=edge.returning,
        start_port=edge.start_port,
        end_port=edge.end_port,
        connector=edge.connector,
    )


def _boxes(nodes: Iterable[FlowNode]) -> tuple[FlowBox, ...]:
    """Return the boxes of nodes; one that the mix goes to and return audio comes from is one box."""
    boxes: dict[str, FlowBox] = {}
    for node in nodes:
        lines = tuple(part for line in node.lines if line for part in line.split("; "))
        box = boxes.get(node.code)
        if box is None:
            boxes[node.code] = FlowBox(node.code, node.kind, node.title, lines)
        else:
            further = tuple(line for line in lines if line not in box.lines)
            boxes[node.code] = replace(box, kind=f"{box.kind}, {node.kind}", lines=box.lines + further)
    return tuple(boxes.values())


def _with_switches(boxes: tuple[FlowBox, ...], document: Document, room: RoomSheet) -> tuple[FlowBox, ...]:
    """Return boxes, the last of a network with the switches of equipment rooms that the rooms are joined to.

    The reader of an edition that names no switches is told nothing further.
    """
    rooms = {row.tag: row.room for row in document.devices}
    switches = sorted(
        {
            row.switch
            for row in document.patches
            if rooms.get(row.device) in room.rooms and rooms.get(row.switch, "") not in room.rooms
        }
        - {""},
        key=natural,
    )
    networks = [box for box in boxes if box.kind == "network"]
    if not switches or not networks:
        return boxes
    every = (*document.sheets, *document.detail_sheets)
    sheets = [row.number for row in every if row.kind == "network"]
    shown = (f"sheet{'s' if len(sheets) > 1 else ''} {formatting.listed(sheets)}",) if sheets else ()
    last = replace(networks[-1], lines=(*networks[-1].lines, formatting.listed(switches), *shown))
    return tuple(last if box == networks[-1] else box for box in boxes)


def _hidden(room: RoomSheet, members: Sequence[str]) -> frozenset[str]:
    """Return the codes of the boxes that other sheets of the drawing show."""
    if not members:
        return frozenset()
    elsewhere = {node.code for node in room.flow_nodes if node.kind in _SHARED_OUT} - set(members)
    microphones = {node.code for node in room.flow_nodes if node.kind == "microphones"}
    shown = {
        code
        for edge in room.flow_edges
        for code, other in ((edge.start, edge.end), (edge.end, edge.start))
        if code in microphones and other not in elsewhere
    }
    return frozenset(elsewhere | (microphones - shown))


def _legend(arrows: Iterable[FlowArrow]) -> tuple[LegendEntry, ...]:
    """Return an entry for each look of a line, return audio last."""
    looks: dict[tuple[bool, Stroke], list[str]] = {}
    for arrow in arrows:
        signals = looks.setdefault((arrow.returning, stroke(arrow.signal)), [])
        if arrow.signal not in signals:
            signals.append(arrow.signal)
    return tuple(
        graph.line_entry(
            signals[0],
            ("return audio, " if returning else "") + formatting.listed(signals),
            returning=returning,
        )
        for (returning, _), signals in sorted(looks.items(), key=lambda item: item[0][0])
    )


def alternative(spec: FlowSpec) -> str:
    """Return what a sheet of signal flow shows, in sentences."""
    names = {box.code: _name(box) for box in spec.boxes}
    sentences = [
        f"Signal flow of {spec.room}"
        + (
            f", {'room' if len(spec.rooms) == 1 else 'rooms'} {formatting.listed(spec.rooms)}"
            if spec.rooms
            else ""
        )
        + "."
    ]
    for arrow in spec.arrows:
        what = f"return audio, {arrow.signal}" if arrow.returning else arrow.signal
        cable = f", cable {arrow.cable}" if arrow.cable else ""
        ports = (
            arrow.start_port and f"from port {arrow.start_port}",
            arrow.end_port and f"to port {arrow.end_port}",
        )
        cable += "".join(f", {one}" for one in (*ports, arrow.connector) if one)
        carried = f" ({arrow.label})" if arrow.label else ""
        sentences.append(f"From {names[arrow.start]} to {names[arrow.end]}: {what}{carried}{cable}.")
    joined = {code for arrow in spec.arrows for code in (arrow.start, arrow.end)}
    sentences += [f"{names[box.code]} stands alone." for box in spec.boxes if box.code not in joined]
    return " ".join(sentences)


def _name(box: FlowBox) -> str:
    about = ", ".join(box.lines)
    return f"{box.kind} {box.title}" + (f", {about}" if about else "")
