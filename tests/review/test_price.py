"""Findings about the price for the house alone: what may not be spread, printed, or found by one factor."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.model.loading import client_knowledge
from proposal.model.price.commercial import Price
from proposal.pipeline import Computed
from proposal.review.finding import Finding
from proposal.review.price import shared_factor, whole_factor
from tests.estimate.labour.test_labour import EXAMPLE, MINIMAL, computed

D = Decimal
CENT = D("0.01")
FACTORS = client_knowledge().factors
CONTINGENCY = {"contingency": {"name": "Contingency", "share": "5 %", "spread": "yes"}}


def priced(book: Mapping[str, Any], folder: str = MINIMAL) -> Computed:
    """Return a project under another price book."""
    before = computed(folder)
    brief = before.project.brief.model_copy(update={"price": Price.model_validate(book)})
    return Computed(project=before.project.model_copy(update={"brief": brief}), design=before.design)


def found(one: Computed, rule: str) -> list[Finding]:
    return [each for each in one.house_findings(()) if each.rule == rule]


def test_what_no_line_may_take_is_an_error_and_in_no_price() -> None:
    one = priced({"surcharges": CONTINGENCY})
    assert found(one, "spread-without-lump") == []
    stated = tuple(replace(line, rule="stated") for line in one.price.lines)
    one = replace(one)  # nothing is kept of what was found before
    vars(one)["price"] = replace(priced({"surcharges": CONTINGENCY}).price, lines=stated)
    (finding,) = found(one, "spread-without-lump")
    assert (finding.severity, finding.where) == ("error", "contingency")
    assert finding in one.errors


def test_a_rate_that_is_printed_and_used_is_an_error() -> None:
    """An installer's hour sells for 58.00 in the shared data: whoever reads 58.00 divides lumps by it."""
    hours = {"installer": "58.00 EUR", "drafter": "70.00 EUR"}
    (finding,) = found(priced({"changes": {"hours": hours}}), "printed-rate")
    assert (finding.severity, finding.where) == ("error", "installer")
    assert not found(priced({"changes": {"hours": {"installer": "65.00 EUR"}}}), "printed-rate")


def test_rates_that_are_those_inside_times_one_factor_are_found() -> None:
    """Every rate of the shared data times 1.03, to the cent, as it was printed before there was this rule."""
    inside = {"installer": "58.00", "cable installer": "54.00", "drafter": "62.00", "trainer": "74.00"}
    hours = {trade: f"{D(rate) * D('1.03'):.2f} EUR" for trade, rate in inside.items()}
    (finding,) = found(priced({"changes": {"hours": hours}}), "one-factor")
    assert finding.where == "rates for changes"
    assert "1.0300" in finding.message
    uneven = {**hours, "trainer": "80.00 EUR"}
    assert found(priced({"changes": {"hours": uneven}}), "one-factor") == []


@pytest.mark.independent
def test_a_factor_that_makes_all_prices_whole_is_found() -> None:
    """By hand: ten whole rates times 1.03 to the cent; the same in whole fives tell nothing of 1.03."""
    rates = [58, 54, 62, 74, 85, 86, 82, 88, 60, 71]
    printed = [(D(rate) * D("1.03")).quantize(CENT) for rate in rates]
    assert whole_factor(printed, CENT, FACTORS) == pytest.approx(1.03)
    one_off = [*printed[:-1], D("77.77")]
    assert whole_factor(one_off, CENT, FACTORS) == pytest.approx(1.03)  # nine of ten are 90 %
    fives = [D(5 * round(price / 5)) for price in printed]
    assert whole_factor(fives, CENT, FACTORS) is None
    assert whole_factor(printed[:3], CENT, FACTORS) is None


@pytest.mark.independent
def test_one_factor_on_costs_is_found_within_half_a_step() -> None:
    costs = [D("450"), D("430"), D("1050"), D("620")]
    by_margin = [(cost / D("0.72")).quantize(CENT) for cost in costs]
    factor = shared_factor(list(zip(by_margin, costs, strict=True)), CENT)
    assert factor == pytest.approx(1 / 0.72, abs=1e-4)
    own = [D("595"), D("620"), D("1395"), D("795")]
    assert shared_factor(list(zip(own, costs, strict=True)), CENT) is None


def test_findings_about_the_price_are_the_houses_alone() -> None:
    one = priced({"changes": {"hours": {"installer": "58.00 EUR"}}})
    document = document_of(one)
    assert {row.rule for row in document.house_findings} >= {"printed-rate"}
    assert not {row.rule for row in document.findings} & {row.rule for row in document.house_findings}
    for reader in ("client", "reviewer", "installer"):
        seen = edition_of(document, reader).document
        assert seen.house_findings == seen.disclosure == ()
        assert seen.finding_count == (None if reader == "installer" else document.finding_count)


def test_the_example_states_what_it_prints() -> None:
    assert {each.rule for each in computed(EXAMPLE).house_findings(())} == set()
