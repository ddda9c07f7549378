"""A difference is exact: applied to the one document it gives the other, whatever the two are.

More pairs: `PROPOSAL_LONG_TESTS=10 python -m pytest tests/differences/test_difference.py`.
"""

import json
import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.differences import (
    ABSENT,
    Addition,
    Change,
    Difference,
    OrderChange,
    Removal,
    applied,
    differences,
)
from proposal.differences.difference_json import difference_of, plain_difference
from proposal.differences.keys import keys_of
from proposal.document.document import Document
from proposal.document.figures import settled
from proposal.document.readers import Shown
from tests.long_form import cases
from tests.sample_document import sample_document

SAMPLE = settled(sample_document())


def with_rows(name: str, rows: Any) -> Document:
    return SAMPLE.model_copy(update={name: rows})


def test_equal_documents_differ_in_nothing() -> None:
    difference = differences(SAMPLE, settled(sample_document()))
    assert difference == Difference()
    assert not difference


def test_a_new_row_is_an_addition_at_its_place() -> None:
    room = SAMPLE.rooms[0].model_copy(update={"tag": "B109"})
    after = with_rows("rooms", (SAMPLE.rooms[0], room, *SAMPLE.rooms[1:]))
    difference = differences(SAMPLE, after)
    assert difference == Difference(additions=(Addition(("rooms", ("B109",)), room, 1),))
    assert applied(SAMPLE, difference) == after


def test_a_row_that_is_gone_is_a_removal() -> None:
    difference = differences(SAMPLE, with_rows("rooms", SAMPLE.rooms[1:]))
    assert difference.removals == (Removal(("rooms", (SAMPLE.rooms[0].tag,)), SAMPLE.rooms[0], 0),)
    assert not difference.changes


def test_a_changed_field_stands_with_both_values() -> None:
    changed = SAMPLE.rooms[0].model_copy(update={"seats": 99})
    difference = differences(SAMPLE, with_rows("rooms", (changed, *SAMPLE.rooms[1:])))
    path = ("rooms", (changed.tag,), "seats")
    assert difference == Difference(changes=(Change(path, SAMPLE.rooms[0].seats, 99),))


def test_rows_in_another_order_are_reordered_and_nothing_else() -> None:
    difference = differences(SAMPLE, with_rows("rooms", SAMPLE.rooms[::-1]))
    keys = keys_of(SAMPLE.rooms)
    assert difference == Difference(reordered=(OrderChange(("rooms",), keys, keys[::-1]),))


def test_prose_that_comes_and_goes_is_told_by_its_name() -> None:
    wording = {**SAMPLE.wording, "new": "Words."}
    gone = next(iter(SAMPLE.wording))
    del wording[gone]
    difference = differences(SAMPLE, with_rows("wording", wording))
    assert set(difference.changes) == {
        Change(("wording", gone), SAMPLE.wording[gone], ABSENT),
        Change(("wording", "new"), ABSENT, "Words."),
    }


def test_a_row_inside_a_row_is_found_by_its_own_key() -> None:
    sheet = next(one for one in SAMPLE.room_sheets if one.microphones)
    moved = sheet.microphones[0].model_copy(update={"at": (9.0, 9.0)})
    new = sheet.model_copy(update={"microphones": (moved, *sheet.microphones[1:])})
    after = with_rows("room_sheets", tuple(new if one is sheet else one for one in SAMPLE.room_sheets))
    (change,) = differences(SAMPLE, after).changes
    assert change.path == ("room_sheets", (sheet.key,), "microphones", (moved.code,), "at")


