"""Rooms and equipment rooms stand within the outer walls of their storey, where these are given."""

import re

from proposal.model.project import Project
from proposal.review.rooms import outside_the_building
from tests.design.making import changed, designed, minimal

AROUND = ((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0))


def told(project: Project) -> list[tuple[str, float | None]]:
    return [(one.where, one.value) for one in outside_the_building(project, designed(project))]


def with_outline(project: Project, outline: tuple[tuple[float, float], ...] | None) -> Project:
    (storey,) = {room.storey for room in project.rooms.values()}
    return changed(project, f"building.storeys.{storey}.outline", outline)


def test_a_room_that_reaches_beyond_the_outer_walls_is_told_with_what_moving_helps() -> None:
    project = minimal()
    (tag,) = project.rooms
    room = project.rooms[tag]
    width = max(x for x, _ in room.layout.outline)
    project = changed(project, f"rooms.{tag}", room.model_copy(update={"x": 31.23 - width, "y": 1.0}))
    assert told(project) == []
    walled = with_outline(project, AROUND)
    found = [one for one in outside_the_building(walled, designed(walled)) if one.where == tag]
    assert [(one.rule, round(one.value or 0.0, 6)) for one in found] == [("outside-the-building", 1.23)]
    (by,) = re.findall(r"Move it by ([\d.]+) m", found[0].remedy)
    moved = room.model_copy(update={"x": 31.23 - width - float(by), "y": 1.0})
    assert tag not in dict(told(changed(walled, f"rooms.{tag}", moved)))


def test_an_equipment_room_beyond_them_is_told_too() -> None:
    project = minimal()
    (tag,) = project.building.equipment_rooms
    x, y = project.building.equipment_rooms[tag].at
    around = ((x + 2.0, y - 5.0), (x + 90.0, y - 5.0), (x + 90.0, y + 50.0), (x + 2.0, y + 50.0))
    assert dict(told(with_outline(project, around)))[tag] == 2.0
    assert tag not in dict(told(with_outline(project, ((x - 1, y - 1), (x + 1, y - 1), (x, y + 9)))))
