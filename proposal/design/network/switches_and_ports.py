"""The switches of an equipment room and who is patched to which of their ports."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from proposal.design.equipment.built_in_switch import carries_audio
from proposal.design.equipment.placed_devices import Placed, by_hand
from proposal.design.network.port_demand import Attached, SwitchPorts, port_named
from proposal.design.network.switch_costs import switch_cost
from proposal.design.network.switch_needs import SwitchNeeds
from proposal.design.numbers.numbering import (
    PORT,
    assign_ports,
    device_code,
    device_tag,
    issued_of,
    natural,
)
from proposal.design.rooms.device_positions import first_rack
from proposal.design.rooms.kept_codes import DEVICE, Box, EarlierDevice, codes_for, earlier_devices
from proposal.design.solving.objective import Option, cover
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.standards.reserve import ports_wanted, usable_power_w

MOST_TRIES = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentRoomSwitches:
    """The switches of one equipment room.

    wanting: tags of the devices that want a port.
    wanted_ports: ports that these and the spare share ask for.
    switches: in order of tags.
    left: tags of devices that found no port.
    """

    equipment_room: str
    wanting: tuple[str, ...]
    wanted_ports: int
    switches: tuple[SwitchPorts, ...]
    left: tuple[str, ...]

    @property
    def access_ports(self) -> int:
        """Return the ports for devices of all its switches."""
        return sum(switch.access_ports for switch in self.switches)

    @property
    def used_ports(self) -> int:
        """Return how many of them are taken."""
        return sum(len(switch.ports) for switch in self.switches)

    @property
    def spare_wanted(self) -> int:
        """Return the ports to be left free over all its switches."""
        return self.wanted_ports - len(self.wanting)

    @property
    def spare_holds(self) -> bool:
        """Return whether there are as many ports as devices and the spare share ask for."""
        return self.access_ports >= self.wanted_ports


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferedSwitch:
    """A switch that stands in an equipment room, ours or the owner's.

    device: where it stands.
    poe_ports, poe_class, poe_type, budget_w: ports that feed power, their class and Type, power for all, W.
    numbers: its ports for devices.
    spare_ports: share of them to be left free.
    priorities: levels of power priority that it tells apart.
    owned: whether it is the owner's.
    """

    device: Placed
    poe_ports: int
    poe_class: int
    poe_type: int
    budget_w: float
    numbers: tuple[int, ...]
    spare_ports: float
    priorities: int = 1
    owned: bool = False


def closet(
    project: Project,
    equipment_room: str,
    wanting: Sequence[Attached],
    owned: Sequence[OfferedSwitch] = (),
) -> EquipmentRoomSwitches:
    """Return the least-cost switches of an equipment room and who is patched where.

    equipment_room: its tag.
    wanting: devices that want a port.
    owned: the owner's switches that stand there. Where there are some, no other is chosen: what they have
        free is all there is, but for switches fixed by hand.
    Switches fixed by hand stand, and what they give is taken off the need. Devices that take most power come
    first, each to the first switch whose class, power and ports suffice, spare ports kept on every switch as
    far as that goes. Where one is left out because its share of the power falls between two switches, the
    next choice with more power is tried.
    """
    rules = project.brief.rules
    by_number = _fixed_switches(project, equipment_room)
    before = _earlier(project, equipment_room, by_number)
    if not wanting and not by_number and not owned:
        return EquipmentRoomSwitches(
            equipment_room=equipment_room, wanting=(), wanted_ports=0, switches=(), left=()
        )
    ports = ports_wanted(len(wanting), rules.network.spare_ports)
    if owned:
        patched, over = _patch(project, [*owned, *_placed(project, equipment_room, by_number)], wanting)
        return EquipmentRoomSwitches(
            equipment_room=equipment_room,
            wanting=tuple(device.tag for device in wanting),
            wanted_ports=len(wanting),
            switches=patched,
            left=over,
        )
    asked = SwitchNeeds.of(wanting)
    entries = {code: one for code, one in sorted(project.library.switches.items()) if carries_audio(one)}
    headroom = rules.power.headroom
    options = tuple(
        Option(code, switch_cost(project, one), asked.given_by(one, headroom))
        for code, one in entries.items()
    )
    given = [asked.given_by(one, headroom) for one in by_number.values()]
    needs = asked.needs(ports, headroom)
    open_needs = [max(need - sum(one[n] for one in given), 0) for n, need in enumerate(needs)]
    switches: tuple[SwitchPorts, ...] = ()
    left = tuple(device.tag for device in wanting)
    for _ in range(MOST_TRIES):
        chosen = cover(options, tuple(open_needs))
        if chosen is None:
            break
        models = _numbered(by_number, [entries[code] for code, count in chosen for _ in range(count)], before)
        patched, over = _patch(project, _placed(project, equipment_room, models), wanting)
        if not switches or len(over) < len(left):
            switches, left = patched, over
        # A port fixed by hand that is not there is not found by more power.
        if not any(_wished(project, tag) is None for tag in over):
            break
        power_w = sum(entries[code].budget * count for code, count in chosen)
        open_needs[1] = math.floor(10 * power_w) + 1
    if not switches and by_number:
        switches, left = _patch(project, _placed(project, equipment_room, by_number), wanting)
    return EquipmentRoomSwitches(
        equipment_room=equipment_room,
        wanting=tuple(device.tag for device in wanting),
        wanted_ports=ports,
        switches=switches,
        left=left,
    )


def _fixed_switches(project: Project, equipment_room: str) -> dict[int, Switch]:
    """Return the switches whose model the designer fixed, by ordinal."""
    stem = device_tag(equipment_room, device_code("switch", 0))[:-1]
    fixed = {}
    for tag, device in project.fixed.devices.items():
        number = tag.removeprefix(stem)
        if tag.startswith(stem) and number.isdecimal() and device.model in project.library.switches:
            fixed[int(number)] = project.library.switches[device.model]
    return dict(sorted(fixed.items()))


def _earlier(project: Project, equipment_room: str, fixed: Mapping[int, Switch]) -> tuple[EarlierDevice, ...]:
    """Return the switches of an equipment room in issued revisions, those fixed now as if they were gone."""
    stem = f"{DEVICE}/{device_tag(equipment_room, device_code('switch', 0))[:-1]}"
    of_room = {
        one: number for one, number in issued_of(project.issued, DEVICE).items() if one.startswith(stem)
    }
    here = earlier_devices(of_room).get(equipment_room, {}).get("switch", ())
    by_hand = {device_code("switch", number) for number in fixed}
    return tuple(replace(one, retired=one.retired or one.code in by_hand) for one in here)


def _numbered(
    fixed: Mapping[int, Switch], chosen: Sequence[Switch], earlier: Sequence[EarlierDevice]
) -> dict[int, Switch]:
    """Return the switches by ordinal: fixed ones at theirs, others as issued or at the lowest unused."""
    by_hand = [device_code("switch", number) for number in fixed]
    codes = codes_for("switch", [Box(one.model) for one in chosen], earlier, used=by_hand)
    stem = device_code("switch", 0)[:-1]
    numbers = (int(code.removeprefix(stem)) for code in codes)
    return dict(sorted({**fixed, **dict(zip(numbers, chosen, strict=True))}.items()))


def _placed(project: Project, equipment_room: str, models: Mapping[int, Switch]) -> list[OfferedSwitch]:
    """Return the switches, each with its tag and what the designer fixed of it."""
    place = project.building.equipment_rooms[equipment_room]
    switches = []
    for number, entry in models.items():
        code = device_code("switch", number)
        placed = Placed(
            tag=device_tag(equipment_room, code),
            code=code,
            kind="switch",
            model=entry.model,
            room=equipment_room,
            storey=place.storey,
            at=place.at,
            height_m=project.brief.rules.cabling.rack_height,
            location=first_rack(project, equipment_room),
        )
        switches.append(
            OfferedSwitch(
                device=by_hand(placed, project.fixed.devices.get(placed.tag)),
                poe_ports=entry.poe_ports,
                poe_class=entry.poe_class,
                poe_type=entry.poe_type,
                budget_w=entry.budget,
                numbers=tuple(range(1, entry.access_ports + 1)),
                spare_ports=project.brief.rules.network.spare_ports,
                priorities=entry.priorities,
            )
        )
    return switches


@dataclass(slots=True)
class _Free:
    """What is still free on a switch while devices are patched, and what is to stay spare."""

    ports: int
    poe_ports: int
    power_w: float
    spare: int


def _patch(
    project: Project, switches: Sequence[OfferedSwitch], wanting: Sequence[Attached]
) -> tuple[tuple[SwitchPorts, ...], tuple[str, ...]]:
    """Return who is patched to which port, and who is left without one.

    Devices stay on the switch of issued revisions wherever that leaves no more devices without a port. Where
    it does, those that take most power are given up first, twice as many each time.
    """
    here = {one.device.tag for one in switches}
    ports = issued_of(project.issued, PORT)
    stays = {}
    for device in wanting:
        one = ports.get(f"{PORT}/{device.tag}")
        if one is not None and not one.retired and (switch := one.number.rpartition("/")[0]) in here:
            stays[device.tag] = switch
    found = _patched(project, switches, wanting, stays)
    if not found[1] or not stays:
        return found
    anew = _patched(project, switches, wanting, {})
    power_w = {device.tag: device.allocated_w for device in wanting}
    order = sorted(stays, key=lambda tag: (-power_w[tag], natural(tag)))
    released = 0
    while len(found[1]) > len(anew[1]) and released < len(order):
        released = max(1, 2 * released)
        found = _patched(project, switches, wanting, {tag: stays[tag] for tag in order[released:]})
    return found if len(found[1]) <= len(anew[1]) else anew


def _patched(
    project: Project,
    switches: Sequence[OfferedSwitch],
    wanting: Sequence[Attached],
    stays: Mapping[str, str],
) -> tuple[tuple[SwitchPorts, ...], tuple[str, ...]]:
    """Return who is patched to which port, and who is left without one.

    stays: switch of those who stay on one if they can, by tag.
    """
    rules = project.brief.rules
    free = {
        one.device.tag: _Free(
            ports=len(one.numbers),
            poe_ports=one.poe_ports,
            power_w=usable_power_w(one.budget_w, rules.power.headroom),
            spare=math.ceil(round(len(one.numbers) * one.spare_ports, 6)),
        )
        for one in switches
    }
    classes = {one.device.tag: one.poe_class for one in switches}
    members: dict[str, list[Attached]] = {tag: [] for tag in free}
    wishes = {device.tag: _wished(project, device.tag) for device in wanting}
    order = sorted(
        wanting,
        key=lambda device: (
            not wishes[device.tag],
            device.tag not in stays,
            -device.allocated_w,
            natural(device.tag),
        ),
    )
    left = []
    for device in order:
        wish = wishes[device.tag]
        asks = [(tag, free[tag].spare) for tag in free] + [(tag, 0) for tag in free]
        if device.tag in stays:
            asks.insert(0, (stays[device.tag], 0))
        if wish:
            asks = [(tag, 0) for tag in free if tag == wish[0]]
        for tag, spare in asks:
            one = free[tag]
            suffices = device.poe_class is None or (
                one.poe_ports > 0
                and device.poe_class <= classes[tag]
                and device.allocated_w <= one.power_w + 1e-9
            )
            if one.ports > spare and (suffices or wish):
                members[tag].append(device)
                one.ports -= 1
                if device.poe_class is not None:
                    one.poe_ports -= 1
                    one.power_w -= device.allocated_w
                break
        else:
            left.append(device.tag)
    patched = tuple(
        SwitchPorts(
            device=one.device,
            access_ports=len(one.numbers),
            poe_class=one.poe_class,
            poe_type=one.poe_type,
            budget_w=one.budget_w,
            headroom=rules.power.headroom,
            spare_ports=one.spare_ports,
            ports=_ports(project, one, members[one.device.tag]),
            offered=one.numbers if one.owned else (),
            priorities=one.priorities,
        )
        for one in switches
    )
    return patched, tuple(left)


def _wished(project: Project, tag: str) -> tuple[str, str] | None:
    """Return the switch and port that the designer fixed for a device, None where the choice is free."""
    fixed = project.fixed.devices.get(tag)
    if not fixed or not fixed.switch_port:
        return None
    return port_named(fixed.switch_port) or ("", "")


def _ports(project: Project, switch: OfferedSwitch, members: Sequence[Attached]) -> dict[int, Attached]:
    """Return the attached devices by port number: powered ones on the lowest ports, by tag."""
    by_tag = {device.tag: device for device in members}
    wishes = {tag: _wished(project, tag) for tag in by_tag}
    fixed = {tag: wish[1] for tag, wish in wishes.items() if wish}
    order = sorted(by_tag, key=lambda tag: (by_tag[tag].poe_class is None, natural(tag)))
    numbers = assign_ports(switch.device.tag, order, fixed, project.issued, switch.numbers)
    return {number: by_tag[tag] for tag, number in sorted(numbers.items(), key=lambda item: item[1])}


def querier_of(closets: Sequence[EquipmentRoomSwitches], entries: Mapping[str, Device]) -> str:
    """Return the tag of the one switch that asks who listens: the first of ours that can, by tag.

    closets: the switches of each equipment room.
    entries: the library entry of every device by tag.
    Empty where none of ours can: then it is the owner's to do.
    """
    able = (one for closet in closets for one in closet.switches if not one.offered)
    tags = [one.device.tag for one in able if getattr(entries.get(one.device.tag), "igmp_querier", False)]
    return min(tags, key=natural, default="")
