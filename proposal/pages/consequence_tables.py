"""Totals side by side and rows that differ, as tables: what a choice or a change comes to."""

import datetime
from collections.abc import Sequence
from decimal import Decimal

from proposal.differences import Consequence
from proposal.differences.details import Detail, Sign
from proposal.document import formatting
from proposal.pages.here import Here
from proposal.pages.markdown import Cell, Column, Html, html_text, join, status
from proposal.pages.phrases import capital
from proposal.pages.schedule import Field, schedule

Amount = int | float | Decimal | datetime.date
_HOURS_PLACES = 2
SIGNS: dict[Sign, str] = {"new": "good", "removed": "bad", "changed": "care"}


def amount(here: Here, value: Amount | None, kind: str) -> str:
    """Return a total as its reader expects it; an empty text where there is none.

    kind: count, money, hours, date or a kind of quantity.
    """
    cover = here.cover
    if value is None:
        return ""
    if isinstance(value, datetime.date):
        return formatting.date(value, cover.locale)
    if kind == "money":
        return formatting.money(Decimal(value), cover.currency, cover.locale)
    if kind == "hours":
        return f"{formatting.number(value, cover.locale, _HOURS_PLACES)} h"
    if kind in ("count", "date"):
        return formatting.number(value, cover.locale)
    return formatting.quantity(float(value), kind, cover.units, cover.locale)


def by(here: Here, one: Consequence, same: str = "no change") -> str:
    """Return by how much a total differs, with its sign.

    same: what is said where it does not differ, or by less than is shown.
    """
    if not one.changed or amount(here, one.before, one.kind) == amount(here, one.after, one.kind):
        return same
    more = one.by
    if more is None or isinstance(more, datetime.date):
        return "new" if one.before is None else "none any more"
    size = -more if more < 0 else more
    if one.kind == "date":
        days = formatting.count_of(int(size), "day")
        return f"{days} later" if more > 0 else f"{days} earlier"
    return f"{'+' if more > 0 else '−'}{amount(here, size, one.kind)}"


def changed_totals(here: Here, caption: str, totals: Sequence[Consequence], heads: tuple[str, str]) -> Html:
    """Return the totals that differ as a table, one beside the other.

    heads: headings of the two columns, before and after.
    """
    fields: list[Field[Consequence]] = [
        Field("Total", lambda one: capital(one.name)),
        Field("Of", lambda one: one.group),
        Field(Column(heads[0], numeric=True), lambda one: amount(here, one.before, one.kind) or "none"),
        Field(Column(heads[1], numeric=True), lambda one: amount(here, one.after, one.kind) or "none"),
        Field(Column("Difference", numeric=True), lambda one: by(here, one)),
    ]
    return schedule(caption, fields, [one for one in totals if by(here, one, "")])


def rows_that_differ(caption: str, details: Sequence[Detail]) -> Html:
    """Return rows that are new, gone or changed as a table."""
    fields: list[Field[Detail]] = [
        Field("What", lambda one: capital(one.name)),
        Field("Is", lambda one: Cell(status(one.sign, SIGNS[one.sign]), one.sign)),
        Field("In detail", in_detail),
    ]
    return schedule(caption, fields, details)


def in_detail(one: Detail) -> Html | str:
    """Return what is to be said of a row that differs: what it is, or field by field what changed."""
    if not one.facts:
        return one.about
    return join(
        (
            Html(f"{html_text(capital(fact.label))}: {html_text(fact.before)} → {html_text(fact.after)}")
            if fact.before or fact.after
            else Html(f"{html_text(capital(fact.label))}")
            for fact in one.facts
        ),
        "<br>",
    )
