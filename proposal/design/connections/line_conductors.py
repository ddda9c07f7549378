"""Loudspeaker lines as they are laid: resistance of each stretch, currents, loss, and the conductor chosen.

A line is a daisy chain: each stretch leads on to the next loudspeaker. Its conductors have one gauge, the one
whose cables cost least of those with which no loudspeaker is weakened by more than the rules allow.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache, partial

from proposal.design.connections.amplifier_channels import AmplifierChannel, hung_as_placed
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import line_cable_of
from proposal.design.connections.cable_runs import model_by_hand
from proposal.design.connections.jackets import jacket_needs
from proposal.design.equipment.line_loads import ZoneLoad, in_order, wired
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.equipment.zone_lines import line_loads
from proposal.design.numbers.numbering import device_tag
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.field_classes import dataclass
from proposal.model.equipment.sound_devices import Amplifier
from proposal.model.project import Project
from proposal.standards import wire
from proposal.standards.loudspeaker_lines import line_loss_db

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A line along its cables, from the amplifier on.

    stretches_ohm: resistance of each stretch, out and back; 0 where no cable is known.
    onward_s: conductance of all that hangs on the line from the end of each stretch on.
    currents_a: in each stretch at the voltage of rated power.
    losses_db: at the loudspeaker at the end of each stretch.
    """

    stretches_ohm: tuple[float, ...]
    onward_s: tuple[float, ...]
    currents_a: tuple[float, ...]
    losses_db: tuple[float, ...]


def run_of(
    loads_ohm: Sequence[float], stretches_ohm: Sequence[float], voltage_v: float, *, series: bool
) -> Run:
    """Return what flows and what is lost along a daisy chain.

    loads_ohm: impedance of the loudspeaker at the end of each stretch; infinite where it takes nothing.
    stretches_ohm: resistance of each stretch, out and back.
    voltage_v: at the amplifier.
    series: whether loudspeakers are in series: one current through all.
    """
    if series:
        whole_ohm = sum(loads_ohm)
        onward = [1 / whole_ohm] * len(loads_ohm)
        current_a = voltage_v / (whole_ohm + sum(stretches_ohm))
        loss_db = line_loss_db([sum(stretches_ohm)], [1 / whole_ohm])
        return Run(
            stretches_ohm=tuple(stretches_ohm),
            onward_s=tuple(onward),
            currents_a=(current_a,) * len(loads_ohm),
            losses_db=(loss_db,) * len(loads_ohm),
        )
    onward_s: list[float] = []
    beyond_s = 0.0
    for load_ohm, next_ohm in zip(reversed(loads_ohm), (0.0, *reversed(stretches_ohm[1:])), strict=True):
        beyond_s = 1 / load_ohm + beyond_s / (1 + next_ohm * beyond_s)
        onward_s.insert(0, beyond_s)
    currents, losses = [], []
    for n, (stretch_ohm, conductance_s) in enumerate(zip(stretches_ohm, onward_s, strict=True), 1):
        voltage_v /= 1 + stretch_ohm * conductance_s
        currents.append(voltage_v * conductance_s)
        losses.append(line_loss_db(stretches_ohm[:n], onward_s[:n]))
    return Run(
        stretches_ohm=tuple(stretches_ohm),
        onward_s=tuple(onward_s),
        currents_a=tuple(currents),
        losses_db=tuple(losses),
    )


def stretch_ohm(project: Project, cable: Cable | None, model: str) -> float:
    """Return the resistance of a stretch out and back at its temperatures, Ω; 0 where it has no cable.

    model: of the cable.
    """
    entry = project.library.loudspeaker_cables.get(model)
    if cable is None or entry is None:
        return 0.0
    return sum(
        2 * part.length_m * wire.conductor_resistance_ohm_per_m(entry.gauge, _within(part.temperature_c))
        for part in cable.warmth
    )


def _within(at_c: float) -> float:
    return min(max(at_c, wire.COLDEST_CONDUCTOR_C), wire.WARMEST_CONDUCTOR_C)


def stretches_of(load: ZoneLoad, room: str, cables: Mapping[str, Cable]) -> tuple[Cable | None, ...]:
    """Return the cable that leads to each loudspeaker of a line, None where it has none.

    room: its tag.  cables: of loudspeaker lines by the tag of the loudspeaker that they lead to.
    """
    return tuple(cables.get(f"{room}-{one.code}") for one in load.units)


def in_chain(load: ZoneLoad, room: str, cables: Mapping[str, Cable]) -> ZoneLoad:
    """Return the load of a line with its loudspeakers in the order in which its cables lead to them.

    room: its tag.  cables: of loudspeaker lines by the tag of the loudspeaker that they lead to.
    """
    numbers = {device_tag(room, one.code): n for n, one in enumerate(load.units)}
    onward = {cables[tag].end: tag for tag in numbers if tag in cables and cables[tag].end in numbers}
    firsts = [tag for tag in numbers if tag not in onward.values()]
    order: list[int] = []
    for first in firsts:
        tag: str | None = first
        while tag:
            order.append(numbers[tag])
            tag = onward.get(tag)
    return in_order(load, order)


