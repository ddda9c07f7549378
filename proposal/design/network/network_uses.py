"""What devices use the network for: way, mark of priority, group, and what has to be opened for it."""

from collections.abc import Mapping
from typing import Literal

from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device
from proposal.standards import aes67

Way = Literal["to the device", "from the device", "both ways"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkUse:
    """One use of the network.

    way: who begins.
    dscp: mark of priority that its packets carry.
    group: multicast group, or what its groups are; empty where it has none.
    opening: what has to be opened for it.
    """

    way: Way
    dscp: int
    group: str
    opening: str


_WITHIN = "Nothing: it stays in its VLAN, and no router forwards it."
USES: Mapping[str, NetworkUse] = {
    "control": NetworkUse(
        way="to the device",
        dscp=0,
        group="",
        opening="From control systems and administrators' computers that stand in another network.",
    ),
    "audio": NetworkUse(
        way="both ways",
        dscp=aes67.MEDIA_DSCP,
        group="one a stream",
        opening="Nothing between networks; on switches, snooping on and no limit on the rate of multicast.",
    ),
    "clock": NetworkUse(way="both ways", dscp=aes67.CLOCK_DSCP, group=aes67.CLOCK_GROUP, opening=_WITHIN),
    "announcements": NetworkUse(way="both ways", dscp=0, group=aes67.ANNOUNCEMENT_GROUP, opening=_WITHIN),
    "discovery": NetworkUse(way="both ways", dscp=0, group=aes67.DISCOVERY_GROUP, opening=_WITHIN),
    "monitoring": NetworkUse(
        way="to the device",
        dscp=0,
        group="",
        opening="From the monitoring system, where one is used.",
    ),
    "log": NetworkUse(
        way="from the device",
        dscp=0,
        group="",
        opening="To the log server, where one is used.",
    ),
}
"""By the name under which the library lists the transport and port."""
_OTHER = NetworkUse(way="both ways", dscp=0, group="", opening="Not known: ask the maker.")


def use_called(name: str) -> NetworkUse:
    """Return what is known of a use; of one that only a library of one's own names, nothing but that.

    name: as the library lists it, such as control.
    """
    return USES.get(name, _OTHER)


def control_only(entries: Mapping[str, Device]) -> frozenset[str]:
    """Return the tags of devices that neither send nor take networked audio.

    entries: the library entry of every device by tag.
    A switch is none of them: it asks who listens in the network of audio, and has its address there.
    """
    return frozenset(
        tag
        for tag, entry in entries.items()
        if entry.network
        and not (entry.network.sent_channels or entry.network.received_channels)
        and not isinstance(entry, Switch)
    )
