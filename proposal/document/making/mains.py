"""Rows of the mains: circuits, the outlets on them, and what every device takes."""

from collections.abc import Iterator
from decimal import Decimal
from typing import TypedDict

from proposal.design.design import Design
from proposal.design.equipment.our_duties import LINE_VOLTAGE, is_ours
from proposal.design.mains.circuits import Circuit
from proposal.design.mains.energy_and_heat import PlaceEnergy
from proposal.design.mains.mains_loads import MainsLoad
from proposal.design.mains.mains_outlets import MainsOutlet
from proposal.document.rows.mains import CircuitRow, EnergyRow, MainsLoadRow, MainsOutletRow
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.formatting import number
from proposal.quantities.rounding import rounded


class MainsParts(TypedDict):
    """The rows of the mains."""

    circuits: tuple[CircuitRow, ...]
    mains_outlets: tuple[MainsOutletRow, ...]
    mains_loads: tuple[MainsLoadRow, ...]
    energy: tuple[EnergyRow, ...]


def mains_parts(design: Design) -> MainsParts:
    """Return the fields of the document that hold the rows of the mains, by name."""
    circuits_of: dict[str, list[str]] = {load.name: [] for load in design.mains_loads}
    for circuit, outlet, _ in _outlets(design):
        for load, _ in outlet.shares:
            if circuit.identity not in circuits_of[load.name]:
                circuits_of[load.name].append(circuit.identity)
    volts = design.project.brief.mains_voltage
    return MainsParts(
        circuits=tuple(_circuit(one, volts, design.project.brief.locale) for one in design.circuits),
        mains_outlets=tuple(
            _outlet(design.project, circuit, outlet, mark) for circuit, outlet, mark in _outlets(design)
        ),
        mains_loads=tuple(_load(load, circuits_of[load.name], volts) for load in design.mains_loads),
        energy=tuple(_energy(design.project, one) for one in design.energy),
    )


def _outlets(design: Design) -> Iterator[tuple[Circuit, MainsOutlet, str]]:
    for circuit in design.circuits:
        for outlet, mark in zip(circuit.outlets, circuit.marks, strict=True):
            yield circuit, outlet, mark


def _circuit(circuit: Circuit, volts: float, locale: str) -> CircuitRow:
    allowed = circuit.allowed
    rating = number(allowed.breaker_a, locale, 0 if allowed.breaker_a.is_integer() else 1)
    return CircuitRow(
        identity=circuit.identity,
        place=circuit.place,
        verdict=_verdict(circuit),
        outlets=len(circuit.outlets),
        rest_w=sum(one.rest_w for one in circuit.outlets),
        typical_w=sum(one.typical_w for one in circuit.outlets),
        full_w=sum(one.full_w for one in circuit.outlets),
        voltage_v=volts,
        full_va=sum(one.full_va for one in circuit.outlets),
        full_a=circuit.current_a,
        allowed_a=allowed.continuous.value,
        breaker=f"{allowed.curve}{rating}" if allowed.curve else f"{rating} A",
        leakage_a=circuit.leakage_a,
        leakage_allowed_a=allowed.leakage_a if allowed.residual_a else None,
        residual_a=allowed.residual_a or None,
        inrush_a=circuit.inrush_a,
        inrush_allowed_a=allowed.inrush_a,
        steps=circuit.steps,
    )


def _verdict(circuit: Circuit) -> str:
    """Return whether a circuit carries what is on it, and whether it does when all is switched on at once."""
    checks = [circuit.current, *([circuit.leakage] if circuit.leakage else [])]
    if any(check.verdict == "fails" for check in checks):
        return "fails"
    return "holds" if circuit.holds_at_once else "in groups" if circuit.steps else "may trip"


def _outlet(project: Project, circuit: Circuit, outlet: MainsOutlet, mark: str) -> MainsOutletRow:
    ours = is_ours(project, LINE_VOLTAGE, "install")
    return MainsOutletRow(
        serves=outlet.serves,
        mark=mark,
        circuit=circuit.identity,
        place=outlet.place,
        location=outlet.location,
        storey=outlet.storey,
        at=outlet.at,
        height_m=outlet.height_m,
        plug=outlet.plug,
        cord=outlet.cord,
        # What our outlets do not include are those for equipment of the owner.
        scope="electrical contractor" if not ours else "owner" if outlet.owned else "audio-visual contractor",
        typical_w=outlet.typical_w,
        full_va=outlet.full_va,
        feeds=tuple(load.name for load, _ in outlet.shares),
    )


def _load(load: MainsLoad, circuits: list[str], volts: float) -> MainsLoadRow:
    return MainsLoadRow(
        name=load.name,
        kind=load.kind.replace("_", " "),
        place=load.place,
        circuits=tuple(circuits),
        furnished_by="owner" if load.owned else "contractor",
        supplies=load.supplies,
        rest_w=load.rest_w,
        typical_w=load.typical_w,
        full_w=load.full_w,
        power_factor=load.power_factor if load.stated else None,
        full_va=load.full_va,
        full_a=load.full_va / volts,
        leakage_a=load.leakage_a if load.stated else None,
        inrush_a=load.inrush_a if load.stated else None,
        loss_w=load.loss_w if load.stated else None,
    )


def _energy(project: Project, one: PlaceEnergy) -> EnergyRow:
    price = project.brief.mains.energy_price
    wh = one.energy.result
    cost = None
    if price is not None:
        # Energy is a figure of the design: to a watt-hour, so that money stays decimal.
        cost = rounded(price * Decimal(round(wh)) / 1000, smallest_unit(project.brief.currency))
    return EnergyRow(
        place=one.place,
        in_use_h=one.hours.in_use_h,
        idle_h=one.hours.idle_h,
        rest_w=one.rest_w,
        idle_w=one.idle_w,
        typical_w=one.typical_w,
        yearly_wh=wh,
        yearly_cost=cost,
        price_per_kwh=price,
        heat_w=one.heat_w,
        hourly_heat_btu=one.heat.result,
        hourly_air_m3=one.air.result,
    )
