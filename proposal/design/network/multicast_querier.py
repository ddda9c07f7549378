"""The multicast querier of the network: the one switch that asks who listens."""

from collections.abc import Mapping, Sequence

from proposal.design.network.switch_joins import SwitchJoins
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.numbers.numbering import natural
from proposal.model.equipment.entry import Device


def querier_of(
    closets: Sequence[EquipmentRoomSwitches], entries: Mapping[str, Device], joins: SwitchJoins
) -> str:
    """Return the tag of the one switch that asks who listens: of ours that can, the nearest to the first one.

    closets: the switches of each equipment room.
    entries: the library entry of every device by tag.
    joins: of all switches; every path between them leads to or over the first one.
    Snooping switches hand on every group of a VLAN towards the querier. From the first switch, where paths
    meet, the fewest groups pass links on which nobody listens. Of equally near ones it is the first by tag.
    Empty where none of ours can: then it is the owner's to do.
    """
    toward = {one.start: one.end for one in joins.joins if one.start != joins.first}
    able = (one for closet in closets for one in closet.switches if not one.offered)
    tags = [one.device.tag for one in able if getattr(entries.get(one.device.tag), "igmp_querier", False)]
    return min(tags, key=lambda tag: (_links_to(joins.first, tag, toward), natural(tag)), default="")


def _links_to(first: str, tag: str, toward: Mapping[str, str]) -> int:
    """Return how many links lead from a switch to the first one, the owner's network counting as one more."""
    links = 0
    while tag != first:
        if tag not in toward:
            return links + 1
        tag = toward[tag]
        links += 1
    return links
