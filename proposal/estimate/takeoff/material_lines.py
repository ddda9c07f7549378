"""Lines of the take-off for what goes with cables: outlets, plugs, panels, cords, labels, ties."""

from collections.abc import Sequence
from decimal import Decimal

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.connections.cable_ends import CableEnds, label_of
from proposal.design.connections.ports_and_joins import Graph
from proposal.design.design import Design
from proposal.design.racks.panels import panel_jack
from proposal.estimate.takeoff.lines import TakeoffLine, line, phase_of_cables, piece_cost
from proposal.estimate.takeoff.systems import SYSTEM_OF_SIGNAL
from proposal.model.project import Project


def material_lines(
    project: Project, ends: CableEnds, room: str, cables: Sequence[Cable]
) -> list[TakeoffLine]:
    """Return the lines of what goes with the cables of one room.

    ends: of the whole design.
    room: tag of the room; cables: those that serve it.
    """
    return [
        *_terminations(project, ends, room, cables),
        *_labels(project, room, cables),
        *_consumables(project, room, cables),
    ]


def cord_lines(project: Project, graph: Graph) -> list[TakeoffLine]:
    """Return the patch cords of each room and model: those of every join of the network.

    graph: of the design.
    """
    wanted: dict[tuple[str, str], list[str]] = {}
    for join in graph.network:
        for model in join.cords:
            wanted.setdefault((join.room, model), []).append(join.identity)
    return [
        line(
            project,
            "patching",
            project.library.entry(model),
            room,
            Decimal(len(causes)),
            Decimal(0),
            causes,
        )
        for (room, model), causes in wanted.items()
    ]


def shared_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return the lines of what belongs to no cable: patch panels of each rack, labels of devices."""
    return [*_panels(project, design), *_device_labels(project, design)]


def _terminations(project: Project, ends: CableEnds, room: str, cables: Sequence[Cable]) -> list[TakeoffLine]:
    """Return what both ends of each cable are made off with; in a rack the panel brings its own jacks."""
    extra = Decimal(repr(project.brief.rules.takeoff.connector_extra))
    grouped: dict[tuple[str, str], list[Cable]] = {}
    for cable in cables:
        for end in ends.of(cable):
            for model in end.models:
                grouped.setdefault((model, SYSTEM_OF_SIGNAL[cable.signal]), []).append(cable)
    return [
        line(
            project,
            "termination",
            project.library.entry(model),
            room,
            Decimal(len(ended)),
            extra,
            dict.fromkeys(cable.identity for cable in ended),
            system,
            phase_of_cables(ended, "termination"),
        )
        for (model, system), ended in grouped.items()
    ]


def _labels(project: Project, room: str, cables: Sequence[Cable]) -> list[TakeoffLine]:
    """Return two labels a cable, of the size that goes round it."""
    grouped: dict[tuple[str, str], list[Cable]] = {}
    entries = cable_entries(project)
    for cable in cables:
        entry = entries.get(cable.model)
        model = label_of(project, entry) if entry else ""
        if model:
            grouped.setdefault((model, SYSTEM_OF_SIGNAL[cable.signal]), []).append(cable)
    return [
        line(
            project,
            "labels",
            project.library.entry(model),
            room,
            Decimal(2 * len(members)),
            Decimal(0),
            [cable.identity for cable in members],
            system,
            phase_of_cables(members, "labels"),
        )
        for (model, system), members in grouped.items()
    ]


def _device_labels(project: Project, design: Design) -> list[TakeoffLine]:
    fitting = [
        (piece_cost(project, one), code)
        for code, one in project.library.labels.items()
        if one.marks == "device"
    ]
    if not fitting:
        return []
    entry = project.library.entry(min(fitting)[1])
    grouped: dict[str, list[str]] = {}
    for device in design.devices:
        grouped.setdefault(device.room, []).append(device.tag)
    return [
        line(project, "labels", entry, room, Decimal(len(tags)), Decimal(0), tags)
        for room, tags in grouped.items()
    ]


def _consumables(project: Project, room: str, cables: Sequence[Cable]) -> list[TakeoffLine]:
    lines = []
    causes = [cable.identity for cable in cables]
    for _, entry in sorted(project.library.consumables.items()):
        if entry.use in ("fire-stopping", "mains outlet", "mains circuit"):
            # They are counted by opening, by outlet and by circuit.
            continue
        # A lead inside a rack is pulled through nothing.
        pulled = [cable.identity for cable in cables if not cable.in_rack]
        used_by = pulled if entry.use == "pulling lubricant" else causes
        quantity = Decimal(repr(entry.pieces_a_cable)) * len(used_by)
        if quantity:
            lines.append(line(project, "consumables", entry, room, quantity, Decimal(0), used_by))
    return lines


def _panels(project: Project, design: Design) -> list[TakeoffLine]:
    """Return the patch panels of each rack, and the jacks of those that come without."""
    racks = {device.tag: device.room for device in design.devices if device.kind == "rack"}
    lines = [
        line(project, "termination", one.entry, racks[one.rack], Decimal(one.count), Decimal(0), one.causes)
        for one in design.panels
    ]
    for one in design.panels:
        jack = None if one.entry.loaded or one.entry.medium == "fibre" else panel_jack(project, one.entry)
        if jack is not None:
            count = Decimal(one.count * one.entry.ports)
            lines.append(line(project, "termination", jack, racks[one.rack], count, Decimal(0), one.causes))
    return lines
