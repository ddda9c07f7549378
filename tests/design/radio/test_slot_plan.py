"""Plans of carriers and slots: checked slot by slot, and their outcome held against an exact colouring."""

from dataclasses import replace
from itertools import combinations

import highspy
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proposal.design.radio.slot_board import Cell
from proposal.design.radio.slot_graph import SlotGraph
from proposal.design.radio.slot_plan import Plan, board_of, slot_plan
from tests.design import radio_checker


def cells_of(plan: Plan) -> list[tuple[int, int] | None]:
    return [None if cell is None else (cell.carrier, cell.slot) for cell in plan.cells]


def wrong(graph: SlotGraph, plan: Plan) -> list[str]:
    over = None
    if graph.shares is not None:
        over = {
            (int(i), int(j)): (10 * float(np.log10(u)), 10 * float(np.log10(d)))
            for i, j, (u, d) in zip(*graph.shares, strict=True)
        }
    return radio_checker.wrong(
        carriers=graph.carriers,
        lengths=graph.lengths,
        cells=cells_of(plan),
        conflicts=set(graph.conflicts),
        near_far={away: set(pairs) for away, pairs in graph.near_far.items()},
        apart=set(graph.apart),
        access_point=graph.access_point,
        transceivers=graph.transceivers,
        uses=graph.uses,
        over_db=over,
    )


