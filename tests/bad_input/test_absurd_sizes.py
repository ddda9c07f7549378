"""What no building has is refused with its place before anything is computed: far places, absurd sizes.

Each message was checked by hand against the text of the file. Rooms of the small project lie from [1 m, 1 m]
to [7 m, 6 m]; its equipment room stands at [12 m, 2 m].
"""

import time
from pathlib import Path

import pytest

from tests.bad_input.projects import GOOD, Edits, messages_of, write_project
from tests.catalogue import model_of, shipped

MEETING = "room_types/meeting.yaml"
FAR_FROM_ROOMS = (
    "wanted a place at most 1000 m outside the rooms of the building, which lie from [1 m, 1 m] to [7 m, 6 m]"
)
FAR_FROM_ROOM = "wanted a place at most 200 m outside room B001, which lies from [1 m, 1 m] to [7 m, 6 m]"
FAR_FROM_OUTLINE = (
    "wanted a position at most 200 m outside the room's outline, which lies from [0 m, 0 m] to [6 m, 5 m]"
)
BUILDING = GOOD["building.yaml"]


def _and(text: str) -> Edits:
    """Return an edit that adds to the building; its first line is the tenth."""
    return {"building.yaml": BUILDING + text}


POINT = model_of(shipped(), "access_point", works_with="Corvenhythe")
PLACES: dict[str, tuple[Edits, list[str]]] = {
    "room far from all others": (
        {"rooms.csv": ("L1,1,1,0", "L1,90000,1,0")},
        [
            "rooms.csv:3:32: x: wanted a room at most 1000 m from the middle of the building, [12 m, 3.5 m]; "
            "found [90003 m, 3.5 m]"
        ],
    ),
    "room far north": (
        {"rooms.csv": ("L1,1,1,0", "L1,1,-2000,0")},
        [
            "rooms.csv:3:32: x: wanted a room at most 1000 m from the middle of the building, [4 m, 2 m]; "
            "found [4 m, -1997.5 m]"
        ],
    ),
    "equipment room far away": (
        {"building.yaml": ("at: [12 m, 2 m]", "at: [12 km, 2 m]")},
        [f"building.yaml:8:9: equipment_rooms.ER1.at: {FAR_FROM_ROOMS}; found [12000 m, 2 m]"],
    ),
    "shaft far away": (
        _and("shafts: {R1: {name: Riser, at: [1 m, 1007 m]}}\n"),
        [f"building.yaml:10:32: shafts.R1.at: {FAR_FROM_ROOMS}; found [1 m, 1007 m]"],
    ),
    "node of a pathway far away": (
        _and("nodes: {N1: {storey: L0, at: [-1000 m, 1 m]}}\n"),
        [f"building.yaml:10:30: nodes.N1.at: {FAR_FROM_ROOMS}; found [-1000 m, 1 m]"],
    ),
    "wall far away": (
        _and("radio: {walls: {W1: {storey: L0, along: [[1 m, 1 m], [1 m, 9 km]]}}}\n"),
        [f"building.yaml:10:54: radio.walls.W1.along.2: {FAR_FROM_ROOMS}; found [1 m, 9000 m]"],
    ),
    "radio neighbour in another town": (
        _and("radio: {other_users: {U1: {name: Telephones, storey: L0, at: [99 km, 1 m], links: 4}}}\n"),
        [
            "building.yaml:10:62: radio.other_users.U1.at: wanted a place at most 10000 m outside the rooms "
            "of the building, which lie from [1 m, 1 m] to [7 m, 6 m]; found [99000 m, 1 m]"
        ],
    ),
    "device far from its room": (
        {"fixed.yaml": "devices:\n  B001-AP1: {at: [9 km, 2 m]}\n"},
        [f"fixed.yaml:2:18: devices.B001-AP1.at: {FAR_FROM_ROOM}; found [9000 m, 2 m]"],
    ),
    "rack far from its equipment room": (
        {"fixed.yaml": "devices:\n  ER1-RK1: {at: [12 m, 300 m]}\n"},
        [
            "fixed.yaml:2:17: devices.ER1-RK1.at: wanted a place at most 200 m from equipment room ER1 at "
            "[12 m, 2 m]; found [12 m, 300 m]"
        ],
    ),
    "seat far from its room": (
        {MEETING: ("S1: {at: [2 m, 1.4 m]}", "S1: {at: [2 km, 1.4 m]}")},
        [f"{MEETING}:6:12: seats.S1.at: {FAR_FROM_OUTLINE}; found [2000 m, 1.4 m]"],
    ),
    "everything of a room far from it": (
        {
            MEETING: GOOD[MEETING]
            + "charging_at: [300 m, 1 m]\nbreakouts_at: [1 m, 300 m]\naccess_points_at: {AP1: [300 m, 1 m]}\n"
            + "loudspeakers: {LS1: {at: [300 m, 1 m]}}\n"
            + "furniture: {T1: {name: table, outline: [[1 m, 1 m], [300 m, 1 m], [1 m, 2 m]]}}\n"
            + "radio: {obstructions: {O1: {kind: rack, outline: [[1 m, 1 m], [300 m, 1 m], [1 m, 2 m]]}}}\n"
        },
        [
            f"{MEETING}:15:14: charging_at: {FAR_FROM_OUTLINE}; found [300 m, 1 m]",
            f"{MEETING}:16:15: breakouts_at: {FAR_FROM_OUTLINE}; found [1 m, 300 m]",
            f"{MEETING}:17:25: access_points_at.AP1: {FAR_FROM_OUTLINE}; found [300 m, 1 m]",
            f"{MEETING}:18:26: loudspeakers.LS1.at: {FAR_FROM_OUTLINE}; found [300 m, 1 m]",
            f"{MEETING}:19:53: furniture.T1.outline.2: {FAR_FROM_OUTLINE}; found [300 m, 1 m]",
            f"{MEETING}:20:63: radio.obstructions.O1.outline.2: {FAR_FROM_OUTLINE}; found [300 m, 1 m]",
        ],
    ),
    "chargers that one room moves far away": (
        {"rooms/B002.yaml": "charging_at: [1 m, -300 m]\n"},
        [f"rooms/B002.yaml:1:14: charging_at: {FAR_FROM_OUTLINE}; found [1 m, -300 m]"],
    ),
    "room of a kilometre": (
        {MEETING: ("[6 m, 0 m], [6 m, 5 m]", "[1 km, 0 m], [1 km, 5 m]")},
        [f"{MEETING}:3:10: outline: wanted a room at most 500 m long and wide; found 1000 m by 5 m"],
    ),
    "room of a thousand kilometres": (
        {MEETING: ("[6 m, 0 m], [6 m, 5 m]", "[1000000000 m, 0 m], [6 m, 5 m]")},
        [
            f"{MEETING}:3:24: outline.2.1: wanted a length from -100000 to 100000 m, such as "
            "7.2 m or 24 ft; found 1000000000 m",
        ],
    ),
    "storey in the sky": (
        {"building.yaml": ("height: 3.6 m,", "height: 3.6 km,")},
        [
            "building.yaml:3:35: storeys.L1.height: wanted a storey at most 1000 m above or below the middle "
            "one, 0 m; found 3600 m"
        ],
    ),
}


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "messages"), PLACES.values(), ids=PLACES.keys())
def test_a_far_place_is_refused_where_it_is_written(
    edits: Edits, messages: list[str], tmp_path: Path
) -> None:
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == messages


