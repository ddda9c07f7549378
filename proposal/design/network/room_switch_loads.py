"""What the streams of a room take of each port of its own switch, against the speed of a port."""

from collections.abc import Mapping, Sequence

from proposal.design.network.port_demand import SwitchPorts
from proposal.design.network.streams import Stream
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Breakout, BuiltInSwitch, Switch
from proposal.model.equipment.entry import Device
from proposal.standards import aes67


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomSwitchLoad:
    """The busiest port of a room's own switch.

    port: its number.  device: tag of what is there.
    load_bit_per_s: streams and control of the busier direction.  speed_bit_per_s: what a port carries.
    every_stream: whether each port has every stream of the room, as the switch cannot sort them.
    """

    port: int
    device: str
    load_bit_per_s: float
    speed_bit_per_s: float
    every_stream: bool

    @property
    def holds(self) -> bool:
        """Return whether the port carries it."""
        return self.load_bit_per_s <= self.speed_bit_per_s


def room_switch_load(
    ports: SwitchPorts, host: Device, streams: Sequence[Stream], entries: Mapping[str, Device]
) -> RoomSwitchLoad | None:
    """Return the load of the busiest port of a room's own switch, None where nothing is plugged in.

    ports: of the switch.  host: entry of the library for what holds it.  streams: of the room.
    entries: of the devices by tag.
    A switch that sorts multicast sends a stream to those that take it; another one to every port. What the
    host itself sends and takes passes inside it.
    """
    switch = _switch_of(host)
    if switch is None or not ports.ports:
        return None
    sorts = switch.igmp_snooping if isinstance(switch, Switch) else switch.managed
    loads = []
    for number, attached in ports.ports.items():
        entry, tag = entries.get(attached.tag), attached.tag
        control = entry.network.control_rate if entry and entry.network else 0.0
        sent = [one.bandwidth_bit_per_s for one in streams if one.sender == tag]
        got = [
            one.bandwidth_bit_per_s
            for one in streams
            if one.sender != tag and (not sorts or tag in one.receivers)
        ]
        busier = max(sent, got, key=sum)
        loads.append((aes67.link_load_bit_per_s((*busier, control)), -number, tag))
    load, number, tag = max(loads)
    return RoomSwitchLoad(
        port=-number,
        device=tag,
        load_bit_per_s=load,
        speed_bit_per_s=switch.speed,
        every_stream=not sorts,
    )


def _switch_of(host: Device) -> Switch | BuiltInSwitch | None:
    if isinstance(host, Switch):
        return host
    return host.switch if isinstance(host, Breakout) else None
