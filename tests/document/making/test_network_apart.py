"""Rooms and carts whose network is their own: on no VLAN of the building, with a clock of their own."""

from pathlib import Path

from proposal.design.network.clock_leader import clock_plans
from proposal.review.switch_traffic import clock_without_leader
from tests.whole_projects import whole_computed, whole_document

PROJECTS = Path(__file__).parents[2] / "projects"
MUNICIPAL = PROJECTS / "municipal"
"""C103 stands alone; the cart P1 has a switch of its own and is joined to nothing."""


def test_what_stands_alone_is_on_no_vlan() -> None:
    document = whole_document(MUNICIPAL)
    joined = {row.room for row in document.network_hosts if row.vlan is not None}
    alone = {row.room for row in document.network_hosts if row.vlan is None}
    assert (joined, alone) == ({"C101", "C102"}, {"C103", "P1"})
    assert {row.addressing for row in document.network_hosts if row.vlan is None} == {
        "static, on a network of its own"
    }


def test_a_vlan_counts_what_is_on_it() -> None:
    (row,) = whole_document(MUNICIPAL).vlans
    hosts = [one for one in whole_document(MUNICIPAL).network_hosts if one.vlan == row.vlan]
    assert row.addresses_used == sum(len(one.addresses) for one in hosts) == 12
    assert row.audio_bit_s == sum(one.sent_bit_s for one in hosts)


def test_two_rooms_alone_use_no_vlan() -> None:
    assert whole_document(PROJECTS / "two_rooms").vlans == ()


def test_each_network_has_a_clock_leader_of_its_own() -> None:
    design = whole_computed(MUNICIPAL).design
    clocks = clock_plans(design.entries, design.on_networks_apart)
    assert {room: clock.leader for room, clock in clocks.items()} == {
        "": "C101-MX1",
        "C103": "C103-BO1",
        "P1": "P1-BO1",
    }
    leads = [one.device for one in design.settings if one.value == "1: it leads the clock"]
    assert sorted(leads) == ["C101-MX1", "C103-BO1", "P1-BO1"]


def test_the_clock_of_one_network_waits_in_none_of_another() -> None:
    computed = whole_computed(PROJECTS / "two_rooms")
    assert list(clock_without_leader(computed.project, computed.design)) == []
