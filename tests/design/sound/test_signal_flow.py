"""The signal flow: every microphone once, return audio only to those who hear it, boxes with their cables."""

from collections import Counter

import pytest

from proposal.design.sound.flow import Flow, listed
from proposal.model.project import Project
from proposal.model.rooms import Destination, Loudspeaker
from tests.design.making import (
    EXAMPLE,
    PROJECTS,
    designed,
    minimal,
    project_of,
    with_layout,
    with_microphones,
)

GOOD = (EXAMPLE, PROJECTS / "us_customary", PROJECTS / "minimal")


def flow_of(project: Project, key: str = "meeting") -> Flow:
    return designed(project).flows[key]


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_every_microphone_of_a_kind_appears_once(folder: object) -> None:
    design = designed(project_of(folder))  # type: ignore[arg-type]
    for kind in design.kinds:
        shown = [code for codes in design.flows[kind.key].members.values() for code in codes]
        assert Counter(shown) == Counter(list(kind.layout.microphones)), kind.key


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_edges_join_boxes_that_are_there_and_boxes_have_one_code_each(folder: object) -> None:
    design = designed(project_of(folder))  # type: ignore[arg-type]
    for key, flow in design.flows.items():
        codes = [node.code for node in flow.nodes]
        assert len(codes) == len(set(codes)), key
        assert {end for edge in flow.edges for end in (edge.start, edge.end)} == set(codes), key


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_a_cable_named_in_a_flow_is_in_every_room_of_the_kind(folder: object) -> None:
    design = designed(project_of(folder))  # type: ignore[arg-type]
    identities = {cable.identity for cable in design.cables}
    for kind in design.kinds:
        named = {edge.cable for edge in design.flows[kind.key].edges if edge.cable}
        assert named
        for room in kind.rooms:
            for cable in named:
                assert any(one.startswith(f"{room}-{cable}/") for one in identities), (room, cable)


def returning(hearing: tuple[str, ...], returns: bool = True) -> Flow:
    project = with_microphones(minimal(), "meeting", {"boundary": 3, "gooseneck": 2}, spare_microphones={})
    microphones = {
        code: position.model_copy(update={"return_audio": code in hearing})
        for code, position in project.room_types["meeting"].microphones.items()
    }
    source = {"codec": Destination(name="codec", signal="analogue")} if returns else {}
    return flow_of(with_layout(project, "meeting", microphones=microphones, returns=source))


def back(flow: Flow) -> set[tuple[str, str]]:
    return {(edge.start, edge.end) for edge in flow.edges if edge.returning}


def test_return_audio_goes_to_those_who_hear_it_and_to_nobody_else() -> None:
    # M1 to M3 are boundary microphones, M4 and M5 goosenecks, all at one access point.
    flow = returning(("M2",))
    assert back(flow) == {("codec", "BO1"), ("BO1", "NET"), ("NET", "AP1"), ("AP1", "AP1-boundary")}


def test_return_audio_that_nobody_hears_ends_at_the_breakout() -> None:
    assert back(returning(())) == {("codec", "BO1")}


def test_no_return_audio_is_drawn_without_a_source() -> None:
    assert back(returning(("M2",), returns=False)) == set()


def test_what_takes_the_mix_and_gives_return_audio_is_one_box() -> None:
    codec = {"codec": Destination(name="codec", signal="analogue")}
    flow = flow_of(with_layout(minimal(), "meeting", destinations=codec, returns=codec))
    (box,) = (node for node in flow.nodes if node.code == "codec")
    assert (box.kind, box.lines) == ("destination", ("1 channel; 1 channel back",))


def test_return_audio_is_drawn_with_its_ports_and_with_the_outputs_that_carry_it() -> None:
    """A codec on the network in a rack, one with cables beside the breakout, one with a USB cord."""
    flows = designed(project_of(EXAMPLE)).flows
    drawn = {
        key: [
            (edge.label, edge.cable, edge.start_port, edge.end_port)
            for edge in flows[key].edges
            if edge.returning or edge.label.endswith("return audio")
        ]
        for key in ("A102", "meeting_room", "training_room")
    }
    speakers = "zone room, with return audio"
    assert drawn == {
        "A102": [
            (speakers, "MX1/O1", "O1", "I1"),
            ("1 channel, by the network, input 9", "OE1/N1", "N1", ""),
        ],
        "meeting_room": [(speakers, "BO1/A1", "A1", "I1"), ("1 channel", "OE1/O1", "O1", "R1")],
        "training_room": [
            (speakers, "MX1/O1", "O1", "I1"),
            ("1 channel, cord of the equipment", "", "U1", "U1"),
        ],
    }


@pytest.mark.parametrize("code", ["NET", "AP1", "CH1", "BO1", "LS-room", "AP1-boundary"])
def test_a_destination_called_like_a_box_of_the_system_stays_apart_from_it(code: str) -> None:
    outside = {code: Destination(name="recorder", signal="analogue")}
    flow = flow_of(with_layout(minimal(), "meeting", destinations=outside, returns=outside))
    codes = [node.code for node in flow.nodes]
    assert len(codes) == len(set(codes))
    assert [node.title for node in flow.nodes if node.kind == "destination"] == ["recorder"]
    (back_edge,) = [edge for edge in flow.edges if edge.returning]
    assert back_edge.start == f"{code} (outside)"


def test_zones_take_the_channels_of_amplifiers_in_turn() -> None:
    loudspeakers = {f"LS{n}": Loudspeaker(at=(float(n % 5) + 0.5, 2.0), zone=f"z{n}") for n in range(1, 7)}
    flow = flow_of(with_layout(minimal(), "meeting", loudspeakers=loudspeakers))
    size = designed(with_layout(minimal(), "meeting", loudspeakers=loudspeakers)).kinds[0].sizing
    amplifiers = size.size("amplifier")
    assert amplifiers is not None
    assert amplifiers.given >= 6
    played = Counter(edge.start for edge in flow.edges if edge.signal == "loudspeaker line")
    assert sum(played.values()) == 6
    fed = Counter(edge.end for edge in flow.edges if edge.signal == "analogue" and edge.cable)
    assert {end: count for end, count in fed.items() if end != "far-end"} == played
    lines = {(edge.start, edge.label) for edge in flow.edges if edge.signal == "loudspeaker line"}
    assert {(edge.end, edge.label) for edge in flow.edges if edge.end in played} == lines


@pytest.mark.parametrize(
    ("codes", "text"),
    [
        ([], ""),
        (["M1"], "M1"),
        (["M2", "M1"], "M1, M2"),
        (["M3", "M1", "M2"], "M1–M3"),
        (["M9", "M10", "M11", "M2"], "M2, M9–M11"),
        (["A1", "B2", "A2", "A3"], "A1–A3, B2"),
        (["chair", "clerk"], "chair, clerk"),
        (["M1", "M3", "M4", "M6"], "M1, M3, M4, M6"),
        (["M1", "N2", "M"], "M, M1, N2"),
        (["M01", "M2", "M3"], "M01–M3"),
        (["A1", "B2", "C3"], "A1, B2, C3"),
    ],
)
def test_neighbours_in_a_list_are_joined(codes: list[str], text: str) -> None:
    assert listed(codes) == text
