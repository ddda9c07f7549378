"""The graph that a design is: ports of devices, the joins between them, and the throughs inside devices."""

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Literal

from proposal.design.connections.cable import Cable
from proposal.field_classes import dataclass

JoinSignal = Literal["network", "fibre", "analogue", "loudspeaker line", "USB", "radio"]
RADIO = "radio"
"""Name of the port by which a microphone on a link is joined."""


@dataclass(frozen=True, slots=True, order=True)
class Port:
    """A port of a device.

    device: tag; a code where nobody says what the owner has there, empty for the owner's network.
    name: of the port, as on the device; empty where none was left.
    """

    device: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """What ties two ports: a cable with its panel ports and cords, a cord alone, a lead or a radio link.

    identity: of the cable; of the cord, lead or link where no cable lies between.
    signal: what passes.
    start, end: the ports; of the network, the device's and the switch's.
    room: tag of the room it serves.
    cable: None where there is none.
    first_cord: model code of the cord at the start; first_panel: rack and panel port where the cable begins.
    panel: rack and panel port where the cable ends; last_cord: model code of the cord from there on.
    source, source_cord: PoE source after that cord, and model code of the cord from there on.
    isolated: whether the port at its start keeps what is beyond off.
    """

    identity: str
    signal: JoinSignal
    start: Port
    end: Port
    room: str
    cable: Cable | None = None
    first_cord: str = ""
    first_panel: str = ""
    panel: str = ""
    last_cord: str = ""
    source: str = ""
    source_cord: str = ""
    isolated: bool = False

    @property
    def led_on(self) -> bool:
        """Return whether it ends in a port, and not on a panel from which nothing leads on."""
        return bool(self.end.device or self.end.name)

    @property
    def cords(self) -> tuple[str, ...]:
        """Return the model codes of its cords, from start to end."""
        return tuple(one for one in (self.first_cord, self.last_cord, self.source_cord) if one)


@dataclass(frozen=True, slots=True, kw_only=True)
class Through:
    """A way from one port of a device to another.

    device: tag.
    start, end: names of the ports.
    channels: how many pass at most.
    mixes: whether what comes in at several starts may go out at one end.
    """

    device: str
    start: str
    end: str
    channels: int
    mixes: bool = False


@dataclass(frozen=True)
class Graph:
    """All joins in order of identities, all throughs in order of devices, and what forwards the network.

    switches: tags of switches, and of what holds one, which forward between all ports of the network.
    """

    joins: tuple[Join, ...]
    throughs: tuple[Through, ...]
    switches: frozenset[str]

    @cached_property
    def network(self) -> tuple[Join, ...]:
        """The joins of the network, by copper or fibre."""
        return tuple(one for one in self.joins if one.signal in ("network", "fibre"))

    @cached_property
    def at(self) -> Mapping[Port, tuple[Join, ...]]:
        """The joins at each port."""
        found: dict[Port, list[Join]] = {}
        for one in self.joins:
            found.setdefault(one.start, []).append(one)
            found.setdefault(one.end, []).append(one)
        return {port: tuple(joins) for port, joins in found.items()}

    @cached_property
    def inside(self) -> Mapping[str, tuple[Through, ...]]:
        """The throughs of each device by tag."""
        found: dict[str, list[Through]] = {}
        for one in self.throughs:
            found.setdefault(one.device, []).append(one)
        return {tag: tuple(throughs) for tag, throughs in found.items()}

    def onward(self, port: Port) -> tuple[Port, ...]:
        """Return where a signal that has come to a port of a device goes on inside it, and leaves it."""
        here = [one.end for one in self.inside.get(port.device, ()) if one.start == port.name]
        networked = self._network_ports.get(port.device, ()) if port.device in self.switches else ()
        if port in networked:
            here += [other.name for other in networked if other != port]
        return tuple(Port(port.device, name) for name in dict.fromkeys(here))

    @cached_property
    def _network_ports(self) -> Mapping[str, tuple[Port, ...]]:
        found: dict[str, list[Port]] = {}
        for one in self.network:
            for port in (one.start, one.end):
                found.setdefault(port.device, []).append(port)
        return {tag: tuple(ports) for tag, ports in found.items()}

    def way(self, start: Sequence[Port], device: str) -> tuple[Join, ...] | None:
        """Return the joins of a shortest way from ports to a device, in order; None where none leads there.

        start: ports that the signal leaves by.  device: tag, or the code of what others furnish.
        A signal passes the network, USB and throughs both ways, all else from start to end.
        """
        came: dict[Port, tuple[Port, Join | None] | None] = dict.fromkeys(start)
        waiting = list(start)
        for port in waiting:
            for join in self.at.get(port, ()):
                forward = join.start == port
                if join.isolated or not (forward or join.signal in ("network", "fibre", "USB")):
                    continue
                other = join.end if forward else join.start
                if other in came:
                    continue
                came[other] = (port, join)
                if other.device == device:
                    return _joins_to(other, came)
                for out in self.onward(other):
                    # A loudspeaker leads on by the port that the line comes to.
                    if out == other:
                        waiting.append(out)
                    elif out not in came:
                        came[out] = (other, None)
                        waiting.append(out)
        return None


def _joins_to(port: Port, came: Mapping[Port, tuple[Port, Join | None] | None]) -> tuple[Join, ...]:
    joins: list[Join] = []
    while (before := came[port]) is not None:
        port, join = before
        if join:
            joins.insert(0, join)
    return tuple(joins)
