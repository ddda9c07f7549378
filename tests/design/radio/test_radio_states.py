"""Two rooms with an operable wall of 40 dB: what their links may share, state by state.

By hand: rooms of 6 m by 5 m side by side, microphones within 3 m of their access point, at 1.89 GHz. A
wanted path of 3 m loses 65.5 + 30·log10(3) − 28 = 51.8 dB and 8 dB at bodies; an unwanted one of 3 m to 8 m
loses 47.5 to 56 dB in free space, and 40 dB more through the closed wall. Closed: 87.5 − 59.8 = 27.7 dB apart
at least, where 20 dB are wanted. Open: −12 dB to −4 dB apart.
The frame: ten carriers of twelve slot pairs are 120; a link takes 3.
"""

from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from proposal.design.design import Design
from proposal.design.radio.radio_links import building_surroundings
from proposal.design.radio.radio_plan import planned_links
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.review.rules import findings
from tests.bad_input.projects import GOOD, write_project
from tests.catalogue import with_round_catalogue
from tests.independent import radio
from tests.independent.test_radio_buildings import on_paper_of

pytestmark = pytest.mark.independent

STATES = "states:\n  divided: {}\n  joined: {join: [[B001, B002]]}\n"
BUILDING = """\
storeys:
  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}
equipment_rooms:
  ER1: {name: Equipment cupboard, storey: L0, at: [30 m, 2 m], racks: {RK1: {}}}
"""
WALL = (
    "radio:\n  walls:\n"
    "    W1: {storey: L0, along: [[7 m, 1 m], [7 m, 6 m]], loss: 40 dB, open_in: [joined]}\n"
)


