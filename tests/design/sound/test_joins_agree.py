"""What is drawn is joined, and what is joined is drawn: flow, channels, ends, streams and settings agree."""

from collections import Counter
from pathlib import Path

import pytest

from proposal.design.design import Design
from proposal.design.room_designs import RoomDesign
from proposal.design.rooms.room_kinds import RoomKind
from proposal.model.project import Project
from proposal.model.rooms import Destination, Loudspeaker
from proposal.review.rooms import audio_short, return_audio
from proposal.review.sound import ports_missing, streams_not_taken
from tests.catalogue import LARGE_AP, MIXER, SMALL_MIXER, with_round_catalogue
from tests.design.making import (
    EXAMPLE,
    PROJECTS,
    changed,
    designed,
    minimal,
    project_of,
    with_layout,
    with_microphones,
)

GOOD = (EXAMPLE, PROJECTS / "us_customary", PROJECTS / "minimal", PROJECTS / "further_inputs")


def made(microphones: int, output: str, hearing: bool, back: str, out: str, zones: int) -> Project:
    """Return a building of one room of the small catalogue, with ends of given signals."""
    project = with_microphones(
        with_round_catalogue(minimal()), "meeting", {"boundary": microphones}, spare_microphones={}
    )
    places = {
        code: place.model_copy(update={"return_audio": hearing and code == "M1"})
        for code, place in project.room_types["meeting"].microphones.items()
    }
    ends = {"far": Destination(name="far end", signal=back, channels=2)}  # type: ignore[arg-type]
    goes = {
        "rec": Destination(name="recorder", signal=out, channels=1),  # type: ignore[arg-type]
        "far": Destination(name="far end", signal=back, channels=1),  # type: ignore[arg-type]
    }
    speakers = {f"LS{n}": Loudspeaker(at=(n + 0.5, 1.0), zone=f"z{n % zones}") for n in range(2 * zones)}
    return with_layout(
        project, "meeting", microphones=places, output=output, destinations=goes, returns=ends,
        loudspeakers=speakers, network="rack",
    )  # fmt: skip


MADE = [
    made(3, "mixer", hearing=True, back="networked audio", out="networked audio", zones=1),
    made(12, "mixer", hearing=True, back="USB", out="analogue", zones=1),
    made(18, "mixer", hearing=False, back="networked audio", out="networked audio", zones=2),
    made(27, "mixer", hearing=True, back="networked audio", out="analogue", zones=3),
    made(3, "breakout", hearing=True, back="analogue", out="analogue", zones=2),
    made(6, "breakout", hearing=True, back="analogue", out="analogue", zones=1),
]


def shown(design: Design) -> list[tuple[RoomKind, RoomDesign]]:
    by_tag = {room.tag: room for room in design.rooms}
    return [(kind, by_tag[kind.rooms[0]]) for kind in design.kinds]


@pytest.fixture(scope="module", params=range(len(GOOD) + len(MADE)))
def design(request: pytest.FixtureRequest) -> Design:
    """Each design in turn."""
    n = request.param
    return designed(project_of(GOOD[n])) if n < len(GOOD) else designed(MADE[n - len(GOOD)])


def test_everything_that_a_room_names_has_its_port(design: Design) -> None:
    for kind, room in shown(design):
        ends = [end for end in design.ends if end.device in {one.tag for one in room.devices}]
        for direction, named in (("output", kind.layout.destinations), ("input", kind.layout.returns)):
            for code, one in named.items():
                joined = [
                    end for end in ends if end.direction == direction and code in end.joined and end.port
                ]
                straight = sum(
                    stream.channels for stream in design.channels.streams
                    if stream.room == room.tag and stream.sender == code and not joined
                )  # fmt: skip
                assert sum(end.channels for end in joined) + straight == one.channels, (kind.key, code)
        zones = {one.zone for one in kind.layout.loudspeakers.values()}
        amplifiers = {one.tag for one in room.devices if one.kind == "amplifier"}
        feeds = [end for end in ends if end.direction == "output" and set(end.joined) & amplifiers]
        assert Counter(end.name for end in feeds) == Counter(f"loudspeakers, zone {zone}" for zone in zones)
        assert all(end.port for end in feeds)


def test_no_input_or_output_is_used_twice(design: Design) -> None:
    used = [
        (end.device, end.direction, end.port)
        for end in design.ends
        if end.signal != "USB" and not end.port.startswith("stream")
    ]
    kinds = {one.tag: one.kind for one in design.devices}
    used += [
        (one.mixing, "input" if kinds[one.mixing] == "mixer" else "output", one.input)
        for one in design.channels.channels
        if one.mixing
    ]
    assert [use for use, count in Counter(used).items() if count > 1] == []
    assert list(ports_missing(design.project, design)) == []
    assert list(audio_short(design.project, design)) == []
    assert list(streams_not_taken(design.project, design)) == []


def test_every_stream_has_a_sender_and_receivers_that_are_there(design: Design) -> None:
    for stream in design.channels.streams:
        layout = design.project.rooms[stream.room].layout
        tags = {one.tag: one.kind for one in design.devices if one.room == stream.room}
        assert stream.sender in tags or stream.sender in layout.returns
        assert set(stream.receivers) <= tags.keys() | layout.destinations.keys()
        if tags.get(stream.sender) != "access_point":
            assert stream.receivers, stream.name
        for one in design.channels.channels:
            if one.stream == stream.number and one.mixing:
                assert one.mixing in stream.receivers


