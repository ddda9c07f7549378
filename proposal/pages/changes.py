"""What changed since the issue before: totals first, then row by row; and the words behind changed rows."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from proposal.differences.causes import Cause, Causes
from proposal.differences.changes import Changes
from proposal.differences.details import Detail, by_subject, details_of, shares, unseen
from proposal.differences.inputs import InputRow
from proposal.differences.keys import Key
from proposal.differences.told_changes import told_changes
from proposal.editions import Edition
from proposal.pages.client_changes import ToldSection, since, told_sections
from proposal.pages.consequence_tables import changed_totals
from proposal.pages.markdown import Html, join, text
from proposal.pages.marks import Marks, row_mark
from proposal.pages.page_context import PageContext
from proposal.pages.paths import CHANGES
from proposal.pages.phrases import capital
from proposal.pages.schedule_table import Field, fields_of, of_part, schedule
from proposal.pages.tables import Cell
from proposal.quantities import formatting

_MOST_CAUSES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangesPage:
    """What changed since the issue before.

    since: with what this revision is compared.
    totals: those that differ.
    told: the same changes in sentences, as a client reads them.
    inputs: what changed in the files, numbered, and what else changed: the program, the data beside the
        project; none where the reader does not see files.
    subjects: heading and rows that differ of each.
    besides: sentences on what is not listed row by row.
    """

    template: ClassVar[str] = "changes.md.jinja"
    since: Html
    totals: Html
    told: tuple[ToldSection, ...]
    inputs: tuple[Html, ...]
    subjects: tuple[tuple[Html, Html], ...]
    besides: tuple[Html, ...]


def details_of_changes(edition: Edition) -> tuple[Detail, ...]:
    """Return the rows that differ from the issue before; none where there is none."""
    changes = edition.changes
    if changes is None:
        return ()
    return details_of(changes.difference, changes.before.document, changes.after.document)


def marks_of(details: Sequence[Detail]) -> Marks:
    """Return the mark of each row of a schedule that is new or changed, by collection and key."""
    found: dict[tuple[str, Key], Html] = {}
    for one in details:
        if one.sign == "removed" or len(one.path) < 2:
            continue
        collection, key = one.path[0], one.path[1]
        if isinstance(collection, str) and isinstance(key, tuple):
            # A row of which something inside is new is itself changed.
            sign = one.sign if len(one.path) == 2 else "changed"
            found.setdefault((collection, key), row_mark(sign))
    return found


def changes_page(here: PageContext, changes: Changes, details: Sequence[Detail]) -> ChangesPage:
    """Return the page of what changed.

    changes: of this edition; details: its rows that differ.
    """
    before = changes.before
    inputs = changes.inputs.all
    causes = Causes(changes.inputs, before.document, changes.after.document)
    numbers = {one: number for number, one in enumerate(inputs, 1)}
    changed = [one for one in changes.consequences if one.changed]
    heads = (f"In {before.label}", "Now")
    return ChangesPage(
        since=since(here, changes),
        totals=changed_totals(here, "Totals that changed", changed, heads)
        if changed
        else text("No total changed."),
        told=told_sections(told_changes(changes)),
        inputs=(
            *([_inputs(here, inputs)] if inputs else []),
            *(text(f"{capital(one)}.") for one in changes.inputs.elsewhere),
        ),
        subjects=tuple(
            (text(subject), _rows(here, subject, mine, lambda one: _from(causes.of(one.path), numbers)))
            for subject, mine in by_subject(details, here.values.words)
        ),
        besides=tuple(text(one) for one in _besides(changes, details)),
    )


def _inputs(here: PageContext, inputs: Sequence[InputRow]) -> Html:
    fields: list[Field[tuple[int, InputRow]]] = [
        Field(here.heading("number"), lambda pair: Cell(str(pair[0]), pair[0])),
        *of_part(fields_of(here, InputRow, "place", "name", "kind", "before", "after"), lambda pair: pair[1]),
    ]
    rows = list(enumerate(inputs, 1))
    return schedule("What changed in the inputs", fields, rows, identity=lambda pair: f"input-{pair[0]}")


def _rows(
    here: PageContext, subject: str, details: Sequence[Detail], cause: Callable[[Detail], Html]
) -> Html:
    fields: list[Field[Detail]] = [
        *fields_of(here, Detail, "called", "sign", "in_detail"),
        Field(here.heading("follows_from"), cause),
    ]
    return schedule(f"{subject}: rows that differ", fields, details)


def _from(cause: Cause | None, numbers: Mapping[InputRow, int]) -> Html:
    """Return the numbers of the changes of the inputs that a row follows from, or may follow from."""
    if cause is None:
        return Html()
    named = [
        Html(f'<a href="#input-{numbers[one]}">{numbers[one]}</a>') for one in cause.inputs[:_MOST_CAUSES]
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


__all__ = ["CHANGES", "ChangesPage", "changes_page", "details_of_changes", "marks_of"]
