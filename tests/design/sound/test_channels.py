"""The channel list by its properties: complete, nothing twice, within what devices have, kept from issued."""

import ipaddress
import struct
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from proposal.design.design import Design
from proposal.design.numbers.numbering import multicast_group
from proposal.design.sound.channels import ChannelPlan, channel_plan
from proposal.design.whole_design import design
from proposal.model.equipment.devices import AccessPoint, Breakout
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.loading import load_project
from proposal.model.project import Numbered, Project

ROOT = Path(__file__).resolve().parents[3]
FOLDERS = ("example_project", "tests/projects/us_customary", "tests/projects/failing")
EACH = pytest.mark.parametrize("folder", FOLDERS)


@cache
def designed(folder: str) -> tuple[Project, Design]:
    project = load_project(ROOT / folder)
    return project, design(project)


def planned_again(project: Project, found: Design) -> ChannelPlan:
    return channel_plan(project, [(room.tag, room.devices, room.cables) for room in found.rooms])


@EACH
def test_every_microphone_stands_in_the_list_once(folder: str) -> None:
    _, found = designed(folder)
    microphones = {device.tag for device in found.devices if device.kind == "microphone" and device.model}
    assert Counter(one.microphone for one in found.channels.channels) == Counter(microphones)


@EACH
def test_no_channel_input_or_place_in_a_stream_is_used_twice(folder: str) -> None:
    _, found = designed(folder)
    channels = found.channels.channels
    for uses in (
        [(one.access_point, one.channel) for one in channels if one.channel],
        [(one.mixing, one.input) for one in channels if one.input],
        [(one.stream, one.position) for one in channels if one.stream],
        [one.berth for one in channels if one.berth],
    ):
        assert [use for use, count in Counter(uses).items() if count > 1] == []


@EACH
def test_no_device_carries_more_than_it_has(folder: str) -> None:
    _, found = designed(folder)
    for one in found.channels.channels:
        serving, mixing = found.entries.get(one.access_point), found.entries.get(one.mixing)
        if one.channel:
            assert isinstance(serving, AccessPoint)
            assert 1 <= one.channel <= serving.channels
        if isinstance(mixing, Mixer):
            assert 1 <= int(one.input) <= mixing.inputs
        elif isinstance(mixing, Breakout):
            assert one.input in mixing.ports_carrying("analogue output")[: mixing.channels]
        else:
            assert one.input == ""


def test_several_mixers_of_a_room_are_filled_to_their_last_input_and_no_further() -> None:
    project, _ = designed("example_project")
    mixers = {code: entry.model_copy(update={"inputs": 2}) for code, entry in project.library.mixers.items()}
    library = project.library.model_copy(update={"mixers": mixers})
    small = design(project.model_copy(update={"library": library}))
    fed = {
        (one.mixing, one.input)
        for one in small.channels.channels
        if one.input and isinstance(small.entries[one.mixing], Mixer)
    }
    assert {("A110-MX1", "2"), ("A110-MX2", "1")} <= fed
    assert {number for _, number in fed} == {"1", "2"}


@EACH
def test_streams_have_at_most_eight_channels_and_hold_every_channel_sent(folder: str) -> None:
    _, found = designed(folder)
    by_number = {stream.number: stream for stream in found.channels.streams}
    assert all(1 <= stream.channels <= 8 for stream in by_number.values())
    for one in found.channels.channels:
        if one.channel:
            stream = by_number[one.stream]
            assert stream.sender == one.access_point
            assert 1 <= one.position <= stream.channels
            if one.mixing:
                assert one.mixing in stream.receivers


@EACH
def test_an_access_point_serves_the_microphones_of_its_channels(folder: str) -> None:
    _, found = designed(folder)
    serves = {device.tag: set(device.serves) for device in found.devices if device.kind == "access_point"}
    for one in found.channels.channels:
        if one.channel and not one.spare:
            assert one.code in serves[one.access_point]


@EACH
def test_numbers_and_groups_of_streams_are_one_each(folder: str) -> None:
    project, found = designed(folder)
    streams = found.channels.streams
    assert len({stream.number for stream in streams}) == len(streams)
    assert len({stream.group for stream in streams}) == len(streams)
    # The numbers of streams that are gone are not given again.
    living = {identity for identity in found.channels.numbers if identity.startswith("stream/")}
    gone = {
        int(one.number)
        for identity, one in project.issued.items()
        if identity.startswith("stream/") and identity not in living
    }
    numbers = [stream.number for stream in streams]
    assert sorted([*numbers, *gone]) == list(range(1, len(streams) + len(gone) + 1))


