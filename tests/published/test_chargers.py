"""The trade's rule for charging goosenecks, with the catalogue that ships with the program."""

import csv
from pathlib import Path

import pytest

from proposal.design.equipment.sizing import capacity, size_room, slots_needed
from proposal.model.loading import load_project
from proposal.model.project import FixedRoom, Project

pytestmark = pytest.mark.published

FOLDER = Path(__file__).parent
with (FOLDER / "chargers.csv").open(encoding="utf-8", newline="") as file:
    CASES = list(csv.DictReader(file))


@pytest.fixture(scope="module")
def project() -> Project:
    return load_project(FOLDER.parent / "projects" / "minimal")


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_goosenecks_take_the_slots_and_chargers_of_common_practice(
    project: Project, case: dict[str, str]
) -> None:
    layout = next(iter(project.room_types.values()))
    position = next(iter(layout.microphones.values())).model_copy(update={"form": "gooseneck"})
    goosenecks = {f"M{number}": position for number in range(1, int(case["goosenecks"]) + 1)}
    council = layout.model_copy(update={"microphones": goosenecks, "spare_microphones": {}})
    assert slots_needed(project, council) == int(case["slots"])
    chosen = size_room(project, council, FixedRoom()).size("charger")
    assert chosen is not None
    assert sum(count for _, count in chosen.boxes) == int(case["chargers"])
    chargers = project.library.of_kind("charger")
    assert {capacity(chargers[code]) for code, _ in chosen.boxes} == {int(case["largest charger"])}
