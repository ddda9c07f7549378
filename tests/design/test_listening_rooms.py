"""Rooms without microphones: an overflow room that hears another room in a state, and a lobby.

By hand: the overflow room takes one mix, so its mixer needs one networked input and no output to others; the
lobby's loudspeakers play what the owner sends by the network, so its breakout has to be one that mixes.
"""

from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from types import SimpleNamespace
from typing import Any

import pytest

from proposal.document.making.document import document_of
from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.requirements.answers import StateAnswer
from proposal.pipeline import Computed, compute
from proposal.review.requirements.states import answered_by_state
from tests.bad_input.projects import GOOD, write_project
from tests.pages.site import pages_for

pytestmark = pytest.mark.independent

STATES = "states:\n  closed: {}\n  public: {hear: {B002: [B001]}}\n"
SHAPE = (
    "outline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]]\n"
    "ceiling: {height: 2.7 m, kind: mineral tile}\n"
)
LISTENING = SHAPE + "loudspeakers:\n  LS1: {at: [3 m, 2 m]}\n"
BOARD = (
    "microphones:\n  M1: {form: boundary, pattern: cardioid, at: [2 m, 2.5 m]}\n"
    "  M2: {form: boundary, pattern: cardioid, at: [3 m, 2.5 m]}\noutput: mixer\n"
)
EMPTY = "nothing_planned: chairs alone are kept there\n"
RETURNS = "returns:\n  feed: {name: feed of the house, signal: networked audio}\n"


@lru_cache(maxsize=8)
def made(
    states: str = STATES, overflow: str = "output: mixer\n", lobby: str = RETURNS, board: str = ""
) -> Computed:
    files = {
        "project.yaml": GOOD["project.yaml"].replace(", logo: logo.svg", ""),
        "building.yaml": "storeys:\n  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}\n"
        "equipment_rooms:\n  ER1: {name: Cupboard, storey: L0, at: [30 m, 2 m], racks: {RK1: {}}}\n" + states,
        "rooms.csv": "tag,name,room type,storey,x (m),y (m)\n"
        "B001,One,board,L0,1,1\nB002,Two,overflow,L0,8,1\nB003,Three,lobby,L0,15,1\nB004,Four,store,L0,22,1\n",
        "room_types/board.yaml": f"name: Board room\nuse: People talk.\n{SHAPE}{BOARD}{board}",
        "room_types/overflow.yaml": f"name: Overflow room\nuse: People listen.\n{LISTENING}{overflow}",
        "room_types/lobby.yaml": f"name: Lobby\nuse: People wait.\n{LISTENING}output: breakout\n{lobby}",
        "room_types/store.yaml": f"name: Store\nuse: Chairs stand here.\n{SHAPE}{EMPTY}",
    }
    with TemporaryDirectory() as folder:
        return compute(load_project(write_project(Path(folder), files)))


def _kinds(room: str) -> set[str]:
    return {one.kind for one in made().design.devices if one.room == room}


def test_rooms_without_microphones_take_no_radio_and_no_charger() -> None:
    assert _kinds("B002") == {"amplifier", "loudspeaker", "mixer"}
    assert _kinds("B003") == {"amplifier", "breakout", "loudspeaker"}
    assert [one.rule for one in made().errors] == []


def test_an_overflow_room_takes_one_mix_and_gives_none() -> None:
    design = made().design
    (mix,) = (one for one in design.channels.streams if "joined" in one.name)
    assert (mix.sender, mix.receivers, mix.channels) == ("B001-MX1", ("B002-MX1",), 1)
    kind = next(one for one in design.kinds if "B002" in one.rooms)
    mixer = kind.sizing.size("mixer")
    assert mixer is not None
    assert {one.what: one.need for one in mixer.carried if one.need} == {
        "networked inputs": 1,
        "analogue outputs": 1,
        "network channels taken up, of streams that come whole": 1,
    }


def test_it_hears_in_the_state_that_says_so_alone() -> None:
    (route,) = made().design.joined_routes
    assert (route.state, route.room, route.other, route.closed_in) == ("public", "B001", "B002", ("closed",))
    settings = [one for one in made().design.settings if one.device == "B002-MX1"]
    assert [one.value for one in settings if one.name == "In the state public"] == [
        f"input {route.input} (B001) open"
    ]


def test_listeners_in_another_room_have_the_limit_of_those_elsewhere() -> None:
    (path,) = (one for one in made().design.delays if one.heard_in == "B002")
    assert path.limit_s == made().project.brief.rules.latency.elsewhere
    joined = made("states:\n  public: {join: [[B001, B002]]}\n").design.delays
    (path,) = (one for one in joined if one.heard_in == "B002")
    assert path.limit_s == made().project.brief.rules.latency.in_room


def test_the_sound_of_a_lobby_comes_from_the_network_to_its_loudspeakers() -> None:
    graph = made().design.graph
    (stream,) = (one for one in made().design.channels.streams if one.room == "B003")
    assert stream.receivers == ("B003-BO1",)
    lines = [one for one in graph.joins if one.signal == "loudspeaker line" and one.room == "B003"]
    assert [(one.start.device, one.end.device) for one in lines] == [("B003-AM1", "B003-LS1")]
    ways = [one for one in graph.throughs if one.device == "B003-BO1"]
    assert [one.mixes for one in ways] == [True] * max(1, len(ways))


