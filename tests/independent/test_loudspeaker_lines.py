"""Loudspeaker lines computed again from the exported document and the input files: taps, loads, losses.

Nothing below knows the program's own modules. Levels, headroom and limit are those of the starting rules,
which neither project changes; losses come from Kirchhoff's law at every loudspeaker.
"""

import json
import math
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from tests.calls import caller
from tests.independent.conftest import Case
from tests.independent.inputs import ROOT, Inputs, amount, cables, celsius, metres

pytestmark = pytest.mark.independent
ASKED_DB, EAR_M, HEADROOM, LIMIT_DB, TOLERANCE = 65.0 + 15.0, 1.2, 0.20, 0.5, 0.20
CLASSES = {"class 2": 0, "class 3": 1, "class 1": 2}


def on_line(case: Case, line: dict[str, Any]) -> list[dict[str, Any]]:
    rows = [
        row for row in case["line_loudspeakers"] if (row["room"], row["zone"]) == (line["room"], line["zone"])
    ]
    return sorted(rows, key=lambda row: int(row["place"]))


def loudspeaker(case: Case, model: str) -> dict[str, Any]:
    return case.models("equipment", "loudspeakers", "loudspeakers")[model]


def voltage(case: Case) -> float:
    return 70.7 if case.inputs.nfpa else 100.0


def taps_of(case: Case, model: str) -> list[float]:
    key = "taps_70_v" if case.inputs.nfpa else "taps_100_v"
    return [amount(one) for one in loudspeaker(case, model)[key]]


def zone_of(line: dict[str, Any]) -> str:
    """Return the zone of a line: a part of one has its name and a number; no zone here ends in a number."""
    zone, _, number = str(line["zone"]).rpartition(" ")
    return zone if zone and number.isdigit() else str(line["zone"])


def needed_w(case: Case, line: dict[str, Any]) -> float:
    """Return what the weakest seat of a zone takes, from seats and loudspeakers as they are written."""
    room = case.inputs.rooms[line["room"]]
    above_m = metres(room["ceiling"]["height"]) - EAR_M
    hung = {
        code: (tuple(metres(one) for one in unit["at"]), unit.get("zone", "room"))
        for code, unit in room["loudspeakers"].items()
    }
    entry = loudspeaker(case, on_line(case, line)[0]["model"])
    sensitivity_db, edge = amount(entry["sensitivity"]), float(entry["coverage"].rstrip("°")) / 2
    most = 0.0
    for seat in room["seats"].values():
        at = tuple(metres(one) for one in seat["at"])
        nearest = min(hung.values(), key=lambda unit: math.dist(unit[0], at))
        if nearest[1] != zone_of(line):
            continue
        arriving = 0.0
        for where, zone in hung.values():
            if zone == zone_of(line):
                away_m = math.dist(where, at)
                off_db = 6.0 * (math.degrees(math.atan2(away_m, above_m)) / edge) ** 2
                arriving += 10 ** (-off_db / 10) / (away_m**2 + above_m**2)
        most = max(most, 10 ** ((ASKED_DB - sensitivity_db) / 10) / arriving)
    return most


def test_every_loudspeaker_has_the_least_tap_that_is_loud_enough(case: Case) -> None:
    assert case["loudspeaker_lines"]
    for line in case["loudspeaker_lines"]:
        wanted_w = needed_w(case, line)
        for row in on_line(case, line):
            assert row["needed_w"] == pytest.approx(wanted_w, rel=1e-6)
            taps = taps_of(case, row["model"])
            assert row["tap_w"] == min([tap for tap in taps if tap >= wanted_w], default=max(taps))


def test_every_loudspeaker_is_on_one_line(case: Case) -> None:
    there = sorted(tag for tag, row in case.devices.items() if row["kind"] == "loudspeaker")
    assert sorted(row["loudspeaker"] for row in case["line_loudspeakers"]) == there
    channels = [(line["amplifier"], line["output"]) for line in case["loudspeaker_lines"]]
    assert len(set(channels)) == len(channels)