@lru_cache(maxsize=8)
def two_rooms(microphones: int, states: str = STATES, wall: str = WALL) -> Design:
    """Return two rooms side by side, each with so many microphones."""
    columns = -(-microphones // 3)
    places = [
        f"  M{n + 1}: {{form: boundary, pattern: cardioid, "
        f"at: [{1.5 + 3.0 * (n % columns) / columns:.3f} m, {1.8 + 0.7 * (n // columns):.1f} m]}}\n"
        for n in range(microphones)
    ]
    kind = (
        "name: Meeting room\nuse: People talk.\noutline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]]\n"
        f"ceiling: {{height: 2.7 m, kind: mineral tile}}\nmicrophones:\n{''.join(places)}output: breakout\n"
    )
    files = {
        "project.yaml": GOOD["project.yaml"].replace(", logo: logo.svg", ""),
        "building.yaml": BUILDING + wall + states,
        "rooms.csv": "tag,name,room type,storey,x (m),y (m)\n"
        "B001,One,meeting,L0,1,1\nB002,Two,meeting,L0,7,1\n",
        "room_types/meeting.yaml": kind,
    }
    with TemporaryDirectory() as folder:
        return design(with_round_catalogue(load_project(write_project(Path(folder), files))))


def outcomes(found: Design) -> dict[tuple[str, ...], str]:
    return {one.alike.names: one.air.plan.outcome for one in found.radio.states}


def test_divided_rooms_use_the_same_slots_and_joined_ones_have_none_for_all() -> None:
    # 24 × 3 = 72 of 120 in each room by itself; 48 × 3 = 144 of 120 together.
    found = two_rooms(24)
    assert outcomes(found) == {("divided",): "planned", ("joined",): "impossible"}
    divided = found.radio.states[0].air
    used = [
        {(one.carrier, slot) for one in planned_links(divided) if one.link.room == room for slot in one.slots}
        for room in ("B001", "B002")
    ]
    assert [len(one) for one in used] == [72, 72]
    assert used[0] & used[1]  # 144 cells do not lie apart in 120
    assert found.radio.outcome == "impossible"
    (error,) = [one for one in findings(found.project, found) if one.rule == "radio-impossible"]
    assert error.message.startswith("In the state joined: ")
    assert "48 links want 48 × 3 = 144 slot pairs" in error.message
    assert (error.value, error.limit) == (144, 120)


def test_one_plan_for_both_states_shares_nothing_between_the_rooms() -> None:
    # 15 × 3 × 2 = 90 of 120: the plan that holds joined holds divided too.
    found = two_rooms(15)
    assert outcomes(found) == {("divided",): "planned", ("joined",): "planned"}
    assert found.radio.outcome == "planned"
    cells = [(one.carrier, slot) for one in found.radio.planned for slot in one.slots]
    assert len(cells) == len(set(cells)) == 90
    assert len({tuple(sorted(one.air.cells.items())) for one in found.radio.states}) == 1
    assert not [one for one in findings(found.project, found) if one.rule.startswith("radio-")]


@pytest.mark.parametrize("microphones", [15, 24])
def test_the_plan_of_each_state_holds_on_paper(microphones: int) -> None:
    found = two_rooms(microphones)
    for one in found.radio.states:
        if one.air.plan.outcome != "planned":
            continue
        around = building_surroundings(found.project, one.alike.names[0])
        building, links, transceivers = on_paper_of(found, around, planned_links(one.air))
        assert radio.wrong(building, links, found.radio.carriers, transceivers) == []


def test_the_checker_sees_that_the_plan_of_the_closed_wall_breaks_when_it_is_open() -> None:
    found = two_rooms(24)
    around = building_surroundings(found.project, "joined")
    building, links, transceivers = on_paper_of(found, around, planned_links(found.radio.states[0].air))
    said = radio.wrong(building, links, found.radio.carriers, transceivers)
    # Each of the 48 links hears too much at both its ends in each of its three slots.
    assert len([one for one in said if "hears too much" in one]) == 48 * 2 * 3


def test_states_without_effect_on_radio_are_one_and_planned_once() -> None:
    alike = two_rooms(15, states=STATES + "  spare: {}\n")
    assert [one.alike.names for one in alike.radio.states] == [("divided", "spare"), ("joined",)]
    closed = two_rooms(15, wall=WALL.replace(", open_in: [joined]", ""))
    assert closed.radio.states == ()
    assert closed.radio.air is closed.radio.common


@lru_cache(maxsize=1)
def three_rooms() -> Design:
    """Return three rooms in a row and one beside two of them, any two of which some state joins.

    R1 and R2 stand side by side, R3 across both; walls of 40 dB, each open in one state.
    """
    kind = (
        "name: Meeting room\nuse: People talk.\noutline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]]\n"
        "ceiling: {height: 2.7 m, kind: mineral tile}\nmicrophones:\n"
        + "".join(
            f"  M{n + 1}: {{form: boundary, pattern: cardioid, at: [{2 + 0.4 * (n % 5):.1f} m, "
            f"{1.8 + 0.7 * (n // 5):.1f} m]}}\n"
            for n in range(15)
        )
        + "output: breakout\n"
    )
    walls = (
        "radio:\n  walls:\n"
        "    A: {storey: L0, along: [[7 m, 1 m], [7 m, 6 m]], loss: 40 dB, open_in: [one]}\n"
        "    B: {storey: L0, along: [[1 m, 6 m], [7 m, 6 m]], loss: 40 dB, open_in: [two]}\n"
        "    C: {storey: L0, along: [[7 m, 6 m], [13 m, 6 m]], loss: 40 dB, open_in: [three]}\n"
    )
    files = {
        "project.yaml": GOOD["project.yaml"].replace(", logo: logo.svg", ""),
        "building.yaml": BUILDING
        + walls
        + "states:\n  one: {join: [[R1, R2]]}\n  two: {join: [[R1, R3]]}\n  three: {join: [[R2, R3]]}\n",
        "rooms.csv": "tag,name,room type,storey,x (m),y (m)\n"
        "R1,One,meeting,L0,1,1\nR2,Two,meeting,L0,7,1\nR3,Three,meeting,L0,4,6\n",
        "room_types/meeting.yaml": kind,
    }
    with TemporaryDirectory() as folder:
        return design(with_round_catalogue(load_project(write_project(Path(folder), files))))


def test_where_no_plan_holds_in_all_states_each_has_one_of_its_own_and_the_finding_gives_the_sums() -> None:
    # Two rooms in a state: 30 × 3 = 90 of 120. All three together: 45 × 3 = 135 of 120.
    found = three_rooms()
    assert outcomes(found) == {("one",): "planned", ("two",): "planned", ("three",): "planned"}
    assert found.radio.common.plan.outcome == "impossible"
    assert found.radio.outcome == "planned"
    said = {one.rule: one for one in findings(found.project, found)}
    assert "radio-impossible" not in said
    warning = said["radio-changes-with-state"]
    assert (warning.severity, warning.value, warning.limit) == ("warning", 135, 120)
    for state in ("one", "two", "three"):
        assert f"{state}: 30 × 3 = 90 of 120 slot pairs where it is fullest" in warning.message
    for one in found.radio.states:
        around = building_surroundings(found.project, one.alike.names[0])
        building, links, transceivers = on_paper_of(found, around, planned_links(one.air))
        assert radio.wrong(building, links, found.radio.carriers, transceivers) == []
