"""The devices of a portable set on its cart."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.equipment.mountings import SURFACE_OF
from proposal.design.equipment.placed_devices import Placed, by_hand, in_building
from proposal.design.rooms.device_positions import charging_point
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

CART = "cart"
_ON_A_MAST = ("access_point",)
_FROM_A_RACK = ("mixer", "amplifier")


def on_the_cart(project: Project, tag: str, devices: Sequence[Placed]) -> tuple[Placed, ...]:
    """Return the devices of a portable set where the set is kept: access points on its mast, no rack.

    tag: of the set.  devices: as they would stand in a room.
    Access points whose positions nobody wrote stand where the chargers do; what fixed.yaml says goes before.
    """
    room = project.rooms[tag]
    layout = room.layout
    cart = charging_point(project, layout)
    mast = project.building.portable_sets[tag].mast
    found = []
    for device in devices:
        here = device
        if device.kind in _ON_A_MAST:
            at = layout.access_points_at.get(device.code, cart)
            here = replace(
                device,
                at=in_building(room, at),
                own_at=(round(at[0], 6), round(at[1], 6)),
                height_m=mast,
                location=CART,
                uses=(*device.uses, f"building.portable_sets.{tag}.mast"),
            )
        elif device.kind in _FROM_A_RACK:
            here = replace(
                device,
                at=in_building(room, cart),
                storey=room.storey,
                height_m=layout.charging_height,
                location=CART,
            )
        elif device.location == "table" or device.location in SURFACE_OF:
            here = replace(device, location=CART)
        found.append(by_hand(here, project.fixed.devices.get(device.tag)))
    return tuple(found)


def goes_along(project: Project, device: Placed) -> bool:
    """Return whether a device of a portable set is taken to the places where it is used.

    device: of the set; its chargers may stay where it is kept.
    """
    stays = project.building.portable_sets[device.room].charger == "where it is kept"
    return not (stays and device.kind == "charger")


def mains_devices(
    project: Project, devices: Sequence[Placed], entries: Mapping[str, Device], tag: str
) -> tuple[str, ...]:
    """Return the tags of the devices that a portable set takes along and that want the mains, in order.

    devices: every device; entries: the library entry of each by tag.  tag: of the set.
    """
    return tuple(
        device.tag
        for device in devices
        if device.room == tag
        and device.tag in entries
        and entries[device.tag].powered_by == "mains"
        and goes_along(project, device)
    )