SIZES: dict[str, tuple[Edits, list[str]]] = {
    "storey of a kilometre": (
        {"building.yaml": ("height: 3.6 m, slab_to_slab: 3.6 m", "height: 3.6 m, slab_to_slab: 1 km")},
        ["building.yaml:3:56: storeys.L1.slab_to_slab: wanted at most 100 m; found 1 km"],
    ),
    "ceiling in the clouds": (
        {MEETING: ("height: 2.7 m", "height: 270 m")},
        [f"{MEETING}:4:19: ceiling.height: wanted at most 100 m; found 270 m"],
    ),
    "device in the clouds": (
        {"fixed.yaml": ("height: 2.6 m", "height: 2.6 km")},
        ["fixed.yaml:2:22: devices.B001-AP1.height: wanted at most 100 m; found 2.6 km"],
    ),
    "device in the earth": (
        {"fixed.yaml": ("height: 2.6 m", "height: -2.6 km")},
        ["fixed.yaml:2:22: devices.B001-AP1.height: wanted at least -20 m; found -2.6 km"],
    ),
    "slack of a drum": (
        {"project.yaml": ("rack_slack: 3 m", "rack_slack: 3 km")},
        ["project.yaml:17:17: rules.cabling.rack_slack: wanted at most 100 m; found 3 km"],
    ),
    "a meeting that goes on for ever": (
        {MEETING: ("end: 12:30", "end: 1000000000 h")},
        [
            f"{MEETING}:14:32: sessions.morning.end: wanted a time of day from 00:00 to 24:00, such as "
            "09:30 or 9:30 am; found 1000000000 h"
        ],
    ),
    "a thousand access points": (
        {"fixed.yaml": f"rooms: {{B001: {{access_points: {{{POINT}: 1000000}}}}}}\n"},
        [
            f"fixed.yaml:1:{34 + len(POINT)}: rooms.B001.access_points.{POINT}: "
            "wanted at most 100; found 1000000"
        ],
    ),
    "a neighbour with more links than the band holds": (
        _and("radio: {other_users: {U1: {name: T, storey: L0, at: [9 m, 1 m], links: 61, slot_pairs: 2}}}\n"),
        [
            "building.yaml:10:72: radio.other_users.U1.links: wanted links with at most 120 slot pairs "
            "in all, which is what ten carriers hold; found 61 of 2"
        ],
    ),
    "more neighbours than the band holds ten times": (
        _and(
            "radio:\n  other_users:\n"
            + "".join(f"    U{n}: {{name: T, storey: L0, at: [9 m, 1 m], links: 120}}\n" for n in range(12))
        ),
        [
            "building.yaml:22:55: radio.other_users.U10.links: wanted other users with at most 1200 slot "
            "pairs in all, ten times what ten carriers hold; found 1320",
        ],
    ),
    "summer on another planet": (
        {"building.yaml": BUILDING + "ceiling_temperature: 400 °C\n"},
        ["building.yaml:10:22: ceiling_temperature: wanted at most 90 °C; found 400 °C"],
    ),
}


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "messages"), SIZES.values(), ids=SIZES.keys())
def test_an_absurd_size_is_refused_where_it_is_written(
    edits: Edits, messages: list[str], tmp_path: Path
) -> None:
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == messages


