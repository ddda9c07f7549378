"""Charge slots: every microphone's own, no slot twice, two beside each other where a form covers two."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from proposal.design.charging.charge_slots import SlotAssignment, berths
from proposal.design.equipment.placed_devices import Placed
from proposal.model.loading import load_project
from proposal.model.project import Numbered, Project

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def project() -> Project:
    return load_project(ROOT / "example_project")


def room(chargers: Sequence[str], microphones: Sequence[str], spares: Sequence[str] = ()) -> list[Placed]:
    """Return the devices of a room: chargers CH1 …, microphones M1 …, spare ones MS1 …, by model."""
    listed = [("charger", "CH", model, "table") for model in chargers]
    listed += [("microphone", "M", model, "table") for model in microphones]
    listed += [("microphone", "MS", model, "charger") for model in spares]
    counts: dict[str, int] = {}
    devices = []
    for kind, letters, model, location in listed:
        counts[letters] = counts.get(letters, 0) + 1
        code = f"{letters}{counts[letters]}"
        devices.append(
            Placed(
                tag=f"B1-{code}",
                code=code,
                kind=kind,
                model=model,
                room="B1",
                storey="L0",
                at=(0.0, 0.0),
                height_m=0.0,
                location=location,
            )
        )
    return devices


def units(found: dict[str, SlotAssignment]) -> list[tuple[str, int]]:
    return [(one.charger, one.first + n) for one in found.values() for n in range(one.slots)]


@pytest.mark.independent
def test_four_goosenecks_fill_a_charger_of_eight_slots(project: Project) -> None:
    found = berths(project, room(["AQ-CH8"], ["AQ-MG-C"] * 4))
    assert [one.number for one in found.values()] == [
        "B1-CH1/1-2",
        "B1-CH1/3-4",
        "B1-CH1/5-6",
        "B1-CH1/7-8",
    ]


@pytest.mark.parametrize("goosenecks", range(5))
@pytest.mark.parametrize("handhelds", range(6))
def test_no_slot_is_given_twice_and_none_is_lost(project: Project, goosenecks: int, handhelds: int) -> None:
    microphones = ["AQ-MH-C"] * handhelds + ["AQ-MG-C"] * goosenecks
    found = berths(project, room(["AQ-CH8", "AQ-CH2"], microphones))
    taken = units(found)
    assert len(taken) == len(set(taken))
    wanted = handhelds + 2 * goosenecks
    assert len(taken) == wanted if wanted <= 10 else len(taken) >= 9
    assert {slot for charger, slot in taken if charger == "B1-CH1"} <= set(range(1, 9))
    assert {slot for charger, slot in taken if charger == "B1-CH2"} <= {1, 2}


def test_spare_microphones_have_slots_first_where_slots_are_short(project: Project) -> None:
    found = berths(project, room(["AQ-CH4"], ["AQ-MH-C"] * 4, ["AQ-MH-C"] * 2))
    assert {"B1-MS1", "B1-MS2"} <= set(found)
    assert len(found) == 4


def test_a_slot_is_kept_as_issued(project: Project) -> None:
    issued = {"slot/B1-M2": Numbered(number="B1-CH1/1"), "slot/B1-M1": Numbered(number="B1-CH1/4")}
    found = berths(project.model_copy(update={"issued": issued}), room(["AQ-CH4"], ["AQ-MH-C"] * 3))
    assert {tag: one.number for tag, one in found.items()} == {
        "B1-M1": "B1-CH1/4",
        "B1-M2": "B1-CH1/1",
        "B1-M3": "B1-CH1/2",
    }


def test_a_slot_of_a_microphone_that_is_gone_is_used_again_where_no_other_is_left(project: Project) -> None:
    issued = {"slot/B1-M9": Numbered(number="B1-CH1/1", retired=True)}
    one = berths(project.model_copy(update={"issued": issued}), room(["AQ-CH2"], ["AQ-MH-C"]))
    assert one["B1-M1"].number == "B1-CH1/2"
    two = berths(project.model_copy(update={"issued": issued}), room(["AQ-CH2"], ["AQ-MH-C"] * 2))
    assert {berth.number for berth in two.values()} == {"B1-CH1/1", "B1-CH1/2"}


def test_a_room_without_chargers_has_no_slots(project: Project) -> None:
    assert berths(project, room([], ["AQ-MH-C"])) == {}
