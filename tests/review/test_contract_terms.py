"""Terms of the contract: wages that are not paid, an order after the price has risen, holidays by place."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from pydantic import ValidationError

from proposal.design.standing_conditions import lies_off_hours
from proposal.document.making.asked_questions import asked
from proposal.document.making.scope_and_exclusions import standing_parts
from proposal.errors import InputError
from proposal.estimate.programme.planned_order import order_day
from proposal.estimate.programme.work_calendar import work_calendars
from proposal.model.labour.labour_choices import OvertimeWork, WorkHours
from proposal.model.loading import load_project
from proposal.model.price.commercial import Payment, Surcharge
from proposal.model.price.contract_terms import Damages, DamagesSum, PriceRise, Service
from proposal.model.price.terms_in_words import service_in_words, terms_in_words
from proposal.model.programme import NoWork, PaymentEvent, Programme
from proposal.model.project import Project
from proposal.model.requirements.answers import AgreedAnswer
from proposal.model.requirements.requirements import Requirement
from proposal.model.weekdays import Weekday
from proposal.pipeline import Computed
from proposal.review.contract_terms import (
    bonds_unpriced,
    ordered_after_a_rise,
    services_unpriced,
    wages_below_the_rule,
    works_during_meetings,
    works_off_hours_unpriced,
    works_on_a_day_nobody_is_there,
)
from proposal.review.finding import HOUSE_RULES
from proposal.review.requirements.agreed_terms import answered_by_agreed_term
from proposal.review.requirements.requirements import requirement_findings
from tests.review.editing import PROJECTS, edited
from tests.whole_projects import whole_computed


@cache
def university() -> Computed:
    return whole_computed(PROJECTS / "university")


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
    assert "2 June 2031; after 1 June 2031 the price rises by 3 %" in found.message
    assert found.remedy.startswith("Plan the order for 1 June 2031 or before, or agree that this price")


def test_a_rise_is_a_term_told_in_money_beside_the_price_that_it_leaves_alone() -> None:
    """Two rises, each of the price as it stands, half up to the cent: 1000.50 × 1.03 = 1030.515."""
    rises = {"first": (date(2031, 6, 1), 0.03), "second": (date(2031, 9, 1), 0.05)}
    brief = university().project.brief
    terms = brief.terms.model_copy(
        update={
            "price_rises": {key: PriceRise(after=day, share=share) for key, (day, share) in rises.items()}
        }
    )
    project = changed("terms", price_rises=terms.price_rises)
    design = replace(university().design, project=project)
    rows = standing_parts(design, Decimal("1000.50"))["contract_terms"]
    assert [(row.words, row.price_then) for row in rows if row.what == "price rise"] == [
        ("3 % after 1 June 2031", Decimal("1030.52")),
        ("5 % after 1 September 2031", Decimal("1050.53")),
    ]
    assert {row.price_then for row in rows if row.what != "price rise"} == {None}


@pytest.mark.parametrize(
    ("locale", "told"),
    [
        ("", ("3 % after 2031-06-01", "18:00 to 02:00 in C101 (shops)")),
        ("en_GB", ("3 % after 1 June 2031", "18:00 to 02:00 in C101 (shops)")),
        ("en_US", ("3 % after June 1, 2031", "6:00 PM to 2:00 AM in C101 (shops)")),
    ],
)
def test_days_and_hours_are_written_as_people_of_the_place_write_them(
    locale: str, told: tuple[str, str]
) -> None:
    hours = WorkHours(start=18 * 60, end=2 * 60, rooms=("C101",), reason="shops")
    project = changed("labour", work_hours={"evening": hours})
    terms = terms_in_words(project.brief, project.labour.trades, locale)
    words = (*terms["price rise"], *terms["work hours"])
    assert tuple(one.replace("\N{NARROW NO-BREAK SPACE}", " ") for one in words) == told


@pytest.mark.parametrize(
    ("says", "verdict"),
    [
        ("18:00 to 22:00", "met"),
        ("18:00–22:00", "met"),
        ("6:00 pm to 10:00 pm", "met"),
        ("18:00 to 21:00", "not met"),
        ("Mon-Fri, 18:00 to 22:00", "not met"),
    ],
)
def test_hours_are_asked_for_as_files_or_as_people_write_them(says: str, verdict: str) -> None:
    """What is not met says what is wanted and what the proposal has, in the same form."""
    project = changed("labour", work_hours={"evening": WorkHours(start=18 * 60, end=22 * 60)})
    brief = project.brief.model_copy(update={"locale": "en_US"})
    asked = Requirement(
        document="Brief",
        clause="6",
        text="Work in the evening.",
        answers=(AgreedAnswer(agreed="work hours", says=says),),
    )
    project = project.model_copy(update={"brief": brief, "requirements": {"R-1": asked}})
    computed = university().again(project, replace(university().design, project=project), ())
    (answered,) = computed.answered
    assert answered.verdict == verdict
    told = [one.message for one in requirement_findings(project, computed.answered)]
    plain = [one.replace("\N{NARROW NO-BREAK SPACE}", " ") for one in told]
    said = f"Wanted {says}; the proposal has 6:00 PM to 10:00 PM."
    assert [one.endswith(said) for one in plain] == ([] if verdict == "met" else [True])


@pytest.mark.parametrize(
    ("says", "verdict"),
    [
        ("Mon-Fri 18:00 to 22:00", "met"),
        ("Monday to Friday, 18:00-22:00", "met"),
        ("every Monday, Tuesday, Wednesday, Thursday and Friday, 6:00 PM to 10:00 PM", "met"),
        ("Mon, Tue, Wed, Thu, Fri, 18:00 to 22:00", "met"),
        ("Mon-Sat, 18:00 to 22:00", "not met"),
        ("18:00 to 22:00", "not met"),
    ],
)
def test_days_of_the_hours_of_work_are_asked_for_in_every_form(says: str, verdict: str) -> None:
    hours = WorkHours.model_validate({"start": "18:00", "end": "22:00", "weekdays": "Mon-Fri"})
    project = changed("labour", work_hours={"evening": hours})
    brief = project.brief.model_copy(update={"locale": "en_US"})
    evidence: Any = SimpleNamespace(project=project.model_copy(update={"brief": brief}))
    assert answered_by_agreed_term(AgreedAnswer(agreed="work hours", says=says), evidence).verdict == verdict


@pytest.mark.parametrize(
    ("agreed", "says", "verdict"),
    [
        ("payment", "20 % upon the order; 60 % upon delivery; 20 % upon acceptance", "met"),
        ("payment", "20 % upon the order, within 30 days; 60 % upon delivery", "met"),
        ("payment", "30 % upon the order; 60 % upon delivery; 20 % upon acceptance", "not met"),
        ("payment", "20 % upon the order, within 14 days; 60 % upon delivery", "not met"),
        ("payment", ";", "not met"),
        ("service", "Visits: 2 times a year", "met"),
        ("service", "visits: 2 times a year; faults: within 4 h", "met"),
        ("service", "Visits: 2 times", "not met"),
        ("service", "Visits: 4 times a year", "not met"),
        ("damages", "0.5 % a week", "not met"),
        ("damages", "0.5 % a week, at most 5 %", "met"),
        ("bond", "Performance bond 10 %", "met"),
        ("bond", "Performance bond 100 %", "not met"),
        ("retention", "5 %", "met"),
        ("retention", "10 %", "not met"),
    ],
)
def test_several_terms_are_asked_for_with_semicolons_and_without_what_is_left_open(
    agreed: Any, says: str, verdict: str
) -> None:
    """Time to pay and months of a service may be left open; the most that is deducted may not."""
    shares: tuple[tuple[str, float, PaymentEvent], ...] = (
        ("With the order", 0.2, "order"),
        ("On delivery", 0.6, "delivery"),
        ("At the end", 0.2, "accepted"),
    )
    brief = university().project.brief
    payments = {name: Payment(name=name, share=share, event=event) for name, share, event in shares}
    services = {
        "visits": Service(name="Visits", times=2, a_year=True, months=36),
        "faults": Service(name="Faults", within=Decimal(4), months=36),
    }
    damages = Damages(share=0.005, each="week", most=0.05)
    brief = brief.model_copy(
        update={
            "price": brief.price.model_copy(update={"payments": payments}),
            "terms": brief.terms.model_copy(update={"services": services, "damages": damages}),
            "programme": brief.programme.model_copy(update={"milestones": {}}),
        }
    )
    evidence: Any = SimpleNamespace(project=university().project.model_copy(update={"brief": brief}))
    assert answered_by_agreed_term(AgreedAnswer(agreed=agreed, says=says), evidence).verdict == verdict


@pytest.mark.parametrize(
    ("hours", "priced", "rooms"),
    [
        ((7 * 60, 18 * 60), {}, ()),
        ((7 * 60, 18 * 60 + 1), {}, ("U101", "U102")),
        ((22 * 60, 6 * 60), {}, ("U101", "U102")),
        ((6 * 60, 14 * 60), {"U101": ("off hours",)}, ("U102",)),
    ],
)
def test_work_outside_normal_time_is_charged_or_warned_of(
    hours: tuple[int, int], priced: dict[str, tuple[str, ...]], rooms: tuple[str, ...]
) -> None:
    start, end = hours
    project = changed(
        "labour",
        work_hours={"set": WorkHours(start=start, end=end)},
        room_conditions=priced,
        overtime_work={},
    )
    found = list(works_off_hours_unpriced(project, university().design))
    assert [one.rule for one in found] == ["off-hours-unpriced"] * bool(rooms)
    for one in found:
        named = one.message.rpartition(" in ")[2]
        assert [tag for tag in project.rooms if tag in named] == list(rooms)


def test_night_work_that_is_priced_for_one_phase_is_warned_of_for_the_others() -> None:
    drilling = OvertimeWork(name="Drilling", phases=("first fix",))
    nights = WorkHours(start=18 * 60, end=6 * 60)
    project = changed("labour", work_hours={"nights": nights}, overtime_work={"drilling": drilling})
    (found,) = works_off_hours_unpriced(project, university().design)
    assert "in U101 and U102 for second fix, network, commissioning and training." in found.message
    drills = nights.model_copy(update={"phases": ("first fix",)})
    project = changed("labour", work_hours={"nights": drills}, overtime_work={"drilling": drilling})
    assert not list(works_off_hours_unpriced(project, university().design))
    words = terms_in_words(project.brief, project.labour.trades)
    assert words["work hours"] == ("18:00 to 06:00, for first fix",)


def test_an_order_is_planned_for_no_day_before_the_client_can_decide() -> None:
    project = changed("programme", order=None, order_not_before=date(2031, 10, 15))
    assert order_day(project, project.brief.programme) == date(2031, 10, 15)
    with pytest.raises(
        ValidationError, match=r"2031-10-15 \(order_not_before\) or later, .*; found 2031-10-01"
    ):
        Programme.model_validate({"order": "2031-10-01", "order_not_before": "2031-10-15"})


def test_a_service_may_be_due_within_working_days() -> None:
    repair = Service.model_validate({"name": "Repair", "within_working_days": "2", "months": "36"})
    assert service_in_words(repair) == "Repair: within 2 working days, for 36 months"
    with pytest.raises(ValidationError, match=r"hours \(within\) or working days"):
        Service.model_validate({"name": "Repair", "within_working_days": "2", "within": "4"})


@pytest.mark.parametrize(
    ("service", "surcharges", "warned"),
    [
        (Service(name="Visits", times=2, a_year=True), {}, True),
        (Service(name="Faults", within=Decimal(4)), {}, True),
        (Service(name="Spare parts", months=60), {"bond": {"share_of_sum": "1 %"}}, True),
        (Service(name="Training", times=2, hours=Decimal(2)), {}, True),
        (Service(name="Training", times=2, hours=Decimal(2), task="train who runs it"), {}, False),
        (Service(name="Visits", times=2, a_year=True), {"visits": {"amount": "900.00 EUR"}}, False),
    ],
)
def test_a_service_in_the_price_wants_a_sum_that_pays_for_it(
    service: Service, surcharges: dict[str, dict[str, str]], warned: bool
) -> None:
    brief = university().project.brief
    added = {key: Surcharge.model_validate({"name": key, **one}) for key, one in surcharges.items()}
    brief = brief.model_copy(
        update={
            "terms": brief.terms.model_copy(update={"services": {"one": service}}),
            "price": brief.price.model_copy(update={"surcharges": added, "allowances": {}}),
        }
    )
    project = university().project.model_copy(update={"brief": brief})
    found = list(services_unpriced(project, university().design))
    assert [(one.rule, one.where, service.name in one.message) for one in found] == (
        [("service-unpriced", "one", True)] if warned else []
    )
    assert "service-unpriced" in HOUSE_RULES


def test_a_task_of_a_service_is_one_of_the_project_and_says_times_and_hours(tmp_path: Path) -> None:
    with pytest.raises(ValidationError, match="times and hours of a task done before acceptance"):
        Service.model_validate({"name": "Training", "months": "24", "task": "train who runs it"})
    wrong = {"project.yaml": [("task: train who runs it", "task: train for a kind of room")]}
    with pytest.raises(InputError) as raised:
        load_project(edited(tmp_path / "p", "municipal", wrong))
    (problem,) = raised.value.problems
    assert "wanted a task of the labour data with hours, done to the project" in str(problem)


def test_hours_on_a_day_on_which_nobody_is_on_site_are_told() -> None:
    def told(*days: Weekday) -> list[str]:
        hours = WorkHours(start=8 * 60, end=16 * 60, weekdays=days)
        project = changed("labour", work_hours={"set": hours})
        found = list(works_on_a_day_nobody_is_there(project, university().design))
        assert {one.rule for one in found} <= {"work-hours-on-a-day-off"}
        return [one.message for one in found]

    assert not told("Monday", "Friday")
    assert told("Friday", "Saturday") == [
        "People may work on Saturday, and the programme has nobody on site then."
    ]


def test_hours_of_a_saturday_lie_outside_normal_time() -> None:
    hours = WorkHours(start=8 * 60, end=16 * 60, weekdays=("Monday",))
    assert not lies_off_hours(university().project, hours)
    saturday = hours.model_copy(update={"weekdays": ("Saturday",)})
    assert lies_off_hours(university().project, saturday)


@pytest.mark.parametrize(
    ("says", "verdict"),
    [
        ("the second Monday of the month", "met"),
        ("every Tuesday, 18:00 to 22:00 in U101", "met"),
        ("every Tuesday", "not met"),
        ("Tue 18:00-22:00 in U101", "met"),
        ("Tue, 18:00 to 22:00 in U101; the second Mon of the month", "met"),
        ("Tue-Wed, 18:00 to 22:00 in U101", "not met"),
    ],
)
def test_days_without_work_are_asked_for_in_words(says: str, verdict: str) -> None:
    no_work = {
        "council": NoWork.model_validate({"days": "Mon", "weeks": "second", "reason": "council"}),
        "board": NoWork.model_validate(
            {"days": "Tue", "start": "18:00", "end": "22:00", "rooms": ["U101"], "reason": "board"}
        ),
    }
    project = changed("programme", no_work=no_work)
    terms = terms_in_words(project.brief, project.labour.trades)
    assert terms["no work"] == (
        "the second Monday of the month (council)",
        "every Tuesday, 18:00 to 22:00 in U101 (board)",
    )
    asked = AgreedAnswer.model_validate({"agreed": "no work", "says": says})
    evidence = university().again(project, replace(university().design, project=project), ())
    assert answered_by_agreed_term(asked, evidence).verdict == verdict


def test_services_are_told_and_asked_for_in_words() -> None:
    services = {
        "visits": Service.model_validate({"name": "Visits", "times": 2, "a_year": True, "months": 24}),
        "faults": Service.model_validate({"name": "Faults", "within": 4}),
        "training": Service.model_validate({"name": "Training", "times": 1, "hours": "1.5"}),
    }
    project = changed("terms", services=services)
    assert terms_in_words(project.brief, project.labour.trades)["service"] == (
        "Visits: 2 times a year, for 24 months",
        "Faults: within 4 h",
        "Training: once, 1.5 h each",
    )
    for wrong in ({}, {"a_year": True, "within": 4}, {"hours": 2}):
        with pytest.raises(ValidationError):
            Service.model_validate({"name": "Visits", **wrong})


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


@pytest.mark.parametrize(
    ("hours", "meets"),
    [
        ((18 * 60, 8 * 60), False),
        ((18 * 60, 8 * 60 + 1), True),
        ((12 * 60, 13 * 60), False),
        ((17 * 60 + 59, 20 * 60), True),
    ],
)
def test_work_in_hours_of_meetings_is_told(hours: tuple[int, int], meets: bool) -> None:
    """Both rooms of the university meet from 8 to 12 and from 13 to 18."""
    start, end = hours
    project = changed("labour", work_hours={"set": WorkHours(start=start, end=end, rooms=("U102",))})
    found = list(works_during_meetings(project, university().design))
    assert [(one.rule, one.where) for one in found] == [("work-during-meetings", "U102")] * meets


def test_work_on_saturdays_alone_needs_a_word() -> None:
    """12 July 2031 is a Saturday."""
    programme = university().project.brief.programme.model_copy(update={"site_days": ("Saturday",)})
    calendars = work_calendars(programme)
    on = [date(2031, 7, day).toordinal() for day in range(7, 14)]
    assert [calendars["site"].works(day) for day in on] == [False] * 5 + [True, False]
    assert [calendars["working"].works(day) for day in on] == [True] * 5 + [False] * 2


OPEN = {
    "labour.wages.installer.least": (
        "least: 27.50 EUR, by: collective agreement of the University}\n    cable",
        "least: unknown, by: collective agreement of the University}\n    cable",
    ),
    "terms.bonds.performance.share": ("bond, share: 10 %", "bond, share: unknown"),
    "terms.damages.share": ("damages: {share: 0.5 %", "damages: {share: unknown"),
    "price.retention_days": ("retention_days: 365", "retention_days: unknown"),
}


def test_damages_are_a_fixed_sum_where_the_client_says_so() -> None:
    """Two hundred and fifty a day, with a limit and without; a requirement may ask for it."""
    brief = university().project.brief
    for written, words in (
        ({"amount": "250.00 USD"}, "250.00 USD a day"),
        ({"amount": "900 EUR", "each": "week", "most": "9000 EUR"}, "900 EUR a week, at most 9000 EUR"),
    ):
        terms = brief.terms.model_copy(
            update={"damages": None, "damages_sum": DamagesSum.model_validate(written)}
        )
        project = university().project.model_copy(update={"brief": brief.model_copy(update={"terms": terms})})
        assert terms_in_words(project.brief, project.labour.trades)["damages"] == (words,)
        answer = AgreedAnswer.model_validate({"agreed": "damages", "says": words})
        evidence: Any = SimpleNamespace(project=project)
        assert answered_by_agreed_term(answer, evidence).verdict == "met"


@pytest.mark.parametrize(
    ("written", "wanted"),
    [
        ({"amount": "0 EUR"}, "an amount above 0"),
        ({"amount": "250 EUR", "most": "200 EUR"}, "a most of at least the amount, such as `most: 250 EUR`"),
        (
            {"amount": "250 EUR", "most": "2000 USD"},
            "a most in the currency of the amount, such as `most: 9000 EUR`",
        ),
    ],
)
def test_damages_that_cannot_be_are_refused(written: dict[str, str], wanted: str) -> None:
    with pytest.raises(ValidationError, match=wanted):
        DamagesSum.model_validate(written)
    with pytest.raises(ValidationError, match="a fixed sum under damages_sum"):
        Damages.model_validate(written)


def test_what_the_client_leaves_open_is_asked_and_told_as_not_known(tmp_path: Path) -> None:
    project = load_project(edited(tmp_path / "p", "university", {"project.yaml": list(OPEN.values())}))
    found = {".".join(map(str, one.path[1:])): one for one in project.questions}
    assert {asked(found[path], project.standing.questions)[1] for path in OPEN} == {"you"}
    words = terms_in_words(project.brief, project.labour.trades)
    assert words["bond"] == ("not known yet (Performance bond)",)
    assert words["retention"] == ("5 %, for how long is not known yet",)
    assert words["damages"][0].startswith("not known yet a week, at most")
    evidence: Any = SimpleNamespace(project=project)
    for agreed, says, verdict in (
        ("bond", "10 %", "open"),
        ("retention", "5 % for 365 days", "open"),
        ("retention", "5 %", "met"),
        ("damages", "0.5 % a week", "open"),
    ):
        answer = AgreedAnswer.model_validate({"agreed": agreed, "says": says})
        assert answered_by_agreed_term(answer, evidence).verdict == verdict


def test_a_bond_that_no_surcharge_pays_for_is_told() -> None:
    bare = changed("price", surcharges={})
    assert [(one.rule, one.where) for one in bonds_unpriced(bare, university().design)] == [
        ("bond-unpriced", "performance")
    ]
    assert not list(bonds_unpriced(university().project, university().design))
