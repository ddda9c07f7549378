"""Allowances that an estimator may add: lines of nothing, which a name and an amount in the inputs fill."""

import datetime
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import count, islice

from proposal.document.document import Document
from proposal.document.rows.price import GroupPrice, OfferRow
from proposal.document.rows.price_build_up import CashRow, PriceLineRow
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.document.values import values_of
from proposal.editions import Edition

FURTHER = "Further allowance"
ALLOWANCE, SERVICES, SECOND_FIX, BUILDING = "allowance", "services", "second fix", ""
NOTHING = Decimal(0)
_COUNT = 3
_KEY = "price.allowances.added_{}.price"


def is_spare(row: PriceInputRow) -> bool:
    """Say whether an input is an allowance that nobody has named yet."""
    return row.what == ALLOWANCE and row.subject.startswith(FURTHER)


def with_spare_allowances(edition: Edition) -> Edition:
    """Return an edition with three allowances of nothing, where its price has inputs.

    They are for the whole building, taxed as goods there, and stand wherever allowances are added up.
    """
    return replace(edition, document=spare_allowances(edition.document))


def spare_allowances(document: Document) -> Document:
    """Return a document with three allowances of nothing; the same one where they would have no place.

    document: as its reader may see it.
    """
    line = _line_of(document)
    if line is None or any(map(is_spare, document.price_inputs)):
        return document
    keys = {row.key for row in document.price_inputs}
    free = list(islice((key for key in map(_KEY.format, count(1)) if key not in keys), _COUNT))
    names = [f"{FURTHER} {n}" for n in range(1, _COUNT + 1)]
    inputs = [
        PriceInputRow(
            key=key,
            what=ALLOWANCE,
            subject=name,
            unit=document.cover.currency,
            per=Decimal(1),
            layer="project",
        )
        for key, name in zip(free, names, strict=True)
    ]
    lines = [line.model_copy(update={"description": name}) for name in names]
    groups = document.group_prices
    if all(one.key != ALLOWANCE for one in groups):
        zero = dict.fromkeys(("price", "tax", "total", "cost", "reserve"), NOTHING)
        groups = (*groups, GroupPrice(key=ALLOWANCE, **zero))
    return document.model_copy(
        update={
            "price_inputs": (*document.price_inputs, *inputs),
            "price_lines": _with_lines(document, lines),
            "offer": (*document.offer, *map(_offered, names)),
            "cash_flow": _with_cash(document, names),
            "group_prices": groups,
        }
    )


def _line_of(document: Document) -> PriceLineRow | None:
    """Return a line of nothing for the building; None where the price has no place for one."""
    total = document.price
    if not document.price_inputs or total is None or not document.offer:
        return None
    if all(one.key != SERVICES for one in document.system_prices):
        return None
    if all(one.key != SECOND_FIX for one in document.phase_prices):
        return None
    if total.room_view != "shared out" and all(one.key != BUILDING for one in document.room_prices):
        return None
    whole = [line for line in document.price_lines if line.room == BUILDING]
    goods = [
        line
        for line in document.price_lines
        if whole and line.group in ("equipment", "materials") and line.tax_place == whole[0].tax_place
    ]
    if not goods:
        return None
    return PriceLineRow(
        group=ALLOWANCE,
        kind=ALLOWANCE,
        system=SERVICES,
        phase=SECOND_FIX,
        quantity=Decimal(1),
        unit="each",
        rule="stated",
        tax_kind=goods[0].tax_kind,
        tax_place=goods[0].tax_place,
        tax_rate=goods[0].tax_rate,
    )


def _with_lines(document: Document, added: Sequence[PriceLineRow]) -> tuple[PriceLineRow, ...]:
    """Return the lines of the price with others before those that are shares of the whole sum."""
    of_sum = {row.subject for row in document.price_inputs if row.what == "share of the sum"}
    lines = document.price_lines
    end = next(
        (n for n, one in enumerate(lines) if one.group == "surcharge" and one.description in of_sum),
        len(lines),
    )
    return (*lines[:end], *added, *lines[end:])


def _offered(name: str) -> OfferRow:
    return OfferRow(group=ALLOWANCE, system=SERVICES, description=name, quantity=Decimal(1), unit="each")


def _with_cash(document: Document, names: Sequence[str]) -> tuple[CashRow, ...]:
    """Return the cash flow with what further allowances cost when second fix is complete."""
    rows, words = list(document.cash_flow), values_of(document).words
    day = next((one.start for one in document.activities if one.key == "second fix complete"), None)
    if not rows or not isinstance(day, datetime.date):
        return document.cash_flow
    place = sum((row.date or day) < day or (row.date == day and row.outgoing is not None) for row in rows)
    balance = rows[place - 1].balance if place else NOTHING
    added = [
        CashRow(
            date=day, what=words.text("cash.allowance", allowance=name), outgoing=NOTHING, balance=balance
        )
        for name in names
    ]
    return (*rows[:place], *added, *rows[place:])