def test_loads_fit_their_channels_with_headroom_and_tests_know_the_impedance(case: Case) -> None:
    amplifiers = case.models("equipment", "amplifiers", "amplifiers")
    for line in case["loudspeaker_lines"]:
        amplifier = amplifiers[case.devices[line["amplifier"]]["model"]]
        draws_w = sum(
            row["tap_w"] * 10 ** (amount(loudspeaker(case, row["model"])["transformer_loss"]) / 10)
            for row in on_line(case, line)
        )
        rated_w = min(
            amount(amplifier["channel_power"]), amount(amplifier["total_power"]) / amplifier["channels"]
        )
        assert line["load_w"] == pytest.approx(draws_w, rel=1e-6)
        assert line["usable_w"] == pytest.approx((1 - HEADROOM) * rated_w, rel=1e-6)
        assert draws_w <= line["usable_w"]
        ohm = voltage(case) ** 2 / draws_w
        assert line["impedance_ohm"] == pytest.approx(ohm, rel=1e-6)
        assert line["least_ohm"] == pytest.approx(ohm * (1 - TOLERANCE), rel=1e-6)
        assert line["most_ohm"] == pytest.approx(ohm * (1 + TOLERANCE), rel=1e-6)


def along(volts: float, draws_w: list[float], ohms: list[float]) -> tuple[list[float], list[float]]:
    """Return losses at the loudspeakers of a chain, dB, and currents of its stretches, A, node by node."""
    count = len(draws_w)
    matrix, fed = np.zeros((count, count)), np.zeros(count)
    for n, (watts, ohm) in enumerate(zip(draws_w, ohms, strict=True)):
        matrix[n, n] += watts / volts**2 + 1 / ohm
        if n:
            matrix[n - 1, n - 1] += 1 / ohm
            matrix[n, n - 1] = matrix[n - 1, n] = -1 / ohm
    fed[0] = volts / ohms[0]
    found = [float(one) for one in np.linalg.solve(matrix, fed)]
    before = [volts, *found[:-1]]
    currents = [(high - low) / ohm for high, low, ohm in zip(before, found, ohms, strict=True)]
    return [20 * math.log10(volts / one) for one in found], currents


def test_losses_are_those_of_kirchhoffs_law_along_the_cables(case: Case) -> None:
    """Between those of cables as cold as the coldest space and of ones as warm as at their warmest."""
    library = cables() | case.inputs.own_library.get("loudspeaker_cables", {})
    spaces = [celsius(one["temperature"]) for one in case.inputs.building.get("spaces", {}).values()
              if "temperature" in one]  # fmt: skip
    # Where no space is described, the air is as warm as around the coolest cable.
    spaces = spaces or [min(row["temperature_c"] for row in case["line_loudspeakers"])]
    for line in case["loudspeaker_lines"]:
        rows = on_line(case, line)
        laid = [case.cables[row["cable_in"]] for row in rows]
        # Each leads from the one before, the first from the amplifier's terminals in the rack.
        assert [one["to_tag"] for one in laid[1:]] == [row["loudspeaker"] for row in rows[:-1]]
        assert laid[0]["to_port"] == f"{line['amplifier']}/{line['output']}"
        assert [row["cable_out"] for row in rows] == [row["cable_in"] for row in rows[1:]] + [""]
        found = []
        for coldest in (True, False):
            ohms = []
            for row, cable in zip(rows, laid, strict=True):
                at_c = min([*spaces, row["temperature_c"]]) if coldest else row["temperature_c"]
                diameter_m = 0.000127 * 92 ** ((36 - int(library[cable["type"]]["gauge"])) / 39)
                cold_ohm_per_m = 17.241e-9 / (math.pi * diameter_m**2 / 4)
                ohms.append(2 * cold_ohm_per_m * (1 + 0.00393 * (at_c - 20)) * cable["length_m"])
            found.append(along(voltage(case), [row["draws_w"] for row in rows], ohms))
        (least, most_a), (most, least_a) = found
        for row, low, high, low_a, high_a in zip(rows, least, most, least_a, most_a, strict=True):
            assert low * (1 - 1e-6) <= row["loss_db"] <= high * (1 + 1e-6)
            assert low_a * (1 - 1e-6) <= row["current_a"] <= high_a * (1 + 1e-6)
            assert high < 1.2 * low
        assert line["loss_db"] == max(row["loss_db"] for row in rows)
        assert line["loss_db"] <= LIMIT_DB


