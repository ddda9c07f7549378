"""Power over Ethernet: what each port sets aside and gives, with the resistance of its own cable."""

from collections.abc import Mapping
from dataclasses import dataclass

from proposal.design.cabling import TEMPERATURE_USES, Cable
from proposal.design.network import Attached, SwitchPorts
from proposal.model.entry import Device
from proposal.model.project import Project
from proposal.standards import ieee8023, wire
from proposal.standards.working import Limit, OutOfRange, Working, working

CORD_TEMPERATURE_C = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PoweredPort:
    """One switch port with what it gives.

    switch, port: tag of the switch and number of the port.
    attached: the device.
    drawn_w: power drawn at the port at the device's highest power, W.
    loop_ohm: loop resistance of the channel, Ω; None where nothing is powered.
    device_v, least_v: voltage at the device and the least it needs, V.
    class_short: whether the device asks for a higher class than the port has.
    carries: whether the cable can carry the power at all.
    checks: workings.
    """

    switch: str
    port: int
    attached: Attached
    drawn_w: float = 0.0
    loop_ohm: float | None = None
    device_v: float | None = None
    least_v: float | None = None
    class_short: bool = False
    carries: bool = True
    checks: tuple[Working, ...] = ()

    @property
    def holds(self) -> bool:
        """Return whether class, cable and voltage suffice."""
        return (
            not self.class_short and self.carries and all(check.verdict != "fails" for check in self.checks)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPower:
    """The sums of one switch.

    usable_w: budget less headroom, W.
    allocated_w, drawn_w: sums over its ports, W.
    drops_first: devices that lose power first where the budget is short, by priority.
    """

    switch: SwitchPorts
    usable_w: float
    allocated_w: float
    drawn_w: float
    drops_first: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Return whether what is set aside keeps within the budget less headroom."""
        return self.allocated_w <= self.usable_w + 1e-9


def powered_port(
    project: Project,
    switch: SwitchPorts,
    port: int,
    cables: Mapping[str, Cable],
    entries: Mapping[str, Device],
) -> PoweredPort:
    """Return what one port gives its device.

    cables: by identity.
    entries: library entry by tag of device.
    """
    device = switch.ports[port]
    entry = entries[device.tag]
    tag = switch.device.tag
    if device.poe_class is None or entry.poe is None:
        return PoweredPort(switch=tag, port=port, attached=device)
    rules = project.brief.rules
    power_class = ieee8023.CLASSES[device.poe_class]
    cable = cables.get(device.cable)
    loop = working(
        ieee8023.loop_resistance_ohm,
        uses=(
            *(cable.uses if cable else ()),
            *TEMPERATURE_USES,
            "project.rules.power.connector_resistance",
            "project.rules.cabling.cord_gauge",
        ),
        note="Conductor resistance by gauge and temperature (ASTM B258, IACS); cords at 20 °C.",
        pairs=power_class.pairs,
        conductor_ohm_per_m=_resistances(project, cable),
        lengths_m=(cable.length_m, cable.cords_m) if cable else (rules.cabling.equipment_cord,),
        connectors_ohm=rules.power.connector_resistance * 2 / power_class.pairs,
    )
    least_source_v = ieee8023.TYPES[switch.model.poe_type].source_voltage_min_v
    least_v = ieee8023.TYPES[entry.poe.type].device_voltage_min_v
    short = device.poe_class > switch.model.poe_class
    try:
        source = working(
            ieee8023.source_power_w,
            uses=loop.uses,
            source_voltage_v=least_source_v,
            loop_resistance_ohm=loop.result,
            device_power_w=entry.poe.maximum,
        )
        voltage = working(
            ieee8023.device_voltage_v,
            limit=Limit(least_v, "≥", ieee8023.IEEE_802_3),
            uses=loop.uses,
            source_voltage_v=least_source_v,
            loop_resistance_ohm=loop.result,
            device_power_w=entry.poe.maximum,
        )
    except OutOfRange:
        return PoweredPort(
            switch=tag,
            port=port,
            attached=device,
            loop_ohm=loop.result,
            least_v=least_v,
            class_short=short,
            carries=False,
            checks=(loop,),
        )
    return PoweredPort(
        switch=tag,
        port=port,
        attached=device,
        drawn_w=source.result,
        loop_ohm=loop.result,
        device_v=voltage.result,
        least_v=least_v,
        class_short=short,
        checks=(loop, source, voltage),
    )


def _resistances(project: Project, cable: Cable | None) -> tuple[float, ...]:
    """Return the resistance of one conductor for each metre, of the cable and of the cords, Ω/m."""
    cord = wire.conductor_resistance_ohm_per_m(project.brief.rules.cabling.cord_gauge, CORD_TEMPERATURE_C)
    if cable is None:
        return (cord,)
    entry = project.library.cables.get(cable.model)
    gauge = entry.gauge if entry else 24
    return wire.conductor_resistance_ohm_per_m(gauge, cable.temperature_c), cord


def switch_power(project: Project, switch: SwitchPorts, ports: Mapping[int, PoweredPort]) -> SwitchPower:
    """Return the sums of one switch.

    ports: its ports by number.
    """
    allocated_w = sum(port.attached.allocated_w for port in ports.values())
    drops: list[str] = []
    over_w = allocated_w - switch.model.budget
    by_priority = sorted(
        (port for port in ports.values() if port.attached.poe_class is not None),
        key=lambda port: (-port.attached.priority, -port.port),
    )
    for port in by_priority:
        if over_w <= 1e-9:
            break
        drops.append(port.attached.tag)
        over_w -= port.attached.allocated_w
    return SwitchPower(
        switch=switch,
        usable_w=switch.model.budget * (1 - project.brief.rules.power.headroom),
        allocated_w=allocated_w,
        drawn_w=sum(port.drawn_w for port in ports.values()),
        drops_first=tuple(drops),
    )
