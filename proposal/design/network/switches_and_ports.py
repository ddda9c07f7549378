"""The switches of an equipment room and who is patched to which of their ports."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.equipment.built_in_switch import carries_audio
from proposal.design.equipment.placed_devices import by_hand
from proposal.design.network.injectors import (
    Injector,
    fed_by_injectors,
    in_rack,
    injector_options,
    least_counts,
)
from proposal.design.network.port_assignment import OfferedSwitch, patched_ports, wished_port
from proposal.design.network.port_demand import Attached, SwitchPorts
from proposal.design.network.switch_costs import switch_cost
from proposal.design.network.switch_needs import SwitchNeeds
from proposal.design.numbers.numbering import (
    device_code,
    device_tag,
    issued_of,
)
from proposal.design.rooms.device_positions import in_first_rack
from proposal.design.rooms.kept_codes import DEVICE, Box, EarlierDevice, codes_for, earlier_devices
from proposal.design.solving.objective import Option, cover
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch
from proposal.model.project import Project
from proposal.standards.reserve import ports_wanted

MOST_TRIES = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentRoomSwitches:
    """The switches of one equipment room.

    wanting: tags of the devices that want a port.
    wanted_ports: ports that these and the spare share ask for.
    switches: in order of tags.
    left: tags of devices that found no port.
    injectors: PoE sources that feed devices whose ports do not, in order of tags.
    """

    equipment_room: str
    wanting: tuple[str, ...]
    wanted_ports: int
    switches: tuple[SwitchPorts, ...]
    left: tuple[str, ...]
    injectors: tuple[Injector, ...] = ()

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


def closet(
    project: Project,
    equipment_room: str,
    wanting: Sequence[Attached],
    owned: Sequence[OfferedSwitch] = (),
) -> EquipmentRoomSwitches:
    """Return the least-cost switches and PoE sources of an equipment room and who is patched where.

    equipment_room: its tag.
    wanting: devices that want a port.
    owned: the owner's switches that stand there. Where there are some, no other is chosen: what they have
        free is all there is, but for switches fixed by hand.
    Switches fixed by hand stand, and what they give is taken off the need. Devices that take most power come
    first, each to the first switch whose class, power and ports suffice, spare ports kept on every switch as
    far as that goes. A PoE source before its port feeds a device where that costs less than a switch that
    would, and where a switch that is not chosen here does not. Where one is left out because its share of the
    power falls between two switches, the next choice with more power is tried.
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
        there = [*owned, *_placed(project, equipment_room, by_number)]
        return _at_given(project, equipment_room, there, wanting, len(wanting))
    asked = SwitchNeeds.of(wanting)
    entries = {code: one for code, one in sorted(project.library.switches.items()) if carries_audio(one)}
    headroom = rules.power.headroom
    options = tuple(
        Option(code, switch_cost(project, one), asked.given_by(one, headroom))
        for code, one in entries.items()
    )
    stand = in_rack(project, equipment_room)
    class_of, sources = injector_options(project, wanting, asked, headroom)
    options += sources
    gives = {option.code: option.gives[1] for option in options}
    given = [asked.given_by(one, headroom) for one in by_number.values()]
    needs = asked.needs(ports, headroom)
    open_needs = [max(need - sum(one[n] for one in given), 0) for n, need in enumerate(needs)]
    switches: tuple[SwitchPorts, ...] = ()
    left = tuple(device.tag for device in wanting)
    injectors: tuple[Injector, ...] = ()
    for _ in range(MOST_TRIES):
        chosen = cover(options, tuple(open_needs))
        if chosen is None:
            break
        bought = [entries[code] for code, count in chosen if code in entries for _ in range(count)]
        models = _numbered(by_number, bought, before)
        counts = {class_of[code]: count for code, count in chosen if code in class_of}
        fed, placed = fed_by_injectors(project, equipment_room, wanting, counts, stand)
        patched, over = patched_ports(project, _placed(project, equipment_room, models), fed)
        if not switches or len(over) < len(left):
            switches, left, injectors = patched, over, placed
        # A port fixed by hand that is not there is not found by more power.
        if not any(wished_port(project, tag) is None for tag in over):
            break
        open_needs[1] = sum(gives[code] * count for code, count in chosen) + 1
    if not switches and by_number:
        return _at_given(project, equipment_room, _placed(project, equipment_room, by_number), wanting, ports)
    return EquipmentRoomSwitches(
        equipment_room=equipment_room,
        wanting=tuple(device.tag for device in wanting),
        wanted_ports=ports,
        switches=switches,
        left=left,
        injectors=injectors,
    )


def _at_given(
    project: Project,
    equipment_room: str,
    there: Sequence[OfferedSwitch],
    wanting: Sequence[Attached],
    wanted_ports: int,
) -> EquipmentRoomSwitches:
    """Return who is patched where on switches chosen by others, with PoE sources where these lack power.

    there: the switches.  wanted_ports: ports that devices and the spare share ask for.
    """
    stand = in_rack(project, equipment_room)

    def left_with(counts: Mapping[int, int]) -> int:
        fed, _ = fed_by_injectors(project, equipment_room, wanting, counts, stand)
        return len(patched_ports(project, there, fed)[1])

    without_port = max(len(wanting) - sum(len(one.numbers) for one in there), 0)
    counts = least_counts(project, wanting, left_with, without_port)
    fed, injectors = fed_by_injectors(project, equipment_room, wanting, counts, stand)
    patched, over = patched_ports(project, there, fed)
    return EquipmentRoomSwitches(
        equipment_room=equipment_room,
        wanting=tuple(device.tag for device in wanting),
        wanted_ports=wanted_ports,
        switches=patched,
        left=over,
        injectors=injectors,
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
    switches = []
    for number, entry in models.items():
        code = device_code("switch", number)
        placed = in_first_rack(project, equipment_room, "switch", code, entry.model)
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
