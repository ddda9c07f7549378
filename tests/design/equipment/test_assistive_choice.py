"""Assistive listening of the university's hall: counted by hand, joined, cabled, taken off and priced."""

from dataclasses import replace
from functools import cache

import pytest

from proposal.design.equipment.assistive_choice import AssistiveSet, assistive_set
from proposal.model.equipment.library import Library
from proposal.model.equipment.sound_devices import AssistiveDevice
from proposal.model.project import Project
from proposal.pipeline import Computed
from tests.review.editing import PROJECTS
from tests.whole_projects import whole_computed


@cache
def university() -> Computed:
    return whole_computed(PROJECTS / "university")


def chosen(project: Project) -> AssistiveSet:
    found = assistive_set(project, project.room_types["hall"])
    assert found is not None
    return found


def with_devices(devices: dict[str, AssistiveDevice]) -> Project:
    project = university().project
    library: Library = project.library.model_copy(update={"assistive_devices": devices})
    return project.model_copy(update={"library": library})


@pytest.mark.pinned
def test_receivers_follow_the_seats_and_transmitters_the_floor() -> None:
    """200 seats at 4 % are 8 receivers, a quarter of them 2; 480 m² and a balcony of 130 m² are 610 m²."""
    found = chosen(university().project)
    assert (found.seats, found.receivers_wanted, found.compatible_wanted) == (200, 8, 2)
    assert found.area_m2 == pytest.approx(610)
    counts = {role: len(models) for role, models in found.models.items()}
    assert counts == {"transmitter": 3, "receiver": 8, "neck loop": 2, "receiver charger": 1, "sign": 1}


@pytest.mark.pinned
def test_without_a_local_share_the_published_table_counts() -> None:
    project = university().project
    rules = project.brief.rules
    usual = rules.assistive_listening.model_copy(update={"share": None, "code": ""})
    brief = project.brief.model_copy(
        update={"rules": rules.model_copy(update={"assistive_listening": usual})}
    )
    found = chosen(project.model_copy(update={"brief": brief}))
    assert found.receivers_wanted == 2 + (200 - 50) // 25
    assert found.workings[0].source.title.startswith("ADA")


@pytest.mark.pinned
@pytest.mark.parametrize(("asked", "receivers", "compatible"), [(5, 8, 2), (8, 8, 2), (21, 21, 6)])
def test_a_client_may_ask_for_more_receivers_than_the_seats_want(
    asked: int, receivers: int, compatible: int
) -> None:
    """The 200 seats want 8; a quarter of 21 is 5.25, so six of them work with hearing aids."""
    hall = university().project.room_types["hall"]
    devices = hall.assistive_devices.model_copy(update={"receivers": asked})
    found = assistive_set(university().project, hall.model_copy(update={"assistive_devices": devices}))
    assert found is not None
    assert (found.receivers_wanted, found.compatible_wanted) == (receivers, compatible)
    assert len(found.models["receiver"]) == receivers


def test_receivers_for_hearing_aids_are_bought_by_the_cheaper_of_two_ways() -> None:
    """A neck loop costs 39 euro; a receiver with a telecoil of its own 30 euro more than the usual one."""
    devices = dict(university().project.library.assistive_devices)
    usual = devices["Q80477"]
    dear = replace(usual.cost, amount=usual.cost.amount + 30)
    devices["X1"] = usual.model_copy(update={"model": "X1", "cost": dear, "hearing_aid_compatible": True})
    models = chosen(with_devices(devices)).models
    assert models["receiver"].count("X1") == 2
    assert "neck loop" not in models


def test_what_the_region_does_not_allow_is_lacking() -> None:
    devices = {
        code: one.model_copy(update={"regions": ("north_america",)}) if one.role == "transmitter" else one
        for code, one in university().project.library.assistive_devices.items()
    }
    found = chosen(with_devices(devices))
    assert found.lacking == ("transmitter",)


def test_every_transmitter_is_fed_by_an_output_and_has_a_cable() -> None:
    design = university().design
    sent = {tag: end for end in design.ends for tag in end.joined if "listeners" in end.name}
    assert sorted(sent) == ["U101-AT1", "U101-AT2", "U101-AT3"]
    assert len({(end.device, end.port) for end in sent.values()}) == 3
    cables = {cable.start: cable for cable in design.cables if cable.start in sent}
    assert {tag: cables[tag].end_port for tag in sent} == {
        tag: f"{end.device}/{end.port}" for tag, end in sent.items()
    }
    assert all(cable.length_m > 5 for cable in cables.values())


def test_devices_for_assistive_listening_are_counted_and_worked_on() -> None:
    """Each stands in the take-off once; the 8 receivers and 2 neck loops are tried one by one."""
    made = university()
    tags = {device.tag for device in made.design.devices if device.kind == "assistive_device"}
    taken = [
        line
        for line in made.estimate.lines
        if line.section == "equipment" and line.model in made.project.library.assistive_devices
    ]
    assert sorted(tag for line in taken for tag in line.causes) == sorted(tags)
    assert len(tags) == 15
    units = {line.task: line.units for line in made.labour.lines if set(line.causes) & tags}
    tried = [line for line in made.labour.lines if line.task == "try a receiver"]
    assert sum(line.units for line in tried) == 10
    assert {"install assistive listening", "set a receiver charger", "put up a sign"} <= set(units)


def test_a_seat_more_can_ask_for_a_receiver_more() -> None:
    project = university().project
    layout = project.room_types["hall"]
    more = layout.model_copy(update={"seats": {**layout.seats, "X": layout.seats["A1"]}})
    found = assistive_set(project, more)
    assert found is not None
    assert found.receivers_wanted == 9


def test_the_mixer_is_large_enough_for_what_it_sends_to_transmitters() -> None:
    kind = next(kind for kind in university().design.kinds if kind.type == "hall")
    size = kind.sizing.size("mixer")
    assert size is not None
    outputs = next(one for one in size.carried if one.what == "analogue outputs")
    # Two channels to the recorder, two zones of loudspeakers, three transmitters.
    assert outputs.need == 2 + 2 + 3
    assert not size.lacking
