"""The critical path: a published network, random ones against networkx, and working calendars by hand."""

import datetime
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.estimate.programme.critical_path import Activity, driving_chain, in_order, timed
from proposal.estimate.programme.work_calendar import EVERY_DAY, WorkCalendar

WEEK = WorkCalendar(frozenset(range(5)))


@pytest.mark.published
def test_a_published_network_has_its_length_and_its_critical_path() -> None:
    """Eleven activities between eight events; length 22, critical B, F, J (textbook network, from memory)."""
    arrows = {
        "A": (1, 2, 2),
        "B": (1, 3, 7),
        "C": (1, 4, 8),
        "D": (2, 5, 3),
        "E": (3, 5, 6),
        "F": (3, 6, 10),
        "G": (3, 7, 4),
        "H": (4, 6, 6),
        "I": (5, 7, 2),
        "J": (6, 8, 5),
        "K": (7, 8, 6),
    }
    activities = [
        Activity(key, days, tuple(other for other, (_, end, _) in arrows.items() if end == start))
        for key, (start, _, days) in arrows.items()
    ]
    times = timed(activities, {"calendar": EVERY_DAY}, 0)
    assert max(one.early_finish for one in times.values()) == 22
    assert {key for key, one in times.items() if one.critical} == {"B", "F", "J"}
    assert driving_chain(activities, times) == ("B", "F", "J")


@st.composite
def networks(draw: st.DrawFn) -> list[Activity]:
    count = draw(st.integers(1, 12))
    activities = []
    for n in range(count):
        after = draw(st.sets(st.integers(0, n - 1))) if n else set()
        activities.append(Activity(f"T{n}", draw(st.integers(0, 9)), tuple(f"T{m}" for m in sorted(after))))
    return draw(st.permutations(activities))


def through(network: "nx.DiGraph[str]", days: dict[str, int], key: str) -> int:
    """Return the longest way from start to end that goes through an activity."""
    return upto(network, days, key) + upto(network.reverse(), days, key) - days[key]


def upto(network: "nx.DiGraph[str]", days: dict[str, int], key: str) -> int:
    """Return the longest way that ends with an activity, by networkx's longest path."""
    weighted = nx.DiGraph()
    members = nx.ancestors(network, key) | {key}
    for member in members:
        weighted.add_edge((member, "start"), (member, "end"), weight=days[member])
    for start, end in network.subgraph(members).edges:
        weighted.add_edge((start, "end"), (end, "start"), weight=0)
    return int(nx.dag_longest_path_length(weighted))


@pytest.mark.independent
@given(networks())
@settings(max_examples=60)
def test_moments_and_floats_are_those_of_longest_paths(activities: list[Activity]) -> None:
    days = {one.key: one.days for one in activities}
    network: nx.DiGraph[str] = nx.DiGraph()
    network.add_nodes_from(days)
    network.add_edges_from((before, one.key) for one in activities for before in one.after)
    times = timed(activities, {"calendar": EVERY_DAY}, 100)
    whole = max(upto(network, days, key) for key in days)
    for key in days:
        finish = upto(network, days, key)
        assert times[key].early_finish == 100 + finish
        assert times[key].total_float == whole - through(network, days, key)
        starts = [upto(network, days, later) - days[later] for later in network.successors(key)]
        assert times[key].free_float == min(starts, default=whole) - finish


@given(networks(), st.integers(730_000, 730_020), st.sets(st.integers(730_000, 730_100), max_size=20))
@settings(max_examples=60)
def test_on_any_calendar_a_day_later_moves_the_end_only_without_float(
    activities: list[Activity], start: int, holidays: set[int]
) -> None:
    calendars = {"calendar": WorkCalendar(frozenset(range(5)), tuple((day, day) for day in holidays))}
    times = timed(activities, calendars, start)
    end = max(one.early_finish for one in times.values())
    for one in activities:
        if not one.days:
            continue
        moment = times[one.key]
        for slip in {moment.total_float, moment.total_float + 1}:
            held = calendars["calendar"].after(moment.early_start, slip)
            moved = [
                Activity(other.key, other.days, other.after, not_before=held) if other is one else other
                for other in activities
            ]
            later = max(each.early_finish for each in timed(moved, calendars, start).values())
            assert (later > end) == (slip > moment.total_float)


