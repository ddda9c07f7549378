"""What the remedy of an overfull band advises, done by hand in the project's files, has the promised effect.

Each building is written to a folder, checked, changed as the words of its finding say, and checked again. Two
rooms side by side in the United States, with the shipped catalogue.
"""

import re
from pathlib import Path

import pytest

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.review.rules import findings
from tests.radio_buildings import write

pytestmark = pytest.mark.independent
NO_PLAN = {"radio-impossible", "radio-not-settled"}


def checked(folder: Path) -> tuple[Design, str]:
    """Return the design of a project folder, and the first remedy where radio has no plan, else none."""
    made = design(load_project(folder))
    remedies = [one.remedy for one in findings(made.project, made) if one.rule in NO_PLAN]
    return made, next((one for one in remedies if one.startswith("What would help")), "")


def advised(remedy: str, words: str) -> tuple[str, int]:
    """Return what one of the numbered changes says after its first words, and how many links it leaves."""
    (said,) = [
        part for part in re.split(r"(?:; |: )\(\d\) ", remedy.removesuffix(".")) if part.startswith(words)
    ]
    left = re.search(r" \(then (\d+) links? still without a place\)$", said)
    return said.removeprefix(words), int(left.group(1)) if left else 0


def now_missing(folder: Path) -> int:
    made, remedy = checked(folder)
    assert bool(remedy) == bool(made.radio.air.missing)
    return len(made.radio.air.missing)


def test_less_power(tmp_path: Path) -> None:
    folder = write(tmp_path, 31, 2)
    made, remedy = checked(folder)
    assert made.radio.air.missing
    said, left = advised(remedy, "set the radio to less power (radio.power): ")
    for dbm, room in re.findall(r"(\d+) dBm in (\w+)", said):
        (folder / "rooms").mkdir(exist_ok=True)
        (folder / "rooms" / f"{room}.yaml").write_text(f"radio: {{power: {dbm} dBm}}\n", encoding="utf-8")
    assert now_missing(folder) == left == 0


@pytest.mark.parametrize(("seed", "rooms"), [(11, 2), (25, 2), (9, 3)])
def test_access_points_moved(seed: int, rooms: int, tmp_path: Path) -> None:
    folder = write(tmp_path, seed, rooms)
    by_hand = "access_points_at: {AP1: [0.6 m, 0.6 m], AP2: [4 m, 0.6 m]}\n"
    kinds = sorted((folder / "room_types").iterdir())
    for path in kinds:
        path.write_text(path.read_text(encoding="utf-8") + by_hand, encoding="utf-8")
    made, remedy = checked(folder)
    before = len(made.radio.air.missing)
    said, left = advised(remedy, "hang ")
    moved = re.findall(r"(\w+-AP\d) at (-?[\d.]+ m), (-?[\d.]+ m)", said)
    assert "leave their written positions out" in said
    named = {made.project.rooms[tag.split("-")[0]].type for tag, _, _ in moved}
    for path in kinds:
        if path.stem in named:
            path.write_text(path.read_text(encoding="utf-8").replace(by_hand, ""), encoding="utf-8")
    made, _ = checked(folder)
    hung = {device.tag: device.at for device in made.devices}
    assert moved
    for tag, x, y in moved:
        assert hung[tag] == pytest.approx((float(x[:-2]), float(y[:-2])), rel=0, abs=0.051)
    assert now_missing(folder) == left < before


def test_fewer_slot_pairs(tmp_path: Path) -> None:
    folder = write(tmp_path, 25, 2)
    made, remedy = checked(folder)
    assert made.radio.air.missing
    said, left = advised(remedy, "take equipment with 3 slot pairs a link (")
    assert "(written in project.yaml: rules.microphones.system, or system in the room type)" in said
    (system,) = set(re.findall(r" of (\w+)", said))
    path = folder / "project.yaml"
    written = f"rules: {{microphones: {{system: {system}}}}}\n"
    path.write_text(path.read_text(encoding="utf-8") + written, encoding="utf-8")
    assert now_missing(folder) == left == 0
