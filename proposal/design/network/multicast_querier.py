"""The multicast querier of the network: the one switch that asks who listens."""

from collections.abc import Mapping, Sequence

from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.numbers.numbering import natural
from proposal.model.equipment.entry import Device


def querier_of(closets: Sequence[EquipmentRoomSwitches], entries: Mapping[str, Device]) -> str:
    """Return the tag of the one switch that asks who listens: the first of ours that can, by tag.

    closets: the switches of each equipment room.
    entries: the library entry of every device by tag.
    Empty where none of ours can: then it is the owner's to do.
    """
    able = (one for closet in closets for one in closet.switches if not one.offered)
    tags = [one.device.tag for one in able if getattr(entries.get(one.device.tag), "igmp_querier", False)]
    return min(tags, key=natural, default="")
