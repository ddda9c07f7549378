"""Sound of joined rooms: streams, inputs, sizes and settings in every state.

By hand: a mixer takes every microphone of its room and the mix of every room that some state joins to it. The
small mixer of the round catalogue has 10 networked inputs, the large one 25.
"""

from collections import Counter
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from types import SimpleNamespace
from typing import Any

import pytest

from proposal.document.making.document import document_of
from proposal.model.loading import load_project
from proposal.model.requirements.answers import StateAnswer
from proposal.pipeline import Computed, compute
from proposal.review.requirements.states import answered_by_state
from proposal.review.sound import no_way_between_mixers
from tests.bad_input.projects import GOOD, write_project
from tests.catalogue import SMALL_MIXER, with_round_catalogue
from tests.design.making import changed, designed
from tests.pages.site import pages_for

pytestmark = pytest.mark.independent

STATES = """\
states:
  divided: {}
  west: {join: [[B001, B002]]}
  all: {join: [[B001, B002, B003]]}
"""
CODEC = """\
destinations: {codec: {name: codec, signal: analogue}}
returns: {codec: {name: codec, signal: analogue}}
"""


@lru_cache(maxsize=8)
def three_rooms(microphones: int, states: str = STATES, output: str = "mixer", codec: str = "") -> Computed:
    places = "".join(
        f"  M{n + 1}: {{form: boundary, pattern: cardioid, at: [{1 + 0.4 * n:.1f} m, 2.5 m]}}\n"
        for n in range(microphones)
    )
    files = {
        "project.yaml": GOOD["project.yaml"].replace(", logo: logo.svg", ""),
        "building.yaml": "storeys:\n  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}\n"
        "equipment_rooms:\n  ER1: {name: Cupboard, storey: L0, at: [30 m, 2 m], racks: {RK1: {}}}\n" + states,
        "rooms.csv": "tag,name,room type,storey,x (m),y (m)\n"
        "B001,One,meeting,L0,1,1\nB002,Two,meeting,L0,7,1\nB003,Three,meeting,L0,13,1\n",
        "room_types/meeting.yaml": "name: Meeting room\nuse: People talk.\n"
        "outline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]]\n"
        "ceiling: {height: 2.7 m, kind: mineral tile}\n"
        f"microphones:\n{places}output: {output}\nloudspeakers:\n  LS1: {{at: [3 m, 2 m]}}\n{codec}",
    }
    with TemporaryDirectory() as folder:
        return compute(with_round_catalogue(load_project(write_project(Path(folder), files))))


def test_every_mix_is_one_stream_that_all_mixers_take_that_are_ever_joined() -> None:
    streams = [one for one in three_rooms(2).design.channels.streams if "joined" in one.name]
    assert {one.sender: one.receivers for one in streams} == {
        "B001-MX1": ("B002-MX1", "B003-MX1"),
        "B002-MX1": ("B001-MX1", "B003-MX1"),
        "B003-MX1": ("B001-MX1", "B002-MX1"),
    }
    assert {one.channels for one in streams} == {1}


def test_each_state_has_a_route_from_each_room_to_each_other_one_that_it_joins() -> None:
    routes = Counter((one.state, one.room, one.other) for one in three_rooms(2).design.joined_routes)
    west = [("B001", "B002"), ("B002", "B001")]
    pairs = [(a, b) for a in ("B001", "B002", "B003") for b in ("B001", "B002", "B003") if a != b]
    assert routes == Counter([("west", *one) for one in west] + [("all", *one) for one in pairs])


def test_an_input_is_closed_in_the_states_that_do_not_join_its_rooms() -> None:
    closed = {(one.room, one.other): one.closed_in for one in three_rooms(2).design.joined_routes}
    assert closed["B001", "B002"] == ("divided",)
    assert closed["B003", "B001"] == ("divided", "west")


def test_every_input_of_a_mixer_carries_one_thing() -> None:
    computed = three_rooms(8)
    used = [(one.mixing, one.input) for one in computed.design.channels.channels]
    used += [
        (one.device, one.port)
        for one in computed.design.ends
        if one.direction == "input" and one.signal == "networked audio"
    ]
    # Eight microphones and two mixes in each of three rooms.
    assert len(used) == len(set(used)) == 3 * (8 + 2)
    assert {number for _, number in used} == {str(n) for n in range(1, 11)}


@pytest.mark.parametrize(
    ("microphones", "states", "wanted"), [(8, STATES, 1), (9, STATES, 2), (9, "states: {divided: {}}\n", 1)]
)
def test_a_mixer_is_sized_for_the_state_that_joins_most(microphones: int, states: str, wanted: int) -> None:
    # Ten inputs: eight microphones and two mixes. One more takes two small ones for 2000, the large one 2200.
    devices = three_rooms(microphones, states).design.devices
    mixers = [one.model for one in devices if one.kind == "mixer" and one.room == "B002"]
    assert mixers == [SMALL_MIXER] * wanted