def test_numbers_that_move_are_renumbered_and_change_nothing() -> None:
    """One more assumption at the front gives all others another number, workings included."""
    shifted = [f"A{n}" for n in range(2, len(SAMPLE.assumptions) + 2)]
    renamed = dict(zip((row.number for row in SAMPLE.assumptions), shifted, strict=True))
    first = SAMPLE.assumptions[0].model_copy(update={"number": "A1", "title": "Something new", "key": "new"})
    after = SAMPLE.model_copy(
        update={
            "assumptions": (
                first,
                *(row.model_copy(update={"number": renamed[row.number]}) for row in SAMPLE.assumptions),
            ),
            "workings": tuple(
                row.model_copy(update={"assumptions": tuple(renamed[one] for one in row.assumptions)})
                for row in SAMPLE.workings
            ),
        }
    )
    difference = differences(SAMPLE, after)
    assert [one.path[0] for one in difference.additions] == ["assumptions"]
    assert not difference.changes
    assert any(one.path[0] == "workings" for one in difference.renumbered)
    assert applied(SAMPLE, difference) == after


def test_a_working_that_rests_on_another_assumption_has_changed() -> None:
    row = next(one for one in SAMPLE.workings if one.assumptions)
    new = row.model_copy(update={"assumptions": ()})
    after = with_rows("workings", tuple(new if one is row else one for one in SAMPLE.workings))
    (change,) = differences(SAMPLE, after).changes
    assert change.path[-1] == "assumptions"


def test_what_is_nothing_before_and_something_after_changes_as_a_whole() -> None:
    after = SAMPLE.model_copy(update={"finding_count": None})
    there, back = differences(SAMPLE, after), differences(after, SAMPLE)
    assert [one.path for one in there.changes] == [("finding_count",)]
    assert applied(after, back) == SAMPLE


def mutated(document: Document, seed: int, edits: int) -> Document:
    """Return a document edited at random: rows dropped, doubled, turned round, emptied; fields swapped."""
    chance = random.Random(seed)
    for _ in range(edits):
        document = settled(_mutated(document, chance))
    return document


def _mutated(part: Any, chance: random.Random) -> Any:
    names = [name for name in type(part).model_fields if getattr(part, name) not in ((), None, "")]
    name = chance.choice(names)
    value = getattr(part, name)
    if isinstance(value, Shown):
        return part.model_copy(update={name: _mutated(value, chance)})
    if isinstance(value, tuple) and value and all(isinstance(item, Shown) for item in value):
        return part.model_copy(update={name: _rows(value, chance)})
    return part.model_copy(update={name: _other(value, chance)})


def _rows(rows: tuple[Any, ...], chance: random.Random) -> tuple[Any, ...]:
    place = chance.randrange(len(rows))
    what = chance.randrange(6)
    if what == 0:
        return rows[:place] + rows[place + 1 :]
    if what == 1:
        return (*rows[:place], rows[place], *rows[place:])
    if what == 2:
        return tuple(chance.sample(rows, len(rows)))
    if what == 3:
        return ()
    return (*rows[:place], _mutated(rows[place], chance), *rows[place + 1 :])


def _other(value: Any, chance: random.Random) -> Any:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + chance.choice((1, 2.5, -3)) if isinstance(value, float) else value + 1
    if isinstance(value, str):
        return value + chance.choice(("x", "-9", " y"))
    if isinstance(value, dict):
        return {**dict(list(value.items())[1:]), chance.choice(("a", "b")): "words"}
    if isinstance(value, tuple):
        return value[::-1]
    return value


@settings(max_examples=cases(100), deadline=None)
@given(
    st.integers(min_value=0, max_value=10**9),
    st.integers(min_value=0, max_value=12),
    st.integers(min_value=0, max_value=12),
)
def test_a_difference_applied_gives_the_other_document(seed: int, first: int, second: int) -> None:
    before, after = mutated(SAMPLE, seed, first), mutated(SAMPLE, seed + 1, second)
    difference = differences(before, after)
    assert applied(before, difference) == after
    assert bool(difference) == (before != after)
    kept = json.loads(json.dumps(plain_difference(difference)))
    assert difference_of(kept) == difference
    assert applied(before, difference_of(kept)) == after
