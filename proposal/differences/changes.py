"""What changed since an earlier state, as one reader may see it."""

import datetime

from proposal.differences.consequences import Consequence, consequences
from proposal.differences.difference import Difference, differences
from proposal.differences.inputs import Inputs
from proposal.document.document import Document
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """A state of the proposal.

    label: what it is called, such as `revision A`.
    document: what it says, as the reader may see it.
    date: its date.
    """

    label: str
    document: Document
    date: datetime.date


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What changed between two states.

    before, after: the states; documents restricted to one and the same reader.
    difference: of the two documents.
    consequences: their totals side by side.
    inputs: what changed in the inputs, restricted to the same reader.
    """

    before: State
    after: State
    difference: Difference
    consequences: tuple[Consequence, ...]
    inputs: Inputs


def changes_between(before: State, after: State, inputs: Inputs) -> Changes:
    """Return what changed between two states.

    before, after, inputs: all restricted to one and the same reader.
    """
    return Changes(
        before=before,
        after=after,
        difference=differences(before.document, after.document),
        consequences=consequences(before.document, after.document),
        inputs=inputs,
    )