@pytest.mark.parametrize(
    ("states", "overflow", "lobby", "rule", "where"),
    [
        (STATES, "output: breakout\n", RETURNS, "room-not-heard", "B002"),
        ("states: {public: {hear: {B001: [B002]}}}\n", "output: mixer\n", RETURNS, "room-not-heard", "B001"),
        (STATES, "output: mixer\n", "", "nothing-to-hear", "lobby"),
    ],
)
def test_a_room_that_would_hear_nothing_is_an_error(
    states: str, overflow: str, lobby: str, rule: str, where: str
) -> None:
    assert (rule, where) in {(one.rule, one.where) for one in made(states, overflow, lobby).errors}


def test_what_nobody_is_said_to_bring_is_not_included() -> None:
    document = document_of(made())
    assert document.exclusions[-1] == "Feed of the house (Lobby): furnished by others."
    assert {one.title: one.by_others for one in document.room_sheets}["Lobby"] == ("feed of the house",)


def test_pages_say_nothing_false_of_microphones() -> None:
    pages = pages_for(document_of(made()), "estimator").pages
    listening = [pages["rooms/overflow.md"], pages["rooms/lobby.md"]]
    for words in (
        "## Muting",
        "## Microphones",
        "wireless microphone",
        "may be in use at once",
        "access point",
    ):
        assert [words in page for page in listening] == [False, False], words
    assumed = pages["assumptions.md"]
    # Nobody says how long the work is warranted: nothing stands for it, and the page says so, as check does.
    assert "none, nothing is counted meanwhile" in assumed
    for field in ("spare_microphones", "access_points_at", "spares_paired", "radio.power"):
        assert f"room_types.board.{field}" in assumed
        assert f"room_types.overflow.{field}" not in assumed
    assert "B002 hears B001" in pages["states.md"]
    surveyed = [row.room for row in document_of(made()).labour if row.task == "Radio survey of a room"]
    assert surveyed == ["B001"]


def test_a_room_in_which_nothing_is_planned_gets_nothing_and_its_page_says_why() -> None:
    document = document_of(made())
    assert _kinds("B004") == set()
    work = [row for row in document.labour if row.room == "B004" or "Store" in row.causes]
    assert [*work, *(row for row in document.offer if row.room == "B004")] == []
    kinds = next(row.units for row in document.labour if row.task == "Engineering of a kind of room")
    assert kinds == 3
    assert not [row for row in document.assumptions if ".store." in row.path or ".B004." in row.path]
    pages = pages_for(document, "client").pages
    page = pages["rooms/store.md"]
    assert "Nothing is planned here" in page
    assert "chairs alone are kept there" in page
    assert "## Performance criteria" not in page
    assert "The system serves 3 rooms" in pages["system.md"]
    assert "Nothing is planned here" in pages["system.md"]
    assert "work for 3 rooms" in pages["summary.md"]


@pytest.mark.parametrize(
    ("parts", "wanted"),
    [
        (
            "",
            "or the reason why the room gets nothing, such as `nothing_planned: people only wait here`",
        ),
        (f"loudspeakers:\n  LS1: {{at: [3 m, 2 m]}}\n{EMPTY}", "wanted no loudspeakers in a room in which"),
        (
            "nothing_planned: yes\n",
            "nothing_planned: wanted the reason in words, such as closed sessions; found",
        ),
        (EMPTY, "rooms.csv: wanted a room of a type that says nothing of nothing_planned; found none"),
    ],
)
def test_a_room_says_what_it_gets_or_why_it_gets_nothing(tmp_path: Path, parts: str, wanted: str) -> None:
    bare = GOOD["room_types/meeting.yaml"]
    start, end = bare.index("microphones:"), bare.index("output:")
    files = {**GOOD, "room_types/meeting.yaml": f"{bare[:start]}{parts}"}
    assert end > start
    with pytest.raises(InputError) as caught:
        load_project(write_project(tmp_path, files))
    assert wanted in str(caught.value)


@pytest.mark.parametrize("network", ["alone", "isolated"])
@pytest.mark.parametrize("room", ["B001", "B002"])
def test_no_sound_goes_by_network_to_a_room_that_stands_alone_or_from_it(room: str, network: str) -> None:
    alone = f"network: {network}\n"
    overflow = "output: mixer\n" + (alone if room == "B002" else "")
    found = made(overflow=overflow, board=alone if room == "B001" else "")
    (error,) = (one for one in found.errors if one.rule == "room-not-heard")
    assert error.message == (
        f"In the state public B002 is to hear B001, but the network of {room} is joined to no other."
    )
    assert "network: rack" in error.remedy
    assert "analogue" in error.remedy
    assert found.design.joined_routes == ()
    assert not any("B002-MX1" in one.receivers for one in found.design.channels.streams)
    answer = StateAnswer(state="public", listener="B002", hears="B001")
    evidence: Any = SimpleNamespace(project=found.project, design=found.design)
    assert answered_by_state(answer, evidence).verdict == "not met"


def test_a_state_does_not_join_the_sound_of_a_room_that_stands_alone() -> None:
    found = made("states:\n  public: {join: [[B001, B002]]}\n", board="network: alone\n")
    (error,) = (one for one in found.errors if one.rule == "room-not-heard")
    assert "the network of B001 is joined to no other" in error.message
    assert found.design.joined_routes == ()