def _entries(count: int, entry: str) -> str:
    return "".join(f"  X{n}: {entry}\n" for n in range(count))


MANY: dict[str, tuple[Edits, str]] = {
    "a million microphones": (
        {
            MEETING: (
                "  M1:",
                _entries(9_000, "{form: boundary, pattern: cardioid, at: [2 m, 2 m]}") + "  M1:",
            )
        },
        f"{MEETING}:9:3: microphones: wanted at most 500 entries; found 9002",
    ),
    "a billion seats": (
        {MEETING: ("  S1:", _entries(16_000, "{at: [2 m, 2 m]}") + "  S1:")},
        f"{MEETING}:6:3: seats: wanted at most 10000 entries; found 16002",
    ),
    "a billion rooms": (
        {"rooms.csv": GOOD["rooms.csv"] + "".join(f"C{n},Room,meeting,L0,1,1,0\n" for n in range(60_000))},
        "rooms.csv:1002:1: wanted at most 1000 rows; found more",
    ),
    "a billion nodes": (
        {"building.yaml": BUILDING + "nodes:\n" + _entries(5_001, "{storey: L0, at: [2 m, 2 m]}")},
        "building.yaml:11:3: nodes: wanted at most 5000 entries; found 5001",
    ),
}


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "message"), MANY.values(), ids=MANY.keys())
def test_what_is_written_too_often_is_refused_in_no_time(edits: Edits, message: str, tmp_path: Path) -> None:
    write_project(tmp_path / "project", edits=edits)
    begun = time.process_time()
    assert message in messages_of(tmp_path / "project")
    assert time.process_time() - begun < 5
