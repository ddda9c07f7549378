"""What passes each link between switches, each way, against its speed."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.network.streams import Stream
from proposal.design.network.switch_joins import OWNER, SwitchJoin, SwitchJoins
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.standards import aes67
from proposal.standards.sources import COMMON_PRACTICE
from proposal.standards.working import Limit, Working, working

SNOOPING = "A snooping switch hands on every group of its VLAN towards the querier (RFC 4541, 2.1.2, memory)."


@dataclass(frozen=True, slots=True, kw_only=True)
class UplinkLoad:
    """What passes a link between switches.

    join: which link.
    inwards, outwards: towards the first switch of the building, or the owner's network where that joins it,
        and away from it, each held against its speed.
    streams_in, streams_out: numbers of the streams that pass.
    control_bit_per_s: what the control of the devices beyond it takes in each direction, bit/s.
    """

    join: SwitchJoin
    inwards: Working
    outwards: Working
    streams_in: tuple[int, ...]
    streams_out: tuple[int, ...]
    control_bit_per_s: float

    @property
    def audio_in_bit_per_s(self) -> float:
        """Return what the streams take towards the first switch, tagged, bit/s."""
        return self.inwards.result - self.control_bit_per_s

    @property
    def audio_out_bit_per_s(self) -> float:
        """Return what the streams take away from the first switch, tagged, bit/s."""
        return self.outwards.result - self.control_bit_per_s

    @property
    def highest_bit_per_s(self) -> float:
        """Return the load of the fuller direction."""
        return max(self.inwards.result, self.outwards.result)

    @property
    def holds(self) -> bool:
        """Return whether both directions hold."""
        return "fails" not in (self.inwards.verdict, self.outwards.verdict)


def uplink_loads(
    joins: SwitchJoins,
    speeds: Sequence[float],
    streams: Sequence[Stream],
    switch_of: Mapping[str, str],
    entries: Mapping[str, Device],
    querier: str,
) -> tuple[UplinkLoad, ...]:
    """Return the load of every link, in the order of the joins.

    speeds: data rate of each link, bit/s.
    streams: of the project.
    switch_of: switch to which each device leads, by tag; what others furnish is taken to be at the first one.
    entries: the library entry of every device by tag.
    querier: tag of the switch that asks who listens.
    """
    loads = []
    for join, speed in zip(joins.joins, speeds, strict=True):
        beyond = joins.beyond(join)
        asking = querier in beyond
        passing_in, passing_out = [], []
        for stream in streams:
            sent_beyond = switch_of.get(stream.sender, joins.first) in beyond
            heard = {switch_of.get(tag, joins.first) in beyond for tag in stream.receivers}
            if sent_beyond and (False in heard or not asking):
                passing_in.append(stream)
            if not sent_beyond and (True in heard or asking):
                passing_out.append(stream)
        controls = list(_controls(beyond, switch_of, entries))
        there = "the owner's network" if join.end == OWNER else "the first switch"
        limit = Limit(speed, "≤", COMMON_PRACTICE)
        loads.append(
            UplinkLoad(
                join=join,
                inwards=_load(f"towards {there}", passing_in, controls, limit),
                outwards=_load(f"away from {there}", passing_out, controls, limit),
                streams_in=tuple(stream.number for stream in passing_in),
                streams_out=tuple(stream.number for stream in passing_out),
                control_bit_per_s=sum(controls),
            )
        )
    return tuple(loads)


def _controls(
    beyond: frozenset[str], switch_of: Mapping[str, str], entries: Mapping[str, Device]
) -> Iterator[float]:
    """Yield what it takes to control the devices beyond a link, and the switches there themselves."""
    led_there = [tag for tag, switch in switch_of.items() if switch in beyond]
    for tag in dict.fromkeys([*led_there, *sorted(beyond)]):
        entry = entries.get(tag)
        if entry is not None and entry.network:
            yield entry.network.control_rate


def _load(way: str, streams: Sequence[Stream], controls: Sequence[float], limit: Limit) -> Working:
    rates = [aes67.tagged_bandwidth_bit_per_s(stream.bandwidth_bit_per_s) for stream in streams]
    return working(
        aes67.link_load_bit_per_s,
        title=f"Load of the link {way}",
        limit=limit,
        note=SNOOPING,
        rates_bit_per_s=(*rates, *controls),
    )
