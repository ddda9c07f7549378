"""How long sound takes, added up again from the exported document, the library's files and the owner's list.

Nothing below knows the program's own modules: switches and what is plugged into them make a graph, and the
way through it is the shortest.
"""

from collections import defaultdict
from typing import Any

import networkx as nx
import pytest

from tests.independent.conftest import Case

pytestmark = pytest.mark.independent
PACKET_S, BUFFER_S = 0.001, 0.001
"""A packet of AES67, and what a receiver holds back as the starting rules have it."""
SECONDS = {"µs": 1e-6, "ms": 1e-3, "s": 1.0}


def seconds(text: str) -> float:
    number, _, unit = text.partition(" ")
    return float(number) * SECONDS[unit]


class Sound:
    """What is known of a project's way of sound."""

    def __init__(self, case: Case) -> None:
        self.case = case
        sections = {
            "microphone": ("microphones", "microphones"),
            "access point": ("access_points", "access_points"),
            "mixer": ("mixers", "mixers"),
            "breakout": ("breakouts", "breakouts"),
            "amplifier": ("amplifiers", "amplifiers"),
            "switch": ("switches", "switches"),
        }
        self.models = {kind: case.models("equipment", *names) for kind, names in sections.items()}
        self.graph = nx.Graph()
        racks = {row["tag"] for row in case["racks"]}
        for port in case.device_ports:
            if port["device"] and port["device"] not in racks:
                self.graph.add_edge(("switch", port["switch"]), port["device"])
        for switch in case["switches"]:
            self.graph.add_edge(("switch", switch["tag"]), switch["tag"])
        for link in case["switch_links"]:
            self.graph.add_edge(("switch", link["from_switch"]), ("switch", link["to_switch"]))
        self.owner: dict[tuple[str, str], str] = {}
        written = case.inputs.building.get("owner_equipment", {}).values()
        codes = {one["name"]: one.get("serves", ()) for here in written for one in here.values()}
        for row in case["owner_equipment"]:
            for room in row["serves"]:
                self.owner |= {
                    (room, code): row["tag"] for code in codes[row["name"]] if row["network_ports"]
                }

    def entry(self, tag: str) -> dict[str, Any]:
        device = self.case.devices[tag]
        entry: dict[str, Any] = self.models[device["kind"]][device["model"]]
        return entry

    def through(self, tag: str) -> float:
        return seconds(self.entry(tag)["latency"])

    def hop(self, sender: str, receiver: str) -> float:
        way = nx.shortest_path(self.graph, sender, receiver)
        return PACKET_S + BUFFER_S + sum(self.forwarding(one[1]) for one in way if isinstance(one, tuple))

    def forwarding(self, switch: str) -> float:
        entry = self.entry(switch)
        return seconds(entry.get("switch", entry)["forwarding_delay"])

    def mixing(self, tag: str, cancelling: bool) -> float:
        entry = self.entry(tag)
        return seconds(entry["latency_with_echo_canceller" if cancelling else "latency"])

    def ways(self, channel: dict[str, Any]) -> dict[str, float]:
        """Return how long sound takes from a microphone to each listener of its room."""
        point, room = channel["access_point"], channel["room"]
        begun = self.through(channel["microphone"]) + self.through(point)
        begun += seconds(self.entry(point)["radio"]["latency"])
        ends = [
            row for row in self.case["audio_ends"] if row["device"].startswith(f"{room}-") and row["port"]
        ]
        handed = {row["joined"][0]: row["device"] for row in ends if "handed on" in row["name"]}
        assert not handed, "the projects have one mixer a room"
        box = channel["mixing"]
        returns = any(row["direction"] == "input" and row["name"].startswith("return audio") for row in ends)
        far_end = returns and int(self.entry(box).get("echo_cancellers", 0)) > 0
        found = {}
        for row in ends:
            if row["direction"] != "output" or row["device"] != box:
                continue
            there = begun + self.hop(point, box)
            for other in row["joined"]:
                if other in self.case.devices and self.case.devices[other]["kind"] == "amplifier":
                    found[row["name"]] = there + self.mixing(box, False) + self.through(other)
                elif other not in self.case.devices and row["name"].startswith("mix for "):
                    onward = 0.0
                    if row["signal"] == "networked audio":
                        taker = self.owner.get((room, other), "")
                        onward = self.hop(box, taker) if taker else self.out_of(box)
                    name = row["name"].removeprefix("mix for ")
                    found[name] = there + self.mixing(box, far_end) + onward
        return found

    def returned(self, room: str) -> dict[tuple[str, str], float]:
        """Return how long return audio takes to the loudspeakers of a room, by who sends and who plays it."""
        ends = [row for row in self.case["audio_ends"] if row["device"].startswith(f"{room}-")]
        found = {}
        for came in ends:
            if came["direction"] != "input" or not came["name"].startswith("return audio from "):
                continue
            box, (code,) = came["device"], came["joined"]
            before = 0.0
            if came["signal"] == "networked audio":
                sender = self.owner.get((room, code), "")
                before = self.hop(sender, box) if sender else self.out_of(box)
            for row in ends:
                for other in row["joined"]:
                    if row["device"] == box and self.case.devices.get(other, {}).get("kind") == "amplifier":
                        key = (came["name"].removeprefix("return audio from "), row["name"])
                        found[key] = before + self.mixing(box, False) + self.through(other)
        return found

    def out_of(self, box: str) -> float:
        (switch,) = (one for one in self.graph[box] if isinstance(one, tuple))
        return PACKET_S + BUFFER_S + self.forwarding(switch[1])


