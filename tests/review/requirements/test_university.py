"""The university's hall: every sentence of its brief is answered, and a broken design turns each."""

import pytest

from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.pipeline import Computed, compute
from tests.review.editing import PROJECTS, edited
from tests.review.requirements.briefs import answered_point_by_point, brief_of
from tests.whole_projects import whole_computed

FOLDER = PROJECTS / "university"
STATED = {"R-23": "stated", "R-24": "by others"}
# A state joins the hall with a room behind a wall that stays closed; radio is planned as if it stood closed.
PARTLY = {"R-02": "met in part"}
HALL, SEMINAR, PROJECT = "room_types/hall.yaml", "room_types/seminar.yaml", "project.yaml"
EXEMPT = "tax_exemption: {reason: Equipment used in teaching, certificate: OU-2031-77}"
WAGE = "{least: 27.50 EUR, by: collective agreement of the University}\n    cable"
WORSE = {
    # Fewer seats and microphones, a longer day, nothing for those who hear badly.
    HALL: [
        ("numbers: 1-14", "numbers: 1-13"),
        ("  M4: {form: handheld, pattern: cardioid, at: [16 m, 12 m], mute_group: audience}\n", ""),
        (
            "  W6: {form: boundary, pattern: cardioid, at: [14.25 m, 3 m], mute_group: panel, level: stage}"
            "\n",
            "",
        ),
        ("assistive_listening: yes", "assistive_listening: no"),
        ("spare_microphones: {bodypack: 1, handheld: 1}", "spare_microphones: {}"),
        ('start: "08:00", end: "12:00"', 'start: "00:30", end: "12:30"'),
        ('end: "18:00"', 'end: "24:00"'),
    ],
    SEMINAR: [("numbers: 1-6", "numbers: 1-5"), ("  M: {numbers: 1-3", "  M: {numbers: 1-2")],
    # Nothing to join, and a rack far away.
    "building.yaml": [
        ('ports: {I: {signal: analogue input, count: 2, connector: "3-pin circular, female"}}', "ports: {}"),
        ("ports: {U: {signal: USB, count: 2, connector: USB type A}}", "ports: {}"),
        ("at: [22 m, 12 m]", "at: [80 m, 60 m]"),
    ],
    PROJECT: [
        ("{data_cable: CC-6F-L}", "{data_cable: CC-5F-L}"),
        ("validity_days: 120", "validity_days: 90"),
        ("warranty_months: 36", "warranty_months: 24"),
        ("damages: {share: 0.5 %", "damages: {share: 0.2 %"),
        ("{name: Performance bond, share: 10 %}", "{name: Performance bond, share: 5 %}"),
        ("{after: 2031-06-01, share: 3 %}", "{after: 2031-06-01, share: 4 %}"),
        ("rooms: [U101]", "rooms: [U102]"),
        (WAGE, WAGE.replace("27.50", "42")),
        ("event: delivery, days: 45", "event: delivery, days: 30"),
        ("retention_days: 365", "retention_days: 60"),
        (EXEMPT, "taxes: {here: {name: VAT, goods: 20 %, services: 20 %}}\n  place: here"),
        ("surcharges:", "allowances: {all: {name: All else, price: 200000.00 EUR}}\n  surcharges:"),
        ("accepted: Practical completion", "accepted: Handover"),
        ("first: 2031-08-15", "first: 2031-08-14"),
        ("date: 2031-07-07", "date: 2031-08-13"),
    ],
}


def computed() -> Computed:
    return whole_computed(FOLDER)


@pytest.fixture(scope="module")
def worse(tmp_path_factory: pytest.TempPathFactory) -> Computed:
    folder = edited(tmp_path_factory.mktemp("worse") / "p", "university", WORSE)
    return compute(load_project(folder))


def verdicts(made: Computed) -> dict[str, str]:
    return {one.tag: one.verdict for one in made.answered}


def test_the_brief_of_one_page_is_answered_point_by_point() -> None:
    answered_point_by_point(brief_of(FOLDER), computed().project.requirements.values())


def test_all_that_figures_answer_is_met_and_that_is_two_thirds_at_least() -> None:
    found = verdicts(computed())
    assert {tag: one for tag, one in found.items() if one != "met"} == STATED | PARTLY
    assert 3 * (len(found) - len(STATED)) >= 2 * len(found)


@pytest.mark.parametrize("number", range(23))
def test_a_verdict_turns_when_the_design_is_broken(number: int, worse: Computed) -> None:
    assert verdicts(worse)[f"R-{number:02}"] in ("not met", "open")


def test_what_is_charged_in_the_evening_is_paid_by_the_hall() -> None:
    """Half as much again for every hour of first fix in the hall, and for no other."""
    made = computed()
    premium = [line for line in made.price.lines if line.kind == "overtime"]
    assert {(line.room, line.phase) for line in premium} == {("U101", "first fix")}
    worked = sum(
        line.quantity
        for line in made.price.lines
        if (line.room, line.phase, line.kind) == ("U101", "first fix", "hours")
    )
    assert sum(line.quantity for line in premium) == worked


def test_no_tax_is_charged_for_the_reason_that_is_told() -> None:
    project: Project = computed().project
    assert computed().price.whole.tax == 0
    assert not [one for one in project.assumptions if one.path[-1] == "taxes"]


def test_nobody_finds_anything_that_is_not_accepted() -> None:
    # Leads for USB are nobody's to count.
    assert {one.rule for one in computed().findings if not one.accepted} == {"lead-not-counted"}
