"""Cut plans, against exact solvers that know nothing of bounds, patterns or programmes.

One lists every way of putting a few runs together; the other walks over what is left of a few lengths, for
which the best plan is the best reel before the best plan of the rest.
"""

import itertools
import math
import random
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.estimate.reels import cutting_bounds, cutting_patterns
from proposal.estimate.reels.cut_plan import (
    CutPlan,
    KeptReel,
    Run,
    Stock,
    count_by_percentage,
    cut_plan,
    spare_stock,
)

BOX = Stock("305 m box", 305.0, Decimal("148.00"))
SHORT = Stock("152 m box", 152.4, Decimal("79.00"))
Value = tuple[Decimal, int, Decimal]


def value(plan: CutPlan) -> Value:
    """Return cost, number of reels and length bought."""
    return plan.cost, len(plan.reels), sum((reel.length_m for reel in plan.reels), Decimal(0))


def steps(length_m: float) -> Decimal:
    return Decimal(str(length_m)).quantize(Decimal("0.1"), rounding="ROUND_CEILING")


def stock_steps(length_m: float) -> Decimal:
    return Decimal(str(length_m)).quantize(Decimal("0.1"), rounding="ROUND_FLOOR")


def check(plan: CutPlan, runs: Sequence[Run], stocks: Sequence[Stock]) -> None:
    """Assert all that must hold of any plan."""
    by_name = {stock.name: stock for stock in stocks}
    by_identity = {run.identity: run for run in runs}
    planned = [cut.identity for reel in plan.reels for cut in reel.cuts]
    assert sorted([*planned, *(run.identity for run in plan.too_long)]) == sorted(by_identity)
    longest = max(stock_steps(stock.length_m) for stock in stocks)
    assert {run.identity for run in plan.too_long} == {
        run.identity for run in runs if steps(run.length_m) > longest
    }
    for reel in plan.reels:
        assert reel.length_m == stock_steps(by_name[reel.stock].length_m)
        assert reel.remnant_m == reel.length_m - sum(cut.length_m for cut in reel.cuts)
        assert reel.remnant_m >= 0
        assert list(dict.fromkeys(cut.group for cut in reel.cuts)) == list(reel.groups)
        assert len(set(reel.groups)) == len(reel.groups)
        for cut in reel.cuts:
            assert cut.length_m == steps(by_identity[cut.identity].length_m)
            assert cut.group == by_identity[cut.identity].group
    assert plan.cost == sum(by_name[reel.stock].cost for reel in plan.reels)
    assert dict(plan.counts) == dict(Counter(reel.stock for reel in plan.reels))
    assert plan.bound <= plan.cost
    assert not plan.proven or plan.bound == plan.cost
    assert plan.set_ups == sum(len(reel.groups) for reel in plan.reels)


def partitions(runs: tuple[Run, ...]) -> Iterator[list[list[Run]]]:
    """Yield every way of putting runs together."""
    if not runs:
        yield []
        return
    first, rest = runs[0], runs[1:]
    for size in range(len(rest) + 1):
        for others in itertools.combinations(rest, size):
            left = tuple(run for run in rest if run not in others)
            for more in partitions(left):
                yield [[first, *others], *more]


def best_of_all(runs: Sequence[Run], stocks: Sequence[Stock]) -> Value:
    """Return the best value by listing every plan."""
    found = []
    for parts in partitions(tuple(runs)):
        total: Value = (Decimal(0), 0, Decimal(0))
        for part in parts:
            length = sum(steps(run.length_m) for run in part)
            fitting = [
                (stock.cost, stock_steps(stock.length_m))
                for stock in stocks
                if stock_steps(stock.length_m) >= length
            ]
            if not fitting:
                break
            cost, bought = min(fitting)
            total = (total[0] + cost, total[1] + 1, total[2] + bought)
        else:
            found.append(total)
    return min(found)


