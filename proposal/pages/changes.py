"""What changed since the issue before: totals first, then row by row, and marks for the rows themselves."""

from collections.abc import Mapping, Sequence
from typing import ClassVar

from proposal.differences.causes import Cause, Causes
from proposal.differences.changes import Changes
from proposal.differences.details import Detail, by_subject, details_of, shares, unseen
from proposal.differences.inputs import InputRow
from proposal.differences.keys import Key
from proposal.differences.told_changes import told_changes
from proposal.document.headings import Words
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.pages.client_changes import ToldSection, since, told_sections
from proposal.pages.consequence_tables import changed_totals
from proposal.pages.markdown import Html, join, text
from proposal.pages.marks import Marks, row_mark
from proposal.pages.page_context import PageContext
from proposal.pages.paths import CHANGES, part_path
from proposal.pages.phrases import capital
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, on_own_pages
from proposal.pages.schedule_table import Field, fields_of, of_part, schedule
from proposal.pages.tables import Cell
from proposal.quantities import formatting

_MOST_CAUSES = 3
_MOST_ROWS = 600
"""So many rows stand on one page, which thus stays under about 300 kB."""


_SHORT = 5
"""Lists of fewer rows keep their marks, however many there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangesPage:
    """What changed since the issue before.

    since: with what this revision is compared.
    totals: those that differ.
    told: the same changes in sentences, as a client reads them.
    inputs: what changed in the files, numbered, and what else changed: the program, the data beside the
        project; none where the reader does not see files.
    subjects: heading and rows that differ of each; none where they have pages of their own.
    parts: of many rows, the way to the page of each part and how many stand there.
    besides: sentences on what is not listed row by row.
    """

    template: ClassVar[str] = "changes.md.jinja"
    since: Html
    totals: Html
    told: tuple[ToldSection, ...]
    inputs: tuple[Html, ...]
    subjects: tuple[tuple[Html, Html], ...]
    parts: tuple[Html, ...]
    besides: tuple[Html, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangesPartPage:
    """The rows of one subject that differ from the issue before, or a numbered part of them."""

    template: ClassVar[str] = "changes-part.md.jinja"
    title: Html
    overview: Html
    rows: Html


def details_of_changes(edition: Edition) -> tuple[Detail, ...]:
    """Return the rows that differ from the issue before; none where there is none."""
    changes = edition.changes
    if changes is None:
        return ()
    return details_of(changes.difference, changes.before.document, changes.after.document)


def marks_of(details: Sequence[Detail], edition: Edition) -> Marks:
    """Return the mark of each row of a schedule that is new or changed, by collection and key.

    A list has no marks where they would stand at every row and tell nothing: of which the issue before had no
    row, or of which most rows are new or changed.
    edition: what is shown.
    """
    changes = edition.changes
    if changes is None:
        return {}
    found: dict[str, dict[Key, Html]] = {}
    for one in details:
        if one.sign == "removed" or len(one.path) < 2:
            continue
        collection, key = one.path[0], one.path[1]
        if isinstance(collection, str) and isinstance(key, tuple):
            # A row of which something inside is new is itself changed.
            sign = one.sign if len(one.path) == 2 else "changed"
            found.setdefault(collection, {}).setdefault(key, row_mark(sign))
    return {
        (collection, key): mark
        for collection, marks in found.items()
        if getattr(changes.before.document, collection, ())
        and not _mostly(len(marks), len(getattr(edition.document, collection, ())))
        for key, mark in marks.items()
    }


def _mostly(marked: int, rows: int) -> bool:
    """Return whether more than three quarters of the rows of a list are marked, short lists apart."""
    return rows >= _SHORT and 4 * marked > 3 * rows


def change_parts(details: Sequence[Detail], words: Words) -> tuple[SchedulePart[Detail], ...]:
    """Return the rows that differ by their subjects; where they are many, on pages of their own.

    details: rows that differ.  words: name the subjects.
    """
    found: list[SchedulePart[Detail]] = []
    for subject, rows in by_subject(details, words):
        if len(details) <= _MOST_ROWS:
            found.append(SchedulePart(path=CHANGES, title=subject, rows=rows))
            continue
        pieces = [rows[first : first + _MOST_ROWS] for first in range(0, len(rows), _MOST_ROWS)]
        for number, piece in enumerate(pieces, 1):
            several = len(pieces) > 1
            title = f"{subject}, part {number} of {len(pieces)}" if several else subject
            path = part_path(CHANGES, rows[0].subject, number if several else 0)
            found.append(SchedulePart(path=path, title=title, rows=piece))
    return tuple(found)


def changes_page(
    here: PageContext, changes: Changes, details: Sequence[Detail], parts: Sequence[SchedulePart[Detail]]
) -> ChangesPage:
    """Return the page of what changed.

    changes: of this edition; details: its rows that differ; parts: the same by subjects.
    """
    before = changes.before
    inputs = changes.inputs.all
    changed = [one for one in changes.consequences if one.changed]
    heads = (f"In {before.label}", "Now")
    return ChangesPage(
        since=since(here, changes),
        totals=changed_totals(here, "Totals that changed", changed, heads)
        if changed
        else text("No total changed."),
        told=told_sections(here, told_changes(changes)),
        inputs=(
            *([_inputs(here, inputs)] if inputs else []),
            *(text(f"{capital(one)}.") for one in changes.inputs.elsewhere),
        ),
        subjects=()
        if on_own_pages(parts, CHANGES)
        else tuple((text(part.title), _rows(here, part, changes)) for part in parts),
        parts=links_to_parts(parts, CHANGES, here.to, lambda rows: formatting.count_of(len(rows), "row")),
        besides=tuple(text(one) for one in _besides(changes, details)),
    )


def changes_part_page(here: PageContext, part: SchedulePart[Detail], changes: Changes) -> ChangesPartPage:
    """Return the page of a part of the rows that differ.

    part: the rows that stand on it.  changes: of this edition.
    """
    return ChangesPartPage(
        title=text(part.title),
        overview=here.to(CHANGES, "What changed as a whole, and why"),
        rows=_rows(here, part, changes),
    )


def _inputs(here: PageContext, inputs: Sequence[InputRow]) -> Html:
    fields: list[Field[tuple[int, InputRow]]] = [
        Field(here.heading("number"), lambda pair: Cell(str(pair[0]), pair[0])),
        *of_part(fields_of(here, InputRow, "place", "name", "kind", "before", "after"), lambda pair: pair[1]),
    ]
    rows = list(enumerate(inputs, 1))
    return schedule("What changed in the inputs", fields, rows, identity=lambda pair: f"input-{pair[0]}")


def _rows(here: PageContext, part: SchedulePart[Detail], changes: Changes) -> Html:
    causes = Causes(changes.inputs, changes.before.document, changes.after.document)
    numbers = {one: number for number, one in enumerate(changes.inputs.all, 1)}
    fields: list[Field[Detail]] = [
        *fields_of(here, Detail, "called", "sign", "in_detail"),
        Field(here.heading("follows_from"), lambda one: _from(here, causes.of(one.path), numbers)),
    ]
    return schedule(f"{part.title}: rows that differ", fields, part.rows)


def _from(here: PageContext, cause: Cause | None, numbers: Mapping[InputRow, int]) -> Html:
    """Return the numbers of the changes of the inputs that a row follows from, or may follow from."""
    if cause is None:
        return Html()
    named = [
        here.to(f"{CHANGES}#input-{numbers[one]}", str(numbers[one])) for one in cause.inputs[:_MOST_CAUSES]
    ]
    if len(cause.inputs) > _MOST_CAUSES or (len(named) == 1 and not cause.certain):
        named.append(Html("others"))
    if len(named) == 1:
        return named[0]
    return join([join(named[:-1], ", "), named[-1]], " or ")


def _besides(changes: Changes, details: Sequence[Detail]) -> list[str]:
    difference = changes.difference
    found: list[str] = []
    smaller = unseen(difference, details)
    if smaller:
        figures = formatting.count_of(smaller, "figure")
        found.append(f"{figures} changed by less than the last printed digit.")
    shared = shares(difference)
    if shared:
        figures = formatting.count_of(shared, "figure")
        found.append(
            f"{figures} of the offer {'is a share' if shared == 1 else 'are shares'} "
            "of a whole price that changed."
        )
    moved = len(difference.renumbered)
    if moved:
        found.append(
            f"{formatting.count_of(moved, 'running number')} changed, and nothing else in the rows that they "
            "number."
        )
    if not difference:
        found.append("Nothing that this edition shows has changed.")
    return found


__all__ = [
    "CHANGES",
    "ChangesPage",
    "change_parts",
    "changes_page",
    "changes_part_page",
    "details_of_changes",
    "marks_of",
]
