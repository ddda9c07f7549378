"""The record of one calculation."""

import dataclasses
from collections.abc import Sequence

import pydantic
import pytest

from proposal.standards.substitution import number_text, put_in
from proposal.standards.working import (
    COMMON_PRACTICE,
    EDITABLE_DEFAULT,
    Limit,
    OutOfRange,
    Range,
    Source,
    Value,
    Working,
    formula,
    formula_of,
    source_of_word,
    working,
)

STANDARD = Source("ANSI/TIA-568.2", "D", "6.4")
AT_MOST_90 = Limit(90.0, "≤", STANDARD)


@formula(
    title="Sum of weighted lengths",
    equation="S = sum(L_i·(1 + k_i)) + a",
    source=STANDARD,
    result=("S", "m"),
    where={
        "lengths_m": ("L_i", "length of a stretch", "m"),
        "rises": ("k_i", "rise there", "-"),
        "slack_m": ("a", "slack", "m"),
    },
    valid={"lengths_m": Range(0), "rises": Range(-1, 1), "slack_m": Range(0, 5, warning="Long slack.")},
)
def weighted_m(lengths_m: Sequence[float], rises: Sequence[float], slack_m: float = 2.0) -> float:
    return sum(length * (1 + rise) for length, rise in zip(lengths_m, rises, strict=True)) + slack_m


@formula(
    title="Links",
    equation="n = floor(c/k)",
    source=COMMON_PRACTICE,
    result=("n", "-"),
    where={"slots": ("c", "slots", "-"), "each": ("k", "slots a link", "-")},
    valid={"slots": Range(0, whole=True), "each": Range(1, whole=True)},
)
def links(slots: int, each: int) -> int:
    return slots // each


@pytest.mark.parametrize(
    ("source", "printed"),
    [
        (STANDARD, "ANSI/TIA-568.2-D, 6.4"),
        (Source("TIA TSB-184-A", memory=True), "TIA TSB-184-A (memory)"),
        (Source("Sound Systems", "4th edition", "p. 12"), "Sound Systems, 4th edition, p. 12"),
        (COMMON_PRACTICE, "common practice"),
        (EDITABLE_DEFAULT, "editable default"),
        (Source("of our own", kind="common practice"), "common practice: of our own"),
    ],
)
def test_a_source_prints_its_edition_clause_and_memory(source: Source, printed: str) -> None:
    assert str(source) == printed


@pytest.mark.parametrize(
    ("word", "kind", "printed"),
    [
        ("common practice", "common practice", "common practice"),
        ("editable default (invented)", "editable default", "editable default: invented"),
        ("common practice (memory)", "common practice", "common practice (memory)"),
        ("ITU-R P.1238 (memory)", "published", "ITU-R P.1238 (memory)"),
        ("", "editable default", "editable default"),
    ],
)
def test_a_source_word_of_a_data_file_is_a_source(word: str, kind: str, printed: str) -> None:
    found = source_of_word(word)
    assert (found.kind, str(found)) == (kind, printed)


def test_a_published_source_must_be_named() -> None:
    with pytest.raises(ValueError, match="title of the publication"):
        Source()


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (90.0, "90"),
        (-83, "−83"),
        (1897344000.0, "1897344000"),
        (8.421322742, "8.421"),
        (0.0842132, "0.08421"),
        (12345.67, "12350"),
        (99999.6, "100000"),
        (0.1 + 0.2, "0.3"),
        (0.00012345, "0.0001234"),
        (1.7241e-8, "1.724·10^−8"),
        (1234567890.5, "1.235·10^9"),
        (0.0, "0"),
        (-0.0, "0"),
    ],
)
def test_numbers_are_written_with_four_significant_digits_and_whole_ones_in_full(
    number: float, text: str
) -> None:
    assert number_text(number) == text


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


def test_a_long_sum_shows_its_first_terms_and_their_number() -> None:
    record = working(weighted_m, lengths_m=range(1, 9), rises=[0.0] * 8)
    assert "6·(1 + 0) + … (8 terms)" in record.substituted
    assert "7·" not in record.substituted


def test_a_sum_whose_terms_all_fit_says_no_number_of_terms() -> None:
    record = working(weighted_m, lengths_m=range(1, 7), rises=[0.0] * 6)
    shown = " + ".join(f"{length}·(1 + 0)" for length in (1, 2, 3, 4, 5, 6))
    assert record.substituted == f"S = ({shown}) + 2"


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
        Working(title="t", equation="", substituted="", result=1, unit="m", source=STANDARD, limit=2.0)


def test_a_pure_number_may_be_given_a_name_and_a_metre_may_not() -> None:
    assert working(links, unit="links", slots=9, each=2).unit == "links"
    with pytest.raises(ValueError, match="wanted the result in m; found ft"):
        working(weighted_m, unit="ft", lengths_m=(1.0,), rises=(0,))


def test_outside_the_range_is_an_error_that_names_the_parameter() -> None:
    with pytest.raises(OutOfRange, match=r"links: each: wanted a whole number and at least 1; found 0"):
        working(links, slots=9, each=0)
    with pytest.raises(OutOfRange, match=r"slots: wanted a whole number and at least 0; found 2\.5"):
        links(2.5, 1)  # type: ignore[arg-type]


def test_outside_a_range_that_only_warns_the_note_reaches_the_working() -> None:
    record = working(weighted_m, note="Measured.", lengths_m=(1.0,), rises=(0,), slack_m=6.0)
    assert record.note == "Measured. Long slack."
    with pytest.raises(OutOfRange, match="slack_m"):
        weighted_m((1.0,), (0,), float("nan"))


def test_a_function_without_a_formula_is_refused() -> None:
    with pytest.raises(LookupError, match="has no formula"):
        working(max, a=1.0)


def test_a_description_that_does_not_fit_its_function_is_refused_at_import() -> None:
    described = formula(
        title="t",
        equation="y = x",
        source=STANDARD,
        result=("y", "m"),
        where={"other_m": ("x", "length", "m")},
        valid={"other_m": Range()},
    )
    with pytest.raises(TypeError, match="must name exactly the parameters"):
        described(lambda length_m: 1.0)


@pytest.mark.parametrize(
    ("number", "written"), [(1, "2·1"), (3, "2·3"), (4, "7 − 4"), (10, "10^2"), (11, "0")]
)
def test_of_a_piecewise_equation_the_case_that_applies_is_shown(number: float, written: str) -> None:
    assert put_in("if(x ≤ 3, 2·x, x < 10, 7 − x, x = 10, x^2, 0)", {"x": number}, {}) == written


def test_a_chosen_case_keeps_its_place_in_the_expression() -> None:
    assert put_in("4·if(a > b, a + 1, max(a, b))", {"a": 2, "b": 1}, {}) == "4·(2 + 1)"
    assert put_in("4·if(a > b, a + 1, max(a, b))", {"a": 1, "b": 2}, {}) == "4·max(1, 2)"


def test_a_condition_that_cannot_be_judged_leaves_the_equation_whole() -> None:
    assert put_in("if(a + b > 3, a, b)", {"a": 1, "b": 2}, {}) == "if(1 + 2 > 3, 1, 2)"


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


def test_what_stands_beside_a_function_can_be_read() -> None:
    assert formula_of(links).right_side == "floor(c/k)"