def best_by_remainder(lengths: tuple[int, ...], counts: tuple[int, ...], stocks: Sequence[Stock]) -> Value:
    """Return the best value for a few lengths (whole metres) by what is left of each."""
    patterns = []
    for stock in stocks:
        room = int(stock.length_m)
        ranges = [
            range(min(count, room // length) + 1) for length, count in zip(lengths, counts, strict=True)
        ]
        for pattern in itertools.product(*ranges):
            if any(pattern) and sum(n * length for n, length in zip(pattern, lengths, strict=True)) <= room:
                patterns.append((pattern, stock))

    @cache
    def best(left: tuple[int, ...]) -> Value:
        if not any(left):
            return Decimal(0), 0, Decimal(0)
        first = next(n for n, count in enumerate(left) if count)
        found = []
        for pattern, stock in patterns:
            if pattern[first] and all(n <= have for n, have in zip(pattern, left, strict=True)):
                cost, reels, bought = best(tuple(have - n for n, have in zip(pattern, left, strict=True)))
                found.append((cost + stock.cost, reels + 1, bought + Decimal(int(stock.length_m))))
        return min(found)

    return best(counts)


groups = st.sampled_from(["1 L01", "1 L02", "2 L01"])
run_lengths = st.integers(min_value=1, max_value=1200).map(lambda tenths: tenths / 10)


@st.composite
def few_runs(draw: st.DrawFn) -> list[Run]:
    count = draw(st.integers(1, 6))
    return [Run(f"R{n}/N1/ER1-RK1", draw(run_lengths), draw(groups)) for n in range(count)]


@st.composite
def some_stocks(draw: st.DrawFn) -> list[Stock]:
    lengths = draw(st.lists(st.integers(min_value=1200, max_value=3100), min_size=1, max_size=3, unique=True))
    cents = st.integers(min_value=100, max_value=400) if draw(st.booleans()) else st.sampled_from([100, 200])
    return [Stock(f"S{n}", length / 10, Decimal(draw(cents)) / 100) for n, length in enumerate(lengths)]


@pytest.mark.independent
@settings(max_examples=120, deadline=None)
@given(few_runs(), some_stocks())
def test_a_few_runs_are_cut_as_well_as_the_best_of_all_plans(runs: list[Run], stocks: list[Stock]) -> None:
    plan = cut_plan(runs, stocks)
    check(plan, runs, stocks)
    assert plan.proven
    assert value(plan) == best_of_all(runs, stocks)


@pytest.mark.independent
@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(min_value=11, max_value=60), min_size=3, max_size=3, unique=True),
    st.lists(st.integers(min_value=1, max_value=9), min_size=3, max_size=3),
    st.lists(st.integers(min_value=60, max_value=110), min_size=1, max_size=2, unique=True),
    st.lists(st.integers(min_value=50, max_value=90), min_size=2, max_size=2),
)
def test_a_few_lengths_are_cut_as_well_as_the_best_plan_by_remainder(
    lengths: list[int], counts: list[int], stock_lengths: list[int], costs: list[int]
) -> None:
    stocks = [
        Stock(f"S{n}", float(length), Decimal(cost))
        for n, (length, cost) in enumerate(zip(stock_lengths, costs, strict=False))
    ]
    runs = [
        Run(f"{length}/{n}", float(length))
        for length, count in zip(lengths, counts, strict=True)
        for n in range(count)
    ]
    plan = cut_plan(runs, stocks)
    check(plan, runs, stocks)
    best = best_by_remainder(tuple(lengths), tuple(counts), stocks)
    assert plan.bound <= best[0]
    assert value(plan) == best if plan.proven else value(plan) >= best


