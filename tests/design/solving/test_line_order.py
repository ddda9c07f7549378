"""The order of loudspeakers along a line against every order there is, and where people decide.

rack ──── LS? ──── LS? ──── …      no order takes less cable
"""

import random
from collections.abc import Sequence
from itertools import pairwise, permutations

import pytest

from proposal.design.design import Design
from proposal.design.solving.line_order import EXACT_UP_TO, line_order
from proposal.model.project import FixedCable, Project
from proposal.model.rooms import Loudspeaker
from tests.design.making import changed, designed, minimal, with_layout
from tests.long_form import cases

Spot = tuple[float, float]


def away_m(one: Spot, other: Spot) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def whole_m(order: Sequence[int], first_m: Sequence[float], between_m: Sequence[Sequence[float]]) -> float:
    return first_m[order[0]] + sum(between_m[one][after] for one, after in pairwise(order))


def lengths(spots: Sequence[Spot], rack: Spot) -> tuple[list[float], list[list[float]]]:
    return [away_m(rack, one) for one in spots], [[away_m(one, other) for other in spots] for one in spots]


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(cases(20)))
def test_no_order_is_shorter_and_the_first_of_equals_is_taken(seed: int) -> None:
    chance = random.Random(seed)
    spots = [(chance.randrange(24) / 2, chance.randrange(24) / 2) for _ in range(chance.randint(1, 6))]
    first_m, between_m = lengths(spots, (-20.0, 3.0))
    best = min(
        permutations(range(len(spots))),
        key=lambda order: (round(whole_m(order, first_m, between_m), 6), order),
    )
    assert tuple(line_order(first_m, between_m)) == best


@pytest.mark.independent
@pytest.mark.parametrize(("across", "along"), [(3, 4), (4, 4), (5, 6)])
def test_a_grid_is_walked_in_steps_of_its_spacing(across: int, along: int) -> None:
    """A line through a grid is never shorter than one spacing a step; lines of many find such a way too."""
    assert across * along > EXACT_UP_TO
    spots = [(2.4 * x, 2.4 * y) for x in range(across) for y in range(along)]
    random.Random(1).shuffle(spots)
    order = line_order(*lengths(spots, (-9.6, 0.0)))
    assert sorted(order) == list(range(across * along))
    assert whole_m(order, *lengths(spots, (-9.6, 0.0))) == pytest.approx(9.6 + 2.4 * (across * along - 1))


def test_what_may_not_be_is_taken_where_nothing_else_is_left() -> None:
    assert line_order([1.0, None], [[None, 9.0], [1.0, None]]) == [0, 1]
    assert line_order([1.0, 2.0], [[None, None], [5.0, None]]) == [1, 0]
    assert sorted(line_order([None, None], [[None, None], [None, None]])) == [0, 1]


def square() -> Project:
    """Return a room whose loudspeakers hang on the corners of a square, numbered crosswise."""
    corners = {"LS1": (1.0, 1.0), "LS2": (4.0, 3.5), "LS3": (4.0, 1.0), "LS4": (1.0, 3.5)}
    loudspeakers = {code: Loudspeaker(at=at) for code, at in corners.items()}
    return with_layout(
        minimal(), "meeting", loudspeakers=loudspeakers, network="rack", output="mixer", seats={}
    )


def chain(design: Design) -> list[str]:
    (line,) = (one for one in design.loudspeaker_lines if one.room == "B001")
    stretches = [one.end for one in line.cables]
    assert stretches == ["ER1-RK1", *line.tags[:-1]]
    return [tag.removeprefix("B001-") for tag in line.tags]


def test_a_line_goes_round_a_square_and_not_across_it() -> None:
    order = chain(designed(square()))
    sides = {frozenset(pair) for pair in pairwise(order)}
    assert not sides & {frozenset(("LS1", "LS2")), frozenset(("LS3", "LS4"))}


def test_a_cable_that_is_written_by_hand_is_kept() -> None:
    """LS2 follows LS1, though that is across; the rest is as short as that leaves it."""
    fixed = square().fixed
    written = fixed.model_copy(update={"cables": {"B001-LS2/L1/B001-LS1": FixedCable(length=7.5)}})
    design = designed(changed(square(), "fixed", written))
    assert not design.wrong_by_hand
    order = chain(design)
    assert ("LS1", "LS2") in set(pairwise(order))
    cable = next(one for one in design.cables if one.start == "B001-LS2")
    assert cable.length_m == 7.5
    assert cable.measured
