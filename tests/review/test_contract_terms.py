"""Terms of the contract: wages that are not paid, an order after the price has risen, holidays by place."""

from datetime import date
from functools import cache
from typing import Any

from proposal.estimate.programme.work_calendar import work_calendars
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.pipeline import Computed, compute
from proposal.review.contract_terms import ordered_after_a_rise, wages_below_the_rule
from tests.review.editing import PROJECTS


@cache
def university() -> Computed:
    return compute(load_project(PROJECTS / "university"))


def changed(part: str, **update: Any) -> Project:
    project = university().project
    made = getattr(project.brief, part).model_copy(update=update)
    return project.model_copy(update={"brief": project.brief.model_copy(update={part: made})})


def test_a_trade_that_is_paid_less_than_its_agreement_asks_for_is_an_error() -> None:
    """The shared library pays an installer 39 euro an hour."""
    design, wages = university().design, university().project.brief.labour.wages
    assert not list(wages_below_the_rule(university().project, design))
    least = wages["installer"].least
    dear = wages["installer"].model_copy(update={"least": type(least)(least.amount + 12, least.currency)})
    (found,) = wages_below_the_rule(changed("labour", wages={"installer": dear}), design)
    assert (found.rule, found.severity, found.where) == ("wage-below-rule", "error", "installer")
    assert found.place.file == "project.yaml"
    assert "39" not in found.message


def test_an_order_after_the_price_has_risen_is_a_warning() -> None:
    design = university().design
    assert not list(ordered_after_a_rise(university().project, design))
    assert not list(ordered_after_a_rise(changed("programme", order=date(2031, 6, 1)), design))
    (found,) = ordered_after_a_rise(changed("programme", order=date(2031, 6, 2)), design)
    assert (found.rule, found.severity, found.where) == ("order-after-price-rise", "warning", "late_order")
    assert "3 %" in found.message


def test_a_holiday_of_one_place_is_worked_in_the_other() -> None:
    """15 August 2031 is a Friday."""
    programme = university().project.brief.programme
    day = date(2031, 8, 15)
    for where, site, office in (
        ("everywhere", False, False),
        ("on site", False, True),
        ("in our offices", True, False),
    ):
        one = programme.holidays["founder"].model_copy(update={"where": where})
        calendars = work_calendars(programme.model_copy(update={"holidays": {"founder": one}}))
        assert calendars["site"].works(day.toordinal()) is site
        assert calendars["working"].works(day.toordinal()) is office
