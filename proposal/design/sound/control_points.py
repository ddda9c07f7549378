"""What a control system can read or set of each device."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.addresses import Addresses
from proposal.design.numbers.numbering import natural
from proposal.design.sound.channels import ChannelPlan
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """One thing that a control system can read or set.

    device: tag.  point, access, value: what, how, and what it holds.
    through: tag of the device that answers for it, which is the device itself unless it has no address.
    address: where that one answers, empty where it has none; port: transport and port of its control.
    """

    device: str
    point: str
    access: str
    value: str
    through: str
    address: str
    port: str


def controls(
    devices: Sequence[Placed], entries: Mapping[str, Device], addresses: Addresses, plan: ChannelPlan
) -> tuple[Control, ...]:
    """Return every control point by device; microphones answer through their access points.

    devices, entries: all of the design.
    """
    serving = {one.microphone: one.access_point for one in plan.channels}
    found = []
    for one in sorted(devices, key=lambda device: natural(device.tag)):
        entry = entries.get(one.tag)
        if entry is None or not entry.control_points:
            continue
        through = one.tag if entry.network else serving.get(one.tag, "")
        answering = entries.get(through)
        address = next(iter(addresses.by_tag.get(through, ())), "")
        port = answering.network.protocols.get("control", "") if answering and answering.network else ""
        found += [
            Control(
                device=one.tag,
                point=name,
                access=point.access,
                value=point.value,
                through=through,
                address=address,
                port=port,
            )
            for name, point in entry.control_points.items()
        ]
    return tuple(found)
