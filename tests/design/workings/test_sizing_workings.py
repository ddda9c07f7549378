"""The workings of a room's sizes hold the numbers of the room, and every cable has its own."""

import pytest

from proposal.design.design import Design
from proposal.design.workings.sizing_workings import sizing_workings
from proposal.standards.working import Working
from tests.design.making import changed, designed, minimal, with_layout


def sizing_of(made: Design) -> dict[str, Working]:
    (kind,) = made.kinds
    found = sizing_workings(made.project, kind.layout, kind.sizing, ".".join(kind.path))
    return {one.title: one for one in found}


@pytest.mark.parametrize(("linked", "channels"), [(False, 2), (True, 3)])
def test_spares_take_a_channel_only_where_they_keep_a_link(linked: bool, channels: int) -> None:
    # Two microphones and one spare.
    made = designed(with_layout(minimal(), "meeting", spares_linked=linked))
    working = sizing_of(made)["Radio channels needed"]
    assert working.result == channels
    assert working.substituted == f"n = 2 + 1·{int(linked)}"
    assert [value.number for value in working.values] == [2, 1, int(linked)]


def test_workings_stand_by_chapter_and_every_cable_has_some() -> None:
    made = designed(minimal())
    chapters = [one.chapter for one in made.workings]
    assert chapters == sorted(chapters, key=list(dict.fromkeys(chapters)).index)
    assert chapters[0] == "Sizing"
    subjects = {one.subject for one in made.workings if one.chapter == "Cabling"}
    assert subjects == {cable.identity for cable in made.cables}


def test_charge_slots_are_told_with_the_source_that_the_library_gives() -> None:
    slots = minimal().library.charge_slots.model_copy(update={"source": "editable default (measured by us)"})
    ours = designed(changed(minimal(), "library.charge_slots", slots))
    (told,) = {str(one.working.source) for one in ours.workings if one.working.title == "Charge slots needed"}
    assert told == "editable default: measured by us"
