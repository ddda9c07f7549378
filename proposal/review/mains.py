"""Rules about mains circuits: current, leakage, inrush, and the mains that devices take."""

import math
from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.mains.circuits import Circuit
from proposal.errors import Place
from proposal.model.project import Project
from proposal.quantities.formatting import listed, quantity
from proposal.review.finding import Finding, Rule, counted, written_place
from proposal.standards import mains_circuits
from proposal.standards.sources import COMMON_PRACTICE


def currents(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each circuit that would carry more than its breaker may for hours."""
    for circuit in design.circuits:
        if circuit.current.verdict != "fails":
            continue
        limit = circuit.allowed.continuous
        yield Finding(
            rule="circuit-overloaded",
            severity="error",
            where=circuit.identity,
            place=_place(project, circuit),
            message=f"What is plugged into {circuit.identity} draws more than a circuit of "
            f"{_amperes(project, circuit.allowed.breaker_a)} may carry continuously.",
            value=circuit.current_a,
            limit=limit.value,
            unit="A",
            source=limit.source,
            remedy=_more_circuits(circuit)
            if not circuit.single
            else f"Spread what {_too_large(circuit)} feeds over more outlets, or write a breaker of "
            f"{_breaker(project, circuit, limit.value)} or more into mains of project.yaml.",
        )


def leakages(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each circuit whose leakage may trip its residual-current device."""
    for circuit in design.circuits:
        if circuit.leakage is None or circuit.leakage.verdict != "fails":
            continue
        larger = [
            residual_a
            for residual_a in mains_circuits.RESIDUALS_A
            if circuit.leakage_a <= mains_circuits.leakage_allowed_a(residual_a)
        ]
        yield Finding(
            rule="leakage-high",
            severity="warning",
            where=circuit.identity,
            place=_place(project, circuit),
            message=f"The leakage of all that is plugged into {circuit.identity} may trip its "
            "residual-current device.",
            value=circuit.leakage_a * 1000,
            limit=circuit.allowed.leakage_a * 1000,
            unit="mA",
            source=mains_circuits.IEC_60364,
            remedy=_more_circuits(circuit) if not circuit.single else _less_leakage(circuit, larger),
        )


def inrushes(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each circuit whose breaker may trip when all is switched on at once."""
    for circuit in design.circuits:
        held_a = circuit.allowed.inrush_a
        if held_a is None or circuit.holds_at_once:
            continue
        curve = next(
            (
                name
                for name, multiple in mains_circuits.MULTIPLES.items()
                if circuit.inrush_a <= mains_circuits.inrush_held_a(multiple, circuit.allowed.breaker_a)
            ),
            "",
        )
        ways = []
        if circuit.steps:
            pause_ms = circuit.inrush_s * 1000
            ways.append(
                f"switch on in {counted(circuit.steps, 'group')}, at least {pause_ms:.3g} ms "
                "one after the other"
            )
        if curve:
            ways.append(f"use a breaker with a slower curve ({curve})")
        if not ways:
            ways.append(
                f"use equipment or a power strip that limits inrush to {_amperes(project, held_a)} or less"
            )
        remedy = ", or ".join(ways)
        yield Finding(
            rule="inrush-high",
            severity="warning",
            where=circuit.identity,
            place=written_place(project, ("project", "mains", "curve"), *_paths(project, circuit)),
            message=f"Where all that is plugged into {circuit.identity} is switched on at once, its breaker "
            "may trip.",
            value=circuit.inrush_a,
            limit=held_a,
            unit="A",
            source=mains_circuits.IEC_60898,
            remedy=f"{remedy[0].upper()}{remedy[1:]}.",
        )


def cords(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each place where the library has no mains cord from an outlet of the building."""
    lacking: dict[str, list[tuple[str, str]]] = {}
    for circuit in design.circuits:
        for outlet in circuit.outlets:
            if outlet.lacks_cord:
                lacking.setdefault(circuit.place, []).append((outlet.serves, outlet.plug))
    form = project.brief.mains.outlet_form(project.brief.region)
    for place, ones in lacking.items():
        holder = ("rooms", place) if place in project.rooms else ("building", "equipment_rooms", place)
        yield Finding(
            rule="no-mains-cord",
            severity="warning",
            where=place,
            place=written_place(project, ("project", "mains", "outlet"), holder),
            message=f"The library has no mains cord from outlets of {place} ({form}) to "
            f"{listed(sorted({plug for _, plug in ones}))}, for {listed([name for name, _ in ones])}.",
            source=COMMON_PRACTICE,
            remedy="Add a part with the role `mains cord` for these to rack_parts of the library, or write "
            "the sort of the outlets into mains of project.yaml.",
        )


def unsuited(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each device that does not take the mains of the building."""
    volts, hertz = project.brief.mains_voltage, project.brief.mains_frequency
    units, locale = project.brief.units, project.brief.locale
    for load in design.mains_loads:
        entry = design.entries.get(load.name)
        mains = entry.mains if entry else None
        if mains is None:
            continue
        if mains.lowest_voltage <= volts <= mains.highest_voltage and hertz in mains.frequencies:
            continue
        taken = (
            f"{quantity(mains.lowest_voltage, 'voltage', units, locale)} to "
            f"{quantity(mains.highest_voltage, 'voltage', units, locale)} at "
            f"{listed([quantity(one, 'frequency', units, locale) for one in mains.frequencies])}"
        )
        yield Finding(
            rule="mains-unsuited",
            severity="error",
            where=load.name,
            place=written_place(
                project,
                ("fixed", "devices", load.name, "model"),
                ("project", "mains", "voltage"),
                ("project", "mains", "frequency"),
                ("project", "region"),
            ),
            message=f"{load.name} ({load.model}) takes {taken}; the mains have "
            f"{quantity(volts, 'voltage', units, locale)} at {quantity(hertz, 'frequency', units, locale)}.",
            source=COMMON_PRACTICE,
            remedy=f"Fix a model for {load.name} that takes them in fixed.yaml.",
        )


def _more_circuits(circuit: Circuit) -> str:
    return (
        f"{counted(circuit.needed, 'circuit')} would do: write {circuit.place}: {circuit.needed} under "
        "circuits of mains in project.yaml."
    )


def _less_leakage(circuit: Circuit, larger: Sequence[float]) -> str:
    """Return what helps where one outlet leaks too much.

    larger: rated residual currents of devices that would do, the least first, A.
    """
    spread = f"spread what {_too_large(circuit)} feeds over more outlets"
    if not larger:
        return f"{spread[0].upper()}{spread[1:]}."
    return (
        f"Protect {circuit.identity} by a device of {larger[0] * 1000:.0f} mA where the code allows it, or "
        f"{spread}."
    )


def _too_large(circuit: Circuit) -> str:
    return max(circuit.outlets, key=lambda outlet: (outlet.full_va, outlet.leakage_a)).serves


def _breaker(project: Project, circuit: Circuit, limit_a: float) -> str:
    """Return the least rating of a breaker that carries a circuit for hours; limit_a: of its own, A."""
    least_a = circuit.current_a * circuit.allowed.breaker_a / limit_a
    return _amperes(project, math.ceil(least_a * 10 - 1e-6) / 10)


def _amperes(project: Project, current_a: float) -> str:
    return quantity(current_a, "current", project.brief.units, project.brief.locale)


def _place(project: Project, circuit: Circuit) -> Place:
    return written_place(project, *_paths(project, circuit))


def _paths(project: Project, circuit: Circuit) -> tuple[tuple[str, ...], ...]:
    place = circuit.place
    holder = ("rooms", place) if place in project.rooms else ("building", "equipment_rooms", place)
    return (("project", "mains", "circuits", place), ("project", "mains", "breaker"), holder)


MAINS_RULES: tuple[Rule, ...] = (currents, leakages, inrushes, cords, unsuited)