@pytest.fixture(name="sound", scope="module")
def sound_of(case: Case) -> Sound:
    return Sound(case)


def test_every_microphone_has_its_delay_to_every_listener_and_the_slowest_is_told(sound: Sound) -> None:
    slowest: dict[tuple[str, str, str], float] = defaultdict(float)
    for channel in sound.case["channels"]:
        if channel["access_point"] and channel["mixing"]:
            for listener, delay_s in sound.ways(channel).items():
                key = (channel["room"], channel["model"], listener)
                slowest[key] = max(slowest[key], delay_s)
    told = {}
    for row in sound.case["latencies"]:
        if row["heard_in"] or row["returned_from"] or row["listener"] == "outputs of the breakout":
            continue
        rooms = {
            key: s
            for key, s in slowest.items()
            if key[0] in row["rooms"] and key[1:] == (row["model"], row["listener"])
        }
        assert row["total_s"] == pytest.approx(max(rooms.values()), abs=1e-9), row
        told |= rooms
    assert told == slowest
    assert len(told) > 3


def test_return_audio_has_its_delay_to_every_loudspeaker_zone(sound: Sound) -> None:
    told = {
        (room, row["returned_from"], row["listener"]): row["total_s"]
        for row in sound.case["latencies"]
        if row["returned_from"]
        for room in row["rooms"]
    }
    wanted = {(room, *key): s for room in sound.case.inputs.rooms for key, s in sound.returned(room).items()}
    assert told == pytest.approx(wanted, abs=1e-9)
    assert told


def test_a_delay_is_the_sum_of_its_parts_and_judged_by_its_limit(sound: Sound) -> None:
    parts = ("microphone_s", "radio_s", "access_point_s", "network_s", "mixing_s", "amplifier_s")
    for row in sound.case["latencies"]:
        assert row["total_s"] == pytest.approx(sum(row.get(part) or 0.0 for part in parts), abs=1e-9)
        if row["returned_from"]:
            assert (row["limit_s"], row["verdict"]) == (None, "")
            continue
        in_room = row["listener"].startswith(("loudspeakers", "outputs"))
        assert row["limit_s"] == (0.02 if in_room else 0.05)
        assert row["verdict"] == ("holds" if row["total_s"] <= row["limit_s"] else "fails")