def exact_colouring_exists(graph: SlotGraph) -> bool:
    """Say whether any plan exists: one number for every demand, carrier and first slot, every pair apart."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)  # as the program has it: all solvers of a process alike
    places = {
        n: [(c, s) for c in range(graph.carriers) for s in range(12 - length + 1)]
        for n, length in enumerate(graph.lengths)
    }
    chosen = {(n, place): solver.addBinary() for n, own in places.items() for place in own}
    for n, own in places.items():
        solver.addConstr(sum(chosen[n, place] for place in own) == 1)

    def over(n: int, carrier: int, slot: int) -> list[object]:
        first = max(0, slot - graph.lengths[n] + 1)
        return [chosen[n, (carrier, s)] for s in range(first, slot + 1) if (n, (carrier, s)) in chosen]

    for carrier in range(graph.carriers):
        for slot in range(12):
            for a, b in graph.conflicts:
                solver.addConstr(sum(over(a, carrier, slot)) + sum(over(b, carrier, slot)) <= 1)
            for away, pairs in graph.near_far.items():
                for a, b in pairs:
                    for one, other in ((a, b), (b, a)):
                        if carrier + away < graph.carriers:
                            here, there = over(one, carrier, slot), over(other, carrier + away, slot)
                            solver.addConstr(sum(here) + sum(there) <= 1)
    for tag, most in enumerate(graph.transceivers):
        for slot in range(12):
            tuned = [
                number
                for n, own in enumerate(graph.access_point)
                if own == tag
                for carrier in range(graph.carriers)
                for number in over(n, carrier, slot)
            ]
            if len(tuned) > most:
                solver.addConstr(sum(tuned) <= most)
    solver.minimize(chosen[0, places[0][0]] * 0.0)
    # The solver refuses to run where its threads were set otherwise before; that would be no answer.
    status = solver.getModelStatus()
    assert status in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
    return bool(status == highspy.HighsModelStatus.kOptimal)


@st.composite
def small_graphs(draw: st.DrawFn) -> SlotGraph:
    count = draw(st.integers(2, 7))
    carriers = draw(st.integers(1, 3))
    lengths = draw(
        st.one_of(
            st.sampled_from([3, 4, 5, 6]).map(lambda one: [one] * count),
            st.lists(st.sampled_from([1, 3, 4, 6]), min_size=count, max_size=count),
        )
    )
    pairs = list(combinations(range(count), 2))
    conflicts = draw(st.sets(st.sampled_from(pairs), min_size=len(pairs) // 2))
    near_far = draw(st.sets(st.sampled_from(sorted(conflicts)), max_size=6)) if conflicts else set()
    owners = draw(st.lists(st.integers(0, 1), min_size=count, max_size=count))
    conflicts |= {(a, b) for a, b in pairs if owners[a] == owners[b]} if draw(st.booleans()) else set()
    return SlotGraph(
        carriers=carriers,
        lengths=tuple(lengths),
        access_point=tuple(owners),
        transceivers=(draw(st.integers(1, 3)), 3),
        conflicts=frozenset(conflicts),
        near_far={1: frozenset(near_far)},
    )


@pytest.mark.independent
@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(small_graphs())
def test_the_outcome_agrees_with_exact_colouring_and_every_plan_passes_the_checker(graph: SlotGraph) -> None:
    plan = slot_plan(graph)
    exists = exact_colouring_exists(graph)
    assert plan.outcome == ("planned" if exists else "impossible")
    if plan.outcome == "planned":
        assert wrong(graph, plan) == []
    else:
        assert plan.proof is not None
        assert set(plan.proof.members) <= set(range(len(graph.lengths)))


@pytest.mark.independent
@settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(small_graphs(), st.data())
def test_a_known_plan_is_the_answer_where_it_holds_and_changes_no_outcome(
    graph: SlotGraph, data: st.DataObject
) -> None:
    pairs = sorted(graph.conflicts)
    fewer = frozenset(data.draw(st.sets(st.sampled_from(pairs)))) if pairs else frozenset()
    calmer = replace(graph, conflicts=fewer, near_far={})
    known = slot_plan(calmer)
    assert known.outcome in ("planned", "impossible")
    again = slot_plan(graph, known.cells)
    assert again.outcome == slot_plan(graph).outcome
    if again.outcome == "planned":
        assert wrong(graph, again) == []
    if known.outcome == "planned" and wrong(graph, known) == []:
        assert again.cells == known.cells


def clique_of(count: int, length: int, carriers: int, **more: object) -> SlotGraph:
    values: dict[str, object] = {
        "carriers": carriers,
        "lengths": (length,) * count,
        "access_point": tuple(range(count)),
        "transceivers": (1,) * count,
        "conflicts": frozenset(combinations(range(count), 2)),
    } | more
    return SlotGraph(**values)  # type: ignore[arg-type]  # a shorthand of the tests


@pytest.mark.parametrize(("length", "held"), [(3, 40), (4, 30), (6, 20)])
@pytest.mark.published
def test_ten_carriers_hold_the_links_of_common_practice_and_not_one_more(length: int, held: int) -> None:
    # common practice: 40 links of three pairs in step, 30 beside a foreign system in a row, 20 single
    full = slot_plan(clique_of(held, length, 10))
    assert full.outcome == "planned"
    assert wrong(clique_of(held, length, 10), full) == []
    beyond = slot_plan(clique_of(held + 1, length, 10))
    assert beyond.outcome == "impossible"
    assert beyond.proof is not None
    one_more = ((held + 1) * length, held * length)
    assert (beyond.proof.kind, beyond.proof.wanted, beyond.proof.held) == ("carrier", *one_more)


def test_links_that_exclude_neighbouring_carriers_too_get_every_second_carrier() -> None:
    pairs = frozenset(combinations(range(20), 2))
    graph = clique_of(20, 3, 10, near_far={1: pairs})
    plan = slot_plan(graph)
    assert plan.outcome == "planned"
    assert wrong(graph, plan) == []
    one_more = clique_of(21, 3, 10, near_far={1: frozenset(combinations(range(21), 2))})
    beyond = slot_plan(one_more)
    assert beyond.outcome == "impossible"
    assert beyond.proof is not None
    assert beyond.proof.kind == "neighbouring"


def test_an_odd_ring_that_no_clique_rules_out_is_proved_impossible_by_search() -> None:
    # a ring of five links of twelve pairs needs three carriers, though no three of them exclude each other
    ring = frozenset({(0, 1), (1, 2), (2, 3), (3, 4), (0, 4)})
    plan = slot_plan(clique_of(5, 12, 2, conflicts=ring))
    assert plan.outcome == "impossible"
    assert plan.proof is not None
    assert (plan.proof.kind, plan.proof.members) == ("search", (0, 1, 2, 3, 4))
    assert slot_plan(clique_of(5, 12, 3, conflicts=ring)).outcome == "planned"


def test_an_access_point_with_one_transceiver_holds_twelve_slot_pairs() -> None:
    own = {"access_point": (0,) * 5, "transceivers": (1,)}
    assert slot_plan(clique_of(4, 3, 10, **{**own, "access_point": (0,) * 4})).outcome == "planned"
    plan = slot_plan(clique_of(5, 3, 10, **own))
    assert plan.outcome == "impossible"
    assert plan.proof is not None
    assert plan.proof.kind == "transceivers"


def test_links_that_tolerate_each_other_alone_but_not_together_are_kept_apart() -> None:
    # each takes 0.6 of what another tolerates: two may meet, three may not (common: 4 cells on 1 carrier)
    pairs = [(a, b) for a in range(8) for b in range(8) if a != b]
    one, other = np.array(pairs).T
    shares = (one, other, np.tile([0.6, 0.1], (len(pairs), 1)))
    graph = clique_of(8, 3, 1, conflicts=frozenset(), shares=shares)
    plan = slot_plan(graph)
    assert plan.outcome == "planned"
    assert wrong(graph, plan) == []
    assert board_of(graph, plan).shares().max() == pytest.approx(0.6, rel=1e-9)
    nine = [(a, b) for a in range(9) for b in range(9) if a != b]
    one, other = np.array(nine).T
    shares = (one, other, np.tile([0.6, 0.1], (len(nine), 1)))
    assert slot_plan(clique_of(9, 3, 1, conflicts=frozenset(), shares=shares)).outcome == "impossible"


def test_what_could_still_be_added_is_what_is_left() -> None:
    graph = clique_of(33, 3, 10)
    plan = slot_plan(graph)
    assert board_of(graph, plan).further(0, 100) == 7
    assert board_of(graph, plan).further(0, 5) == 5


def test_the_next_place_is_found_on_a_board_that_is_partly_taken() -> None:
    """Two links that exclude each other: the first lies on carrier 0 from slot 0, so slot 3 of it is next."""
    board = board_of(clique_of(2, 3, 1), Plan(outcome="not settled", cells=(Cell(0, 0), None)))
    assert board.best(1) == Cell(0, 3)


def test_no_place_is_found_on_a_board_that_is_full() -> None:
    board = board_of(clique_of(2, 12, 1), Plan(outcome="not settled", cells=(Cell(0, 0), None)))
    assert board.best(1) is None


def test_the_checker_finds_what_is_wrong() -> None:
    graph = clique_of(2, 3, 2, near_far={1: frozenset({(0, 1)})})
    common = {
        "carriers": 2, "lengths": graph.lengths, "conflicts": set(graph.conflicts),
        "near_far": {1: {(0, 1)}}, "apart": set(), "access_point": (0, 0), "transceivers": (1,),
    }  # fmt: skip
    assert radio_checker.wrong(cells=[(0, 0), (0, 3)], **common) == []
    assert "share carrier" in radio_checker.wrong(cells=[(0, 0), (0, 2)], **common)[0]
    assert "too near" in radio_checker.wrong(cells=[(0, 0), (1, 2)], **common)[0]
    assert "transceivers" in radio_checker.wrong(cells=[(0, 0), (1, 2)], **common)[1]
    assert "outside" in radio_checker.wrong(cells=[(0, 0), (1, 10)], **common)[0]
    assert "not planned" in radio_checker.wrong(cells=[(0, 0), None], **common)[0]
    loud = {(0, 1): (-2.0, -9.0), (0, 2): (-2.0, -9.0)}
    three = common | {
        "lengths": (3, 3, 3),
        "conflicts": set(),
        "access_point": (0, 1, 2),
        "transceivers": (1, 1, 1),
    }
    assert "too much" in radio_checker.wrong(cells=[(0, 0)] * 3, over_db=loud, **three)[0]


def test_links_that_share_only_transceivers_are_settled_together() -> None:
    # Six runs of six pairs on one access point with three transceivers, pairs of them in conflict: all six
    # places of the transceivers are needed, on whichever carriers.
    graph = clique_of(
        6, 6, 2, access_point=(0,) * 6, transceivers=(3,), conflicts=frozenset({(0, 1), (2, 3), (4, 5)})
    )
    plan = slot_plan(graph)
    assert plan.outcome == ("planned" if exact_colouring_exists(graph) else "impossible")
    assert wrong(graph, plan) == []
    parts = graph.components()
    assert parts == [[0, 1, 2, 3, 4, 5]]


def test_a_chamber_in_which_near_and_far_leave_too_few_places_is_proved_impossible() -> None:
    # Twenty runs of three fill five carriers only if each quarter of the frame holds five. Beside one that
    # drowns all others on the next carrier at most four: itself at the edge, and three not next to it. All
    # three in one quarter hold it alone: three there, and five in each other quarter make eighteen.
    loud = frozenset((a, b) for a, b in combinations(range(20), 2) if a < 3)
    plan = slot_plan(clique_of(20, 3, 5, near_far={1: loud}))
    assert plan.outcome == "impossible"
    assert plan.proof is not None
    assert plan.proof.kind == "search"
    fewer = clique_of(18, 3, 5, near_far={1: frozenset(pair for pair in loud if pair[1] < 18)})
    assert slot_plan(fewer).outcome == "planned"
