"""The address plan: the lowest free ones, fixed and issued ones, the gateway kept free."""

import ipaddress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.network.addresses import Addresses, addresses
from proposal.model.design_rules import Subnet
from proposal.model.project import FixedDevice, Numbered, Project
from tests.design.making import changed, minimal


def with_network(network: str, gateway: str = "", **fixed: str) -> Project:
    subnets = {"audio": Subnet(network=network, vlan=30, gateway=gateway)}
    project = changed(minimal(), "brief.subnets", subnets)
    devices = {tag: FixedDevice(address=address) for tag, address in fixed.items()}
    return changed(project, "fixed.devices", devices)


def plan(project: Project, *wanting: tuple[str, int]) -> Addresses:
    return addresses(project, wanting)


def test_devices_get_the_lowest_addresses_after_the_gateway() -> None:
    found = plan(with_network("10.1.2.0/28"), ("D1", 1), ("D2", 1))
    assert found.by_tag == {"D1": ("10.1.2.2",), "D2": ("10.1.2.3",)}
    assert (found.gateway, found.vlan, found.left) == ("10.1.2.1", 30, ())


def test_a_gateway_elsewhere_is_kept_free() -> None:
    found = plan(with_network("10.1.2.0/29", "10.1.2.3"), *((f"D{n}", 1) for n in range(1, 6)))
    assert [one for given in found.by_tag.values() for one in given] == [
        *("10.1.2.1", "10.1.2.2", "10.1.2.4", "10.1.2.5", "10.1.2.6"),
    ]


def test_a_device_with_two_ports_of_its_own_gets_two_addresses() -> None:
    found = plan(with_network("10.1.2.0/28"), ("D1", 2), ("D2", 1))
    assert found.by_tag == {"D1": ("10.1.2.2", "10.1.2.3"), "D2": ("10.1.2.4",)}


def test_an_address_fixed_by_hand_stands_and_is_given_to_nobody_else() -> None:
    found = plan(with_network("10.1.2.0/28", D2="10.1.2.2"), ("D1", 1), ("D2", 1))
    assert found.by_tag == {"D1": ("10.1.2.3",), "D2": ("10.1.2.2",)}


def test_an_issued_address_is_kept_wherever_it_lies_in_the_network() -> None:
    issued = {
        "address/D2": Numbered(number="10.1.2.200"),
        "address/D3": Numbered(number="10.9.9.9"),
        "address/GONE": Numbered(number="10.1.2.2", retired=True),
    }
    project = with_network("10.1.2.0/24").model_copy(update={"issued": issued})
    found = plan(project, ("D1", 1), ("D2", 1), ("D3", 1))
    assert found.by_tag == {"D1": ("10.1.2.3",), "D2": ("10.1.2.200",), "D3": ("10.1.2.4",)}


def test_what_finds_no_address_is_left() -> None:
    found = plan(with_network("10.1.2.0/30"), ("D1", 1), ("D2", 1), ("D3", 2))
    assert (found.by_tag, found.left) == ({"D1": ("10.1.2.2",)}, ("D2", "D3"))


def test_without_a_network_nobody_has_an_address() -> None:
    found = plan(changed(minimal(), "brief.subnets", {}), ("D1", 1))
    assert (found.by_tag, found.left, found.network) == ({}, ("D1",), "")


@pytest.mark.parametrize("network", ["10.0.0.0/8", "0.0.0.0/0"])
def test_a_huge_network_takes_no_time(network: str) -> None:
    found = plan(with_network(network), ("D1", 1))
    assert len(found.by_tag) == 1


@pytest.mark.independent
@settings(deadline=None)
@given(
    st.integers(min_value=24, max_value=30),
    st.lists(st.integers(min_value=1, max_value=3), max_size=40),
)
def test_addresses_are_hosts_of_the_network_and_all_different(prefix: int, counts: list[int]) -> None:
    network = ipaddress.ip_network(f"192.168.7.0/{prefix}")
    found = plan(with_network(str(network)), *((f"D{n}", count) for n, count in enumerate(counts)))
    given_out = [one for several in found.by_tag.values() for one in several]
    assert len(given_out) == len(set(given_out)) == min(sum(counts), network.num_addresses - 3)
    hosts = set(network.hosts()) - {ipaddress.ip_address(found.gateway)}
    assert {ipaddress.ip_address(one) for one in given_out} <= hosts
    assert bool(found.left) == (sum(counts) > len(hosts))
