"""Which switches a frame passes from one device to another, and how long that takes."""

from collections.abc import Collection, Iterable, Mapping

from proposal.design.numbers.numbering import natural
from proposal.model.equipment.devices import Breakout, Switch
from proposal.model.equipment.entry import Device

OWNERS_NETWORK = "the owner's network"


class SwitchWays:
    """The tree of devices and switches.

    Every device hangs on its switch, a breakout also on the one inside it, and switches on each other. A
    switch has a name of its own, so that the one inside a breakout is not the breakout.
    """

    def __init__(
        self,
        switches: Collection[str],
        joins: Iterable[tuple[str, str]],
        entries: Mapping[str, Device],
        owners: Mapping[str, float | None] | None = None,
    ) -> None:
        """Read the joins of devices and switches.

        switches: tags of all that devices are plugged into, those of rooms too.
        joins: tags at both ends of each join of the network, the switch's last; that of the owner's
            network is empty.
        entries: library entry by tag.
        owners: how long a frame takes through each switch of the owner, s, by tag; None where nobody says.
        """
        self._entries = entries
        self._owners = owners or {}
        beside: dict[str, set[str]] = {}

        def join(one: str, other: str) -> None:
            beside.setdefault(one, set()).add(other)
            beside.setdefault(other, set()).add(one)

        for tag in switches:
            join(_node(tag), tag)
        for start, end in joins:
            join(_node(start) if start in switches else start, _node(end or OWNERS_NETWORK))
        self._above: dict[str, str] = {}
        self._depth: dict[str, int] = {}
        for root in sorted((name for name in beside if name.startswith(_SIGN)), key=natural):
            if root not in self._depth:
                self._hang(root, beside)

    def _hang(self, root: str, beside: Mapping[str, set[str]]) -> None:
        self._depth[root] = 0
        waiting = [root]
        for name in waiting:
            for other in sorted(beside[name]):
                if other not in self._depth:
                    self._above[other], self._depth[other] = name, self._depth[name] + 1
                    waiting.append(other)

    def between(self, one: str, other: str) -> tuple[str, ...] | None:
        """Return the tags of the switches from one device to another, in order; None where no way leads.

        one, other: tags of devices.
        """
        if one not in self._depth or other not in self._depth:
            return None
        out, back = [one], [other]
        while out[-1] != back[-1]:
            climbing = out if self._depth[out[-1]] >= self._depth[back[-1]] else back
            if climbing[-1] not in self._above:
                return None
            climbing.append(self._above[climbing[-1]])
        way = [*out, *reversed(back[:-1])]
        return tuple(name.removeprefix(_SIGN) for name in way if name.startswith(_SIGN))

    def switch_of(self, device: str) -> str | None:
        """Return the tag of the switch that a device hangs on; None where it hangs on none.

        device: its tag.
        """
        above = self._above.get(device, "")
        return above.removeprefix(_SIGN) if above.startswith(_SIGN) else None

    def delay_s(self, switch: str) -> float | None:
        """Return how long a frame takes through a switch, s; None where nobody says.

        switch: tag of the switch, or of the breakout that holds it.
        """
        entry = self._entries.get(switch)
        if isinstance(entry, Switch):
            return entry.forwarding_delay
        if isinstance(entry, Breakout) and entry.switch:
            return entry.switch.forwarding_delay
        return None if entry is None else self._owners.get(switch)


_SIGN = "switch "


def _node(tag: str) -> str:
    return f"{_SIGN}{tag}"
