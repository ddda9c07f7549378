"""Running numbers that a change elsewhere does not move: counted room by room, not through the document."""

from collections.abc import Iterable, Mapping

from proposal.design.design import Design


def serials(letter: str, groups: Iterable[str]) -> tuple[str, ...]:
    """Return a number for each of several things, such as `A101-W3`, or `W3` where it belongs to no group.

    letter: what is numbered, such as W for workings.
    groups: room, kind of room or other part of the project each belongs to, in order; empty for none.
    """
    counts: dict[str, int] = {}
    found = []
    for group in groups:
        count = counts[group] = counts.get(group, 0) + 1
        found.append(f"{group}-{letter}{count}" if group else f"{letter}{count}")
    return tuple(found)


def owners_of(design: Design) -> Mapping[str, str]:
    """Return the room, equipment room or kind of room that each subject of a working belongs to.

    A port of a switch belongs to the room of the device on it, so that another room's ports do not move it.
    """
    found: dict[str, str] = {kind.key: kind.key for kind in design.kinds}
    found |= {room.tag: room.tag for room in design.rooms}
    rooms = {device.tag: device.room for device in design.devices}
    for tag, room in rooms.items():
        found.setdefault(room, room)
        found.setdefault(tag, room)
    for port in design.ports:
        found.setdefault(port.full_name, rooms.get(port.attached.tag, ""))
    for cable in design.cables:
        found.setdefault(cable.identity, cable.room)
    for circuit in design.circuits:
        found.setdefault(circuit.identity, circuit.place)
    for line in design.loudspeaker_lines:
        found.setdefault(line.identity, line.room)
    return found
