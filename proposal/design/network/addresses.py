"""The addresses of everything on the network."""

import ipaddress
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from proposal.design.numbers.numbering import assign, issued_of
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Addresses:
    """The addresses of the devices on the network.

    by_tag: addresses of each device, as many as it takes; fewer where none were left.
    left: tags of devices for which an address was missing.
    network: the range, empty where the project gives none.
    gateway: address of its gateway, which no device gets.
    vlan: its VLAN.
    """

    by_tag: Mapping[str, tuple[str, ...]]
    left: tuple[str, ...]
    network: str
    gateway: str
    vlan: int | None


def addresses(project: Project, wanting: Sequence[tuple[str, int]]) -> Addresses:
    """Return the addresses of the project's first audio network for each device, lowest first.

    wanting: tag of each device that needs some, in order, and how many.
    The gateway's address is kept free; an address fixed by hand stands, whatever it is, as the first of its
    device.
    """
    identities = {_identity(tag, n): tag for tag, count in wanting for n in range(count)}
    if not project.brief.subnets:
        left = tuple(dict.fromkeys(identities.values()))
        return Addresses(by_tag={}, left=left, network="", gateway="", vlan=None)
    _, subnet = sorted(project.brief.subnets.items())[0]
    network = ipaddress.ip_network(subnet.network)
    gateway = subnet.gateway or str(next(iter(network.hosts())))
    fixed = {
        tag: str(ipaddress.ip_address(project.fixed.devices[tag].address))
        for tag, _ in wanting
        if tag in project.fixed.devices and project.fixed.devices[tag].address
    }
    issued = {
        identity.removeprefix("address/"): number
        for identity, number in issued_of(project.issued, "address").items()
    }
    most = len(identities) + len(issued) + len(fixed) + 1
    kept = (number.number for number in issued.values())
    candidates = dict.fromkeys(host for host in _hosts(network, kept, most) if host != gateway)
    numbers = assign(identities, fixed, issued, candidates)
    by_tag: dict[str, tuple[str, ...]] = {}
    for identity, number in numbers.items():
        tag = identities[identity]
        by_tag[tag] = (*by_tag.get(tag, ()), number)
    left = tuple(dict.fromkeys(tag for identity, tag in identities.items() if identity not in numbers))
    return Addresses(by_tag=by_tag, left=left, network=str(network), gateway=gateway, vlan=subnet.vlan)


def _identity(tag: str, n: int) -> str:
    """Return the identity of a device's address in the register, from the second on with its number."""
    return f"{tag}/{n + 1}" if n else tag


def _hosts(
    network: ipaddress.IPv4Network | ipaddress.IPv6Network, kept: Iterator[str], most: int
) -> Iterator[str]:
    """Yield the lowest addresses of a network, then those that were issued and still lie in it."""
    for host, _ in zip(network.hosts(), range(most), strict=False):
        yield str(host)
    ends = {str(network.network_address), str(network.broadcast_address)} if network.version == 4 else set()
    for address in kept:
        if address not in ends and _lies_in(address, network):
            yield address


def _lies_in(address: str, network: ipaddress.IPv4Network | ipaddress.IPv6Network) -> bool:
    """Return whether a text is an address of a network, as addresses are written."""
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        return False
    return str(known) == address and known in network
