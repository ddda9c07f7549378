"""Calculations told in US customary units: equations that hold with the numbers beside them."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from proposal.document.making.workings_in_units import in_units
from proposal.standards.cooling import airflow_m3_h
from proposal.standards.formula import formula_of
from proposal.standards.free_space import free_space_loss_db
from proposal.standards.tia568 import channel_length_m
from proposal.standards.validity import OutOfRange
from proposal.standards.working import working
from tests.standards.equations import compiled, draws, is_sequence, modules, public_functions

SI = re.compile(r"°C|K|kg|N\b|\bm\b|m²|m³")


def measured(function: Callable[..., float]) -> bool:
    stated = formula_of(function)
    return any(SI.search(unit) for unit in (stated.result[1], *(one.unit for one in stated.where.values())))


MEASURED = [one for module in modules() for one in public_functions(module) if measured(one)]


@pytest.mark.independent
@pytest.mark.parametrize("function", MEASURED, ids=[function.__name__ for function in MEASURED])
def test_an_equation_holds_with_the_numbers_that_stand_beside_it(function: Callable[..., float]) -> None:
    """Another reader of equations evaluates what is told; factors are told to four digits."""
    stated, tried = formula_of(function), 0
    for values in draws(function, 12):
        try:
            told = in_units(made := working(function, **values), "us_customary")
        except OutOfRange:
            continue
        assert not [one.unit for one in told.values if SI.search(one.unit)]
        sequences = [name for name in values if is_sequence(function, name)]
        terms = len(values[sequences[0]]) if sequences else 0
        numbers = iter(one.number for one in told.values)
        put_in = [
            [next(numbers) for _ in range(terms)] if name in sequences else next(numbers)
            for name in stated.where
        ]
        found = compiled(replace(stated, equation=told.equation), sequences, terms)(*put_in)
        assert found == pytest.approx(told.result, rel=2e-3, abs=2e-6 * abs(made.result) + 1e-12)
        tried += 1
    assert tried >= 3


@pytest.mark.independent
def test_air_that_carries_heat_away_is_what_tables_of_the_trade_give() -> None:
    """Cubic feet a minute are 3.16 times watts over degrees Fahrenheit, as makers of fans write."""
    told = in_units(working(airflow_m3_h, power_w=500.0, rise_k=10.0), "us_customary")
    assert told.unit == "ft³/min"
    assert told.result == pytest.approx(3.16 * 500 / 18, rel=5e-3)
    assert {one.symbol: one.unit for one in told.values}["ρ"] == "lb/ft³"


@pytest.mark.pinned
def test_an_equation_that_holds_in_any_units_has_no_factors() -> None:
    told = in_units(working(channel_length_m, permanent_link_m=30.48, cords_m=3.048), "us_customary")
    assert (told.equation, told.substituted, told.unit) == ("L = H + C", "L = 100 + 10", "ft")
    assert told.result == pytest.approx(110.0)


@pytest.mark.pinned
def test_an_equation_of_si_says_what_makes_si_of_feet() -> None:
    told = in_units(working(free_space_loss_db, frequency_hz=1e9, distance_m=30.48), "us_customary")
    assert told.substituted.endswith("20·log10((0.3048·100)/1000)")
    assert in_units(made := working(channel_length_m, permanent_link_m=1.0, cords_m=1.0), "metric") is made
