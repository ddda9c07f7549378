"""Where a panel or computer of the owner that mutes a room's microphones joins their network."""

from collections.abc import Iterable, Mapping, Sequence

from proposal.design.network.port_demand import SwitchPorts


def ports_for_mutes(
    rooms: Iterable[str], served_from: Mapping[str, str], switches: Sequence[SwitchPorts]
) -> dict[str, tuple[SwitchPorts, int]]:
    """Return for each room the last free port of the switch in it, else in its equipment room: one a room.

    rooms: tags.  served_from: tag of the equipment room by room.
    switches: with their ports.
    Where fewer ports are free than rooms are served, the last of them is shared. A room whose switches are
    full has none.
    """
    found: dict[str, tuple[SwitchPorts, int]] = {}
    for room in rooms:
        there = [one for one in switches if one.device.room == room]
        there += [one for one in switches if one.device.room == served_from.get(room, room)]
        free = [(one, n) for one in there for n in reversed(one.numbers) if n not in one.ports]
        taken = {(one.device.tag, n) for one, n in found.values()}
        alone = [(one, n) for one, n in free if (one.device.tag, n) not in taken]
        if alone or free:
            found[room] = (alone or free[-1:])[0]
    return found
