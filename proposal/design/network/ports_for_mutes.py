"""Where a panel or computer of the owner that mutes a room's microphones joins their network."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.network.port_demand import SwitchPorts


def ports_for_mutes(
    rooms: Sequence[str], served_from: Mapping[str, str], switches: Sequence[SwitchPorts]
) -> Iterator[str]:
    """Yield for each room the last free port of the switch in it, else in its equipment room.

    rooms: tags.  served_from: tag of the equipment room by room.
    switches: with their ports.
    Nothing for a room whose switches are full.
    """
    for room in rooms:
        there = [one for one in switches if one.device.room == room]
        there += [one for one in switches if one.device.room == served_from.get(room, room)]
        free = ((one, [n for n in one.numbers if n not in one.ports]) for one in there)
        named = next(((one, numbers[-1]) for one, numbers in free if numbers), None)
        if named:
            switch, number = named
            yield f"{switch.device.tag} {switch.port_name(number)}"
