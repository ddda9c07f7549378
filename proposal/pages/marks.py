"""Marks: what tells a coded value, a verdict or a changed row at a glance, a sign beside the word."""

from collections.abc import Mapping

from proposal.differences.keys import Key
from proposal.pages.markdown import Html, text
from proposal.pages.page_elements import status

# What stands behind the first cell of a row that is new or changed, by collection and key of the row.
Marks = Mapping[tuple[str, Key], Html]


def row_mark(sign: str) -> Html:
    """Return the mark of a row that is new or changed: a sign and the word."""
    shown = {"new": "+", "changed": "Δ"}[sign]
    return Html(f'<span class="row-mark {sign}"><span aria-hidden="true">{shown}</span> {sign}</span>')


# Kind of mark of a coded value; one that is not here has none.
_MARKS: Mapping[str, str] = {
    "holds": "good",
    "fails": "bad",
    "in groups": "care",
    "may trip": "care",
    "pass": "good",
    "warning": "care",
    "error": "bad",
    "note": "info",
    "accepted error": "info",
    "accepted warning": "info",
    "accepted note": "info",
    "issued": "good",
    "draft": "care",
    "critical": "care",
    "kept": "good",
    "late": "care",
    "alone": "good",
    "with swaps": "care",
    "too few spares": "bad",
    "slots short": "bad",
    "enough": "good",
    "too few": "care",
    "new": "good",
    "removed": "bad",
    "changed": "care",
    "tested in commissioning": "open",
    "planned": "good",
    "stays": "good",
    "leaves": "bad",
    "impossible": "bad",
    "not settled": "care",
    "met": "good",
    "met in part": "care",
    "not met": "bad",
    "stated": "info",
    "by others": "info",
    "open": "open",
    "proven": "good",
    "not proven least": "care",
}


def mark_of(code: str, word: str) -> Html:
    """Return a coded value as sign and word; as a word alone where it has no mark.

    code: the value as data hold it.
    word: as the table of words has it.
    """
    kind = _MARKS.get(code)
    return text(word) if kind is None else status(word, kind)


def verdict(word: str) -> Html | None:
    """Return `holds` or `fails` as sign and word; None where nothing was checked."""
    return mark_of(word, word) if word else None
