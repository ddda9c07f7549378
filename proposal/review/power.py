"""Rules about power over Ethernet: class, cable and voltage of each port, budget of each switch."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.power.port_power import PoweredPort, State
from proposal.errors import Place
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, listed, written_place
from proposal.standards.ieee8023 import CLASSES, IEEE_802_3


def ports(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for ports whose class, cable or voltage does not suffice."""
    port_class = {one.switch.device.tag: one.switch.poe_class for one in design.switches}
    room_of = {device.tag: device.room for device in design.devices}
    for port in design.ports:
        device = port.attached
        if device.poe_class is None:
            continue
        where = f"{port.switch}/{port.port}"
        if port.class_short:
            poe = design.entries[device.tag].poe
            words = _state(port.state, poe.derated if poe else "")
            yield Finding(
                rule="poe-class-short",
                severity="error",
                where=where,
                place=_switch_place(project, design, port.switch),
                message=f"{device.tag} asks for a higher class than the port gives, and {words}.",
                value=float(device.poe_class),
                limit=float(port_class[port.switch]),
                source=IEEE_802_3,
                remedy=f"Use a switch whose ports give class {device.poe_class}.",
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
                remedy="Use thicker conductors or a shorter route.",
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
                remedy="Use thicker conductors, a shorter route or a source of a higher Type.",
            )


def _state(state: State, derated: str) -> str:
    if state == "derated":
        return f"works with less: it {derated}" if derated else "works with less"
    return "stays off"


def _switch_place(project: Project, design: Design, switch: str) -> Place:
    """Return where a switch was chosen, else what holds it: the equipment room or the room."""
    device = next(device for device in design.devices if device.tag == switch)
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


def budgets(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each switch whose budget is short, a warning where only the headroom is."""
    for power in design.switches:
        if power.holds:
            continue
        budget_w = power.switch.budget_w
        over = power.allocated_w > budget_w
        tag = power.switch.device.tag
        drops = f"{listed(power.drops_first)} {'loses' if len(power.drops_first) == 1 else 'lose'}"
        yield Finding(
            rule="poe-budget-short" if over else "poe-headroom-short",
            severity="error" if over else "warning",
            where=tag,
            place=_switch_place(project, design, tag),
            message=f"The power to be set aside exceeds the budget; {drops} power first."
            if over
            else "The power set aside leaves less headroom than wanted.",
            value=power.allocated_w,
            limit=budget_w if over else power.switch.usable_w,
            unit="W",
            source=IEEE_802_3,
            remedy="Use a switch with a larger budget, or spread the devices over two.",
        )


POWER_RULES: tuple[Rule, ...] = (ports, budgets)
