"""Rules about what passes switches, the clock, and who asks for multicast."""

from collections.abc import Iterator
from math import ceil

from proposal.design.design import Design
from proposal.design.network.clock_leader import ClockPlan, clock_plans
from proposal.design.switch_traffic import QUEUES, switch_traffic
from proposal.errors import Place
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, listed, written_place
from proposal.standards.sources import COMMON_PRACTICE, Source

IEEE_1588 = Source("IEEE 1588", clause="memory")
RFC_3376 = Source("IETF RFC 3376", clause="6.6.2, memory")
MOST_WAITING_SWITCHES = 1
"""Switches without a boundary clock that a clock may go through before it is said; common practice."""


def switches_too_small(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for all that a switch cannot carry or hold."""
    for one in switch_traffic(design):
        place = _place(project, design, one.tag)
        for rule, words, value, limit, unit in (
            (
                "switching-rate-short",
                "More is to pass the switch than it switches",
                one.passing_bit_per_s / 1e6,
                one.rate_bit_per_s / 1e6,
                "Mbit/s",
            ),
            (
                "multicast-groups-short",
                "More multicast groups pass the switch than it holds; it would send the rest to every port",
                float(one.groups),
                float(one.most_groups),
                "groups",
            ),
            ("vlans-short", "More VLANs are on the switch than it holds", one.vlans, one.most_vlans, "VLANs"),
        ):
            if value > limit:
                yield Finding(
                    rule=rule,
                    severity="error",
                    where=one.tag,
                    place=place,
                    message=f"{words}.",
                    value=float(value),
                    limit=float(limit),
                    unit=unit,
                    source=COMMON_PRACTICE,
                    remedy=f"Fix a switch in fixed.yaml that holds {value:g} {unit}, or serve some rooms "
                    "from another equipment room.",
                )
        if one.fullest_bit_per_s > one.port_rate_bit_per_s:
            yield Finding(
                rule="port-overfull",
                severity="error",
                where=one.fullest_port,
                place=place,
                message="More is to pass the port in one direction than its speed.",
                value=one.fullest_bit_per_s / 1e6,
                limit=one.port_rate_bit_per_s / 1e6,
                unit="Mbit/s",
                source=COMMON_PRACTICE,
                remedy="Fix a switch in fixed.yaml whose ports carry "
                f"{ceil(one.fullest_bit_per_s / 1e6)} Mbit/s or more.",
            )
        if one.queues < QUEUES and design.channels.streams:
            yield Finding(
                rule="priority-queues-few",
                severity="warning",
                where=one.tag,
                place=place,
                message="The switch has too few queues: clock, audio and the rest need one each.",
                value=float(one.queues),
                limit=float(QUEUES),
                unit="queues",
                source=COMMON_PRACTICE,
                remedy=f"Fix a switch with {QUEUES} queues or more in fixed.yaml.",
            )


def clock_without_leader(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error where nothing can lead the clock, a note where it waits in several switches."""
    if not design.channels.streams:
        return
    apart = design.on_networks_apart
    heard = {apart.get(stream.sender, "") for stream in design.channels.streams}
    for room, clock in clock_plans(design.entries, apart).items():
        if room in heard:
            yield from _clock_of(project, design, room, clock)


def _clock_of(project: Project, design: Design, room: str, clock: ClockPlan) -> Iterator[Finding]:
    """Yield what is wrong with the clock of one network.

    room: tag of the room whose own it is; empty for the building's.
    """
    if not clock.leader:
        yield Finding(
            rule="no-clock-leader",
            severity="error",
            where=room or "network",
            place=written_place(project, ("rooms", room, "tag"), ("project", "name")),
            message="Networked audio is sent, and nothing on the network can lead its clock.",
            value=0.0,
            limit=1.0,
            unit="clock leaders",
            source=IEEE_1588,
            remedy="Choose a mixer or access points that can lead it, or have the owner furnish a clock.",
        )
    elif len(clock.not_boundary) > MOST_WAITING_SWITCHES:
        yield Finding(
            rule="clock-waits-in-switches",
            severity="note",
            where=clock.not_boundary[0],
            place=_place(project, design, clock.not_boundary[0]),
            message=f"The clock waits unmeasured in {listed(clock.not_boundary)}; sent before audio by its "
            "DSCP, it waits shortly.",
            value=float(len(clock.not_boundary)),
            limit=float(MOST_WAITING_SWITCHES),
            unit="switches",
            source=COMMON_PRACTICE,
            remedy="Trust DSCP on every port, or fix switches with a boundary clock in fixed.yaml.",
        )


def nobody_asks(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error where snooping switches have nobody that asks who listens."""
    ours = switch_traffic(design)
    owned = any(switch.offered for closet in design.closets for switch in closet.switches)
    joined = any(not join.end for join in design.switch_joins.joins)
    if not ours or design.querier or owned or joined or not design.channels.streams:
        return
    yield Finding(
        rule="no-multicast-querier",
        severity="error",
        where=ours[0].tag,
        place=_place(project, design, ours[0].tag),
        message="No switch can ask who listens: with snooping on, streams stop after some minutes.",
        value=0.0,
        limit=1.0,
        unit="queriers",
        source=RFC_3376,
        remedy="Fix one switch in fixed.yaml that can be the multicast querier.",
    )


def _place(project: Project, design: Design, tag: str) -> Place:
    """Return where a switch was chosen, else its equipment room."""
    room = next((one.room for one in design.devices if one.tag == tag), "")
    return written_place(project, ("fixed", "devices", tag, "model"), ("building", "equipment_rooms", room))


SWITCH_TRAFFIC_RULES: tuple[Rule, ...] = (switches_too_small, clock_without_leader, nobody_asks)
