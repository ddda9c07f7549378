"""Circuits that an issued revision gave: kept as long as they hold, by hand."""

from functools import cache

import pytest

from proposal.design.design import Design
from proposal.design.mains.kept_circuits import numbered
from proposal.design.number_register import design_numbers, joined
from proposal.design.whole_design import design
from proposal.model.mains import Mains
from proposal.model.project import Numbered, Project
from tests.design.making import EXAMPLE, changed, project_of

NONE: frozenset[int] = frozenset()


def test_what_was_issued_stays_on_its_circuit_though_fewer_would_do() -> None:
    sizes = [(0.3, 0.0), (0.3, 0.0), (0.3, 0.0)]
    assert numbered(sizes, [4, 7, 7], frozenset({4, 7}), [[0, 1, 2]], None) == {4: [0], 7: [1, 2]}


def test_what_is_new_goes_where_there_is_most_room_else_on_a_number_never_used() -> None:
    sizes = [(0.5, 0.0), (0.2, 0.0), (0.4, 0.0)]
    found = numbered(sizes, [1, 2, None], frozenset({1, 2}), [[0, 2], [1]], None)
    assert found == {1: [0], 2: [1, 2]}
    full = [(0.7, 0.0), (0.8, 0.0), (0.4, 0.0)]
    # Circuit 3 was given once and given up: it is not given again.
    found = numbered(full, [1, 2, None], frozenset({1, 2, 3}), [[0], [1], [2]], None)
    assert found == {1: [0], 2: [1], 4: [2]}


def test_where_it_does_not_hold_each_circuit_has_the_number_that_most_had() -> None:
    sizes = [(0.6, 0.0), (0.3, 0.0), (0.6, 0.0)]
    # All three were on circuit 5, which carries 1.5 times what it may.
    found = numbered(sizes, [5, 5, 5], frozenset({5}), [[0], [1, 2]], None)
    assert found == {5: [1, 2], 1: [0]}


def test_leakage_counts_like_current() -> None:
    sizes = [(0.1, 0.6), (0.1, 0.6)]
    assert numbered(sizes, [1, 1], frozenset({1}), [[0], [1]], None) == {1: [0], 2: [1]}


def test_nothing_issued_is_as_made_anew() -> None:
    assert numbered([(0.5, 0.0), (0.9, 0.0)], [None, None], NONE, [[0], [1]], None) == {1: [0], 2: [1]}


def test_circuits_that_the_project_asks_for_are_filled_with_what_is_new() -> None:
    sizes = [(0.2, 0.0), (0.2, 0.0)]
    assert numbered(sizes, [1, None], frozenset({1}), [[0], [1]], 2) == {1: [0], 2: [1]}
    # Fewer than were issued: made anew.
    assert numbered(sizes, [1, 2], frozenset({1, 2}), [[0, 1]], 1) == {1: [0, 1]}


@cache
def example() -> Design:
    return design(project_of(EXAMPLE))


def register(made: Design) -> dict[str, Numbered]:
    return joined({}, design_numbers(made))


def marks(made: Design) -> dict[str, str]:
    return {
        outlet.serves: mark
        for one in made.circuits
        for outlet, mark in zip(one.outlets, one.marks, strict=True)
    }


def without_room(project: Project, tag: str) -> Project:
    rooms = {name: room for name, room in project.rooms.items() if name != tag}
    return changed(project, "rooms", rooms)


@pytest.mark.parametrize("tag", ["A101", "A201"])
def test_a_room_that_goes_takes_its_own_marks_and_no_others(tag: str) -> None:
    issued = register(example())
    project = changed(without_room(project_of(EXAMPLE), tag), "issued", issued)
    now = marks(design(project))
    before = marks(example())
    assert now
    assert {serves for serves in before if serves.startswith(f"{tag}-")}
    for serves, mark in now.items():
        assert before[serves] == mark
    assert not any(serves.startswith(f"{tag}-") for serves in now)


def test_a_mark_is_the_circuit_and_a_number_there() -> None:
    for circuit in example().circuits:
        assert list(circuit.marks) == [f"{circuit.identity}/{n}" for n in range(1, len(circuit.outlets) + 1)]
    assert register(example())["outlet/ER2-RK1/PS1"].number.startswith("ER2/C")


def test_a_mark_that_was_given_up_is_not_given_again() -> None:
    issued = register(example())
    for serves in ("A101-CH1", "A101-OE1"):
        issued[f"outlet/{serves}"] = issued[f"outlet/{serves}"].model_copy(update={"retired": True})
    now = marks(design(changed(project_of(EXAMPLE), "issued", issued)))
    old = marks(example())
    assert {now[name] for name in ("A101-CH1", "A101-OE1")}.isdisjoint(
        {old[name] for name in ("A101-CH1", "A101-OE1")}
    )


def test_a_weaker_breaker_moves_what_it_does_not_carry() -> None:
    issued = register(example())
    project = changed(project_of(EXAMPLE), "issued", issued)
    weaker = changed(project, "brief.mains", Mains.model_validate({"breaker": "6 A"}))
    made = design(weaker)
    strong = {one.identity for one in example().circuits if one.place == "ER2"}
    weak = [one for one in made.circuits if one.place == "ER2"]
    assert len(weak) > len(strong)
    assert all(one.current_a <= 6 for one in weak if not one.single)
    assert strong <= {one.identity for one in weak}