def test_a_talker_is_heard_later_by_the_network_and_the_second_mixer() -> None:
    computed = three_rooms(8)  # whose devices take two switches
    mixer_s = computed.design.entries["B002-MX1"].latency
    assert mixer_s is not None
    on = {
        device.tag: one.switch.device.tag
        for one in computed.design.switches
        for device in one.switch.ports.values()
    }
    assert len({on[f"{room}-MX1"] for room in ("B001", "B002", "B003")}) == 2
    for one in computed.design.joined_routes:
        # A packet of 1 ms, one or two switches of 10 µs, and 1 ms that the receiver holds back.
        switches = 1 if on[one.sender] == on[one.receiver] else 2
        wanted_s = 0.001 + switches * 0.00001 + 0.001 + mixer_s
        assert one.later_s == pytest.approx(wanted_s, abs=1e-12)


def test_the_mix_of_a_joined_room_goes_on_to_destinations_by_the_echo_canceller() -> None:
    """The far end of B001 returns there: B002's microphones come to it by the canceller of B001's mixer."""
    project = three_rooms(2, STATES, "mixer", CODEC).project
    mixers = {
        code: one.model_copy(update={"echo_cancellers": 9, "latency_with_echo_canceller": 0.0065})
        for code, one in project.library.mixers.items()
    }
    made = designed(changed(project, "library.mixers", mixers))
    outputs = {end.name: end.carries for end in made.ends if end.device == "B001-MX1" and end.carries}
    others = ("mix of B002 for other rooms", "mix of B003 for other rooms")
    assert outputs["mix for codec"] == ("mix", *others)
    assert outputs["loudspeakers, zone room"] == ("mix", "return audio from codec", *others)
    (path,) = (
        one for one in made.delays if (one.spoken_in, one.heard_in, one.listener) == ("B002", "B001", "codec")
    )
    (passed,) = (part.delay_s for part in path.parts if part.name == "mixer with echo canceller")
    assert (passed, [part.name for part in path.parts].count("mixer")) == (0.0065, 1)


def test_no_sound_passes_between_switches_that_nothing_joins() -> None:
    """B003 has a switch of its own, which has no uplink port."""
    project = three_rooms(8).project
    switches = {code: one.model_copy(update={"uplinks": 0}) for code, one in project.library.switches.items()}
    made = designed(changed(project, "library.switches", switches))
    assert {(one.room, one.other) for one in made.joined_routes} == {("B001", "B002"), ("B002", "B001")}
    evidence: Any = SimpleNamespace(project=made.project, design=made)
    answers = {
        other: answered_by_state(StateAnswer(state="all", joins=("B001", other)), evidence).verdict
        for other in ("B002", "B003")
    }
    assert answers == {"B002": "met", "B003": "not met"}
    (one,) = (one for one in no_way_between_mixers(made.project, made) if one.where == "B001")
    assert "no way leads over the network from B003-MX1 (on ER1-SW2) to B001-MX1 (on ER1-SW1)" in one.message
    assert one.place == made.project.place("building", "states", "all")


def test_settings_say_what_is_open_in_which_state_and_whose_mutes_act_as_one() -> None:
    settings = three_rooms(2).design.settings
    said = {(one.device, one.name): one.value for one in settings if one.device == "B001-MX1"}
    assert said["B001-MX1", "In the state west"] == (
        "input 3 (B002) open; mute groups of B001 and B002 act as one"
    )
    assert said["B001-MX1", "In the state all"] == (
        "input 3 (B002) and input 4 (B003) open; mute groups of B001, B002 and B003 act as one"
    )
    assert said["B001-MX1", "Input 3 closed"] == "in divided"
    assert said["B001-MX1", "Input 4 closed"] == "in divided and west"


def test_with_mixers_nothing_is_left_to_say_and_without_them_the_amounts_are() -> None:
    assert not [one for one in three_rooms(2).findings if one.rule == "sound-not-joined"]
    found = three_rooms(2, STATES, "breakout")
    assert found.design.joined_routes == ()
    said = [one for one in found.findings if one.rule == "sound-not-joined"]
    assert [(one.value, one.limit) for one in said] == [(0, 2), (0, 3)]
    # Two microphones and the mixes of two other rooms.
    assert "4 in B001, 4 in B002 and 4 in B003" in said[1].remedy


def test_the_way_is_on_the_signal_flow_of_each_room() -> None:
    flow = three_rooms(2).design.flows["B001"]
    ways = {(one.start, one.end) for one in flow.edges}
    assert {("MX1", "joined-rooms"), ("joined-B002", "MX1"), ("joined-B003", "MX1")} <= ways


def test_pages_of_the_installer_tell_the_ways_and_those_of_the_client_do_not() -> None:
    document = document_of(three_rooms(2))
    assert "## Sound of one room in another" in pages_for(document, "installer").pages["states.md"]
    assert "## Sound of one room in another" not in pages_for(document, "client").pages["states.md"]
