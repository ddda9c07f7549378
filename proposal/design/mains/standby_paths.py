"""What stays up when the mains fails: every device traced back to the supply that its power comes from."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.mains.mains_loads import MainsLoad, standby_designs
from proposal.design.numbers.numbering import natural
from proposal.design.power.port_power import PoweredPort
from proposal.design.racks.rack_choice import RackDesign
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerPath:
    """Where the power of one device comes from.

    device, kind, place: tag, kind, and tag of the room or equipment room where it stands.
    room: tag of what it serves.
    path: from the device back to where its power comes from, such as ER1-SW1, ER1-UP1; empty where it is
    plugged into the mains itself.
    supply: tag of the standby supply at the end of the path, empty where it goes down with the mains.
    minutes: how long that supply lasts, None without one.
    """

    device: str
    kind: str
    place: str
    room: str
    path: tuple[str, ...]
    supply: str
    minutes: float | None


def power_paths(
    devices: Sequence[Placed],
    loads: Sequence[MainsLoad],
    ports: Sequence[PoweredPort],
    racks: Sequence[RackDesign],
) -> tuple[PowerPath, ...]:
    """Return the power path of everything that takes power, in order of tags.

    devices: of the whole building; loads: of everything on the mains; ports: of all switches; racks: with
    their standby supplies.
    Where no rack has a standby supply nothing stays up, and nothing is returned. Microphones run on their
    own batteries; power strips and supplies are on the way.
    """
    minutes = {one.asked.tag: one.minutes for one in standby_designs(racks)}
    if not minutes:
        return ()
    above: dict[str, str] = {}
    for rack in racks:
        if rack.layout.standby and rack.layout.standby.entry:
            for item in rack.layout.standby.fed:
                name = item.name if any(load.name == item.name for load in loads) else ""
                above[name or f"{rack.device.tag}/{item.name}"] = rack.layout.standby.asked.tag
    above |= {port.attached.tag: port.source for port in ports if port.attached.poe_class is not None}
    by_name = {load.name: load for load in loads}
    placed = {device.tag: device for device in devices}
    room_of = {rack.device.tag: rack.device.room for rack in racks}
    found = []
    for name in sorted({*by_name, *above} - set(minutes), key=natural):
        path = _path(name, above)
        supply = path[-1] if path and path[-1] in minutes else ""
        device = placed.get(name)
        load = by_name.get(name)
        found.append(
            PowerPath(
                device=name,
                kind=device.kind if device else load.kind if load else "",
                place=room_of.get(device.location, device.room) if device else load.place if load else "",
                room=device.room if device else load.room if load else "",
                path=path,
                supply=supply,
                minutes=minutes[supply] if supply else None,
            )
        )
    return tuple(found)


def _path(name: str, above: Mapping[str, str]) -> tuple[str, ...]:
    """Return what a device is fed through, one after the other."""
    path: list[str] = []
    while name in above and above[name] not in path:
        name = above[name]
        path.append(name)
    return tuple(path)
