"""Rooms whose sound may not leave them: the search, and the way that it names.

A room that stands alone:   M ~~ AP — BO — OE (in the room)            no way out
On the building's network:  M ~~ AP — switch                            way out by a cable
A recorder in the room:     M ~~ AP — BO — OE keeps it                 way out
Nobody says where it is:    M ~~ AP — BO — speaker ?                   way out
An operable wall:           the state joins the room to another        way out
"""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.design.contained_sound import ContainedSound, way_in_words
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.review.editing import Edit, edited

TYPE = "room_types/closed_session.yaml"
TO_THE_BREAKOUT = "C103-M1, by radio to C103-AP1, by cable C103-AP1/N1/C103-BO1 to C103-BO1"
CASES: Mapping[str, tuple[Mapping[str, Edit], str, str]] = {
    "the network of the building": (
        {TYPE: [("network: alone", "network: rack")]},
        "C103-M1, by radio to C103-AP1, by cable C103-AP1/N1/ER1-RK1 to ER1-OE4",
        "ER1-OE4 stands outside C103",
    ),
    "a recorder in the room": (
        {
            "building.yaml": [
                (
                    "kind: other equipment\n      name: Loudspeaker of the closed session room",
                    "kind: recorder\n      name: Recorder of the closed session room",
                ),
            ]
        },
        f"{TO_THE_BREAKOUT}, by cable C103-OE1/I1/C103-BO1 to C103-OE1",
        "C103-OE1 keeps it",
    ),
    "something of which nobody says where it stands": (
        {"building.yaml": [("      serves: [speaker]\n", "      serves: []\n")]},
        f"{TO_THE_BREAKOUT}, by cable C103-BO1/A4/speaker to speaker",
        "nobody says where it stands",
    ),
    "an operable wall": (
        {"building.yaml": [("joined: {join: [[C101, C102]]}", "joined: {join: [[C102, C103]]}")]},
        "C103, by the open wall to C102",
        "the state joined joins C103 and C102",
    ),
}


def contained(folder: Path, edits: Mapping[str, Edit]) -> tuple[ContainedSound, list[str]]:
    made = compute(load_project(edited(folder, "municipal", edits)))
    (one,) = made.design.contained_sound
    return one, [said.message for said in made.findings if said.rule == "sound-leaves-room"]


def test_no_way_leads_out_of_a_room_that_stands_alone() -> None:
    from tests.review.requirements.test_municipal import computed

    (one,) = computed().design.contained_sound
    assert one.way == ()
    assert one.encryption
    reached = set(one.reached)
    assert {"C103-M1", "C103-M2", "C103-M3", "C103-AP1", "C103-BO1", "C103-OE1"} <= reached
    assert all(tag.startswith("C103-") for tag in reached)


RECORDER = (
    "kind: other equipment\n      name: Loudspeaker of the closed session room",
    "kind: recorder\n      name: Recorder of the closed session room",
)
STAYS = "sound_stays: Personnel and claims are discussed in closed session.\n"
STATE = ("states:\n", "states:\n  closed: {}\n")


def in_the_state_closed(*leads: str) -> tuple[str, str]:
    return STAYS, f"{STAYS}sound_stays_in: [closed]\nunplugged: [{', '.join(leads)}]\n"


def test_a_recorder_of_other_days_is_no_way_out_where_its_lead_is_pulled_out(tmp_path: Path) -> None:
    """The same room without the lead pulled out is a case below."""
    edits: Mapping[str, Edit] = {
        "building.yaml": [RECORDER, STATE],
        TYPE: [in_the_state_closed("OE1/I1")],
    }
    found, said = contained(tmp_path / "p", edits)
    assert (found.way, said) == ((), [])
    assert (found.states, found.unplugged, found.missing) == (("closed",), ("C103-OE1/I1",), ())
    assert "C103-OE1" not in found.reached


def test_where_sound_may_leave_in_other_states_the_remedy_names_the_leads_to_pull_out(tmp_path: Path) -> None:
    """Nobody who closes a hearing on some days alone is told to cut the room off for ever."""
    for name, stays, told in (("some", f"{STAYS}sound_stays_in: [closed]\n", True), ("all", STAYS, False)):
        edits: Mapping[str, Edit] = {"building.yaml": [RECORDER, STATE], TYPE: [(STAYS, stays)]}
        made = compute(load_project(edited(tmp_path / name, "municipal", edits)))
        (remedy,) = [one.remedy for one in made.findings if one.rule == "sound-leaves-room"]
        assert ("name its ports (unplugged)" in remedy) == told


