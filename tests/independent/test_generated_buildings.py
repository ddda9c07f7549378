"""Buildings drawn at random: no port holds too much or is missing where it is needed, every path ends.

The buildings are written as people write them, and judged from the document that the command line exports and
the files of the library. `PROPOSAL_LONG_TESTS=20` before this file tries hundreds.
"""

import json
import random
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.calls import caller
from tests.independent.conftest import Case
from tests.independent.inputs import ROOT, Inputs, library, metres
from tests.independent.test_cable_routes import (
    TERMINATION,
    in_the_building,
    rack_of,
    route_of,
    slack_of,
)
from tests.independent.test_cords_and_racks import entry_of
from tests.independent.test_streams_and_loads import FILES, channels_of, on_the_wire
from tests.long_form import cases

pytestmark = pytest.mark.independent
MINIMAL = ROOT / "tests" / "projects" / "minimal"
FORMS = ("boundary", "gooseneck", "handheld", "bodypack")
LEAD_TO_OTHERS_M = 5.0
"""As the starting rules have it."""
ENDS = ("first_cord", "last_cord", "source_cord")
"""Where a line of the patch table may have a cord; the last from a PoE source to the switch."""
Row = dict[str, Any]


def written(folder: Path, seed: int) -> None:
    """Write a building of one to three rooms of one or two types, with their microphones and loudspeakers."""
    chance = random.Random(seed)
    (folder / "room_types").mkdir(parents=True)
    kinds = ["meeting", "hall"][: chance.randint(1, 2)]
    for kind in kinds:
        room = yaml.safe_load((MINIMAL / "room_types" / "meeting.yaml").read_text(encoding="utf-8"))
        room["name"] = kind.capitalize()

        def spot(chance: random.Random = chance) -> list[str]:
            return [f"{chance.randint(5, 55) / 10} m", f"{chance.randint(5, 45) / 10} m"]

        room["microphones"] = {
            f"M{n}": {"form": chance.choice(FORMS), "pattern": "cardioid", "at": spot()}
            for n in range(1, chance.randint(1, 8) + 1)
        }
        used = sorted({one["form"] for one in room["microphones"].values()})
        room["spare_microphones"] = {chance.choice(used): chance.randint(0, 2)}
        room["output"] = chance.choice(("mixer", "breakout"))
        if chance.random() < 0.5:
            room["network"] = "rack"
        signal = "networked audio" if room["output"] == "mixer" and chance.random() < 0.5 else "analogue"
        room["destinations"] = {"far-end": {"name": "conferencing codec", "signal": signal}}
        speakers = {
            f"LS{n}": {"at": spot(), "zone": chance.choice(("front", "back"))}
            for n in range(1, chance.randint(0, 4) + 1)
        }
        if speakers:
            room["loudspeakers"] = speakers
        text = yaml.safe_dump(room, allow_unicode=True)
        (folder / "room_types" / f"{kind}.yaml").write_text(text, encoding="utf-8")
    rows = [
        f"B00{n},Room {n},{chance.choice(kinds)},L0,{chance.randint(0, 60) / 2} m,{8 * n} m"
        for n in range(1, chance.randint(1, 3) + 1)
    ]
    heading = (MINIMAL / "rooms.csv").read_text(encoding="utf-8").splitlines()[0]
    (folder / "rooms.csv").write_text("\n".join([heading, *rows, ""]), encoding="utf-8")
    named = {row.split(",")[2] for row in rows}
    for kind in set(kinds) - named:
        (folder / "room_types" / f"{kind}.yaml").unlink()
    for name in ("project.yaml", "building.yaml"):
        (folder / name).write_text((MINIMAL / name).read_text(encoding="utf-8"), encoding="utf-8")


