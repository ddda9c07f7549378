"""Generated buildings are projects with the rooms and types asked for, without errors or warnings."""

from pathlib import Path

import pytest

from benchmarks import building
from proposal.model.loading import load_project
from proposal.pipeline import compute


@pytest.mark.parametrize(("rooms", "types", "kinds"), [(26, 0, 4), (3, 3, 3)])
def test_a_generated_building_is_a_good_design(tmp_path: Path, rooms: int, types: int, kinds: int) -> None:
    project = load_project(building.write(tmp_path / "building", rooms, types=types))
    assert (len(project.rooms), len(project.room_types)) == (rooms, kinds)
    # Supplies of a full rack that come on at once are more than a breaker holds: told of every such building.
    told = {one.rule for one in compute(project).findings if one.severity != "note"}
    assert told - {"inrush-high"} == set()
