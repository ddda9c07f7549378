"""Totals side by side and rows that differ, as tables: what a choice or a change comes to."""

from collections.abc import Sequence

from proposal.differences import Consequence
from proposal.differences.details import Detail, change_text, total_texts
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import capital
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column


def by(here: PageContext, one: Consequence, same: str = "no change") -> str:
    """Return the difference between two totals, with its sign.

    same: what is said where it does not differ, or by less than is shown.
    """
    before, after = total_texts(one, here.values)
    if not one.changed or before == after:
        return same
    if one.before is None or one.after is None:
        return "new" if one.before is None else "no longer"
    return change_text(one, here.values) or "in another currency"


def changed_totals(
    here: PageContext, caption: str, totals: Sequence[Consequence], heads: tuple[str, str]
) -> Html:
    """Return the totals that differ as a table, one beside the other.

    caption: says what the table shows.
    heads: headings of the two columns, before and after.
    """
    return totals_side_by_side(here, caption, [one for one in totals if by(here, one, "")], heads)


def totals_side_by_side(
    here: PageContext, caption: str, totals: Sequence[Consequence], heads: tuple[str, str]
) -> Html:
    """Return totals as a table, one beside the other, those that do not differ too.

    caption: says what the table shows.
    heads: headings of the two columns, before and after.
    """
    fields: list[Field[Consequence]] = [
        Field(here.heading("total"), lambda one: capital(one.title)),
        Field(here.heading("of"), lambda one: one.group_title),
        Field(Column(heads[0], numeric=True), lambda one: total_texts(one, here.values)[0] or "none"),
        Field(Column(heads[1], numeric=True), lambda one: total_texts(one, here.values)[1] or "none"),
        Field(Column(here.heading("difference"), numeric=True), lambda one: by(here, one)),
    ]
    return schedule(caption, fields, totals)


def rows_that_differ(here: PageContext, caption: str, details: Sequence[Detail]) -> Html:
    """Return rows that are new, gone or changed as a table.

    caption: says what the table shows.
    """
    fields: list[Field[Detail]] = [
        *fields_of(here, Detail, "called", "sign", "in_detail"),
    ]
    return schedule(caption, fields, details)