@pytest.fixture(params=range(cases(10)))
def generated(
    request: pytest.FixtureRequest,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> Case:
    folder = tmp_path / "project"
    written(folder, request.param)
    out = tmp_path / "document.json"
    call = caller(monkeypatch, capsys)
    done = call("export", folder, "--format", "json", "--edition", "estimator", "--output", out)
    assert done.status in (0, 1), done.err
    return Case(Inputs(folder), json.loads(out.read_text(encoding="utf-8")))


def errors(case: Case) -> set[str]:
    return {one["rule"] for one in case["findings"] if one["severity"] == "error"}


def ports_hold_what_they_may(case: Case) -> None:
    places = Counter((port["switch"], port["port"]) for port in case.device_ports)
    assert set(places.values()) <= {1}
    for switch in case["switches"]:
        own = [port for port in case.device_ports if port["switch"] == switch["tag"]]
        # On a breakout a port is called by letters and a number.
        assert all(1 <= int(port["port"].lstrip("NP")) <= switch["ports"] for port in own)
        used = [port for port in own if port["device"]]
        assert (len(used), switch["ports"] - len(used)) == (switch["used"], switch["spare"])
        assert switch["allocated_w"] <= switch["usable_w"] or switch["verdict"] == "fails"
    held = Counter((one["access_point"], one["channel"]) for one in case["channels"] if one["access_point"])
    assert set(held.values()) <= {1}
    for tag, channel in held:
        assert 1 <= channel <= channels_of(case, tag)
    charge_slots = Counter(one["berth"] for one in case["channels"] if one["berth"])
    assert set(charge_slots.values()) <= {1}
    inputs = Counter((one["mixing"], one["input"]) for one in case["channels"] if one["input"])
    assert set(inputs.values()) <= {1}
    panels = Counter(patch["panel"] for patch in case["patches"] if patch["panel"])
    assert set(panels.values()) <= {1}
    standing = {place["name"] for place in case["rack_places"]}
    assert {panel.rpartition("/")[0] for panel in panels} <= standing


def what_needs_a_port_has_one(case: Case) -> None:
    joined = {port["device"]: port for port in case.device_ports if port["device"]}
    for tag, device in case.devices.items():
        if device["kind"] not in FILES:
            continue
        entry = entry_of(case, tag)
        if device["kind"] != "switch" and entry.get("network"):
            assert tag in joined, tag
        if device["poe_class"] is not None:
            assert joined[tag]["poe_class"] == device["poe_class"], tag
    lines = {cable["from_tag"] for cable in case["cables"] if cable["signal"] == "loudspeaker line"}
    assert lines == {tag for tag, device in case.devices.items() if device["kind"] == "loudspeaker"}


def every_path_ends(case: Case) -> None:
    patched = {(patch["switch"], patch["switch_port"].lstrip("N")) for patch in case["patches"]}
    assert patched
    onward = {}
    for cable in case["cables"]:
        assert cable["from_tag"] in case.devices
        if cable["to_tag"] not in case.devices and rack_of(case, cable["to_tag"]) is None:
            # A lead to equipment of others, which nobody placed.
            assert cable["to_tag"] in case.inputs.rooms[cable["room"]]["destinations"]
            assert cable["signal"] == "analogue"
            assert cable["length_m"] == pytest.approx(LEAD_TO_OTHERS_M)
        if cable["signal"] == "loudspeaker line":
            onward[cable["from_tag"]] = cable["to_tag"], cable["to_port"]
    for start in onward:
        here, passed = start, 0
        port = ""
        while here in onward:
            here, port = onward[here]
            passed += 1
            assert passed <= len(onward), "a line goes in a circle"
        amplifier = port.partition("/")[0]
        assert case.devices[amplifier]["kind"] == "amplifier", (start, here, port)
    networked = [cable for cable in case["cables"] if cable["signal"] == "network"]
    by_cable = Counter(patch["cable"] != "" for patch in case["patches"])
    assert by_cable[True] == len(networked)
    for patch in case["patches"]:
        assert patch["switch"] in {switch["tag"] for switch in case["switches"]}, patch


def channels_in_are_channels_out(case: Case) -> None:
    wanted = Counter()
    for tag, room in case.inputs.rooms.items():
        for code in room["microphones"]:
            wanted[f"{tag}-{code}"] += 1
    found = Counter(one["microphone"] for one in case["channels"] if one["stream"])
    assert {tag: found[tag] for tag in wanted} == wanted
    streams = {stream["number"]: stream for stream in case["streams"]}
    for one in case["channels"]:
        if one["stream"]:
            stream = streams[one["stream"]]
            assert one["mixing"] in stream["receivers"]
            assert one["position"] <= stream["channels"]
    for stream in streams.values():
        assert stream["bandwidth_bit_s"] == on_the_wire(stream["channels"])
    out = Counter()
    for end in case["audio_ends"]:
        if end["direction"] == "output" and "far-end" in end["joined"]:
            out[end["device"].partition("-")[0]] += end["channels"]
    for tag, room in case.inputs.rooms.items():
        assert out[tag] == int(room["destinations"]["far-end"].get("channels", 1)), tag
        zones = {one["zone"] for one in room.get("loudspeakers", {}).values()}
        fed = [
            end["name"]
            for end in case["audio_ends"]
            if end["device"].startswith(f"{tag}-") and end["name"].startswith("loudspeakers, zone ")
        ]
        assert sorted(fed) == sorted(f"loudspeakers, zone {zone}" for zone in zones)


def what_checks_count_is_taken_off_and_the_reverse(case: Case) -> None:
    cords = library("materials", "patch_cords", "patch_cords")
    taken = Counter()
    for line in case["takeoff"]:
        if line["section"] == "patching":
            taken[line["item"]] += int(line["quantity"])
    listed = Counter(patch[end] for patch in case["patches"] for end in ENDS if patch[end])
    assert listed == taken
    for patch in case["patches"]:
        if patch["cable"] and patch["identity"] in case.cables:
            cable = case.cables[patch["identity"]]
            length = sum(metres(cords[patch[end]]["length"]) for end in ENDS if patch[end])
            assert cable["cords_m"] == pytest.approx(length), patch["identity"]
    counted = Counter(
        cause for line in case["takeoff"] if line["section"] == "cable" for cause in line["causes"]
    )
    assert counted == Counter(cable["identity"] for cable in case["cables"])


def cables_are_as_long_as_their_ways(case: Case) -> None:
    """Nobody writes rules here, so that all slack is that of the starting rules."""
    for row in in_the_building(case):
        slack = slack_of(case, row["from_tag"]) + slack_of(case, row["to_tag"]) + TERMINATION
        assert row["length_m"] == pytest.approx(route_of(case, row).length_m + slack), row["identity"]


def rooms_add_to_the_project(case: Case) -> None:
    for purchase in case["purchases"]:
        lines = [
            line
            for line in case["takeoff"]
            if (line["section"], line["item"]) == (purchase["section"], purchase["item"])
        ]
        assert lines, purchase["item"]
    models = Counter(device["model"] for device in case.devices.values() if device["model"])
    taken = Counter()
    for line in case["takeoff"]:
        if line["section"] == "equipment":
            taken[line["item"]] += int(line["quantity"])
    assert taken == models
    for total in case["cable_totals"]:
        rows = [cable for cable in case["cables"] if cable["type"] == total["type"]]
        assert total["count"] == len(rows)


def test_everything_that_a_building_connects_is_there_and_holds(generated: Case) -> None:
    """One project serves all, since computing it takes longest."""
    for holds in (
        ports_hold_what_they_may,
        what_needs_a_port_has_one,
        every_path_ends,
        cables_are_as_long_as_their_ways,
        channels_in_are_channels_out,
        what_checks_count_is_taken_off_and_the_reverse,
        rooms_add_to_the_project,
    ):
        holds(generated)
    # Rooms drawn so close together may ask for more links than there are places on the air.
    assert errors(generated) <= {"radio-impossible"}
