"""Rules about power over Ethernet: class, cable and voltage of ports, budgets and supplies of switches."""

import math
from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.power.port_power import PoweredPort, State
from proposal.errors import Place
from proposal.model.project import Project
from proposal.quantities.units import in_units
from proposal.review.finding import Finding, Rule, listed, written_place
from proposal.review.model_remedies import higher_class
from proposal.standards.ieee8023 import CLASSES, IEEE_802_3, TYPES, class_needed
from proposal.standards.reserve import budget_needed_w
from proposal.standards.sources import COMMON_PRACTICE


def ports(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for ports whose class, cable or voltage does not suffice."""
    room_of = {device.tag: device.room for device in design.devices}
    for port in design.ports:
        device = port.attached
        if device.poe_class is None:
            continue
        where = port.full_name
        if port.class_short:
            poe = design.entries[device.tag].poe
            words = _state(port.state, poe.derated if poe else "")
            yield Finding(
                rule="poe-class-short",
                severity="error",
                where=where,
                place=_switch_place(project, design, port.source),
                message=f"{device.tag} asks for a higher class than "
                f"{port.attached.injector or 'the port'} gives, and {words}.",
                value=float(device.poe_class),
                limit=float(port.source_class),
                source=IEEE_802_3,
                remedy=higher_class(project, design, port),
            )
        if port.pairs_short:
            pairs = CLASSES[device.poe_class].pairs
            yield Finding(
                rule="poe-pairs-short",
                severity="error",
                where=where,
                place=_cable_place(project, port, room_of.get(device.tag, "")),
                message=f"The cable to {device.tag} has fewer pairs than carry its power.",
                value=float(port.cable_pairs),
                limit=float(pairs),
                unit="pairs",
                source=IEEE_802_3,
                remedy=f"Use a cable with {pairs} pairs.",
            )
        if not port.carries:
            yield Finding(
                rule="poe-not-carried",
                severity="error",
                where=where,
                place=_cable_place(project, port, room_of.get(device.tag, "")),
                message=f"The cable to {device.tag} cannot carry its power at the lowest source voltage.",
                value=port.loop_ohm,
                limit=None if port.loop_ohm is None else CLASSES[device.poe_class].channel_loop_ohm,
                unit="Ω",
                source=IEEE_802_3,
                remedy=_lower_loop(project, design, port),
            )
        elif port.device_v is not None and port.checks[-1].verdict == "fails":
            yield Finding(
                rule="poe-voltage-low",
                severity="error",
                where=where,
                place=_cable_place(project, port, room_of.get(device.tag, "")),
                message=f"The voltage at {device.tag} is too low at its highest power.",
                value=port.device_v,
                limit=port.least_v,
                unit="V",
                source=IEEE_802_3,
                remedy=_lower_loop(project, design, port),
            )


def _lower_loop(project: Project, design: Design, port: PoweredPort) -> str:
    """Return the loop that would do, the length with these conductors, and which Types of sources would."""
    highest_w, least_v = port.device_w or 0.0, port.least_v or 0.0

    def bearable_ohm(source_type: int) -> float:
        return (TYPES[source_type].source_voltage_min_v - least_v) * least_v / highest_w

    most_ohm, loop_ohm = bearable_ohm(port.source_type), port.loop_ohm or 0.0
    ways = [
        f"bring the loop to {math.floor(most_ohm * 100 + 1e-6) / 100:.2f} Ω or less by thicker conductors"
    ]
    cable = next((one for one in design.cables if one.identity == port.attached.cable), None)
    if cable is not None and cable.length_m and port.attached.poe_class is not None:
        pairs = CLASSES[port.attached.poe_class].pairs
        rates = zip(port.checks, cable.warmth, strict=False)
        cable_ohm = sum(one.result * part.length_m for one, part in rates) * 2 / pairs
        longest_m = cable.length_m * (most_ohm - loop_ohm + cable_ohm) / cable_ohm
        if longest_m > 0:
            value, unit = in_units(longest_m, "length", project.brief.units)
            ways.append(f"by a cable of {math.floor(value * 10 + 1e-6) / 10:.1f} {unit} at most")
    better = [
        str(number)
        for number in sorted(TYPES)
        if number > port.source_type and loop_ohm <= bearable_ohm(number) - 1e-9
    ]
    if better:
        ways.append(f"use a source of Type {' or '.join(better)}")
    remedy = ", or ".join(ways)
    return f"{remedy[0].upper()}{remedy[1:]}."


def _state(state: State, derated: str) -> str:
    if state == "derated":
        return f"works with less: it {derated}" if derated else "works with less"
    return "stays off"


def _switch_place(project: Project, design: Design, switch: str) -> Place:
    """Return where a switch was chosen, else what holds it: the equipment room or the room."""
    device = next(device for device in design.devices if device.tag == switch)
    for one in design.owners:
        if one.device.tag == switch:
            return project.place(
                "building", "owner_equipment", one.place, one.device.code, "switch", "budget"
            )
    holder = "rooms" if device.room in project.rooms else "equipment_rooms"
    place = ("rooms", device.room) if holder == "rooms" else ("building", holder, device.room)
    return written_place(
        project, ("fixed", "devices", switch, "model"), ("fixed", "rooms", device.room), place
    )


def _cable_place(project: Project, port: PoweredPort, room: str) -> Place:
    """Return what made a cable what it is: its length, its type, the switch's Type, else its room."""
    cable = port.attached.cable
    return written_place(
        project,
        ("fixed", "cables", cable, "length"),
        ("fixed", "cables", cable, "type"),
        ("fixed", "devices", port.switch, "model"),
        ("rooms", room),
    )


def over_class(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each powered device whose highest power is more than its class lets it take."""
    for port in design.ports:
        number, highest_w = port.attached.poe_class, port.device_w
        if number is None or highest_w is None or highest_w <= CLASSES[number].device_power_w + 1e-9:
            continue
        yield Finding(
            rule="poe-over-class",
            severity="error",
            where=port.attached.tag,
            place=written_place(project, ("fixed", "devices", port.attached.tag, "model")),
            message=f"{port.attached.tag} takes more power than class {number}, for which it asks, allows.",
            value=highest_w,
            limit=CLASSES[number].device_power_w,
            unit="W",
            source=IEEE_802_3,
            remedy="Correct class and power in the library from the maker's data sheet: "
            + (
                f"this power needs class {class_needed(highest_w)}."
                if highest_w <= CLASSES[8].device_power_w
                else "no class allows so much."
            ),
        )


def budgets(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each switch whose budget is short, a warning where only the headroom is."""
    for power in design.switches:
        if power.holds:
            continue
        budget_w = power.switch.budget_w
        over_w = power.allocated_w - budget_w
        tag = power.switch.device.tag
        needed_w = budget_needed_w(power.allocated_w, power.switch.headroom)
        spread = (
            f", or take {listed(_named(power.drops))} off it."
            if over_w > 0
            else f", or take {power.allocated_w - power.switch.usable_w:.1f} W off it."
        )
        yield Finding(
            rule="poe-budget-short" if over_w > 0 else "poe-headroom-short",
            severity="error" if over_w > 0 else "warning",
            where=tag,
            place=_switch_place(project, design, tag),
            message=f"The power to be allocated exceeds the budget by {over_w:.1f} W; {_lose(power.drops)}."
            if over_w > 0
            else "The allocated power leaves less headroom than required.",
            value=power.allocated_w,
            limit=budget_w if over_w > 0 else power.switch.usable_w,
            unit="W",
            source=IEEE_802_3,
            remedy=f"Ask the owner for {math.ceil(needed_w)} W or more of the budget of {tag} and write it "
            f"under switch.budget{spread}"
            if power.switch.offered
            else f"Use a switch with a budget of at least {math.ceil(needed_w)} W{spread}",
        )


def lost_supplies(project: Project, design: Design) -> Iterator[Finding]:
    """Yield what devices lose power when one of several supplies of a switch fails, and who has to say.

    A switch with one supply goes off with it: its page says so, and nothing is wrong.
    """
    for power in design.switches:
        lost, tag = power.lost_supply, power.switch.device.tag
        if lost is None or lost.supplies == 1:
            continue
        place = _switch_place(project, design, tag)
        if lost.left_w is None:
            yield Finding(
                rule="supply-loss-unknown",
                severity="note",
                where=tag,
                place=place,
                message=f"{tag} has {lost.supplies} supplies, and its maker does not "
                "say what it feeds when one of them fails.",
                source=COMMON_PRACTICE,
                remedy="Ask the maker, and write it into the library (`budget_with_one_supply_lost`).",
            )
        elif lost.drops:
            yield Finding(
                rule="supply-loss-short",
                severity="warning",
                where=tag,
                place=place,
                message=f"When one of its {lost.supplies} supplies fails, less is left than is allocated; "
                f"{_lose(lost.drops)}.",
                value=power.allocated_w,
                limit=lost.left_w,
                unit="W",
                source=COMMON_PRACTICE,
                remedy=f"Use a switch that feeds {math.ceil(power.allocated_w)} W with one supply lost, or "
                f"take {listed(_named(lost.drops))} off it.",
            )


def _named(ports: Sequence[PoweredPort]) -> list[str]:
    return [f"port {port.name} ({port.attached.tag})" for port in ports]


def _lose(ports: Sequence[PoweredPort]) -> str:
    """Return which ports lose power, the first first."""
    return f"{listed(_named(ports))} {'loses' if len(ports) == 1 else 'lose'} power first"


POWER_RULES: tuple[Rule, ...] = (ports, over_class, budgets, lost_supplies)
