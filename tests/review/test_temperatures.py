"""What is said of temperatures: devices where it is too warm or too cold for them."""

from proposal.design.whole_design import design
from proposal.model.project import Project
from proposal.review.finding import Finding
from proposal.review.temperatures import temperatures
from tests.design.making import EXAMPLE, changed, minimal, project_of


def said(project: Project) -> list[Finding]:
    return list(temperatures(project, design(project)))


def test_nothing_is_said_of_the_example() -> None:
    assert said(project_of(EXAMPLE)) == []


def test_a_warm_equipment_room_is_too_warm_for_what_stands_in_its_rack() -> None:
    project = changed(minimal(), "building.equipment_rooms.ER1.temperature", 36.0)
    made = design(project)
    (switch,) = [device for device in made.devices if device.kind == "switch"]
    hottest = made.entries[switch.tag].hottest
    # 36 °C, and 10 K more in the rack.
    assert 36 < hottest < 46
    found = {one.where: one for one in said(project)}
    assert set(found) == {switch.tag}
    assert (found[switch.tag].value, found[switch.tag].limit) == (46.0, hottest)
    assert f"Keep ER1 at {hottest - 10:.0f}" in found[switch.tag].remedy
    # The remedy works.
    assert said(changed(project, "building.equipment_rooms.ER1.temperature", hottest - 10)) == []


def test_a_room_below_what_a_device_takes() -> None:
    project = changed(minimal(), "building.lowest_room_temperature", -30.0)
    found = said(project)
    assert {one.rule for one in found} == {"too-cold-for-device"}
    assert len({one.where for one in found}) == len(found)
    # The charger, the breakout and the access point of the room, and the switch of the rack.
    entries = design(project).entries
    assert {one.limit for one in found} == {entries[one.where].coldest for one in found}
    assert {one.where.partition("-")[0] for one in found} == {"B001", "ER1"}
