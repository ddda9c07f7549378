"""Which sheets there are of what is connected: risers of building and storeys, and the flow of signals."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.connections.cable import Cable
from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.sheets.splitting import Part, detail_parts, device_rows, flow_parts, overall_parts
from proposal.design.sound.flow import Flow
from proposal.estimate.plan_sheets import storeys_of
from proposal.model.project import Project


def _rooms(project: Project) -> dict[str, list[str]]:
    """Return the tags of the rooms of each storey, in order."""
    rooms: dict[str, list[str]] = {tag: [] for tag in project.building.storeys}
    for tag in sorted(project.rooms, key=natural):
        rooms[project.rooms[tag].storey].append(tag)
    return rooms


def _cables(project: Project, design: Design) -> dict[str, list[Cable]]:
    """Return the cables of each room and equipment room."""
    cables: dict[str, list[Cable]] = {tag: [] for tag in (*project.rooms, *project.building.equipment_rooms)}
    for cable in design.cables:
        cables[cable.room].append(cable)
    return cables


def overall_risers(project: Project, design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the sheets of the riser of the whole building, none without equipment rooms."""
    if not project.building.equipment_rooms:
        return
    rooms, cables = _rooms(project), _cables(project, design)
    highest_first = reversed(storeys_of(project))
    yield (
        "",
        overall_parts(
            [(tag, [(room, _lines(room, cables[room])) for room in rooms[tag]]) for tag in highest_first]
        ),
    )


def _lines(room: str, cables: Sequence[Cable]) -> int:
    """Return how many lines a room has on the overall riser: by signal, type and whether they leave it."""
    return len({(cable.signal, cable.model, cable.end.startswith(f"{room}-")) for cable in cables})


def detail_risers(project: Project, design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the tag of each storey with the sheets of its riser in detail."""
    rooms, cables = _rooms(project), _cables(project, design)
    cabled = {cable.start for cable in design.cables}
    uncabled: dict[str, list[tuple[str, str, str]]] = {}
    for device in design.devices:
        if device.tag not in cabled:
            uncabled.setdefault(device.room, []).append((device.kind, device.model, device.location))
    rows = {room: device_rows(alike) for room, alike in uncabled.items()}
    for tag in storeys_of(project):
        places = [(room, len(cables[room]), rows.get(room, 0)) for room in rooms[tag]]
        places += [
            (place, len(cables[place]), rows.get(place, 0))
            for place, equipment_room in sorted(project.building.equipment_rooms.items())
            if equipment_room.storey == tag
        ]
        if places:
            yield tag, detail_parts(places)


def signal_flows(design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the key of each kind of room through which signals flow, with the sheets of it."""
    for key, flow in design.flows.items():
        if flow.nodes:
            yield key, flow_parts(*_boxes(flow))


def _boxes(flow: Flow) -> tuple[list[str], list[list[str]], Mapping[str, int]]:
    """Return codes of access points, of chargers, those alike together, and boxes of microphones at each.

    The last are counted for each access point.
    """
    alike: dict[tuple[str, ...], list[str]] = {}
    for node in flow.nodes:
        if node.kind == "charger":
            alike.setdefault(node.lines, []).append(node.code)
    groups: dict[str, int] = {}
    for edge in flow.edges:
        if edge.start in flow.members and not edge.returning:
            groups[edge.end] = groups.get(edge.end, 0) + 1
    return (
        [node.code for node in flow.nodes if node.kind == "access point"],
        list(alike.values()),
        groups,
    )
