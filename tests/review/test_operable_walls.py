"""What hangs on a wall that opens: the municipal project's wall stands between chamber and committee room."""

from pathlib import Path

import pytest

from proposal.design.design import Design
from proposal.design.equipment.operable_walls import is_on_one, operable_walls_of_kind
from proposal.design.radio.placement import candidates, places_of
from proposal.design.radio.room_placement import placement_task
from proposal.model.project import Project
from proposal.review.operable_walls import on_operable_walls
from tests.design.making import PROJECTS, designed, project_of
from tests.review.editing import edited

CHAMBER = "room_types/chamber.yaml"
LS2 = "LS2: {at: [40 ft, 6 in]"


def made(folder: Path) -> tuple[Project, Design]:
    project = project_of(folder)
    return project, designed(project)


@pytest.mark.parametrize(
    ("place", "told"),
    [
        ("47 ft 6 in, 10 ft", True),  # on the operable wall, at 48 ft
        ("47 ft 6 in, 34 ft", True),  # beside the brick wall at 36 ft, and nearer to the one that opens
        ("47 ft, 35 ft 6 in", False),  # the other way round
        ("6 in, 10 ft", False),
    ],
)
def test_a_loudspeaker_on_a_wall_that_opens_is_an_error(tmp_path: Path, place: str, told: bool) -> None:
    folder = edited(tmp_path / "p", "municipal", {CHAMBER: [(LS2, f"LS2: {{at: [{place}]")]})
    found = list(on_operable_walls(*made(folder)))
    assert [(one.rule, one.severity, one.where) for one in found] == [
        ("on-an-operable-wall", "error", "C101-LS2")
    ] * told
    for one in found:
        assert one.place.file.endswith(CHAMBER)


def test_a_wall_that_stays_in_all_states_carries_what_hangs_on_it(tmp_path: Path) -> None:
    edits = {
        CHAMBER: [(LS2, "LS2: {at: [47 ft 6 in, 10 ft]")],
        "building.yaml": [(", open_in: [joined, budget-hearing]", "")],
    }
    assert not list(on_operable_walls(*made(edited(tmp_path / "p", "municipal", edits))))


def test_no_access_point_is_placed_on_a_wall_that_opens() -> None:
    """The chamber's ceiling may not be touched: of its walls the eastern one is left out, and no other."""
    project, _ = made(PROJECTS / "municipal")
    layout = project.rooms["C101"].layout
    task = placement_task(project, layout, {}, {"AP1": next(iter(project.library.access_points))})
    assert task is not None
    assert task.surfaces == ("wall",)
    over = tuple(talker.at for talker in task.talkers)
    all_walls = {
        (one.at[0], one.at[1])
        for one in candidates(task.outline, task.ceiling_m, task.setting, over, task.tile)
        if one.mounting == "wall"
    }
    left = {(one.at[0], one.at[1]) for one in places_of(task)}
    east_m = max(x for x, _ in task.outline)
    on_east = {at for at in all_walls if east_m - at[0] <= task.setting.off_walls_m + 1e-3}
    assert on_east
    assert left == all_walls - on_east


def test_a_room_whose_storey_has_no_wall_that_opens_has_none() -> None:
    project, _ = made(PROJECTS / "minimal")
    (room,) = project.rooms.values()
    assert operable_walls_of_kind(project, room.layout) == ()
    assert not is_on_one(room.layout.outline, (0.0, 1.0), (), 0.6)
