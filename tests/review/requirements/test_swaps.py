"""A requirement that microphones last the day: how often one has to change places with a spare."""

import re
from pathlib import Path

import pytest

from proposal.model.loading import load_project
from proposal.model.requirements.answers import CountAnswer
from proposal.pipeline import compute
from proposal.review.charging import reserve_not_kept
from proposal.review.requirements.requirements import answered
from tests.review.editing import Edit, edited

BUDGET = """\
days:
  budget:
    morning: {start: 08:30, end: 13:00}
    late: {start: 14:00, end: 23:30}
"""


@pytest.mark.parametrize("rooms", [1, 2])
def test_a_day_that_needs_swaps_turns_the_answer(rooms: int, tmp_path: Path) -> None:
    """The finding about the longest day tells the swaps of one room; the usual day needs none."""
    computed = compute(load_project(edited(tmp_path / "as it is", "states", {})))
    asked = CountAnswer(count="swaps of microphones a day", room="B001" if rooms == 1 else "", at_most=0)
    found = answered(asked, computed)
    (told,) = reserve_not_kept(computed.project, computed.design)
    (swaps,) = re.findall(r"with (\d+) swaps a day", told.message)
    assert (found.verdict, found.value) == ("not met", int(swaps) * rooms)
    usual: dict[str, Edit] = {
        "room_types/meeting.yaml": [(BUDGET, "")],
        "building.yaml": [(", day: budget", "")],
    }
    found = answered(asked, compute(load_project(edited(tmp_path / "usual", "states", usual))))
    assert (found.verdict, found.value) == ("met", 0)


def test_rooms_without_sessions_have_no_such_count(tmp_path: Path) -> None:
    sessions = "sessions:\n  morning: {start: 09:00, end: 12:00}\n  afternoon: {start: 13:00, end: 16:00}\n"
    edits: dict[str, Edit] = {
        "room_types/meeting.yaml": [(sessions, ""), (BUDGET, "")],
        "building.yaml": [(", day: budget", "")],
    }
    computed = compute(load_project(edited(tmp_path / "project", "states", edits)))
    for asked in (
        CountAnswer(count="swaps of microphones a day", at_most=0),
        CountAnswer(count="years a battery lasts", at_least=1),
    ):
        found = answered(asked, computed)
        assert found.verdict == "open"
        assert found.nothing == "B001 says nothing of its meetings (sessions)"
