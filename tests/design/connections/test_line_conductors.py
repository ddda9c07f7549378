"""Currents and losses along daisy chains against a nodal solution, and the conductor against brute force.

The chains, each from the amplifier on:

    AM ──R1──┬──R2──┬── … ──┐        in parallel: every loudspeaker between the two conductors
             Z1     Z2      Zn
    AM ──Z1──Z2── … ──Zn──┐          in series: one current, the second conductor leads it back
"""

import math
import random
from collections.abc import Sequence
from decimal import Decimal
from itertools import product

import numpy as np
import pytest

from proposal.design.connections.cable import Cable
from proposal.design.connections.line_conductors import run_of
from proposal.design.design import Design
from proposal.model.project import Project
from proposal.model.rooms import Loudspeaker
from proposal.quantities.money import Money
from tests.design.making import changed, designed, minimal, with_layout
from tests.long_form import cases

# Diameter by ASTM B258 in mm, from its printed table, for the gauges that are sold for such lines.
DIAMETERS_MM = {24: 0.511, 22: 0.644, 20: 0.812, 18: 1.024, 16: 1.291, 14: 1.628, 12: 2.053, 10: 2.588}
LENGTHS_M = (1.0, 5.0, 20.0, 80.0, 300.0)


def solved(
    loads_ohm: Sequence[float], stretches_ohm: Sequence[float], voltage_v: float
) -> tuple[list[float], list[float]]:
    """Return currents of the stretches and voltages at the loads, from Kirchhoff's law at every node."""
    n = len(loads_ohm)
    conductances, injected = np.zeros((n, n)), np.zeros(n)
    for node, (load_ohm, stretch) in enumerate(zip(loads_ohm, stretches_ohm, strict=True)):
        conductances[node, node] += 1 / load_ohm + 1 / stretch
        if node:
            conductances[node - 1, node - 1] += 1 / stretch
            conductances[node, node - 1] = conductances[node - 1, node] = -1 / stretch
        else:
            injected[node] = voltage_v / stretch
    volts = np.linalg.solve(conductances, injected)
    before = [voltage_v, *volts[:-1]]
    return [
        (high - low) / stretch for high, low, stretch in zip(before, volts, stretches_ohm, strict=True)
    ], list(volts)


@pytest.mark.independent
@pytest.mark.parametrize("gauge_awg", DIAMETERS_MM)
def test_a_chain_loses_what_kirchhoff_says_for_every_gauge_and_length(gauge_awg: int) -> None:
    ohm_per_m = 17.241e-9 / (math.pi * (DIAMETERS_MM[gauge_awg] / 1000) ** 2 / 4)
    chance = random.Random(gauge_awg)
    for length_m, voltage_v, count in product(LENGTHS_M, (70.7, 100.0), (1, 2, 7)):
        loads_ohm = [voltage_v**2 / chance.choice([1.25, 2.5, 5, 10, 20, 30]) for _ in range(count)]
        stretches_ohm = [2 * ohm_per_m * length_m * chance.uniform(0.1, 1.0) for _ in range(count)]
        run = run_of(loads_ohm, stretches_ohm, voltage_v, series=False)
        currents, volts = solved(loads_ohm, stretches_ohm, voltage_v)
        assert run.currents_a == pytest.approx(currents, rel=1e-9)
        losses = [20 * math.log10(voltage_v / volt) for volt in volts]
        assert run.losses_db == pytest.approx(losses, abs=1e-9)


@pytest.mark.independent
def test_loudspeakers_in_series_by_hand() -> None:
    """Two of 8 Ω behind conductors of 1 Ω and 3 Ω: 20 V drive 1 A, and 16/20 of the voltage is left."""
    run = run_of([8.0, 8.0], [1.0, 3.0], 20.0, series=True)
    assert run.currents_a == pytest.approx([1.0, 1.0])
    assert run.losses_db == pytest.approx([20 * math.log10(20 / 16)] * 2)


def test_a_loudspeaker_that_takes_nothing_changes_nothing() -> None:
    run = run_of([1000.0, math.inf, 1000.0], [1.0, 1.0, 1.0], 100.0, series=False)
    assert run.currents_a[1] == pytest.approx(run.currents_a[2])
    without = run_of([1000.0, 1000.0], [1.0, 2.0], 100.0, series=False)
    assert run.losses_db[2] == pytest.approx(without.losses_db[1], rel=1e-12)


def lined(project: Project, count: int, tap_w: float, **rules: float) -> Project:
    """Return a building of one room with so many loudspeakers of one zone on a 100 V line."""
    hung = {f"LS{n}": Loudspeaker(at=(0.4 * n, 1.0), tap=tap_w) for n in range(1, count + 1)}
    project = with_layout(project, "meeting", loudspeakers=hung, network="rack", output="mixer")
    for name, value in rules.items():
        project = changed(project, f"brief.rules.loudspeakers.{name}", value)
    return project