def test_a_lead_pulled_out_elsewhere_leaves_the_way_and_is_told(tmp_path: Path) -> None:
    edits: Mapping[str, Edit] = {
        "building.yaml": [RECORDER, STATE],
        TYPE: [in_the_state_closed("BO1/N9")],
    }
    made = compute(load_project(edited(tmp_path / "p", "municipal", edits)))
    said = {one.rule: one.message for one in made.findings if one.severity == "error"}
    assert "nothing is joined there" in said["unplugged-port-unknown"]
    assert "may not leave it in the state closed" in said["sound-leaves-room"]


def test_a_wall_that_opens_in_another_state_is_no_way_out(tmp_path: Path) -> None:
    joined = ("joined: {join: [[C101, C102]]}", "joined: {join: [[C102, C103]]}")
    edits: Mapping[str, Edit] = {
        "building.yaml": [joined, STATE],
        TYPE: [(STAYS, f"{STAYS}sound_stays_in: [closed]\n")],
    }
    assert contained(tmp_path / "p", edits)[0].way == ()


@pytest.mark.parametrize("case", CASES)
def test_a_way_out_is_an_error_that_names_it(case: str, tmp_path: Path) -> None:
    edits, way, ends = CASES[case]
    one, messages = contained(tmp_path / "project", edits)
    assert way_in_words(one.start, one.way) == way
    assert ends in one.ends
    (message,) = messages
    assert way in message
    assert "Personnel and claims are discussed in closed session" in message


LOBBY = """name: Lobby
use: People stand and listen when the chamber is full; nobody speaks here.
outline: [[0 m, 0 m], [9 m, 0 m], [9 m, 5.5 m], [0 m, 5.5 m]]
ceiling: {height: 3 m, kind: gypsum board}
loudspeakers: {LS1: {at: [2 m, 2 m]}, LS2: {at: [6 m, 2 m]}}
"""
CLOSED = """sound_stays: closed sessions
sound_stays_in: [closed]
sound_may_pass: {ER1: locked}
unplugged: [%s]
"""


IN_LOBBY = "LOBBY,Lobby,lobby,G0,20 m,0 m\n"
CLOSET = """equipment_rooms: {ER1: {name: Closet, storey: G0, at: [10 m, 2 m], racks: {RK1: {}}}}
states: {usual: {}, full: {hear: {LOBBY: [R1]}}, closed: {}}
"""


SIDE_TABLE = (
    "destinations:\n  recorder: {name: recorder on the side table, signal: analogue, "
    'operated_by: "whoever reads, at the recorder"}\n'
)


def test_a_closed_session_beside_a_lobby_that_hears_the_room_in_other_states(tmp_path: Path) -> None:
    """The switch stands in a locked closet; what leads on from there is pulled out, lead by lead.

    M ~~ AP - switch (ER1) - LOBBY-MX1 - LOBBY-AM1 - loudspeakers; the amplifier has a network lead, too.
    """
    kind = tmp_path / "p" / "room_types" / "reading.yaml"
    written: Edit = [
        ("output: breakout\nnetwork: alone", "output: mixer"),
        (SIDE_TABLE, ""),
    ]
    room: Edit = [("R1,Reading Room,reading,G0,0 m,0 m\n", "R1,Reading Room,reading,G0,0 m,0 m\n" + IN_LOBBY)]
    storey = ("  G0: {name: Ground floor, height: 0 m, slab_to_slab: 3.4 m}\n",)
    edits: dict[str, Edit] = {
        "room_types/reading.yaml": written,
        "rooms.csv": room,
        "building.yaml": [(storey[0], storey[0] + CLOSET)],
    }
    folder = edited(tmp_path / "p", "one_room", edits)
    (folder / "room_types/lobby.yaml").write_text(LOBBY, "utf-8")
    before, found, leads = kind.read_text("utf-8"), [], []
    for pulled in ((), ("LOBBY-AM1/N1",), ("LOBBY-MX1/N1", "LOBBY-AM1/N1")):
        kind.write_text(before + CLOSED % ", ".join(pulled), "utf-8")
        made = compute(load_project(folder))
        (one,) = made.design.contained_sound
        found.append(way_in_words(one.start, one.way))
        leads += [
            re.findall(r"unplugged: \[([^]]*)\]", said.remedy)
            for said in made.findings
            if said.rule == "sound-leaves-room"
        ]
        assert one.missing == ()
    assert "by cord LOBBY-AM1/N1/ER1-SW1 to LOBBY-AM1" in found[0]
    assert "to LOBBY-MX1, by " in found[1]
    assert found[2] == ""
    # What is to be pulled out next is named each time.
    assert leads == [["LOBBY-AM1/N1"], ["LOBBY-MX1/N1"]]
    assert made.project.room_types["lobby"].ceiling.kind == "plasterboard"  # as it is called here
    told = {(one.device, one.name) for one in made.design.settings if one.name.startswith("Lead at")}
    assert told == {("LOBBY-MX1", "Lead at N1"), ("LOBBY-AM1", "Lead at N1")}
