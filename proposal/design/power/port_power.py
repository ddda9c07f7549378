"""Power over Ethernet: what each port allocates and gives, with the resistance of its own cable."""

from collections.abc import Mapping
from typing import Literal

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import CORD_GAUGE_USE, EQUIPMENT_CORD_USE
from proposal.design.connections.conductors import conductor
from proposal.design.connections.patch_cords import cord as patch_cord
from proposal.design.network.port_demand import Attached, SwitchPorts
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import NetworkPart
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import PoeInput
from proposal.model.project import Project
from proposal.standards import ieee8023, wire
from proposal.standards.validity import OutOfRange
from proposal.standards.working import Limit, Working, once_each, working

State = Literal["powered", "derated", "off"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PoweredPort:
    """One switch port with what it gives.

    switch, port: tag of the switch and number of the port.
    name: what the port is called on the device: its name there, or its number.
    attached: the device.
    drawn_w: power drawn at the port at the device's highest power, W.
    device_w: highest power of the device, W; None where nothing is powered.
    loop_ohm: loop resistance of the channel, Ω; None where nothing is powered.
    device_v, least_v: voltage at the device and the least it needs, V.
    class_short: whether the device asks for a higher class than the port, or the PoE source before it, has.
    source_class: that class.
    source_type: Type of what feeds it, 1 to 4; 0 where nothing is powered.
    state: what a device on a port of too low a class does.
    carries: whether the cable can carry the power at all.
    cable_pairs: pairs of the cable.
    checks: workings.
    """

    switch: str
    port: int
    name: str
    attached: Attached
    drawn_w: float = 0.0
    device_w: float | None = None
    loop_ohm: float | None = None
    device_v: float | None = None
    least_v: float | None = None
    class_short: bool = False
    source_class: int = 0
    source_type: int = 0
    state: State = "powered"
    carries: bool = True
    cable_pairs: int = 4
    checks: tuple[Working, ...] = ()

    @property
    def full_name(self) -> str:
        """Return what the port is called everywhere, with its switch: `ER1-SW1/4`, `A201-BO1/N3`."""
        return f"{self.switch}/{self.name}"

    @property
    def source(self) -> str:
        """Return the tag of what feeds the device: the PoE source before the port, or the switch."""
        return self.attached.injector or self.switch

    @property
    def pairs_short(self) -> bool:
        """Return whether the cable has fewer pairs than carry the power of the class."""
        number = self.attached.poe_class
        return number is not None and self.cable_pairs < ieee8023.CLASSES[number].pairs

    @property
    def loss_w(self) -> float | None:
        """Return what cable, cords and connectors turn into heat, W; None where nothing is carried."""
        return (
            self.drawn_w - self.device_w if self.device_v is not None and self.device_w is not None else None
        )

    @property
    def spare_v(self) -> float | None:
        """Return the voltage above the least that the device needs, V; None where nothing is carried."""
        return (
            self.device_v - self.least_v if self.device_v is not None and self.least_v is not None else None
        )

    @property
    def holds(self) -> bool:
        """Return whether class, cable and voltage suffice."""
        return (
            not (self.class_short or self.pairs_short)
            and self.carries
            and all(check.verdict != "fails" for check in self.checks)
        )


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
    tag = switch.device.tag
    poe = entries[device.tag].poe if device.tag in entries else None
    if device.poe_class is None or poe is None:
        return PoweredPort(switch=tag, port=port, name=switch.port_name(port), attached=device)
    cable = cables.get(device.cable)
    port_class, port_type = _given_by(switch, device, entries)
    source_v = ieee8023.TYPES[port_type].source_voltage_min_v
    least_v = ieee8023.TYPES[poe.type].device_voltage_min_v
    short = device.poe_class > port_class
    checks: list[Working] = []
    loop_ohm = None
    carries = True
    try:
        checks += _loop(project, cable, ieee8023.CLASSES[device.poe_class].pairs, device.injector)
        loop_ohm = checks[-1].result
        uses = (*checks[-1].uses, *SWITCH_USES) if switch.headroom else checks[-1].uses
        checks += [
            working(
                formula,
                limit=limit,
                uses=uses,
                source_voltage_v=source_v,
                loop_resistance_ohm=loop_ohm,
                device_power_w=poe.maximum,
            )
            for formula, limit in (
                (ieee8023.source_power_w, None),
                (ieee8023.device_voltage_v, Limit(least_v, "≥", ieee8023.IEEE_802_3)),
            )
        ]
    except OutOfRange:
        carries = False
    return PoweredPort(
        switch=tag,
        port=port,
        name=switch.port_name(port),
        attached=device,
        drawn_w=checks[-2].result if carries else 0.0,
        device_w=poe.maximum,
        loop_ohm=loop_ohm,
        device_v=checks[-1].result if carries else None,
        least_v=least_v,
        class_short=short,
        state=state_on(poe, port_class),
        source_class=port_class,
        source_type=port_type,
        carries=carries,
        cable_pairs=_pairs_of(project, cable),
        checks=tuple(checks),
    )


def _given_by(switch: SwitchPorts, device: Attached, entries: Mapping[str, Device]) -> tuple[int, int]:
    """Return class and Type of what feeds a device: of the PoE source before its port, or of the port."""
    source = entries.get(device.injector)
    if isinstance(source, NetworkPart) and source.poe_type is not None:
        return source.poe_class, source.poe_type
    return switch.poe_class, switch.poe_type


def _pairs_of(project: Project, cable: Cable | None) -> int:
    """Return the pairs of a cable; a cord, and what the library lacks, has four."""
    entry = project.library.cables.get(cable.model) if cable else None
    return entry.pairs if entry else 4


# Which switch is the least-cost one, and so the least voltage of its Type, depends on these.
SWITCH_USES = ("project.rules.power.headroom", "project.rules.network.spare_ports")


def state_on(poe: PoeInput, port_class: int) -> State:
    """Return what a device does on a port of a class: works, works with less, or stays off.

    port_class: class of the port, 1 to 8.
    poe: what it takes.
    """
    if poe.device_class <= port_class:
        return "powered"
    lowest = poe.device_class if poe.lowest_class is None else poe.lowest_class
    return "derated" if poe.when_short == "derated" and lowest <= port_class else "off"


def _loop(project: Project, cable: Cable | None, pairs: int, injector: str) -> list[Working]:
    """Return the resistance of the conductors of cable and cords, and of the whole loop.

    injector: tag of the PoE source that feeds it, if any: the cord to the switch carries no power.
    """
    rules = project.brief.rules
    cord = working(
        wire.conductor_resistance_ohm_per_m,
        title="Resistance of one conductor of the cords for each metre",
        uses=(CORD_GAUGE_USE, "project.rules.power.cord_temperature"),
        gauge_awg=rules.cabling.cord_gauge,
        temperature_c=rules.power.cord_temperature,
    )
    if cable is None:
        at_rack = patch_cord(project, "rack", None)
        conductors, lengths_m = [cord], [at_rack.length_m if at_rack else 0.0]
        uses: tuple[str, ...] = (EQUIPMENT_CORD_USE, CORD_GAUGE_USE)
    else:
        conductors = [*(_conductor(project, cable, part.temperature_c) for part in cable.warmth), cord]
        powered = cable.cords[:-1] if injector else cable.cords
        cords_m = sum(one.length_m for one in powered)
        lengths_m = [*(part.length_m for part in cable.warmth), cords_m]
        uses = cable.checked.channel.uses if cable.checked else cable.uses
    connectors_ohm = rules.power.connector_resistance * 2 / pairs
    inputs = once_each(one.uses for one in conductors)
    loop = working(
        ieee8023.loop_resistance_ohm,
        uses=tuple(dict.fromkeys((*uses, *inputs, "project.rules.power.connector_resistance"))),
        pairs=pairs,
        conductor_ohm_per_m=tuple(one.result for one in conductors),
        lengths_m=tuple(lengths_m),
        connectors_ohm=connectors_ohm,
    )
    return [*conductors, loop]


def _conductor(project: Project, cable: Cable, at_c: float) -> Working:
    """Return the resistance of one conductor of a cable.

    at_c: temperature of a stretch of it, °C.
    """
    entry = project.library.cables.get(cable.model)
    uses = cable.checked.rises[0].uses if cable.checked else ()
    return conductor(project, entry, at_c, uses if entry else (*uses, CORD_GAUGE_USE))
