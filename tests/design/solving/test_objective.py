"""Choosing boxes, against a brute force that knows nothing of dynamic programming or solvers.

The brute force lists every number of boxes of every model up to what could ever be of use and takes the first
by the one objective: cost, boxes, what is given, then most of the first code.
"""

import itertools
import math
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.solving.objective import Option, _first_that_covers, _solved, cover

pytestmark = pytest.mark.independent

prices = st.integers(min_value=0, max_value=300_000).map(lambda cents: Decimal(cents) / 100)
few_prices = st.sampled_from([Decimal("2.50"), Decimal("5.00"), Decimal("7.50"), Decimal("10.00")])


def brute_force(options: tuple[Option, ...], needs: tuple[int, ...]) -> tuple[tuple[str, int], ...] | None:
    """Return the best of all counts, or None where none of them covers the needs."""
    if all(need <= 0 for need in needs):
        return ()
    ordered = sorted(options, key=lambda option: option.code)
    # No box is of use beyond what would cover, alone, every need to which it gives anything.
    most = [
        max(
            (
                math.ceil(need / gives)
                for need, gives in zip(needs, one.gives, strict=True)
                if need > 0 and gives
            ),
            default=0,
        )
        for one in ordered
    ]
    best = None
    for counts in itertools.product(*(range(count + 1) for count in most)):
        given = [
            sum(n * one.gives[k] for n, one in zip(counts, ordered, strict=True)) for k in range(len(needs))
        ]
        if any(have < need for have, need in zip(given, needs, strict=True)):
            continue
        key = (
            sum(n * one.cost for n, one in zip(counts, ordered, strict=True)),
            sum(counts),
            sum(given),
            tuple(-n for n in counts),
        )
        if best is None or key < best[0]:
            best = (key, counts)
    if best is None:
        return None
    return tuple((one.code, n) for one, n in zip(ordered, best[1], strict=True) if n)


def options_of(costs: list[Decimal], gives: list[tuple[int, ...]]) -> tuple[Option, ...]:
    return tuple(Option(code, cost, give) for code, cost, give in zip("CAB", costs, gives, strict=True))


@pytest.mark.parametrize("need", range(25))
@settings(max_examples=20, deadline=None)
@given(
    costs=st.lists(prices | few_prices, min_size=3, max_size=3),
    sizes=st.lists(st.integers(min_value=1, max_value=12), min_size=3, max_size=3),
)
def test_single_need_is_covered_as_brute_force_covers_it(
    need: int, costs: list[Decimal], sizes: list[int]
) -> None:
    options = options_of(costs, [(size,) for size in sizes])
    assert cover(options, (need,)) == brute_force(options, (need,))


@settings(max_examples=60, deadline=None)
@given(
    costs=st.lists(prices | few_prices, min_size=3, max_size=3),
    gives=st.lists(
        st.tuples(*(st.integers(min_value=0, max_value=m) for m in (8, 6, 400))), min_size=3, max_size=3
    ),
    needs=st.tuples(*(st.integers(min_value=0, max_value=m) for m in (16, 9, 1200))),
)
def test_several_needs_are_covered_as_brute_force_covers_them(
    costs: list[Decimal], gives: list[tuple[int, int, int]], needs: tuple[int, int, int]
) -> None:
    most = math.prod(
        max((math.ceil(need / g) for need, g in zip(needs, give, strict=True) if need and g), default=0) + 1
        for give in gives
    )
    if most > 20_000:
        gives = [(give[0], give[1], give[2] + 100) for give in gives]
    options = options_of(costs, gives)
    assert cover(options, needs) == brute_force(options, needs)


@settings(max_examples=40, deadline=None)
@given(
    costs=st.lists(prices | few_prices, min_size=3, max_size=3),
    sizes=st.lists(st.integers(min_value=1, max_value=9), min_size=3, max_size=3),
    need=st.integers(min_value=1, max_value=60),
)
def test_solver_and_dynamic_programme_agree(costs: list[Decimal], sizes: list[int], need: int) -> None:
    one = cover(options_of(costs, [(size,) for size in sizes]), (need,))
    # A second need that nothing gives and nobody has sends the same question to the solver.
    assert cover(options_of(costs, [(size, 0) for size in sizes]), (need, 0)) == one


def test_order_of_the_options_does_not_matter() -> None:
    options = options_of([Decimal(3), Decimal(3), Decimal(3)], [(4, 30), (4, 30), (4, 30)])
    for order in itertools.permutations(options):
        assert cover(order, (7, 40)) == (("A", 2),)


def test_nothing_is_chosen_where_nothing_is_needed() -> None:
    assert cover(options_of([Decimal(1)] * 3, [(1,)] * 3), (0,)) == ()


def test_a_need_that_no_model_gives_has_no_answer() -> None:
    options = options_of([Decimal(1)] * 3, [(1, 0)] * 3)
    assert cover(options, (1, 1)) is None
    assert cover((), (1,)) is None


def test_a_huge_box_takes_no_longer_than_a_small_one() -> None:
    options = (Option("A", Decimal(1), (1_000_000,)), Option("B", Decimal("0.40"), (2,)))
    assert cover(options, (5,)) == (("A", 1),)
    assert cover(options, (3,)) == (("B", 2),)


def test_more_boxes_than_anybody_would_buy_are_no_answer() -> None:
    options = (Option("A", Decimal(1), (1,)),)
    assert cover(options, (10_000_000,)) is None
    assert cover((Option("A", Decimal(1), (1, 1)),), (10_000_000, 1)) is None


@settings(max_examples=60, deadline=None)
@given(
    rows=st.lists(st.tuples(few_prices, st.integers(0, 9), st.integers(0, 9)), min_size=1, max_size=4),
    needs=st.tuples(st.integers(1, 14), st.integers(0, 14)),
)
def test_trying_sets_in_order_and_the_solver_agree(
    rows: list[tuple[Decimal, int, int]], needs: tuple[int, int]
) -> None:
    options = [Option(f"M{n}", cost, (one, other)) for n, (cost, one, other) in enumerate(rows)]
    if any(need > 0 and not any(one.gives[k] for one in options) for k, need in enumerate(needs)):
        return
    tried = _first_that_covers(options, needs)
    if tried is not None:
        assert tried == _solved(options, needs)


@pytest.mark.parametrize("places", [0, 2, 3])
def test_the_solver_tells_costs_apart_by_the_smallest_unit_of_their_currency(places: int) -> None:
    """Two boxes do, one of either model; the dearer by one smallest unit is not chosen."""
    step = Decimal(1).scaleb(-places)
    options = [Option("A", 400 + step, (5, 1)), Option("B", Decimal(400), (5, 1))]
    assert _solved(options, (10, 1)) == [0, 2]
