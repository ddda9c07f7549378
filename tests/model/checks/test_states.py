"""States of a building: what they name and join, each complaint with its line and the nearest name."""

from pathlib import Path

import pytest

from proposal.model.loading import load_project
from tests.bad_input.projects import GOOD, Edits, messages_of, write_project

BUILDING = GOOD["building.yaml"]
ROOMS = "tag,name,room type,storey,x (m),y (m)\nB001,One,meeting,L0,1,1\nB002,Two,meeting,L0,7,1\n"
DAYS = GOOD["room_types/meeting.yaml"] + "days:\n  budget:\n    all: {start: 08:00, end: 20:00}\n"
DAYS += "  fair:\n    all: {start: 08:00, end: 20:00}\n"


def with_states(states: str, rooms: str = ROOMS, walls: str = "") -> Edits:
    """Return the good project with states and walls, its rooms side by side."""
    return {
        "building.yaml": f"{BUILDING}states:\n{states}{walls}",
        "rooms.csv": rooms,
        "room_types/meeting.yaml": DAYS,
    }


APART = "  joined: {join: [[B001, B002]]}\n"
LINE = BUILDING.count("\n") + 2
WALL_LINE = "    W1: {storey: L0, along: [[7 m, 1 m], [7 m, 6 m]], loss: 40 dB, open_in: [joined, jioned]}\n"
WALL = f"radio:\n  walls:\n{WALL_LINE}"
CASES: dict[str, tuple[Edits, list[str]]] = {
    "room that is not there": (
        with_states("  joined: {join: [[B001, B003]]}\n"),
        [
            f"building.yaml:{LINE}:26: states.joined.join.1.2: wanted the tag of a room: one of B001, B002; "
            "found B003 (did you mean B002?)"
        ],
    ),
    "room joined twice": (
        with_states("  joined: {join: [[B001, B002], [B002, B001]]}\n"),
        [
            f"building.yaml:{LINE}:34: states.joined.join.2.1: wanted each room joined once in a state; "
            "found B002 again",
            f"building.yaml:{LINE}:40: states.joined.join.2.2: wanted each room joined once in a state; "
            "found B001 again",
        ],
    ),
    "rooms of two storeys": (
        with_states(
            "  joined: {join: [[B001, B002]]}\n", rooms=ROOMS.replace("Two,meeting,L0", "Two,meeting,L1")
        ),
        [
            f"building.yaml:{LINE}:26: states.joined.join.1.2: wanted rooms of one storey; found B002 on L1 "
            "with B001 on L0"
        ],
    ),
    "kind of day that no room type has": (
        with_states("  late: {day: budgte}\n"),
        [
            f"building.yaml:{LINE}:15: states.late.day: wanted a kind of day of a room type: one of "
            "budget, fair; found budgte (did you mean budget?)"
        ],
    ),
    "one room alone": (
        with_states("  joined: {join: [[B001]]}\n"),
        [f"building.yaml:{LINE}:19: states.joined.join.1: wanted at least 2 entries; found 1"],
    ),
    "wall open in a state that is not there": (
        with_states(f"{APART}  divided: {{}}\n", walls=WALL),
        [
            f"building.yaml:{LINE + 4}:86: radio.walls.W1.open_in.2: wanted a state of building.yaml: one of "
            "joined, divided; found jioned (did you mean joined?)"
        ],
    ),
    "session of a kind of day that ends before it starts": (
        {"room_types/meeting.yaml": DAYS[:-7] + "07:00}\n"},
        [
            f"room_types/meeting.yaml:{DAYS.count(chr(10))}:30: days.fair.all.end: wanted an end after the "
            "start, 08:00; found 07:00"
        ],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_what_states_name_wrongly_is_told_with_its_line(case: str, tmp_path: Path) -> None:
    edits, wanted = CASES[case]
    assert messages_of(write_project(tmp_path, edits=edits)) == wanted


def test_states_are_read_as_they_are_written(tmp_path: Path) -> None:
    edits = with_states("  divided: {}\n  joined: {join: [[B001, B002]], day: budget}\n")
    states = load_project(write_project(tmp_path, edits=edits)).building.states
    assert list(states) == ["divided", "joined"]
    assert (states["divided"].join, states["divided"].day) == ((), "")
    assert (states["joined"].join, states["joined"].day) == ((("B001", "B002"),), "budget")


def test_a_project_without_states_has_none(tmp_path: Path) -> None:
    assert load_project(write_project(tmp_path)).building.states == {}
