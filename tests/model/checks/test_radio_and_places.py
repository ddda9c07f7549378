"""What stands where it cannot, and walls that are of nothing known: said with file, line and what was found.

Each message was checked by hand against the text of the file.
"""

from pathlib import Path

import pytest

from tests.bad_input.projects import GOOD, Edits, messages_of, write_project

MEETING = "room_types/meeting.yaml"
RADIO = """\
radio:
  slabs: {L1: {loss: 19 dB}}
  walls:
    W1: {storey: L0, along: [[8 m, 0 m], [8 m, 9 m]], construction: brick}
  other_users:
    U1: {name: Telephones, storey: L0, at: [20 m, 5 m], links: 4}
"""
BUILDING = GOOD["building.yaml"] + RADIO

CASES: dict[str, tuple[Edits, list[str]]] = {
    "microphone outside its room": (
        {MEETING: ("at: [3.8 m, 2.5 m]", "at: [6.8 m, 2.5 m]")},
        [
            f"{MEETING}:10:47: microphones.M2.at: wanted a position inside the room's outline; "
            "found [6.8 m, 2.5 m], outside it"
        ],
    ),
    "microphone moved out of its room by the room's own file": (
        {"rooms/B002.yaml": "microphones:\n  M1: {at: [2 m, -1 m]}\n"},
        [
            "rooms/B002.yaml:2:12: microphones.M1.at: wanted a position inside the room's outline; "
            "found [2 m, -1 m], outside it"
        ],
    ),
    "access point in a wall": (
        {MEETING: ("output: breakout\n", "output: breakout\naccess_points_at: {AP1: [3 m, 0 m]}\n")},
        [
            f"{MEETING}:13:25: access_points_at.AP1: wanted a position clear of the walls by 0.05 m; "
            "found [3 m, 0 m], in a wall"
        ],
    ),
    "overlapping rooms": (
        {"rooms.csv": ("B002,Meeting Room 2,meeting,L1,1,1,0", "B002,Meeting Room 2,meeting,L0,6,3,0")},
        ["rooms.csv:3:32: x: wanted rooms that do not overlap; found it in room B001"],
    ),
    "overlapping rooms, one of them turned": (
        {"rooms.csv": ("B002,Meeting Room 2,meeting,L1,1,1,0", "B002,Meeting Room 2,meeting,L0,8,8,-135")},
        ["rooms.csv:3:32: x: wanted rooms that do not overlap; found it in room B001"],
    ),
    "session that ends before it starts": (
        {MEETING: ("end: 12:30", "end: 08:30")},
        [f"{MEETING}:14:32: sessions.morning.end: wanted an end after the start, 09:00; found 08:30"],
    ),
    "region unknown": (
        {"project.yaml": ("region: europe", "region: atlantis")},
        ["project.yaml:11:9: region: wanted one of europe, north_america; found atlantis"],
    ),
    "wall of an unknown construction": (
        {"building.yaml": BUILDING.replace("brick", "bricks")},
        [
            "building.yaml:13:69: radio.walls.W1.construction: wanted a construction: one of glass, light "
            "partition, brick, concrete block, concrete, metal-clad glass, open; found bricks "
            "(did you mean brick?)"
        ],
    ),
    "room walls of an unknown construction": (
        {MEETING: ("output: breakout\n", "output: breakout\nradio: {walls: paper}\n")},
        [
            f"{MEETING}:13:16: radio.walls: wanted a construction: one of glass, light partition, brick, "
            "concrete block, concrete, metal-clad glass, open; found paper"
        ],
    ),
    "wall on an unknown storey": (
        {"building.yaml": BUILDING.replace("storey: L0, along", "storey: L9, along")},
        [
            "building.yaml:13:18: radio.walls.W1.storey: wanted a storey of building.yaml: one of L0, L1; "
            "found L9"
        ],
    ),
    "other user on an unknown storey": (
        {"building.yaml": BUILDING.replace("storey: L0, at: [20", "storey: roof, at: [20")},
        [
            "building.yaml:15:36: radio.other_users.U1.storey: wanted a storey of building.yaml: one of L0, "
            "L1; found roof"
        ],
    ),
    "slab of an unknown storey": (
        {"building.yaml": BUILDING.replace("slabs: {L1", "slabs: {L3")},
        ["building.yaml:11:11: radio.slabs.L3: wanted a storey of building.yaml: one of L0, L1; found L3"],
    ),
    "wall of one point": (
        {"building.yaml": BUILDING.replace("[[8 m, 0 m], [8 m, 9 m]]", "[[8 m, 0 m]]")},
        ["building.yaml:13:29: radio.walls.W1.along: wanted at least 2 entries; found 1"],
    ),
}


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "messages"), CASES.values(), ids=CASES.keys())
def test_what_cannot_be_is_said_with_its_place(edits: Edits, messages: list[str], tmp_path: Path) -> None:
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == messages


def test_the_radio_part_that_is_broken_here_is_good(tmp_path: Path) -> None:
    assert messages_of(write_project(tmp_path / "project", edits={"building.yaml": BUILDING})) == []


def test_rooms_that_share_a_wall_and_rooms_above_each_other_do_not_overlap(tmp_path: Path) -> None:
    beside = "B002,Meeting Room 2,meeting,L0,7,1,0"
    edits: Edits = {"rooms.csv": ("B002,Meeting Room 2,meeting,L1,1,1,0", beside)}
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == []


def test_an_access_point_outside_its_room_is_no_mistake_of_writing(tmp_path: Path) -> None:
    edits: Edits = {
        MEETING: ("output: breakout\n", "output: breakout\naccess_points_at: {AP1: [7 m, 2 m]}\n")
    }
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == []
