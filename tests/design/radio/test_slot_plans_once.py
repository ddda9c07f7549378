"""A plan of carriers and slots that was made is not made again, whatever is asked for in between."""

from dataclasses import replace
from typing import Any

import pytest

from proposal.design.radio import slot_plans_once
from proposal.design.radio.slot_graph import SlotGraph
from proposal.design.radio.slot_plan import slot_plan
from proposal.design.radio.slot_plans_once import plans_kept, slot_plan_once
from tests.design.radio.test_slot_plan import clique_of
from tests.design.radio_building import building

OTHERS: tuple[dict[str, Any], ...] = (
    {"carriers": 9},
    {"lengths": (3, 3, 2)},
    {"access_point": (0, 0, 1)},
    {"transceivers": (4, 2)},
    {"conflicts": frozenset({(0, 1)})},
    {"near_far": {1: frozenset({(0, 1)})}},
    {"apart": frozenset({(0, 2)})},
    {"unlisted_share": 0.01},
    {"tuned": (2, 3, 3)},
    {"complete": False},
)


class Kept:
    """What keeps plans, in a mapping."""

    def __init__(self) -> None:
        self.plans: dict[str, bytes] = {}

    def found(self, key: str) -> bytes | None:
        return self.plans.get(key)

    def keep(self, key: str, content: bytes) -> None:
        self.plans[key] = content


@pytest.fixture(autouse=True)
def nothing_made_yet() -> None:
    slot_plans_once._plan.cache_clear()


def small() -> SlotGraph:
    return clique_of(3, 3, 8, access_point=(0, 1, 1), transceivers=(2, 2))


def counted(monkeypatch: pytest.MonkeyPatch) -> list[SlotGraph]:
    made: list[SlotGraph] = []

    def slot_plan_counted(graph: SlotGraph, known: Any, *, quick: bool) -> Any:
        made.append(graph)
        return slot_plan(graph, known, quick=quick)

    monkeypatch.setattr(slot_plans_once, "slot_plan", slot_plan_counted)
    return made


def test_an_equal_question_is_answered_once(monkeypatch: pytest.MonkeyPatch) -> None:
    made = counted(monkeypatch)
    first, second = building(24, slab_db=19, wall_db=12), building(24, slab_db=19, wall_db=12)
    assert first is not second
    plan = slot_plan_once(first)
    assert slot_plan_once(second) == plan == slot_plan(first)
    assert len(made) == 1


@pytest.mark.parametrize("other", OTHERS, ids=lambda other: next(iter(other)))
def test_another_question_is_another(other: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    made, kept = counted(monkeypatch), Kept()
    with plans_kept(kept):
        slot_plan_once(small())
        slot_plan_once(replace(small(), **other))
    assert len(made) == 2
    assert len(kept.plans) == 2


def test_levels_known_places_and_the_kind_of_search_count(monkeypatch: pytest.MonkeyPatch) -> None:
    made, kept = counted(monkeypatch), Kept()
    with plans_kept(kept):
        plan = slot_plan_once(building(24, slab_db=19, wall_db=12))
        slot_plan_once(building(24, slab_db=19, wall_db=12), plan.cells)
        slot_plan_once(building(24, slab_db=19, wall_db=13))
        slot_plan_once(building(24, slab_db=19, wall_db=12), quick=True)
    assert len(made) == 4
    assert len(kept.plans) == 4


@pytest.mark.parametrize(("count", "length", "carriers"), [(20, 3, 10), (43, 3, 10)])
def test_a_plan_that_was_kept_is_the_plan_again(
    count: int, length: int, carriers: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Kept()
    with plans_kept(kept):
        plan = slot_plan_once(clique_of(count, length, carriers))
    assert (plan.proof is None) == (count == 20)
    slot_plans_once._plan.cache_clear()
    monkeypatch.setattr("proposal.design.radio.slot_plan.Board", None)  # whoever plans fails
    with plans_kept(kept):
        assert slot_plan_once(clique_of(count, length, carriers)) == plan


@pytest.mark.parametrize("spoilt", [b"", b"{}", b"[1]", b'{"outcome":"planned","cells":[]}'])
def test_what_is_spoilt_is_planned_again(spoilt: bytes) -> None:
    kept = Kept()
    with plans_kept(kept):
        plan = slot_plan_once(small())
        kept.plans = dict.fromkeys(kept.plans, spoilt)
        slot_plans_once._plan.cache_clear()
        assert slot_plan_once(small()) == plan
    assert spoilt not in kept.plans.values()