def test_cables_are_marked_for_the_class_of_their_amplifier(case: Case) -> None:
    library = cables() | case.inputs.own_library.get("loudspeaker_cables", {})
    amplifiers = case.models("equipment", "amplifiers", "amplifiers")
    for line in case["loudspeaker_lines"]:
        asked = amplifiers[case.devices[line["amplifier"]]["model"]]["wiring_class"]
        assert line["wiring_class"] == asked
        for model in line["cable"]:
            assert CLASSES[library[model]["wiring_class"]] >= CLASSES[asked]


@pytest.fixture
def split(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Case:
    """A hall under a high ceiling whose one zone is more than any channel of the library carries."""
    folder = tmp_path / "project"
    minimal = ROOT / "tests" / "projects" / "minimal"
    (folder / "room_types").mkdir(parents=True)
    for name in ("project.yaml", "building.yaml", "rooms.csv"):
        (folder / name).write_text((minimal / name).read_text(encoding="utf-8"), encoding="utf-8")
    room = yaml.safe_load((minimal / "room_types" / "meeting.yaml").read_text(encoding="utf-8"))
    room["outline"] = [["0 m", "0 m"], ["24 m", "0 m"], ["24 m", "10 m"], ["0 m", "10 m"]]
    room["ceiling"] = {"height": "11 m", "kind": "mineral tile"}
    room["output"] = "mixer"
    room["loudspeakers"] = {
        f"LS{9 * row + column + 1}": {"at": [f"{1.5 + 1.25 * column} m", f"{1 + 2 * row} m"], "zone": "hall"}
        for row in range(5)
        for column in range(9)
    }
    # One seat far from all in a corner takes the most of the zone.
    room["seats"]["S9"] = {"at": ["23.5 m", "9.5 m"]}
    text = yaml.safe_dump(room, allow_unicode=True)
    (folder / "room_types" / "meeting.yaml").write_text(text, encoding="utf-8")
    out = tmp_path / "document.json"
    done = caller(monkeypatch, capsys)(
        "export", folder, "--format", "json", "--edition", "estimator", "--output", out
    )
    assert done.status in (0, 1), done.err
    return Case(Inputs(folder), json.loads(out.read_text(encoding="utf-8")))


def test_a_zone_in_parts_is_whole_in_the_fewest_parts_and_each_holds(split: Case) -> None:
    """All loudspeakers are alike: a channel takes so many whole ones, and that many parts are the fewest."""
    lines = split["loudspeaker_lines"]
    assert {zone_of(line) for line in lines} == {"hall"}
    assert len(lines) > 1, [line["load_w"] for line in lines]
    hung = split.inputs.rooms["B001"]["loudspeakers"]
    played = Counter(tag for line in lines for tag in line["loudspeakers"])
    assert played == Counter(f"B001-{code}" for code in hung)
    rows = split["line_loudspeakers"]
    (draws_w,) = {round(row["draws_w"], 9) for row in rows}
    amplifiers = split.models("equipment", "amplifiers", "amplifiers").values()
    most_w = (1 - HEADROOM) * max(
        min(amount(one["channel_power"]), amount(one["total_power"]) / one["channels"]) for one in amplifiers
    )
    assert len(lines) == -(-len(rows) // math.floor(most_w / draws_w))
    told = [one for one in split["findings"] if one["rule"] == "zone-in-parts"]
    assert len(told) == 1
    # Each part has a feed of its own that carries the same.
    fed = [end for end in split["audio_ends"] if end["name"].startswith("loudspeakers, zone hall")]
    assert {end["direction"] for end in fed} == {"output"}
    for holds in (
        test_every_loudspeaker_has_the_least_tap_that_is_loud_enough,
        test_every_loudspeaker_is_on_one_line,
        test_loads_fit_their_channels_with_headroom_and_tests_know_the_impedance,
        test_losses_are_those_of_kirchhoffs_law_along_the_cables,
        test_cables_are_marked_for_the_class_of_their_amplifier,
    ):
        holds(split)
