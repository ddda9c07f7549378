"""What every device and every part of a rack takes from the mains: at rest, typically, at most."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import natural
from proposal.design.owner.owner_devices import OWNER_EQUIPMENT, OwnerDevice
from proposal.design.power.port_power import PoweredPort
from proposal.design.power.typical_power import onward_power_w, typical_draw_w, typical_power_w
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.standby_choice import StandbyDesign, own_most_w, own_power_w
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import RackPart, Switch
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import MainsInput
from proposal.model.equipment.sound_devices import Amplifier
from proposal.model.project import Project
from proposal.standards.mains_circuits import apparent_power_va

INRUSH_STATED_AT_V = 230.0
"""Voltage for which the library states inrush."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MainsLoad:
    """What one device takes from the mains.

    name: tag of a device, or the code of a part with its rack before it, such as ER1-RK1/FN1.
    kind, model: of the library; no model where it is the owner's.
    place: tag of the room or equipment room where it stands; room: of that which it serves.
    owned: whether it is the owner's.
    rest_w: when nobody meets; idle_w: between the meetings of a day, amplifiers without a signal; typical_w:
    while people speak, amplifiers at an eighth of their rated power; full_w: the most it can take.
    power_factor: watts for each volt-ampere.
    leakage_a: protective-conductor current of all its supplies; inrush_a: peak at switch-on of all its
    supplies at the voltage of the project; inrush_s: how long that stays above half its peak.
    supplies, inlet: its mains inlets, and their sort, empty where nobody says.
    loss_w: what its own supply turns into heat, typically.
    stated: whether somebody states power factor, leakage and inrush.
    """

    name: str
    kind: str
    model: str
    place: str
    room: str
    owned: bool
    rest_w: float
    idle_w: float
    typical_w: float
    full_w: float
    power_factor: float
    leakage_a: float
    inrush_a: float
    inrush_s: float
    supplies: int
    inlet: str
    loss_w: float
    stated: bool = True

    @property
    def full_va(self) -> float:
        """The most it takes, as apparent power, VA."""
        return apparent_power_va(self.full_w, self.power_factor)


def mains_loads(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    ports: Sequence[PoweredPort],
    racks: Sequence[RackDesign],
    owners: Sequence[OwnerDevice],
) -> tuple[MainsLoad, ...]:
    """Return the load of everything that is plugged into the mains, in order of names.

    devices: of the whole building; entries: of each; ports: of all switches; racks: with their parts.
    owners: the owner's equipment.
    What takes power over its network cable is counted at the switch or the PoE source that feeds it. Power
    strips take nothing themselves; standby supplies what they lose, and at most what they charge their
    battery with besides.
    """
    powered = {port.attached.tag for port in ports if port.attached.poe_class is not None}
    given: dict[str, float] = {}
    for port in ports:
        if port.attached.poe_class is not None:
            given[port.source] = given.get(port.source, 0.0) + port.drawn_w
    volts = project.brief.mains_voltage
    room_of = {rack.device.tag: rack.device.room for rack in racks}
    supplies = {one.asked.tag for one in standby_designs(racks)}
    found = []
    for device in devices:
        entry = entries.get(device.tag)
        if entry is None or entry.mains is None or device.tag in powered or device.kind == OWNER_EQUIPMENT:
            continue
        if device.tag in supplies:
            continue
        place = room_of.get(device.location, device.room)
        rooms = (place, device.room)
        found.append(_of_device(device.tag, device.kind, rooms, entry, given.get(device.tag, 0.0), volts))
    found += _parts(racks, volts)
    found += [_of_owner(one) for one in owners if one.written.power > 0 and one.written.poe is None]
    by_name = {load.name: load for load in found}
    found += [_of_supply(rack, one, by_name, volts) for rack in racks for one in standby_designs([rack])]
    return tuple(sorted(found, key=lambda load: natural(load.name)))


def standby_designs(racks: Sequence[RackDesign]) -> Iterator[StandbyDesign]:
    """Yield the standby supplies that stand in some racks."""
    for rack in racks:
        if rack.layout.standby and rack.layout.standby.entry:
            yield rack.layout.standby


