"""Which change is recommended where radio has no room for all, and what is said of what each one takes."""

from dataclasses import replace
from pathlib import Path

import pytest

from proposal.design.radio.radio_levers import Lever
from proposal.model.loading import load_project
from proposal.review.lever_choice import (
    agree_words,
    costs_words,
    left_words,
    more_words,
    people_words,
    recommended,
)

MUNICIPAL = Path(__file__).parents[1] / "projects" / "municipal"
WIRED = Lever(name="wired microphones", rooms=("C101",), amounts=(2,), microphones=("C101-M9", "C101-M10"))
FEWER = Lever(name="fewer microphones", rooms=("C101",), amounts=(1,), microphones=("C101-M9",))


def test_of_changes_that_help_as_much_the_one_that_costs_and_changes_least_is_recommended() -> None:
    power = Lever(name="lower power", rooms=("C101",), amounts=(1,), powers_dbm=(14.0,))
    best, why = recommended((WIRED, FEWER, power)) or (None, "")
    assert best is power
    assert "costs nothing" in why
    assert recommended(()) is None


def test_other_equipment_is_recommended_where_the_library_has_it() -> None:
    other = Lever(name="fewer slot pairs", rooms=("C101",), amount=2, models=("K1 of Maker",))
    for models, best in ((("K1 of Maker",), "fewer slot pairs"), ((), "wired microphones")):
        found, _ = recommended((WIRED, replace(other, models=models))) or (None, "")
        assert found is not None
        assert found.name == best


def test_one_that_leaves_fewer_without_a_place_comes_before_one_that_costs_less() -> None:
    power = Lever(name="lower power", rooms=("C101",), amounts=(1,), powers_dbm=(14.0,), missing=3)
    best, why = recommended((power, FEWER, WIRED)) or (None, "")
    assert best is WIRED
    assert "fewer microphones cost less: settle that first" in why
    best, why = recommended((power,)) or (None, "")
    assert best is power
    assert "3 microphones still find no place" in why


@pytest.mark.parametrize("lever", [WIRED, FEWER])
def test_who_agrees_hears_of_surfaces_that_may_not_be_touched(lever: Lever) -> None:
    # The ceiling of the chamber is protected: cables need another way, microphones left out do not.
    said = agree_words(lever, load_project(MUNICIPAL))
    assert ("Nothing may be fixed to the ceiling of C101." in said) == (lever is WIRED)


def test_counts_are_said_as_they_are() -> None:
    assert costs_words(WIRED).startswith("2 microphones with a cable")
    assert people_words(WIRED).startswith("2 seats have a microphone on a cable")
    assert people_words(FEWER).startswith("1 microphone fewer can be on at once")


def test_more_than_find_no_place_are_explained_and_no_more_need_no_word() -> None:
    assert more_words(WIRED, 2, 3) == more_words(WIRED, 0, 3) == ""
    assert more_words(WIRED, 1, 3).startswith("That is 2, while 1 finds no place: ")
    assert "in every state of the building" in more_words(WIRED, 1, 3)
    assert "state" not in more_words(WIRED, 1, 1)


def test_what_is_left_is_told_beside_what_requirements_count() -> None:
    # The chamber has goosenecks M1 to M6 at the seats of the dais, and handhelds M7 and M8.
    project = load_project(MUNICIPAL)
    forms = {"C101-M7": "handheld", "C101-M8": "handheld"}
    without = replace(FEWER, amounts=(2,), microphones=("C101-M6", "C101-M8"))
    assert left_words(without, project, forms) == (
        "R-01 asks for at least 6 seats with a microphone in C101; 5 are left. "
        "R-01 asks for at least 2 handheld microphones in C101; 1 is left."
    )
    assert left_words(WIRED, project, forms) == ""
