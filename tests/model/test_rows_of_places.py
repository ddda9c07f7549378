"""Seats in rows, arcs and grids: where they stand, and that their numbers stay."""

from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.rows_of_places import RowOfPlaces, places_of
from tests.review.editing import edited

SEMINAR = "room_types/seminar.yaml"
ROW = "numbers: 1-6, first: [2 m, 1.6 m], last: [8 m, 1.6 m]"


def row(**written: object) -> dict[str, tuple[float, float]]:
    first = {"first": ["0 m", "0 m"], "last": ["4 m", "0 m"]}
    return dict(places_of("A", RowOfPlaces.model_validate({**first, **written})))


def test_seats_of_a_line_stand_at_equal_distances() -> None:
    assert row(numbers="1-5") == {"A1": (0, 0), "A2": (1, 0), "A3": (2, 0), "A4": (3, 0), "A5": (4, 0)}


def test_an_arc_passes_through_its_ends_and_its_height() -> None:
    """Half a circle about (2 m, 0 m), of 2 m: its quarter points lie at 45°."""
    found = row(numbers="1-5", arc="2 m")
    assert found["A3"] == pytest.approx((2, 2))
    assert found["A2"] == pytest.approx((2 - 2**0.5, 2**0.5), abs=1e-4)
    assert row(numbers="1-5", arc="-2 m")["A3"] == pytest.approx((2, -2))


def test_a_grid_is_its_row_again_and_again() -> None:
    found = row(numbers="1-2", rows=["K", "L"], step=["0 m", "1.5 m"])
    assert found == {"K1": (0, 0), "K2": (4, 0), "L1": (0, 1.5), "L2": (4, 1.5)}


def test_a_seat_put_in_between_leaves_all_numbers_as_they_were() -> None:
    assert list(row(numbers=["1-2", "5", "3-4"])) == ["A1", "A2", "A5", "A3", "A4"]


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (ROW, ROW.replace("1-6", "1 to 6"), "wanted numbers in the order in which they stand, such as [1-6"),
        (
            ROW,
            ROW.replace("1-6", "[1-6, 3]"),
            "wanted each number once, such as [1-6, 13, 7-12]; found 3 twice",
        ),
        ("step: [0 m, 1.5 m]", "step: [0 m, 0 m]", "wanted a step from each row to the next"),
        ("step: [0 m, 1.5 m]", "level: gallery", "wanted a level of this room type"),
    ],
)
def test_what_is_wrong_with_a_row_is_said_where_it_stands(
    old: str, new: str, message: str, tmp_path: Path
) -> None:
    folder = edited(tmp_path / "p", "university", {SEMINAR: [(old, new)]})
    with pytest.raises(InputError) as refused:
        load_project(folder)
    told = [f"{one.place.file}: {one.message}" for one in refused.value.problems]
    assert [one for one in told if one.startswith(f"{SEMINAR}: {message}")], told


def test_a_seat_that_is_written_by_itself_takes_the_rest_from_its_row(tmp_path: Path) -> None:
    text = "seats:\n  B2: {name: chair}\n"
    folder = edited(tmp_path / "p", "university", {SEMINAR: [("*end*", text)]})
    seats = load_project(folder).room_types["seminar"].seats
    assert (seats["B2"].name, seats["B2"].at) == ("chair", (3.2, 3.1))
    assert len(seats) == 24
