"""The addresses of everything on the network."""

import ipaddress
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import field

from proposal.design.numbers.numbering import assign, issued_of
from proposal.field_classes import dataclass
from proposal.model.design_rules import Subnet
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedVlan:
    """A VLAN of the building that devices have addresses in.

    name: its key under subnets.  number: of the VLAN.  network: its range of addresses.
    gateway: address of its gateway, which no device gets.
    purpose: what travels on it.  addressing: static or reserved.
    kept: addresses in the range that were issued once and are given to nobody else.
    """

    name: str
    number: int
    network: str
    gateway: str
    purpose: str
    addressing: str
    kept: int

    @property
    def hosts(self) -> int:
        """Return how many devices' addresses the range holds, without the gateway's."""
        return _most_hosts(ipaddress.ip_network(self.network).prefixlen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Addresses:
    """The addresses of the devices on the network.

    by_tag: addresses of each device, as many as it takes; fewer where none were left.
    left: tags of devices for which an address was missing.
    network: the range of networked audio, empty where the project gives none.
    gateway: address of its gateway, which no device gets.
    vlan: its VLAN.
    vlans: every VLAN that devices have addresses in, that of audio first.
    vlan_of: the VLAN of each device that wants an address, by tag.
    unused: names of subnets that nothing is given an address of.
    """

    by_tag: Mapping[str, tuple[str, ...]]
    left: tuple[str, ...]
    network: str
    gateway: str
    vlan: int | None
    vlans: tuple[PlannedVlan, ...] = ()
    vlan_of: Mapping[str, PlannedVlan] = field(default_factory=dict)
    unused: tuple[str, ...] = ()

    def wanted_of(self, vlan: PlannedVlan, wanting: Mapping[str, int]) -> int:
        """Return how many addresses a VLAN is to hold: those wanted, and those that nobody else gets.

        wanting: how many addresses each device takes, by tag.
        """
        return vlan.kept + sum(count for tag, count in wanting.items() if self.vlan_of.get(tag) == vlan)


def addresses(
    project: Project, wanting: Sequence[tuple[str, int]], control_only: Collection[str] = ()
) -> Addresses:
    """Return the addresses of each device in the project's networks, lowest first.

    wanting: tag of each device that needs some, in order, and how many.
    control_only: tags of devices that neither send nor take audio; they stand in the network for control,
        where the project gives one of its own.
    Of several networks for one purpose the first by name is taken. The gateway's address is kept free; an
    address fixed by hand stands, whatever it is, as the first of its device.
    """
    subnets = sorted(project.brief.subnets.items())
    if not subnets:
        left = tuple(dict.fromkeys(tag for tag, count in wanting if count))
        return Addresses(by_tag={}, left=left, network="", gateway="", vlan=None)
    main = next((one for one in subnets if "audio" in one[1].purpose), subnets[0])
    control = next((one for one in subnets if one[1].purpose == "control"), main)
    parted = [(main, [one for one in wanting if control is main or one[0] not in control_only])]
    if control is not main:
        parted.append((control, [one for one in wanting if one[0] in control_only]))
    by_tag: dict[str, tuple[str, ...]] = {}
    vlan_of: dict[str, PlannedVlan] = {}
    vlans = []
    for (name, subnet), of_vlan in parted:
        planned, given = _of_subnet(project, name, subnet, of_vlan)
        vlans.append(planned)
        by_tag |= given
        vlan_of |= {tag: planned for tag, count in of_vlan if count}
    used = {one.name for one in vlans}
    return Addresses(
        by_tag={tag: by_tag[tag] for tag, _ in wanting if tag in by_tag},
        left=tuple(dict.fromkeys(tag for tag, count in wanting if len(by_tag.get(tag, ())) < count)),
        network=vlans[0].network,
        gateway=vlans[0].gateway,
        vlan=vlans[0].number,
        vlans=tuple(vlans),
        vlan_of=vlan_of,
        unused=tuple(name for name, _ in subnets if name not in used),
    )


def vlan_of(plan: Addresses, tag: str) -> int | None:
    """Return the VLAN of a device's port: that of its address, of audio where it has none.

    tag: of the device.
    """
    planned = plan.vlan_of.get(tag)
    return planned.number if planned else plan.vlan


def _of_subnet(
    project: Project, name: str, subnet: Subnet, wanting: Sequence[tuple[str, int]]
) -> tuple[PlannedVlan, dict[str, tuple[str, ...]]]:
    """Return a VLAN, and the addresses in it of the devices that stand there, by tag."""
    identities = {_identity(tag, n): tag for tag, count in wanting for n in range(count)}
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
    given = {one for several in by_tag.values() for one in several}
    planned = PlannedVlan(
        name=name,
        number=subnet.vlan,
        network=str(network),
        gateway=gateway,
        purpose=subnet.purpose,
        addressing=subnet.addressing,
        kept=sum(
            _lies_in(one.number, network) and one.number not in {*given, gateway} for one in issued.values()
        ),
    )
    return planned, by_tag


def prefix_for(addresses_wanted: int) -> int:
    """Return the length of the longest prefix whose range holds some addresses and a gateway's.

    addresses_wanted: how many addresses devices take.
    """
    return next(prefix for prefix in range(30, -1, -1) if _most_hosts(prefix) >= addresses_wanted)


def _most_hosts(prefix: int) -> int:
    """Return how many devices a range holds: all but its own two addresses and its gateway's."""
    return int(2 ** (32 - prefix)) - 3


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
