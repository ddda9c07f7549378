"""The record of one calculation."""

import dataclasses
from typing import Any

import pydantic
import pytest

from proposal.standards.validity import OutOfRange
from proposal.standards.working import Value, Working, Written, working
from tests.standards.sample_formulas import AT_MOST_90, STANDARD, links, weighted_m


def test_a_working_keeps_equation_numbers_result_limit_and_source() -> None:
    record = working(
        weighted_m,
        title="Cable B101-AP1/N1/ER1-RK1",
        limit=AT_MOST_90,
        uses=("building.pathways.P1.temperature",),
        note="Measured.",
        lengths_m=(50.0, 20.5),
        rises=(0.1, -0.2),
        slack_m=1.25,
    )
    assert record.title == "Cable B101-AP1/N1/ER1-RK1"
    assert record.equation == "S = sum(L_i·(1 + k_i)) + a"
    assert record.substituted == "S = (50·(1 + 0.1) + 20.5·(1 + (−0.2))) + 1.25"
    assert record.values == (
        Value("L_1", "length of a stretch", 50.0, "m"),
        Value("L_2", "length of a stretch", 20.5, "m"),
        Value("k_1", "rise there", 0.1, "-"),
        Value("k_2", "rise there", -0.2, "-"),
        Value("a", "slack", 1.25, "m"),
    )
    assert record.result == pytest.approx(50 * 1.1 + 20.5 * 0.8 + 1.25)
    assert (record.unit, record.limit, record.comparison, record.verdict) == ("m", 90.0, "≤", "holds")
    assert record.margin == pytest.approx(90 - 72.65)
    assert record.source == STANDARD
    assert record.limit_source == STANDARD
    assert record.uses == ("building.pathways.P1.temperature",)
    assert record.note == "Measured."


def test_a_default_of_the_function_is_put_in_too() -> None:
    record = working(weighted_m, lengths_m=(1.0,), rises=(0.0,))
    assert record.substituted.endswith(" + 2")
    assert record.values[-1] == Value("a", "slack", 2.0, "m")


@pytest.mark.parametrize(
    ("result", "comparison", "verdict"),
    [(90.0, "≤", "holds"), (90.1, "≤", "fails"), (90.0, "≥", "holds"), (89.9, "≥", "fails")],
)
def test_a_limit_is_judged(result: float, comparison: str, verdict: str) -> None:
    base = working(links, slots=9, each=2)
    judged = dataclasses.replace(base, result=result, limit=90.0, comparison=comparison)  # type: ignore[arg-type]
    assert judged.verdict == verdict


def test_rounding_noise_of_a_sum_does_not_fail_a_limit() -> None:
    noisy = 0.1 * 3 * 300
    assert noisy > 90
    assert working(weighted_m, limit=AT_MOST_90, lengths_m=(noisy,), rises=(0,), slack_m=0).verdict == "holds"
    assert (
        working(weighted_m, limit=AT_MOST_90, lengths_m=(90.001,), rises=(0,), slack_m=0).verdict == "fails"
    )


def test_without_a_limit_there_is_no_verdict() -> None:
    record = working(links, slots=9, each=2)
    assert (record.verdict, record.limit, record.margin) == ("", None, None)


def test_a_limit_needs_its_comparison() -> None:
    with pytest.raises(ValueError, match="limit and its comparison together"):
        Working(
            title="t", equation="", numbers=Written("m = 1"), result=1, unit="m", source=STANDARD, limit=2.0
        )


def test_a_pure_number_may_be_given_a_name_and_a_metre_may_not() -> None:
    assert working(links, unit="links", slots=9, each=2).unit == "links"
    with pytest.raises(ValueError, match="wanted the result in m; found ft"):
        working(weighted_m, unit="ft", lengths_m=(1.0,), rises=(0,))


def test_outside_a_range_that_only_warns_the_note_reaches_the_working() -> None:
    record = working(weighted_m, note="Measured.", lengths_m=(1.0,), rises=(0,), slack_m=6.0)
    assert record.note == "Measured. Long slack."
    with pytest.raises(OutOfRange, match="slack_m"):
        weighted_m((1.0,), (0,), float("nan"))


def test_a_working_survives_json_and_the_verdict_is_judged_anew() -> None:
    adapter = pydantic.TypeAdapter(Working)
    record = working(weighted_m, limit=AT_MOST_90, lengths_m=(95.0,), rises=(0.0,))
    again = adapter.validate_json(adapter.dump_json(record))
    assert again == record
    assert again.verdict == "fails"


def test_a_working_is_frozen_and_hashable() -> None:
    record = working(links, slots=9, each=2)
    assert hash(record) == hash(working(links, slots=9, each=2))
    with pytest.raises(dataclasses.FrozenInstanceError):
        record.result = 3.0  # type: ignore[misc]


def test_the_same_use_is_written_once_and_any_other_by_itself() -> None:
    values: dict[str, Any] = {"lengths_m": [1.0, 2.0], "rises": (0.0, 0.1), "slack_m": 0.0}
    first = working(weighted_m, uses=("a",), **values)
    assert working(weighted_m, uses=("a",), **values) is first
    values["lengths_m"].append(3.0)
    values["rises"] = (0.0, 0.1, 0.0)
    longer = working(weighted_m, uses=("a",), **values)
    assert longer.result == pytest.approx(1 + 2.2 + 3)
    others = (
        working(weighted_m, uses=("b",), **values),
        working(weighted_m, uses=("a",), note="Measured.", **values),
        working(weighted_m, uses=("a",), title="Another", **values),
        working(weighted_m, uses=("a",), limit=AT_MOST_90, **values),
        working(weighted_m, uses=("a",), **{**values, "slack_m": -0.0}),
        working(weighted_m, uses=("a",), **{**values, "slack_m": 1e-9}),
    )
    assert len({id(one) for one in (longer, *others)}) == 7
    assert [one.uses for one in others[:2]] == [("b",), ("a",)]