def load_in_rack(loads: Mapping[str, MainsLoad], rack: str, name: str) -> MainsLoad:
    """Return the load of what is plugged in: a device by its tag, a part by its code.

    loads: by name.  rack: tag of the rack.
    """
    return loads[name] if name in loads else loads[f"{rack}/{name}"]


def _of_supply(
    rack: RackDesign, standby: StandbyDesign, loads: Mapping[str, MainsLoad], volts: float
) -> MainsLoad:
    """Return what a standby supply takes for itself, beside what it feeds.

    loads: of everything else by name.
    """
    entry = standby.entry
    assert entry is not None
    mains = entry.mains
    assert mains is not None
    fed = [load_in_rack(loads, rack.device.tag, item.name) for item in standby.fed]
    typical_w = own_power_w(entry, sum(load.typical_w for load in fed))
    return _load(
        (standby.asked.tag, entry.kind, entry.model),
        (rack.device.room, rack.device.room),
        mains,
        volts,
        rest_w=own_power_w(entry, sum(load.rest_w for load in fed)),
        idle_w=own_power_w(entry, sum(load.idle_w for load in fed)),
        typical_w=typical_w,
        full_w=own_most_w(entry),
        loss_w=typical_w,
    )


def _of_device(
    name: str, kind: str, rooms: tuple[str, str], entry: Device, given_w: float, volts: float
) -> MainsLoad:
    """Return the load of a device of the library.

    rooms: where it stands, and which it serves.
    given_w: power over Ethernet that it gives at its ports, W.
    """
    mains = entry.mains
    assert mains is not None
    onward_w = onward_power_w(entry, given_w)
    typical_w = typical_power_w(entry)
    draw_w = typical_draw_w(entry, given_w)
    # A switch carries the network day and night.
    rest_w = typical_w if isinstance(entry, Switch) else mains.standby
    idle_w = entry.idle if isinstance(entry, Amplifier) else typical_w
    return _load(
        (name, kind, entry.model),
        rooms,
        mains,
        volts,
        rest_w=min(rest_w + onward_w, mains.maximum),
        idle_w=min(idle_w + onward_w, mains.maximum),
        typical_w=draw_w,
        full_w=mains.maximum,
        loss_w=draw_w * (1 - mains.efficiency),
    )


def _load(
    what: tuple[str, str, str],
    rooms: tuple[str, str],
    mains: MainsInput,
    volts: float,
    *,
    rest_w: float,
    idle_w: float,
    typical_w: float,
    full_w: float,
    loss_w: float,
) -> MainsLoad:
    """Return a load of ours with what its inlet says.

    what: its name, kind and model.
    rooms: where it stands, and which it serves.
    """
    name, kind, model = what
    return MainsLoad(
        name=name,
        kind=kind,
        model=model,
        place=rooms[0],
        room=rooms[1],
        owned=False,
        rest_w=rest_w,
        idle_w=idle_w,
        typical_w=typical_w,
        full_w=full_w,
        power_factor=mains.power_factor,
        leakage_a=mains.leakage,
        inrush_a=mains.inrush * volts / INRUSH_STATED_AT_V,
        inrush_s=mains.inrush_time,
        supplies=mains.supplies,
        inlet=mains.inlet,
        loss_w=loss_w,
    )


def _parts(racks: Sequence[RackDesign], volts: float) -> Iterator[MainsLoad]:
    """Yield the loads of parts of racks that take power, such as fan panels."""
    for rack in racks:
        for item in (*rack.layout.items, *rack.layout.left):
            if isinstance(item.entry, RackPart) and item.inlets:
                name = f"{rack.device.tag}/{item.name}"
                rooms = (rack.device.room, rack.device.room)
                yield _of_device(name, item.kind, rooms, item.entry, 0.0, volts)


def _of_owner(one: OwnerDevice) -> MainsLoad:
    """Return the load of a thing of the owner, of which its power alone is stated: power factor 1."""
    power_w = one.written.power
    return MainsLoad(
        name=one.device.tag,
        kind=one.device.kind,
        model="",
        place=one.device.room,
        room=one.device.room,
        owned=True,
        rest_w=power_w,
        idle_w=power_w,
        typical_w=power_w,
        full_w=power_w,
        power_factor=1.0,
        leakage_a=0.0,
        inrush_a=0.0,
        inrush_s=0.0,
        supplies=1,
        inlet="",
        loss_w=0.0,
        stated=False,
    )
