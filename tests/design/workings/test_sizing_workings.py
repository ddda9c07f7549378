"""The workings of a room's sizes hold the numbers of the room, and every data cable has its own."""

import pytest

from proposal.design.calculations import calculations
from proposal.design.design import Design
from proposal.design.workings.sizing_workings import sizing_workings
from proposal.model.microphone_positions import Form
from proposal.model.project import FixedRoom
from proposal.standards.working import Working
from tests.catalogue import CHARGER, with_round_catalogue
from tests.design.making import changed, designed, minimal, with_layout, with_microphones


def sizing_of(made: Design) -> dict[str, Working]:
    (kind,) = made.kinds
    found = sizing_workings(made.project, kind.layout, kind.sizing, ".".join(kind.path))
    return {one.title: one for one in found}


@pytest.mark.parametrize(("paired", "channels"), [(False, 2), (True, 3)])
def test_spares_take_a_channel_only_where_they_are_paired(paired: bool, channels: int) -> None:
    # Two microphones and one spare.
    made = designed(with_layout(minimal(), "meeting", spares_paired=paired))
    working = sizing_of(made)["Radio channels needed"]
    assert working.result == channels
    assert working.substituted == f"n = 2 + 1·{int(paired)}"
    assert [value.number for value in working.values] == [2, 1, int(paired)]


def test_workings_stand_by_chapter_and_every_data_cable_has_some() -> None:
    made = designed(minimal())
    chapters = [one.chapter for one in calculations(made)]
    assert chapters == sorted(chapters, key=list(dict.fromkeys(chapters)).index)
    assert chapters[0] == "Sizing"
    subjects = {one.subject for one in calculations(made) if one.chapter == "Cabling"}
    # The lead to the codec carries sound: it is no link that is checked for its length and its losses.
    assert subjects == {cable.identity for cable in made.cables} - {"B001-BO1/A3/far-end"}


@pytest.mark.parametrize(
    ("forms", "spare", "numbers", "given"),
    [
        # Nine goosenecks and the spare boundary one: five slots of each box take them, five do not.
        ({"gooseneck": 9}, 0, "g = 2·5", 10),
        # Eleven goosenecks want twelve slots.
        ({"gooseneck": 11}, -2, "g = 2·5", 10),
        # Ten slots take goosenecks and boundary ones, ten the others: two handheld ones leave eight of those.
        ({"gooseneck": 11, "handheld": 2}, -2, "g = 2·10 - 8", 12),
    ],
)
def test_slots_that_take_other_forms_only_are_not_given(
    forms: dict[Form, int], spare: int, numbers: str, given: int
) -> None:
    project = with_microphones(with_round_catalogue(minimal()), "meeting", forms)
    made = designed(changed(project, "fixed.rooms", {"B001": FixedRoom(chargers={CHARGER: 2})}))
    (kind,) = made.kinds
    size = kind.sizing.size("charger")
    assert size is not None
    assert (size.given, size.spare) == (given, spare)
    working = sizing_of(made)["Chargers: slots given"]
    assert (working.substituted, working.result) == (numbers, given)


def test_charge_slots_needed_are_added_up_by_form() -> None:
    project = with_microphones(minimal(), "meeting", {"gooseneck": 3, "handheld": 2})
    # Three goosenecks, two handheld microphones, and the spare boundary one of the project: one slot each.
    working = sizing_of(designed(project))["Charge slots needed"]
    assert working.substituted == "n = 1 + 3 + 2"
    assert working.result == 6
    assert [(value.symbol, value.number) for value in working.values] == [
        ("m_boundary", 1),
        ("m_gooseneck", 3),
        ("m_handheld", 2),
    ]
