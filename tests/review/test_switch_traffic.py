"""What switches cannot carry or hold, clocks without a leader, multicast that nobody asks for."""

import ipaddress
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from proposal.design.design import Design
from proposal.design.network.addresses import prefix_for
from proposal.design.switch_traffic import switch_traffic
from proposal.model.design_rules import Subnet
from proposal.model.equipment.devices import Switch
from proposal.review.finding import Finding
from proposal.review.network import addresses_missing, subnets_unused
from proposal.review.switch_traffic import SWITCH_TRAFFIC_RULES
from tests.design.making import EXAMPLE, changed, designed, project_of


@pytest.fixture(scope="module")
def example() -> Design:
    return designed(project_of(EXAMPLE))


def with_switches(made: Design, **given: Any) -> Design:
    entries = {
        tag: entry.model_copy(update=given) if isinstance(entry, Switch) else entry
        for tag, entry in made.entries.items()
    }
    return replace(made, entries=entries)


def found(made: Design) -> Iterator[Finding]:
    for rule in SWITCH_TRAFFIC_RULES:
        yield from rule(made.project, made)


def test_the_switches_of_the_example_suffice(example: Design) -> None:
    assert list(found(example)) == []


@pytest.mark.independent
def test_what_comes_into_a_network_of_switches_goes_out_once_for_each_who_takes_it(example: Design) -> None:
    # Counted another way: each stream enters its first switch once, taken or not, since a switch that snoops
    # hands it on towards the querier; it crosses links as they say, and leaves once at each port behind which
    # it is taken. Control goes both ways on each port.
    traffic = switch_traffic(example)
    tags = {one.tag for one in traffic}
    of_links = 2 * sum(load.inwards.result + load.outwards.result for load in example.uplink_loads)
    host_of = {port.attached.tag: port.switch for port in example.ports}

    def port_of(tag: str) -> str:
        """Return what stands at a switch of an equipment room: the device, or the breakout before it."""
        switch = host_of.get(tag, "")
        return tag if switch in tags else switch

    owners = {
        (room, code): one.device.tag
        for one in example.owners
        for room in one.rooms
        for code in one.written.serves
    }
    of_streams = 0.0
    for stream in example.channels.streams:
        ends = [owners.get((stream.room, code), code) for code in (stream.sender, *stream.receivers)]
        ports = [port_of(tag) for tag in ends]
        takers = {port for port in ports[1:] if port and port != ports[0]}
        of_streams += stream.bandwidth_bit_per_s * (len(takers) + bool(ports[0]))
    controls = sum(
        entry.network.control_rate
        for tag, entry in example.entries.items()
        if entry.network and tag not in tags and port_of(tag)
    )
    assert sum(one.passing_bit_per_s for one in traffic) == pytest.approx(
        of_links + of_streams + 2 * controls, rel=1e-12
    )


@pytest.mark.parametrize(
    ("given", "rule", "limit"),
    [
        ({"switching_rate": 20e6}, "switching-rate-short", 20),
        ({"multicast_groups": 2}, "multicast-groups-short", 2),
        ({"vlans": 0}, "vlans-short", 0),
        ({"speed": 1e6}, "port-overfull", 1),
    ],
)
def test_what_a_switch_cannot_do_is_an_error(
    example: Design, given: dict[str, Any], rule: str, limit: float
) -> None:
    these = [one for one in found(with_switches(example, **given)) if one.rule == rule]
    assert these
    assert {(one.severity, one.limit) for one in these} == {("error", limit)}
    assert all(one.value is not None and one.value > limit for one in these)


def test_two_queues_are_a_warning_and_three_are_none(example: Design) -> None:
    few = list(found(with_switches(example, priority_queues=2, boundary_clock=True)))
    assert {(one.rule, one.severity, one.limit) for one in few} == {("priority-queues-few", "warning", 3)}
    assert list(found(with_switches(example, priority_queues=3, boundary_clock=True))) == []


def test_nothing_that_can_lead_the_clock_is_an_error(example: Design) -> None:
    entries = {
        tag: entry.model_copy(update={"network": entry.network.model_copy(update={"can_lead_clock": False})})
        if entry.network
        else entry
        for tag, entry in example.entries.items()
    }
    (one,) = found(replace(example, entries=entries))
    assert (one.rule, one.severity) == ("no-clock-leader", "error")


def test_switches_without_a_boundary_clock_are_named_in_a_note(example: Design) -> None:
    (one,) = found(with_switches(example, boundary_clock=False))
    assert (one.rule, one.severity, one.value) == ("clock-waits-in-switches", "note", 3)
    # One switch in ER1 and two in ER2.
    assert "ER1-SW1" in one.message
    assert "ER2-SW2" in one.message


def test_switches_of_which_none_can_ask_who_listens_are_an_error(example: Design) -> None:
    (one,) = found(with_switches(example, igmp_querier=False, boundary_clock=True))
    assert (one.rule, one.severity) == ("no-multicast-querier", "error")


def test_a_range_too_small_names_the_prefix_that_would_do(example: Design) -> None:
    small = {"conference": Subnet(network="10.40.8.0/28", vlan=408)}
    made = designed(changed(example.project, "brief.subnets", small).model_copy(update={"issued": {}}))
    (one,) = addresses_missing(made.project, made)
    assert (one.rule, one.value) == ("network-full", 66)
    # 66 addresses, the standby supply's and its switch's among them, and a gateway.
    # A /26 has 62 hosts, a /25 has 126.
    assert "/25" in one.remedy


@pytest.mark.independent
@pytest.mark.parametrize("count", [1, 2, 5, 6, 13, 14, 61, 62, 125, 126, 253, 254, 1021, 1022])
def test_the_prefix_is_the_smallest_range_with_a_host_for_each_and_the_gateway(count: int) -> None:
    def hosts(prefix: int) -> int:
        return len(list(ipaddress.ip_network(f"10.0.0.0/{prefix}").hosts()))

    prefix = prefix_for(count)
    assert hosts(prefix) >= count + 1
    assert prefix == 30 or hosts(prefix + 1) < count + 1


def test_a_network_for_control_takes_what_neither_sends_nor_takes_audio(example: Design) -> None:
    subnets = {
        "sound": Subnet(network="10.1.0.0/24", vlan=10, purpose="audio"),
        "house": Subnet(network="10.2.0.0/24", vlan=20, purpose="control"),
        "spare": Subnet(network="10.3.0.0/24", vlan=30, purpose="control"),
    }
    project = changed(example.project, "brief.subnets", subnets).model_copy(update={"issued": {}})
    made = designed(changed(project, "fixed.devices", {}))
    plan = made.addresses
    kinds = {one.tag: one.kind for one in made.devices}
    placed = {
        (kinds[tag], vlan.number) for tag, vlan in plan.vlan_of.items() if kinds.get(tag) != "owner_equipment"
    }
    assert {pair for pair in placed if pair[1] == 20} == {("charger", 20), ("standby_supply", 20)}
    assert ("charger", 10) not in placed
    assert all(
        ipaddress.ip_address(address) in ipaddress.ip_network(plan.vlan_of[tag].network)
        for tag, given in plan.by_tag.items()
        for address in given
    )
    (note,) = subnets_unused(made.project, made)
    assert (note.rule, note.where) == ("subnet-unused", "spare")
