"""Streams from sender to receivers, their bandwidth on the wire, and what links between switches carry.

AES67: 48 kHz, 24 bit, 1 ms packets, up to 8 channels; with RTP 12, UDP 8, IPv4 20, Ethernet 14 + 4, preamble
8 and gap 12 bytes, and 4 more where a link is tagged.
"""

from collections import defaultdict
from typing import Any

import pytest

from tests.independent.conftest import Case

pytestmark = pytest.mark.independent
Row = dict[str, Any]
HEADERS, TAG, CHANNEL = 12 + 8 + 20 + 14 + 4 + 8 + 12, 4, 48 * 3
PACKETS_A_SECOND = 1000


def on_the_wire(channels: int, tagged: bool = False) -> int:
    """Return the bandwidth of a stream, bit/s."""
    return 8 * PACKETS_A_SECOND * (HEADERS + (TAG if tagged else 0) + CHANNEL * channels)


def channels_of(case: Case, device: str) -> int:
    models = case.models("equipment", "access_points", "access_points")
    return int(models[case.devices[device]["model"]]["channels"])


def test_the_published_bandwidths_come_out() -> None:
    assert on_the_wire(8) == 9_840_000
    assert (on_the_wire(8, tagged=True), on_the_wire(2, tagged=True)) == (9_872_000, 2_960_000)


def test_every_stream_has_the_bandwidth_of_its_channels(case: Case) -> None:
    for stream in case["streams"]:
        assert 1 <= stream["channels"] <= 8
        assert stream["bandwidth_bit_s"] == on_the_wire(stream["channels"]), stream["name"]
    assert len({stream["group"] for stream in case["streams"]}) == len(case["streams"])


