"""Pieces of storeys that are too large for a sheet: all of it once, none too large, few rooms cut."""

import random

import pytest
from shapely import box, unary_union

from proposal.quantities.plan_pieces import LARGEST_M, pieces_of, place_of


def test_a_storey_that_a_sheet_holds_is_not_parted() -> None:
    assert pieces_of([(0, 0, 8, 7), (80, 30, 91, 44)], [(40, 20)]) == ()
    assert pieces_of([], []) == ()


def test_a_long_storey_is_parted_between_its_rooms() -> None:
    """Two rooms of 40 m with a corridor of 20 m between them: the line is in the corridor."""
    west, east = pieces_of([(0, 0, 40, 20), (60, 0, 100, 20)], [])
    assert west == (0, 0, 50, 20)
    assert east == (50, 0, 100, 20)


def test_a_room_that_stands_in_the_middle_moves_the_line() -> None:
    rooms = [(0, 0, 40, 20), (42, 0, 58, 20), (60, 0, 100, 20)]
    west, east = pieces_of(rooms, [])
    assert west[2] == east[0]
    assert not any(one < west[2] < two for one, _, two, _ in rooms)


def test_pieces_with_nothing_on_them_have_no_sheet() -> None:
    """An L of two wings, 120 m and 60 m long: the corner outside it is empty."""
    rooms = [(x, 0.0, x + 9, 12.0) for x in range(0, 120, 10)]
    rooms += [(0.0, y, 9.0, y + 9) for y in range(20, 60, 10)]
    found = pieces_of([tuple(map(float, room)) for room in rooms], [])  # type: ignore[misc]
    assert len(found) == 3


@pytest.mark.parametrize("seed", range(8))
def test_every_room_of_a_random_storey_is_on_one_piece(seed: int) -> None:
    chance = random.Random(seed)
    rooms = []
    for _ in range(40):
        x, y = chance.uniform(0, 200), chance.uniform(0, 90)
        rooms.append((x, y, x + chance.uniform(3, 14), y + chance.uniform(3, 9)))
    pieces = pieces_of(rooms, [])
    for west, south, east, north in pieces:
        assert east - west <= LARGEST_M[0] + 1e-6
        assert north - south <= LARGEST_M[1] + 1e-6
    areas = [box(*piece) for piece in pieces]
    assert unary_union(areas).area == pytest.approx(sum(area.area for area in areas))
    for west, south, east, north in rooms:
        middle = ((west + east) / 2, (south + north) / 2)
        inside = pieces[place_of(middle, pieces)]
        assert inside[0] <= middle[0] <= inside[2]
        assert inside[1] <= middle[1] <= inside[3]