def run_along(
    project: Project,
    load: ZoneLoad,
    stretches: Sequence[Cable | None],
    models: Sequence[str],
    lowest_ohm: float | None,
) -> Run:
    """Return what flows and what is lost along a line with cables of some models.

    models: of each stretch.  lowest_ohm: least load of its amplifier without transformers.
    """
    joined = wired(load, lowest_ohm)
    ohms = [stretch_ohm(project, cable, model) for cable, model in zip(stretches, models, strict=True)]
    loads_ohm = [one.impedance_ohm or math.inf for one in load.units]
    return run_of(loads_ohm, ohms, joined.voltage_v, series=joined.wiring == "series")


def with_conductors(
    project: Project,
    cables: Sequence[Cable],
    devices: Sequence[Placed],
    channels: Mapping[str, Mapping[str, AmplifierChannel]],
) -> tuple[Cable, ...]:
    """Return cables, those of loudspeaker lines with the conductor that their loss and wiring class ask for.

    cables: of some rooms, or of the whole design.  devices: of the same.
    channels: of amplifiers by room, then by the line that they play.
    Cables that the designer chose stay. Where no gauge keeps to the limit, the one that loses least is taken.
    """
    by_end = {one.start: one for one in cables if one.signal == LOUDSPEAKER_LINE}
    rooms: dict[str, list[Placed]] = {}
    for device in devices:
        if device.kind in ("loudspeaker", "amplifier"):
            rooms.setdefault(device.room, []).append(device)
    models: dict[str, str] = {}
    # Cables of one library that are asked the same are few, and asked for often.
    choice = cache(partial(line_cable_of, project))
    for room, there in rooms.items():
        if room not in project.rooms or not any(one.tag in by_end for one in there):
            continue
        loads = line_loads(project, project.rooms[room].layout, hung_as_placed(project, there))
        for zone, unordered in loads.items():
            load = in_chain(unordered, room, by_end)
            amplifier = amplifier_of(project, channels[room].get(zone), there)
            models |= _chosen(project, choice, load, stretches_of(load, room, by_end), amplifier)
    return tuple(replace(one, model=models.get(one.identity, one.model)) for one in cables)


def amplifier_of(
    project: Project, channel: AmplifierChannel | None, devices: Sequence[Placed]
) -> Amplifier | None:
    """Return the library's entry of the amplifier of a channel, None where there is none."""
    models = {one.tag: one.model for one in devices}
    return project.library.amplifiers.get(models.get(channel.amplifier, "")) if channel else None


def _chosen(
    project: Project,
    choice: Callable[[tuple[str, ...], str, int], str],
    load: ZoneLoad,
    stretches: Sequence[Cable | None],
    amplifier: Amplifier | None,
) -> dict[str, str]:
    """Return the model of cable of each stretch of a line by its identity.

    choice: gives it for what its jacket has to be good for, a class of wiring and a gauge.
    """
    gauges = sorted({one.gauge for one in project.library.loudspeaker_cables.values()}, reverse=True)
    wiring_class = amplifier.wiring_class if amplifier else ""
    lowest_ohm = amplifier.lowest_impedance if amplifier else None
    limit_db = project.brief.rules.loudspeakers.loss
    laid = [one for one in stretches if one]
    needs = {
        one.identity: jacket_needs(project, one.route, rises=one.start_storey != one.end_storey)
        for one in laid
    }
    found: list[tuple[bool, Decimal | float, float, int, dict[str, str]]] = []
    for order, gauge_awg in enumerate(gauges):
        models = {
            one.identity: model_by_hand(project, one.identity)
            or choice(needs[one.identity], wiring_class, gauge_awg)
            for one in laid
        }
        if not laid or not all(models.values()):
            continue
        run = run_along(
            project, load, stretches, [models[one.identity] if one else "" for one in stretches], lowest_ohm
        )
        worst_db = max(run.losses_db)
        cost = sum(
            (_cost(project, models[one.identity]) * Decimal(repr(one.length_m)) for one in laid), Decimal(0)
        )
        holds = worst_db <= limit_db * (1 + _ROUNDING)
        found.append((not holds, cost if holds else worst_db, worst_db, order, models))
    return min(found, key=lambda one: one[:4])[4] if found else {}


def _cost(project: Project, model: str) -> Decimal:
    entry = project.library.loudspeaker_cables.get(model)
    return unit_cost(project, entry) if entry else Decimal(0)