def test_every_box_that_is_drawn_is_joined_and_every_join_is_in_the_schedules(design: Design) -> None:
    for kind, room in shown(design):
        flow = design.flows[kind.key]
        touched = {end for edge in flow.edges for end in (edge.start, edge.end)}
        assert {node.code for node in flow.nodes} == touched, kind.key
        kinds = {node.code: node.kind for node in flow.nodes}
        tag = {one.code: one.tag for one in room.devices}
        ends = [end for end in design.ends if end.device in tag.values() and end.port]
        joined = {(end.device, other) for end in ends for other in end.joined}
        drawn = set()
        for edge in flow.edges:
            if kinds[edge.end] == "destination" and kinds[edge.start] in ("mixer", "breakout"):
                drawn.add((tag[edge.start], edge.end.removesuffix(" (outside)")))
            elif edge.returning and kinds[edge.end] in ("mixer", "breakout"):
                drawn.add((tag[edge.end], edge.start.removesuffix(" (outside)")))
            elif kinds[edge.end] == "amplifier":
                drawn.add((tag[edge.start], tag[edge.end]))
            elif kinds[edge.start] == kinds[edge.end] == "mixer":
                drawn |= {(tag[edge.start], tag[edge.end]), (tag[edge.end], tag[edge.start])}
        points = {one.tag for one in room.devices if one.kind == "access_point"}
        assert drawn == {one for one in joined if one[1] not in points}, kind.key
        # Return audio goes to an access point in the drawing where a stream of it goes there.
        back = {tag[edge.end] for edge in flow.edges if edge.returning and kinds[edge.end] == "access point"}
        streams = design.channels.streams_of_room(room.tag)
        assert back == {one for stream in streams for one in stream.receivers if one in points}


def test_configuration_sheets_name_every_end_and_stream(design: Design) -> None:
    sheets: dict[str, str] = {}
    for one in design.settings:
        sheets[one.device] = f"{sheets.get(one.device, '')}\n{one.name}: {one.value}"
    for end in design.ends:
        assert end.name in sheets[end.device]
    for stream in design.channels.streams:
        if stream.sender in sheets and design.entries[stream.sender].kind != "breakout":
            assert f"Send stream {stream.number}" in sheets[stream.sender]


def test_further_mixers_hand_on_to_the_first_by_an_input_of_it() -> None:
    # Eighteen microphones and two channels of return audio: 20 inputs for 2200, or three of ten for 3000.
    project = changed(
        made(18, "mixer", hearing=False, back="networked audio", out="networked audio", zones=1),
        "library.mixers",
        {SMALL_MIXER: with_round_catalogue(minimal()).library.mixers[SMALL_MIXER]},
    )
    design = designed(project)
    mixers = [one.tag for one in design.devices if one.kind == "mixer"]
    # 18 + 2 and one for each further mixer: 22 of 30 for three, and 21 of 20 are too many for two.
    assert len(mixers) == 3
    handed = [end for end in design.ends if end.direction == "input" and set(end.joined) & set(mixers)]
    assert {(end.device, *end.joined) for end in handed} == {
        ("B001-MX1", "B001-MX2"),
        ("B001-MX1", "B001-MX3"),
    }
    assert all(end.port for end in handed)
    assert MIXER not in {one.model for one in design.devices}


def test_what_a_device_cannot_take_is_an_error() -> None:
    # One access point of twenty channels that may receive one: two channels of return audio are too many.
    project = made(6, "mixer", hearing=True, back="analogue", out="analogue", zones=1)
    project = changed(project, "library.access_points", {LARGE_AP: project.library.access_points[LARGE_AP]})
    entry = project.library.access_points[LARGE_AP]
    assert entry.network is not None
    network = entry.network.model_copy(
        update={"received_channels": 1, "sent_channels": 19, "channels_a_stream": 8}
    )
    narrow = entry.model_copy(update={"network": network})
    project = changed(project, "library.access_points", {LARGE_AP: narrow})
    found = [
        (one.rule, one.where, one.value, one.limit) for one in streams_not_taken(project, designed(project))
    ]
    assert found == [
        ("stream-not-taken", "B001-AP1", 20.0, 19.0),
        ("stream-not-taken", "B001-AP1", 2.0, 1.0),
    ]


def test_return_audio_that_nobody_can_hear_is_told() -> None:
    silent = made(3, "mixer", hearing=False, back="analogue", out="analogue", zones=1)
    assert [one.rule for one in return_audio(silent, designed(silent))] == []
    silent = with_layout(silent, "meeting", loudspeakers={})
    assert [one.rule for one in return_audio(silent, designed(silent))] == ["return-unheard"]


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_loudspeakers_are_fed_once(folder: Path) -> None:
    design = designed(project_of(folder))
    for _, room in shown(design):
        amplifiers = {one.tag for one in room.devices if one.kind == "amplifier"}
        fed = [one.start for one in room.cables if one.signal == "loudspeaker line"]
        assert len(fed) == len(set(fed)) == sum(one.kind == "loudspeaker" for one in room.devices)
        feeds = [end for end in design.ends if set(end.joined) & amplifiers]
        assert len(feeds) == len({end.name for end in feeds})
