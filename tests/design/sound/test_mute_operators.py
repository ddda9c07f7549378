"""Who sets the mute of a group stands where people look for it, and on the sheet of the mixer."""

from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from tests.review.editing import PROJECTS, edited
from tests.whole_projects import whole_computed


def test_the_mute_of_a_group_is_set_by_whom_the_room_says() -> None:
    made = whole_computed(PROJECTS / "municipal")
    (kind,) = [one for one in made.design.kinds if "C101" in one.rooms]
    triggers = [state.trigger for state in made.design.mutes[kind.key]]
    assert "Mute of group dais set by the presiding member" in triggers
    assert "Mute of group public released by the clerk" in triggers
    assert "Mute of all set by the clerk" in triggers
    told = {one.name: one.value for one in made.design.settings if one.device == "C101-MX1"}
    assert told["Mute group dais"] == "set and released by the presiding member"


def test_a_group_that_no_microphone_is_of_is_told(tmp_path: Path) -> None:
    folder = edited(
        tmp_path / "p",
        "municipal",
        {"room_types/chamber.yaml": [("{dais: the presiding", "{dias: the presiding")]},
    )
    with pytest.raises(InputError) as raised:
        load_project(folder)
    (problem,) = raised.value.problems
    assert "wanted a mute group of the room, or all: one of dais, public, all; found dias" in str(problem)