@pytest.mark.independent
@pytest.mark.parametrize(
    "limits", [{"MOST_STEPS": 1}, {"MOST_ROUNDS": 0, "MOST_PATTERNS": 0, "MOST_NODES": 0}]
)
def test_a_plan_cut_short_by_its_limits_claims_no_more_than_is_true(
    limits: dict[str, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, limit in limits.items():
        module = cutting_bounds if hasattr(cutting_bounds, name) else cutting_patterns
        monkeypatch.setattr(module, name, limit)
    chance = random.Random(20)
    unproven = 0
    for _ in range(150):
        lengths = tuple(chance.sample(range(21, 60), 3))
        counts = tuple(chance.randint(1, 6) for _ in lengths)
        sizes = chance.sample(range(60, 110), 2)
        stocks = [Stock(f"S{size}", float(size), Decimal(chance.randint(60, 90))) for size in sizes]
        runs = [Run(f"{size}/{n}", float(size)) for size, n_of in zip(lengths, counts, strict=True)
                for n in range(n_of)]  # fmt: skip
        plan = cut_plan(runs, stocks)
        check(plan, runs, stocks)
        best = best_by_remainder(lengths, counts, stocks)
        assert plan.bound <= best[0] <= plan.cost
        assert value(plan) == best or not plan.proven
        unproven += not plan.proven
    assert unproven


def random_runs(seed: int, count: int, shortest_m: float, longest_m: float, group_count: int) -> list[Run]:
    chance = random.Random(seed)
    return [
        Run(
            f"R{n}/N1/ER1-RK1",
            chance.uniform(shortest_m, longest_m),
            f"1 L{chance.randrange(group_count):02d}",
        )
        for n in range(count)
    ]


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("shortest_m", "longest_m"), [(8, 60), (20, 90), (50, 89)])
def test_random_runs_cost_no_less_than_their_length_and_no_more_than_first_fit(
    seed: int, shortest_m: float, longest_m: float
) -> None:
    runs = random_runs(seed, 150, shortest_m, longest_m, 4)
    plan = cut_plan(runs, [BOX, SHORT])
    check(plan, runs, [BOX, SHORT])
    total = sum(steps(run.length_m) for run in runs)
    a_metre = min(stock.cost / stock_steps(stock.length_m) for stock in (BOX, SHORT))
    assert plan.bound >= (total * a_metre).quantize(Decimal(1), rounding="ROUND_FLOOR")
    rooms: list[Decimal] = []
    for length in sorted((steps(run.length_m) for run in runs), reverse=True):
        place = next((n for n, room in enumerate(rooms) if room >= length), None)
        if place is None:
            rooms.append(Decimal(305))
            place = len(rooms) - 1
        rooms[place] -= length
    assert plan.cost <= len(rooms) * BOX.cost


@pytest.mark.published
def test_a_hundred_runs_of_45_m_take_17_boxes_where_the_percentage_says_16() -> None:
    runs = [Run(f"R{n}/N1/ER1-RK1", 45.0) for n in range(100)]
    plan = cut_plan(runs, [BOX])
    assert (len(plan.reels), plan.proven) == (17, True)  # six to a box: 305 / 45 = 6.8
    assert count_by_percentage(100 * 45.0, 0.07, 305.0) == 16  # 4815 / 305 = 15.8
    # With one spare box 18 are ordered.
    assert (plan.counts, spare_stock(runs, [BOX])) == ((("305 m box", 17),), BOX)


@settings(max_examples=25, deadline=None)
@given(few_runs(), some_stocks(), st.randoms(use_true_random=False))
def test_the_order_of_the_input_changes_nothing(
    runs: list[Run], stocks: list[Stock], chance: random.Random
) -> None:
    plan = cut_plan(runs, stocks)
    mixed_runs, mixed_stocks = runs.copy(), stocks.copy()
    chance.shuffle(mixed_runs)
    chance.shuffle(mixed_stocks)
    assert cut_plan(mixed_runs, mixed_stocks) == plan


def test_lengths_are_rounded_up_to_a_tenth_and_no_further() -> None:
    runs = [Run("A", 4.1), Run("B", 4.1000004), Run("C", 4.11), Run("D", 0.04)]
    plan = cut_plan(runs, [BOX])
    assert {cut.identity: str(cut.length_m) for cut in plan.reels[0].cuts} == {
        "A": "4.1",
        "B": "4.1",
        "C": "4.2",
        "D": "0.1",
    }


def test_runs_longer_than_every_stock_are_listed_and_the_others_are_cut() -> None:
    runs = [Run("A", 305.0), Run("B", 305.01), Run("C", 10.0)]
    plan = cut_plan(runs, [BOX, SHORT])
    check(plan, runs, [BOX, SHORT])
    assert [run.identity for run in plan.too_long] == ["B"]
    assert plan.counts == (("305 m box", 1), ("152 m box", 1))


def test_no_runs_need_nothing() -> None:
    plan = cut_plan([], [BOX])
    assert (plan.reels, plan.cost, plan.proven) == ((), Decimal(0), True)
    assert (plan.counts, spare_stock([], [BOX])) == ((), None)
    assert cut_plan([Run("A", 1.0)], []).too_long == (Run("A", 1.0),)


def test_a_short_box_is_bought_where_it_is_cheaper() -> None:
    runs = [Run(f"A{n}", 100.0) for n in range(4)]
    plan = cut_plan(runs, [BOX, SHORT])
    assert plan.counts == (("305 m box", 1), ("152 m box", 1))
    assert plan.cost == Decimal("227.00")


def test_at_one_cost_fewer_reels_and_then_a_shorter_remnant_win() -> None:
    runs = [Run("A", 50.0), Run("B", 50.0)]
    halves = Stock("half", 50.0, Decimal(50))
    assert cut_plan(runs, [halves, Stock("whole", 120.0, Decimal(100))]).counts == (("whole", 1),)
    close = Stock("close", 101.0, Decimal(100))
    assert cut_plan(runs, [halves, Stock("whole", 120.0, Decimal(100)), close]).counts == (("close", 1),)


def test_reels_stay_with_one_group_where_that_costs_nothing() -> None:
    runs = [Run(f"L{group}-{n}", 30.5, f"1 L{group:02d}") for n in range(20) for group in (1, 2, 3)]
    plan = cut_plan(runs, [BOX])
    assert len(plan.reels) == 6
    assert plan.set_ups == 6


def test_a_reel_goes_forward_in_the_order_of_pulling() -> None:
    runs = [Run("A", 100.0, "L01"), Run("B", 100.0, "L02"), Run("C", 100.0, "roof")]
    order = ("roof", "L02", "L01")
    (reel,) = cut_plan(runs, [BOX], order).reels
    assert [cut.identity for cut in reel.cuts] == ["C", "B", "A"]
    assert reel.groups == order


def test_an_earlier_plan_stays_where_one_run_changes_and_it_is_as_good() -> None:
    runs = random_runs(3, 120, 15, 80, 3)
    before = cut_plan(runs, [BOX])
    kept = [KeptReel(reel.stock, tuple(cut.identity for cut in reel.cuts)) for reel in before.reels]
    spared = max(before.reels, key=lambda reel: reel.remnant_m)
    longer = Run(spared.cuts[0].identity, float(spared.cuts[0].length_m) + 0.1, spared.cuts[0].group)
    changed = [longer if run.identity == longer.identity else run for run in runs]
    after = cut_plan(changed, [BOX], earlier=kept)
    check(after, changed, [BOX])
    assert after.cost == cut_plan(changed, [BOX]).cost

    def reels(plan: CutPlan) -> set[frozenset[str]]:
        return {frozenset(cut.identity for cut in reel.cuts) for reel in plan.reels}

    assert reels(after) == reels(before)


def test_an_earlier_plan_goes_where_a_cheaper_one_is_possible() -> None:
    runs = [Run("A", 100.0), Run("B", 100.0)]
    kept = [KeptReel(BOX.name, ("A",)), KeptReel(BOX.name, ("B",)), KeptReel(BOX.name, ("gone",))]
    assert len(cut_plan(runs, [BOX], earlier=kept).reels) == 1


def as_kept(plan: CutPlan) -> list[KeptReel]:
    return [
        KeptReel(reel.stock, tuple(cut.identity for cut in reel.cuts), reel.number) for reel in plan.reels
    ]


def numbered(plan: CutPlan) -> dict[int, set[str]]:
    return {reel.number: {cut.identity for cut in reel.cuts} for reel in plan.reels}


def test_reels_are_numbered_from_one_in_their_order() -> None:
    plan = cut_plan(random_runs(3, 60, 15, 80, 3), [BOX])
    assert [reel.number for reel in plan.reels] == list(range(1, len(plan.reels) + 1))


def test_a_reel_from_which_a_run_is_gone_keeps_the_others_and_its_number() -> None:
    # Three reels, each of three runs of 100 m; B2 is not pulled any more.
    runs = [Run(f"{letter}{n}", 100.0) for letter in "ABC" for n in (1, 2, 3)]
    before = cut_plan(runs, [BOX])
    assert numbered(before) == {1: {"A1", "A2", "A3"}, 2: {"B1", "B2", "B3"}, 3: {"C1", "C2", "C3"}}
    after = cut_plan([run for run in runs if run.identity != "B2"], [BOX], earlier=as_kept(before))
    assert numbered(after) == {1: {"A1", "A2", "A3"}, 2: {"B1", "B3"}, 3: {"C1", "C2", "C3"}}


def test_the_number_of_a_reel_that_is_not_bought_any_more_is_not_given_again() -> None:
    runs = [Run(f"{letter}{n}", 100.0) for letter in "ABC" for n in (1, 2, 3)]
    before = cut_plan(runs, [BOX])
    fewer = [run for run in runs if not run.identity.startswith("B")]
    gone = [KeptReel(BOX.name, (), 2), *(reel for reel in as_kept(before) if reel.number != 2)]
    assert set(numbered(cut_plan(fewer, [BOX], earlier=gone))) == {1, 3}
    more = [*fewer, *(Run(f"D{n}", 100.0) for n in (1, 2, 3))]
    after = cut_plan(more, [BOX], earlier=gone)
    assert numbered(after) == {1: {"A1", "A2", "A3"}, 3: {"C1", "C2", "C3"}, 4: {"D1", "D2", "D3"}}


def test_the_spare_is_the_cheapest_from_which_any_run_can_be_pulled_again() -> None:
    assert spare_stock([Run("A", 40.0)], [BOX, SHORT]) == SHORT
    assert spare_stock([Run("A", 160.0), Run("B", 400.0)], [BOX, SHORT]) == BOX


@pytest.mark.parametrize(
    ("runs", "stocks", "message"),
    [
        ([Run("A", 1.0), Run("A", 2.0)], [BOX], "run 'A' is given twice"),
        ([Run("A", 1.0)], [BOX, BOX], "stock '305 m box' is given twice"),
        ([Run("A", 0.0)], [BOX], "run 'A': wanted a length above 0 m"),
        ([Run("A", math.nan)], [BOX], "run 'A': wanted a length above 0 m"),
        ([Run("A", 1.0)], [Stock("S", 0.0, Decimal(1))], "stock 'S': wanted a length"),
        ([Run("A", 1.0)], [Stock("S", 1.0, Decimal(-1))], "stock 'S': wanted a cost"),
    ],
)
def test_what_cannot_be_is_refused(runs: list[Run], stocks: list[Stock], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        cut_plan(runs, stocks)


def test_two_thousand_runs_take_seconds_and_time_grows_with_their_number() -> None:
    seconds = {}
    for count in (500, 2000):
        runs = random_runs(1, count, 12, 90, count // 100)
        start = time.perf_counter()
        plan = cut_plan(runs, [BOX, SHORT])
        seconds[count] = time.perf_counter() - start
        check(plan, runs, [BOX, SHORT])
        assert plan.proven
    print({count: f"{taken:.2f} s" for count, taken in seconds.items()})
    assert seconds[2000] < 40 * max(seconds[500], 0.05)  # quadratic would be 16 times
