"""A tenant's two rooms without a rack: every sentence of the brief that asks for something is answered."""

from functools import cache

import pytest

from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from tests.review.editing import PROJECTS, Edit, edited
from tests.review.requirements.briefs import answered_point_by_point, brief_of, points_of
from tests.whole_projects import whole_computed

FOLDER = PROJECTS / "two_rooms"
STATED = {"R-12": "stated", "R-13": "by others"}

BOARD, CLIENT = "room_types/board.yaml", "room_types/client.yaml"
WORSE: dict[str, Edit] = {
    # A rack after all, with a cable to it.
    "building.yaml": [
        (
            "radio:",
            "equipment_rooms:\n  ER1: {name: Closet, storey: L3, at: [60 m, 3 m], racks: {RK1: {}}}\nradio:",
        )
    ],
    BOARD: [
        ("network: alone", "network: rack"),
        # 1: nothing within reach of the chair.  2: one spare fewer.
        (
            "M1: {form: boundary, pattern: cardioid, at: [2.5 m, 2.3 m]",
            "M1: {form: boundary, pattern: cardioid, at: [5 m, 3 m]",
        ),
        ("spare_microphones: {boundary: 2}", "spare_microphones: {boundary: 1}"),
        # 4: the day has no end.  5: no recorder, and nobody away is heard.
        ('end: "12:30"', 'end: "13:30"'),
        ('start: "09:00"', 'start: "00:10"'),
        ('end: "17:00"', 'end: "24:00"'),
        (
            "  recorder: {name: recorder on the sideboard, signal: analogue, "
            'operated_by: "whoever chairs, at the recorder"}\n',
            "",
        ),
        ("returns:\n  far-end: {name: conferencing unit, signal: analogue}\n", ""),
    ],
    # 2 of the brief: one microphone fewer.
    CLIENT: [("  M4: {form: boundary, pattern: cardioid, at: [3 m, 2.4 m], return_audio: yes}\n", "")],
    "project.yaml": [
        ("terms: {warranty_months: 24}", "terms: {warranty_months: 12}"),
        ("order: 2031-06-02", "order: 2031-09-01"),
        (
            "system: Corvenhythe}\n",
            "system: Corvenhythe}\n  radio: {fade_margin: 40 dB, body_loss: 30 dB}\n"
            "price: {allowances: {more: {name: More, price: 60000.00 EUR}}}\n",
        ),
    ],
}


@cache
def computed() -> Computed:
    return whole_computed(FOLDER)


def test_the_brief_of_one_page_is_answered_point_by_point() -> None:
    brief = brief_of(FOLDER)
    answered_point_by_point(brief, computed().project.requirements.values())
    assert len(points_of(brief)) == 10


def test_all_that_figures_answer_is_met_and_that_is_two_thirds_at_least() -> None:
    verdicts = {one.tag: one.verdict for one in computed().answered}
    assert {tag: one for tag, one in verdicts.items() if one != "met"} == STATED
    assert 3 * (len(verdicts) - len(STATED)) >= 2 * len(verdicts)


def test_nothing_stands_in_a_rack_and_nothing_of_the_landlords_is_joined() -> None:
    design = computed().design
    assert not design.racks
    assert not design.project.building.equipment_rooms
    assert {room.equipment_room for room in design.rooms} == {""}


def test_nobody_finds_anything_but_that_no_holidays_were_told() -> None:
    """Conferencing units and recorder stand on furniture of the tenant: each channel has a lead to them."""
    assert sum(cable.to_others for cable in computed().design.cables) == 5
    assert {one.rule for one in computed().findings} == {"not-stated"}
    unstated = [one.message for one in computed().findings if one.rule == "not-stated"]
    assert len(unstated) == 1
    assert "holiday" in unstated[0]


@pytest.fixture(scope="module")
def worse(tmp_path_factory: pytest.TempPathFactory) -> Computed:
    return compute(load_project(edited(tmp_path_factory.mktemp("worse") / "p", "two_rooms", WORSE)))


@pytest.mark.parametrize("number", range(12))
def test_a_verdict_turns_when_the_design_is_broken(number: int, worse: Computed) -> None:
    assert {one.tag: one.verdict for one in worse.answered}[f"R-{number:02}"] in ("not met", "open")


def test_every_part_of_what_stands_above_the_first_point_turns_but_the_number_of_rooms(
    worse: Computed,
) -> None:
    (one,) = [one for one in worse.answered if one.tag == "R-00"]
    assert [answer.verdict for answer in one.answers] == ["not met", "not met", "met"]


def test_years_of_batteries_are_whole_years_of_the_one_that_is_worn_first() -> None:
    """By hand: 7.5 h a day use 0.4651 of a charge; on 250 days that is 116.3 of 500 charges, 4.3 years."""
    (found,) = (one for one in computed().answered if one.tag == "R-05")
    assert [one.value for one in found.answers if one.about == "years a battery lasts"] == [4.0]
