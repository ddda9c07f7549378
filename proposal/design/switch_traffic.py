"""What passes each switch, and what it has to hold, against what its maker says that it can."""

from collections.abc import Iterator, Mapping, Sequence, Set

from proposal.design.design import Design
from proposal.design.network.streams import Stream
from proposal.design.numbers.numbering import natural
from proposal.design.owner.owner_streams import with_owner_tags
from proposal.design.power.port_power import PoweredPort
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch

QUEUES = 3
"""Queues that are needed: clock before audio before the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchTraffic:
    """One switch of ours with what passes it.

    tag: of the switch.
    passing_bit_per_s: sum over all its ports of what comes in and goes out, bit/s.
    rate_bit_per_s: what it switches at most, bit/s.
    groups, most_groups: multicast groups that pass it, and those that it can hold.
    vlans, most_vlans: VLANs on it, and those that it can hold.
    queues: queues that it has for DSCP.
    boundary_clock: whether it takes part in the clock.
    fullest_port: its port with the highest load in one direction for its speed, and that load, bit/s.
    fullest_bit_per_s: that load, bit/s.
    port_rate_bit_per_s: data rate of that port, bit/s.
    """

    tag: str
    passing_bit_per_s: float
    rate_bit_per_s: float
    groups: int
    most_groups: int
    vlans: int
    most_vlans: int
    queues: int
    boundary_clock: bool
    fullest_port: str
    fullest_bit_per_s: float
    port_rate_bit_per_s: float

    @property
    def holds(self) -> bool:
        """Return whether it carries and holds all that it has to."""
        return (
            self.passing_bit_per_s <= self.rate_bit_per_s
            and self.groups <= self.most_groups
            and self.vlans <= self.most_vlans
            and self.queues >= QUEUES
            and self.fullest_bit_per_s <= self.port_rate_bit_per_s
        )


@dataclass(frozen=True, slots=True)
class _PortLoad:
    """A port with what comes in and goes out, bit/s, its data rate and the streams that pass it."""

    name: str
    inwards: float
    outwards: float
    rate: float
    streams: frozenset[int]


def switch_traffic(design: Design) -> tuple[SwitchTraffic, ...]:
    """Return every switch of an equipment room that is ours, in order of tags."""
    ours = {tag: entry for tag, entry in design.entries.items() if isinstance(entry, Switch)}
    paths = _paths_of(design)
    return tuple(_of_switch(design, tag, ours[tag], paths) for tag in sorted(ours, key=natural))


@dataclass(frozen=True, slots=True)
class _Paths:
    """What is needed to tell which streams pass a port.

    ports: those of each switch, by its tag.  behind: what hangs on each switch.
    of: the streams that a device sends or takes, by its tag, in order.
    """

    ports: Mapping[str, Sequence[PoweredPort]]
    behind: Mapping[str, Set[str]]
    of: Mapping[str, Sequence[int]]
    streams: Sequence[Stream]


def _paths_of(design: Design) -> _Paths:
    ports: dict[str, list[PoweredPort]] = {}
    behind: dict[str, set[str]] = {}
    for port in design.ports:
        ports.setdefault(port.switch, []).append(port)
        behind.setdefault(port.switch, set()).add(port.attached.tag)
    streams = with_owner_tags(design.channels.streams, design.owners)
    of: dict[str, list[int]] = {}
    for n, stream in enumerate(streams):
        for tag in {stream.sender, *stream.receivers}:
            of.setdefault(tag, []).append(n)
    return _Paths(ports, behind, of, streams)


def _of_switch(design: Design, tag: str, entry: Switch, paths: _Paths) -> SwitchTraffic:
    loads = [*_access_ports(design, tag, entry, paths), *_uplinks(design, tag)]
    fullest = max(loads, key=lambda one: max(one.inwards, one.outwards) / one.rate, default=None)
    return SwitchTraffic(
        tag=tag,
        passing_bit_per_s=sum(one.inwards + one.outwards for one in loads),
        rate_bit_per_s=entry.switching_rate,
        groups=len(frozenset[int]().union(*(one.streams for one in loads))),
        most_groups=entry.multicast_groups,
        vlans=len({vlan.number for vlan in design.addresses.vlans}),
        most_vlans=entry.vlans,
        queues=entry.priority_queues,
        boundary_clock=entry.boundary_clock,
        fullest_port=fullest.name if fullest else "",
        fullest_bit_per_s=max(fullest.inwards, fullest.outwards) if fullest else 0.0,
        port_rate_bit_per_s=fullest.rate if fullest else entry.speed,
    )


def _access_ports(design: Design, tag: str, entry: Switch, paths: _Paths) -> Iterator[_PortLoad]:
    """Yield the ports of a switch for devices; behind a breakout stands what its own switch serves too."""
    for port in paths.ports.get(tag, ()):
        device = port.attached.tag
        here = {device, *paths.behind.get(device, ())} - {tag}
        streams = [paths.streams[n] for n in sorted({n for one in here for n in paths.of.get(one, ())})]
        controls = sum(
            known.network.control_rate
            for one in here
            if (known := design.entries.get(one)) is not None and known.network
        )
        # Whoever takes it, a switch that snoops hands a group on towards the one that asks who listens.
        sent = [s for s in streams if s.sender in here]
        taken = [s for s in streams if s.sender not in here and here & {*s.receivers}]
        yield _PortLoad(
            name=port.full_name,
            inwards=sum(s.bandwidth_bit_per_s for s in sent) + controls,
            outwards=sum(s.bandwidth_bit_per_s for s in taken) + controls,
            rate=entry.speed,
            streams=frozenset(s.number for s in (*sent, *taken)),
        )


def _uplinks(design: Design, tag: str) -> Iterator[_PortLoad]:
    for link, load in zip(design.switch_links, design.uplink_loads, strict=True):
        if tag not in (link.join.start, link.join.end):
            continue
        from_far = link.join.start == tag
        came, went = (load.outwards, load.inwards) if from_far else (load.inwards, load.outwards)
        yield _PortLoad(
            name=f"{tag}/{link.join.start_port if from_far else link.join.end_port}",
            inwards=came.result,
            outwards=went.result,
            rate=link.speed_bit_per_s,
            streams=frozenset((*load.streams_in, *load.streams_out)),
        )
