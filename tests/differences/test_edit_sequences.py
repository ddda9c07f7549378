"""Random edits of the example: a comparison lists exactly what differs, for every reader.

A longer run, and of all its rooms instead of a few:
`PROPOSAL_EDIT_SEQUENCES=200 python -m pytest tests/differences/test_edit_sequences.py`.
"""

import json
import os
from functools import lru_cache

from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.differences import applied, differences
from proposal.differences.changes import State
from proposal.differences.details import details_of, shares, unseen
from proposal.differences.difference_json import difference_of, plain_difference
from proposal.differences.inputs import inputs_of
from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.readers import READERS
from proposal.editions import changes_for, edition_of
from proposal.errors import InputError
from proposal.exports.comparison import comparison_json, comparison_markdown, comparison_text
from proposal.pipeline import compute
from tests.editing import EDITS, Folder

SEQUENCES = int(os.environ.get("PROPOSAL_EDIT_SEQUENCES", "6"))
LONGER = "PROPOSAL_EDIT_SEQUENCES" in os.environ
BY_NAME = {edit.__name__: edit for edit in EDITS}
step = st.tuples(
    st.sampled_from(sorted(BY_NAME)),
    st.integers(min_value=0, max_value=60),
    st.integers(min_value=0, max_value=60),
)


def document(folder: Folder) -> Document | None:
    """Return the document of a folder, None where the folder is no good."""
    try:
        return document_of(compute(folder.project({})))
    except InputError:
        return None


def begun() -> Folder:
    """Return the example as it is edited: a few of its rooms, all of them in a longer run."""
    return Folder.example() if LONGER else Folder.example().of_rooms("A101", "A201", "A206")


@lru_cache(maxsize=1)
def before_edits() -> Document:
    found = document(begun())
    assert found is not None
    return found


@settings(max_examples=SEQUENCES, deadline=None)
@given(st.lists(step, min_size=1, max_size=4))
def test_a_comparison_lists_exactly_what_differs(steps: list[tuple[str, int, int]]) -> None:
    folder = begun()
    for name, n, m in steps:
        tried = folder.copy()
        made = folder.designed({})
        assert made is not None
        BY_NAME[name](tried, made, n, m)
        if tried.designed({}) is not None:
            folder = tried
    after = document(folder)
    assert after is not None
    before = before_edits()
    for reader in READERS:
        then, now = edition_of(before, reader).document, edition_of(after, reader).document
        difference = differences(then, now)
        assert applied(then, difference) == now
        assert applied(now, differences(now, then)) == then
        assert difference_of(json.loads(json.dumps(plain_difference(difference)))) == difference
        details = details_of(difference, then, now)
        told = {one.path for one in details if one.sign != "changed"}
        additions = {one.path for one in difference.additions}
        assert told == additions | {one.path for one in difference.removals}
        assert unseen(difference, details) >= 0
        facts = sum(len(one.facts) for one in details)
        assert facts + unseen(difference, details) + shares(difference) == len(difference.changes)


def test_every_way_of_writing_it_down_is_the_same_every_time() -> None:
    folder = begun()
    assert folder.rooms.pop()["tag"] == "A206"
    after = document(folder)
    assert after is not None
    before = before_edits()
    date = before.cover.revision.date
    states = State(label="a", document=before, date=date), State(label="b", document=after, date=date)
    for write in (comparison_text, comparison_markdown, comparison_json):
        once = write(changes_for("reviewer", *states, inputs_of(())), "reviewer")
        again = write(changes_for("reviewer", *states, inputs_of(())), "reviewer")
        assert once == again
        assert "A206" in once
    plain = json.loads(comparison_json(changes_for("estimator", *states, inputs_of(())), "estimator"))
    assert applied(before, difference_of(plain["difference"])) == after