@pytest.mark.pinned
def test_work_goes_round_weekends_holidays_and_closures() -> None:
    monday = datetime.date(2031, 4, 14).toordinal()
    holidays = WorkCalendar(frozenset(range(5)), ((monday + 4, monday + 4), (monday + 7, monday + 7)))
    # Friday the 18th and Monday the 21st are off: four days from Wednesday are 16, 17, 22 and 23 April.
    assert holidays.after(monday + 2, 4) == monday + 10
    assert holidays.before(monday + 10, 4) == (monday + 2, monday + 10)
    assert holidays.between(monday, monday + 14) == 8
    assert WEEK.after(monday + 5, 1) == monday + 8
    assert WEEK.before(monday + 7, 1) == (monday + 4, monday + 5)


@given(
    st.sets(st.integers(0, 6), min_size=1),
    st.lists(st.tuples(st.integers(700_000, 700_060), st.integers(0, 9)), max_size=5),
    st.integers(700_000, 700_070),
    st.integers(0, 30),
)
def test_counting_and_walking_agree(
    weekdays: set[int], spans: list[tuple[int, int]], start: int, days: int
) -> None:
    calendar = WorkCalendar(frozenset(weekdays), tuple((first, first + more) for first, more in spans))
    end = calendar.after(start, days)
    assert calendar.between(start, end) == days == len(list(calendar.days(start, end)))
    assert all(datetime.date.fromordinal(day).weekday() in weekdays for day in calendar.days(start, end))
    back = calendar.before(end, days)
    assert calendar.between(*back) == days
    assert back[1] <= end


def test_a_lead_time_counts_calendar_days_and_work_waits_for_monday() -> None:
    friday = datetime.date(2031, 4, 4).toordinal()
    activities = [
        Activity("lead time", 8, (), "calendar"),
        Activity("work", 1, ("lead time",), "working"),
    ]
    times = timed(activities, {"calendar": EVERY_DAY, "working": WEEK}, friday)
    # Friday to Friday; the weekend that follows is float that a week of lead time may take.
    assert times["lead time"].early_finish == friday + 8
    assert times["work"].early_start == friday + 10
    assert times["lead time"].total_float == 2
    assert driving_chain(activities, times) == ("lead time", "work")


def test_a_chain_begins_where_others_have_set_the_day() -> None:
    activities = [Activity("A", 2), Activity("B", 1, ("A",), not_before=9)]
    times = timed(activities, {"calendar": EVERY_DAY}, 0)
    assert times["B"].early_start == 9
    assert times["A"].total_float == 7
    assert driving_chain(activities, times) == ("B",)


@pytest.mark.parametrize(
    "activities",
    [
        [Activity("A", 1, ("B",)), Activity("B", 1, ("A",))],
        [Activity("A", 1, ("Z",))],
        [Activity("A", 1), Activity("A", 2)],
    ],
)
def test_a_network_that_cannot_be_is_refused(activities: list[Activity]) -> None:
    with pytest.raises(ValueError, match="wanted activities"):
        in_order(activities)


def test_the_driving_chain_has_no_gap_on_one_calendar() -> None:
    activities = [Activity("A", 3), Activity("B", 5), Activity("C", 1, ("A", "B")), Activity("D", 0, ("C",))]
    times = timed(activities, {"calendar": EVERY_DAY}, 0)
    chain = driving_chain(activities, times)
    assert chain == ("B", "C", "D")
    for before, after in pairwise(chain):
        assert times[before].early_finish == times[after].early_start


def test_a_lag_puts_off_what_follows_and_takes_no_float_from_what_comes_before() -> None:
    """An order on day 10, seven days from it: days 11 to 17, and the order has no float."""
    activities = [Activity("order", 0), Activity("lead", 7, ("order",), lag=1)]
    times = timed(activities, {"calendar": EVERY_DAY}, 10)
    assert (times["lead"].early_start, times["lead"].early_finish) == (11, 18)
    assert times["order"].critical
    assert times["order"].free_float == 0
    assert times["lead"].critical