def test_access_points_send_all_their_channels_in_as_few_streams_as_hold_them(case: Case) -> None:
    sent: dict[str, list[int]] = defaultdict(list)
    for stream in case["streams"]:
        sent[stream["sender"]].append(stream["channels"])
    access_points = [tag for tag, device in case.devices.items() if device["kind"] == "access point"]
    for tag in access_points:
        channels = channels_of(case, tag)
        assert sorted(sent[tag], reverse=True) == [8] * (channels // 8) + [channels % 8] * (channels % 8 > 0)


def test_every_microphone_in_use_has_a_place_in_a_stream_that_its_mixer_receives(case: Case) -> None:
    streams = {stream["number"]: stream for stream in case["streams"]}
    held: dict[int, set[int]] = defaultdict(set)
    received: dict[int, set[str]] = defaultdict(set)
    for channel in case["channels"]:
        if not channel["stream"]:
            continue
        stream = streams[channel["stream"]]
        assert stream["sender"] == channel["access_point"]
        assert stream["group"] == channel["group"]
        assert 1 <= channel["position"] <= stream["channels"]
        assert channel["position"] not in held[channel["stream"]]
        held[channel["stream"]].add(channel["position"])
        received[channel["stream"]].add(channel["mixing"])
    assert sum(len(places) for places in held.values()) == sum(
        len(room["microphones"]) for room in case.inputs.rooms.values()
    )
    for number, stream in streams.items():
        if case.devices.get(stream["sender"], {}).get("kind") == "access point":
            assert set(stream["receivers"]) == received[number], stream["name"]


def test_mixes_and_returns_over_the_network_are_streams_to_and_from_what_the_room_names(case: Case) -> None:
    """As the rooms ask for them: one channel unless they say more."""
    wanted = set()
    for tag, room in case.inputs.rooms.items():
        for direction in ("destinations", "returns"):
            for name, one in room.get(direction, {}).items():
                if one["signal"] == "networked audio":
                    wanted.add((tag, direction, end_called(case, tag, name), int(one.get("channels", 1))))
    found = set()
    for stream in case["streams"]:
        kind = case.devices.get(stream["sender"], {}).get("kind")
        if kind == "mixer":
            (receiver,) = stream["receivers"]
            found.add((stream["room"], "destinations", receiver, stream["channels"]))
        elif kind not in ("access point", "breakout"):
            assert len(stream["receivers"]) == 1
            found.add((stream["room"], "returns", stream["sender"], stream["channels"]))
    assert found == wanted


RATES = {"kbit/s": 1e3, "Mbit/s": 1e6, "bit/s": 1.0}
FILES = {
    "access point": "access_points",
    "charger": "chargers",
    "breakout": "breakouts",
    "mixer": "mixers",
    "amplifier": "amplifiers",
    "switch": "switches",
    "standby supply": "standby_supplies",
}


def control_bit_s(case: Case, tag: str) -> float:
    """Return what controlling a device or a switch of ours takes, bit/s, as the library says."""
    device = case.devices[tag]
    file = FILES.get(device["kind"])
    entry = case.models("equipment", file, file).get(device["model"], {}) if file else {}
    written = str(entry.get("network", {}).get("control_rate", "0 bit/s"))
    number, _, unit = written.partition(" ")
    return float(number) * RATES[unit]


def end_called(case: Case, room: str, code: str) -> str:
    """Return the tag of what a destination or return of a room is, its code where nobody placed it."""
    placed = case.inputs.building.get("owner_equipment", {}).values()
    return (
        owners_device(case, room, code)
        if any(code in one["serves"] for held in placed for one in held.values())
        else code
    )


def owners_device(case: Case, room: str, serves: str) -> str:
    """Return which of the owner's devices a room's destination or return audio is joined to."""
    building = case.inputs.building.get("owner_equipment", {})
    for place in (room, case.inputs.rooms[room]["type"]):
        for code, one in building.get(place, {}).items():
            if serves in one["serves"]:
                return f"{room}-{code}"
    for place, held in building.items():
        for code, one in held.items():
            if serves in one["serves"] and room in one.get("rooms", ()):
                return f"{place}-{code}"
    raise AssertionError(f"nothing serves {serves} in {room}")


def test_an_end_of_audio_names_the_owners_equipment_by_its_tag(case: Case) -> None:
    placed = case.inputs.building.get("owner_equipment", {}).values()
    codes = {code for held in placed for one in held.values() for code in one["serves"]}
    for row in case["audio_ends"]:
        room = case.devices[row["device"]]["room"]
        wanted = [end_called(case, room, code) for code in row["joined"] if code in codes]
        assert list(row["owners"]) == wanted, row


def behind(case: Case, link: Row) -> tuple[set[str], set[str]]:
    """Return switches and devices beyond a link: its first switch, and what is joined to it otherwise."""
    hosts: dict[str, str] = {}
    joined: dict[str, set[str]] = defaultdict(set)
    for one in case["switch_links"]:
        if one["identity"] != link["identity"]:
            joined[one["from_switch"]].add(one["to_switch"])
            joined[one["to_switch"]].add(one["from_switch"])
    for port in case.device_ports:
        tag = port["device"]
        if not tag or tag.partition("-")[2].startswith("RK"):
            continue
        hosts[tag] = port["switch"]
        if any(other["switch"] == tag for other in case.device_ports):
            joined[port["switch"]].add(tag)
            joined[tag].add(port["switch"])
    reached, waiting = {link["from_switch"]}, [link["from_switch"]]
    while waiting:
        for other in joined[waiting.pop()] - reached:
            reached.add(other)
            waiting.append(other)
    return reached, {tag for tag, host in hosts.items() if host in reached}


def test_links_between_switches_carry_every_group_to_the_querier_and_back_what_is_received(
    case: Case,
) -> None:
    """Towards the first switch, which queries, all groups; away from it what somebody there receives."""
    for link in case["switch_links"]:
        switches, devices = behind(case, link)
        inwards, outwards = [], []
        for stream in case["streams"]:
            ends = [
                one if one in case.devices else owners_device(case, stream["room"], one)
                for one in (stream["sender"], *stream["receivers"])
            ]
            if ends[0] in devices:
                inwards.append(stream)
            elif set(ends[1:]) & devices:
                outwards.append(stream)
        control = sum(control_bit_s(case, tag) for tag in {*devices, *switches})
        for way, streams in (("in", inwards), ("out", outwards)):
            assert link[f"streams_{way}"] == len(streams), link["identity"]
            load = sum(on_the_wire(stream["channels"], tagged=True) for stream in streams) + control
            assert link[f"{way}wards_bit_s"] == pytest.approx(load), (link["identity"], way, control)
            assert link[f"audio_{way}_bit_s"] + link["control_bit_s"] == pytest.approx(load)
            assert load <= link["speed_bit_s"]


def test_every_device_on_the_network_stands_in_one_port_of_one_switch(case: Case) -> None:
    places = [(port["switch"], port["port"]) for port in case.device_ports]
    assert len(places) == len(set(places))
    for device in case.devices.values():
        if not device["switch_port"]:
            continue
        here = [
            f"{port['switch']}/{port['port']}"
            for port in case.device_ports
            if port["device"] == device["tag"]
        ]
        assert here == [device["switch_port"]], device["tag"]
    uplinks = {
        (port["switch"], port["port"], port["device"], port["device_port"], port["cable"])
        for port in case["ports"]
        if port["port"].startswith("U") and port["device"]
    }
    ends = [
        (link[f"{one}_switch"], link[f"{one}_port"], link[f"{other}_switch"], link[f"{other}_port"])
        for link in case["switch_links"]
        for one, other in (("from", "to"), ("to", "from"))
    ]
    assert {one[:4] for one in uplinks} == set(ends)
    assert {one[4] for one in uplinks} - {""} == {
        link["identity"] for link in case["switch_links"] if link["identity"] in case.cables
    }


def test_a_switch_passes_what_its_ports_send_and_take_and_what_its_links_carry(case: Case) -> None:
    """A stream sent behind a port comes in there, whoever takes it: it is handed on towards the querier.

    One that is taken behind a port goes out there once. Control goes both ways at each port.
    """
    told = {row["tag"]: row["passing_bit_s"] for row in case["switch_traffic"]}
    held: dict[str, set[str]] = defaultdict(set)
    for port in case.device_ports:
        held[port["switch"]].add(port["device"])
    streams = []
    for stream in case["streams"]:
        ends = [
            one if one in case.devices else owners_device(case, stream["room"], one)
            for one in (stream["sender"], *stream["receivers"])
        ]
        streams.append((ends[0], set(ends[1:]), on_the_wire(stream["channels"])))
    for tag, passing in told.items():
        wanted = 0.0
        for device in held[tag] - {""}:
            # A switch behind the port names this one, at the other end of its link.
            here = ({device, *held.get(device, ())} & set(case.devices)) - {tag}
            wanted += sum(rate for sender, _, rate in streams if sender in here)
            wanted += sum(rate for sender, takers, rate in streams if sender not in here and takers & here)
            wanted += 2 * sum(control_bit_s(case, one) for one in here)
        for link in case["switch_links"]:
            if tag in (link["from_switch"], link["to_switch"]):
                wanted += link["inwards_bit_s"] + link["outwards_bit_s"]
        assert passing == pytest.approx(wanted), tag
    assert told