def lines_of(design: Design) -> list[Cable]:
    return [one for one in design.cables if one.signal == "loudspeaker line"]


def losing_most_db(project: Project, cables: Sequence[Cable], gauges: Sequence[int], draws_w: float) -> float:
    """Return the loss at the last loudspeaker of a chain by the nodal solution."""
    ohms = []
    for cable, gauge in zip(cables, gauges, strict=True):
        # ASTM B258 as a formula, which its printed diameters round.
        diameter_m = 0.000127 * 92 ** ((36 - gauge) / 39)
        ohm_per_m = 17.241e-9 / (math.pi * diameter_m**2 / 4)
        ohms.append(
            sum(2 * ohm_per_m * p.length_m * (1 + 0.00393 * (p.temperature_c - 20)) for p in cable.warmth)
        )
    _, volts = solved([100.0**2 / draws_w] * len(cables), ohms, 100.0)
    return 20 * math.log10(100.0 / volts[-1])


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(cases(6)))
def test_the_conductor_is_the_cheapest_that_keeps_to_the_limit(seed: int) -> None:
    chance = random.Random(seed)
    count, tap_w = chance.randint(1, 5), chance.choice([2.5, 5.0, 10.0, 20.0])
    limit_db = chance.choice([0.002, 0.01, 0.02, 0.05])
    project = lined(minimal(), count, tap_w, loss=limit_db)
    # Prices of cables in any order: the thicker one need not cost more.
    cables = {
        code: entry.model_copy(
            update={"cost": Money(amount=Decimal(chance.choice([1, 2, 3, 4])), currency=entry.cost.currency)}
        )
        for code, entry in project.library.loudspeaker_cables.items()
    }
    project = changed(project, "library.loudspeaker_cables", cables)
    laid = sorted(lines_of(designed(project)), key=lambda one: int(one.start.rpartition("LS")[2]))
    entry = project.library.loudspeakers[
        next(one.model for one in designed(project).devices if one.kind == "loudspeaker")
    ]
    draws_w = tap_w * 10 ** (entry.transformer_loss / 10)
    chosen = [cables[one.model] for one in laid]
    assert len({one.gauge for one in chosen}) == 1
    # Jackets that suit this route are those of the cables chosen; every gauge has one of the same jacket.
    tried = {
        gauge: (
            losing_most_db(project, laid, [gauge] * len(laid), draws_w),
            sum(
                min(
                    float(one.cost.amount)
                    for one in cables.values()
                    if one.gauge == gauge and one.jacket == like.jacket
                )
                * cable.length_m
                for cable, like in zip(laid, chosen, strict=True)
            ),
        )
        for gauge in {one.gauge for one in cables.values()}
    }
    holding = {gauge: cost for gauge, (loss, cost) in tried.items() if loss <= limit_db}
    if holding:
        assert holding[chosen[0].gauge] == pytest.approx(float(min(holding.values())))
    else:
        assert tried[chosen[0].gauge][0] == min(loss for loss, _ in tried.values())


def test_a_long_line_gets_a_thicker_conductor_and_a_cable_by_hand_stays() -> None:
    usual = designed(lined(minimal(), 4, 20.0))
    short = {one.model for one in lines_of(usual)}
    strict = designed(lined(minimal(), 4, 20.0, loss=0.01))
    gauges = minimal().library.loudspeaker_cables
    assert min(gauges[one].gauge for one in short) > max(gauges[one.model].gauge for one in lines_of(strict))


def test_a_cable_has_at_least_the_class_of_its_amplifier() -> None:
    project = lined(minimal(), 2, 5.0)
    (cheapest,) = {one.model for one in lines_of(designed(project))}
    entries = project.library.loudspeaker_cables
    weaker = {
        code: one.model_copy(update={"wiring_class": "class 2"}) if code == cheapest else one
        for code, one in entries.items()
    }
    weak = changed(project, "library.loudspeaker_cables", weaker)
    for wanted, stays in (("class 2", True), ("class 3", False)):
        amplifiers = {
            code: one.model_copy(update={"wiring_class": wanted})
            for code, one in project.library.amplifiers.items()
        }
        found = {one.model for one in lines_of(designed(changed(weak, "library.amplifiers", amplifiers)))}
        assert (found == {cheapest}) == stays


def test_stretches_follow_the_cables_from_the_amplifier_on() -> None:
    design = designed(lined(minimal(), 11, 2.5))
    (line,) = design.loudspeaker_lines
    ends = [one.end for one in line.cables]
    assert line.tags[:-1] == tuple(ends[1:])
    assert ends[0] == "ER1-RK1"
    assert line.channel
    assert line.cables[0].end_port == f"{line.channel.amplifier}/{line.channel.output}"
