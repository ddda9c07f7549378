"""The page about limits says what the program does."""

import re
from pathlib import Path

import pytest

from proposal.model import distance_checks
from proposal.model.checks.radio_checks import MOST_PAIRS_OF_A_USER, MOST_PAIRS_OF_USERS
from proposal.model.pathways.building import Building, Storey
from proposal.model.pathways.pathways import Node, Pathway, Space
from proposal.model.project import FixedCable, FixedDevice, FixedRoom
from proposal.model.reading.fields import wanted_at
from proposal.model.reading.table_tree import MOST_ROWS
from proposal.model.room_shape import Ceiling
from proposal.model.rooms import RoomType

PAGE = (Path(__file__).parents[2] / "docs" / "limits.md").read_text("utf-8")


def _row(beginning: str) -> list[int]:
    """Return the numbers in the second cell of the row that begins so."""
    (row,) = [line for line in PAGE.splitlines() if line.startswith(f"| {beginning}")]
    return [int(number) for number in re.findall(r"-?[0-9]+", row.split("|")[2])]


@pytest.mark.parametrize(
    ("beginning", "most"),
    [
        ("a room |", distance_checks.BUILDING_RADIUS_M),
        ("equipment rooms, shafts, nodes", distance_checks.OUTSIDE_BUILDING_M),
        ("other users", distance_checks.NEIGHBOUR_M),
        ("a device of a room", distance_checks.OUTSIDE_ROOM_M),
        ("a rack or switch", distance_checks.OUTSIDE_ROOM_M),
        ("seats, furniture", distance_checks.OUTSIDE_ROOM_M),
        ("a storey |", distance_checks.STOREYS_M),
        ("a room, long and wide", distance_checks.LARGEST_ROOM_M),
        ("rooms |", MOST_ROWS),
        ("slot pairs that another user", MOST_PAIRS_OF_A_USER),
        ("slot pairs that all other users", MOST_PAIRS_OF_USERS),
    ],
)
def test_distances_are_those_of_the_program(beginning: str, most: int) -> None:
    assert _row(beginning) == [most]


def _limits(model: type, *path: str) -> list[int]:
    """Return the least and the greatest that the model says of a field, or of what it holds."""
    wanted = wanted_at(model, path)
    assert wanted is not None
    names = ("ge", "le", "max_length")
    found = {name: getattr(part, name) for part in wanted.metadata for name in names if hasattr(part, name)}
    return [round(found[name]) for name in names if found.get(name) is not None]


@pytest.mark.parametrize(
    ("beginning", "model", "paths"),
    [
        ("height of a ceiling", Ceiling, ["height"]),
        ("height of a ceiling", Storey, ["slab_to_slab", "pathway_height"]),
        ("height of a device", FixedDevice, ["height"]),
        ("height of a device", Node, ["height"]),
        ("a measured cable", FixedCable, ["length"]),
        ("a measured cable", Pathway, ["length"]),
        ("air around cables", Building, ["ceiling_temperature"]),
        ("air around cables", Space, ["temperature"]),
        ("storeys, equipment rooms", Building, ["storeys", "equipment_rooms", "shafts"]),
        ("nodes, pathways", Building, ["nodes", "pathways"]),
        ("microphones in a room", RoomType, ["microphones"]),
        ("loudspeakers, pieces", RoomType, ["loudspeakers", "furniture"]),
        ("seats in a room", RoomType, ["seats"]),
    ],
)
def test_sizes_and_counts_are_those_of_the_program(beginning: str, model: type, paths: list[str]) -> None:
    for path in paths:
        assert _limits(model, path)[-len(_row(beginning)) :] == _row(beginning), path


def test_counts_of_fixed_devices_are_those_of_the_program() -> None:
    for name in FixedRoom.model_fields:
        assert _limits(FixedRoom, name, "x")[1:] == _row("devices of one model"), name
