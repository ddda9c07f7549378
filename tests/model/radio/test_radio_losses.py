"""The table of radio losses: what is wrong with one is told with its place, all at once."""

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.shared_tables import read_radio_losses
from proposal.resources import resource
from tests.design.making import PROJECTS

GOOD = resource("shared/radio/walls.yaml").read_bytes()


def test_the_table_that_comes_with_the_program_has_the_walls_that_a_room_has_by_default() -> None:
    table = read_radio_losses("walls.yaml", GOOD)
    for layout in load_project(PROJECTS / "minimal").room_types.values():
        assert layout.radio.walls in table.walls
    assert all(0 <= wall.least <= wall.greatest for wall in table.walls.values())


def test_everything_wrong_with_a_table_is_told_with_its_place() -> None:
    text = GOOD.decode().replace("greatest: 17 dB", "greatest: 17 m").replace("first: 6 dB", "frist: 6 dB")
    lines = text.splitlines()
    concrete = next(n for n, line in enumerate(lines, 1) if "concrete:" in line)
    commercial = next(n for n, line in enumerate(lines, 1) if "commercial" in line)
    with pytest.raises(InputError) as caught:
        read_radio_losses("walls.yaml", text.encode())
    told = [str(problem) for problem in caught.value.problems]
    assert any(one.startswith(f"walls.yaml:{concrete}:") and "found 17 m" in one for one in told)
    assert any(one.startswith(f"walls.yaml:{commercial}:") and "frist" in one for one in told)