@pytest.mark.published
def test_multicast_groups_lie_in_the_organisation_local_scope_with_ethernet_addresses_of_their_own() -> None:
    # RFC 2365, 6.2: 239.192.0.0/14. RFC 1112, 6.4: the low 23 bits make the Ethernet address.
    groups = [ipaddress.IPv4Address(multicast_group(number)) for number in range(1, 60_001)]
    assert len(set(groups)) == len(groups)
    assert all(group in ipaddress.ip_network("239.192.0.0/14") for group in groups)
    ethernet = {struct.unpack("!I", group.packed)[0] & 0x7FFFFF for group in groups}
    assert len(ethernet) == len(groups)
    # 224.0.0.x, which no switch prunes.
    assert not any(low < 256 for low in ethernet)


@pytest.mark.published
def test_a_stream_of_eight_channels_takes_its_rate() -> None:
    # Eight channels at 48 kHz, 24 bit, 1 ms, with all headers and gaps: 9.840 Mb/s.
    _, found = designed("example_project")
    eight = next(stream for stream in found.channels.streams if stream.channels == 8)
    assert eight.bandwidth_bit_per_s == pytest.approx(9_840_000)


@EACH
def test_everything_is_kept_from_an_issued_revision(folder: str) -> None:
    project, found = designed(folder)
    issued = {identity: Numbered(number=number) for identity, number in found.channels.numbers.items()}
    again = planned_again(project.model_copy(update={"issued": issued}), found)
    assert again == found.channels


def test_an_issued_channel_stays_though_another_would_be_lower() -> None:
    project, found = designed("example_project")
    # The last channel of the access point that serves M1, and the last input of the mixer.
    models = {one.tag: one.model for one in found.devices}
    last = project.library.access_points[models["A001-AP1"]].channels
    inputs = project.library.mixers[models["A001-MX1"]].inputs
    issued = {
        "channel/A001-M1": Numbered(number=f"A001-AP1/{last}"),
        "input/A001-M1": Numbered(number=f"A001-MX1/{inputs}"),
        "stream/A001-AP1/1": Numbered(number="77"),
        "stream/A001-AP9/1": Numbered(number="1", retired=True),
    }
    again = planned_again(project.model_copy(update={"issued": issued}), found)
    by_tag = {one.microphone: one for one in again.channels}
    assert (by_tag["A001-M1"].channel, by_tag["A001-M1"].input) == (last, str(inputs))
    assert by_tag["A001-M2"].channel == 1
    assert by_tag["A001-M2"].stream == 77
    assert 1 not in {stream.number for stream in again.streams}


def test_paired_spares_have_channels_that_talkers_leave() -> None:
    project, found = designed("example_project")
    room = next(one for one in found.rooms if one.tag == "A001")
    layout = project.rooms["A001"].layout.model_copy(update={"spares_paired": True})
    changed = project.model_copy(
        update={
            "rooms": {
                **project.rooms,
                "A001": project.rooms["A001"].model_copy(update={"layout": layout}),
            }
        }
    )
    plan = channel_plan(changed, [(room.tag, room.devices, room.cables)])
    # 31 microphones leave few channels: as many spares find one, and it is nobody else's.
    models = [one.model for one in room.devices if one.kind == "access_point"]
    left = sum(project.library.access_points[model].channels for model in models) - len(layout.microphones)
    paired = [(one.access_point, one.channel) for one in plan.channels if one.spare and one.channel]
    spares = sum(one.spare for one in plan.channels)
    assert 0 < len(paired) == min(left, spares) < spares
    talkers = {(one.access_point, one.channel) for one in plan.channels if not one.spare}
    assert talkers.isdisjoint(paired)


@pytest.mark.independent
def test_names_tell_who_speaks() -> None:
    _, found = designed("example_project")
    names = {one.microphone: one.name for one in found.channels.channels}
    assert names["A001-M1"] == "M1 presiding officer"
    assert names["A001-M22"] == "M22 handheld"
    assert names["A001-MS4"] == "MS4 spare handheld"
    assert names["A101-M7"] == "M7 witness"


def test_an_output_that_feeds_an_amplifier_is_left_to_it() -> None:
    _, found = designed("example_project")
    fed = {(cable.start, cable.start_port) for cable in found.cables if cable.signal == "analogue"}
    assert fed
    taken = {(one.mixing, one.input) for one in found.channels.of_room("A201")}
    assert not taken & fed


def test_talkers_who_hear_return_audio_get_a_stream_at_their_access_point() -> None:
    project, found = designed("example_project")
    room = next(one for one in found.rooms if one.tag == "A101")
    layout = project.rooms["A101"].layout
    hearing = layout.microphones["M1"].model_copy(update={"return_audio": True})
    layout = layout.model_copy(update={"microphones": {**layout.microphones, "M1": hearing}})
    rooms = {**project.rooms, "A101": project.rooms["A101"].model_copy(update={"layout": layout})}
    plan = channel_plan(project.model_copy(update={"rooms": rooms}), [(room.tag, room.devices, room.cables)])
    added = [stream for stream in plan.streams if "for talkers" in stream.carries]
    assert [(one.sender, one.receivers, one.channels) for one in added] == [("A101-MX1", ("A101-AP1",), 1)]
    assert [one.code for one in plan.channels if one.return_audio] == ["M1"]
