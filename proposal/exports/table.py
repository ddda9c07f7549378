"""A schedule as a plain table: its columns, and which of them an edition's reader may see."""

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from proposal.document import formatting
from proposal.document.readers import Shown
from proposal.editions import Edition, readers_of

Kind = Literal[
    "share",
    "text",
    "count",
    "money",
    "unit_money",
    "length",
    "mass",
    "power",
    "voltage",
    "resistance",
    "short_length",
    "force",
    "temperature",
    "number",
    "hours",
    "date",
]
Value = str | int | float | Decimal | bool | datetime.date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    name: name in formulas, and the field of the row where `value` is left out.
    heading: what stands on top, without the unit.
    kind: how its values are written; `money` is an amount in the currency's own places, `unit_money` the
        price of one unit, which may be finer.
    unit: unit of its values, empty where there is none.
    formula: a spreadsheet formula in which {name} stands for the cell of another column, empty where the
        values are plain; the table's value is what the formula gives.
    total: whether its values are added up.
    """

    name: str
    heading: str
    kind: Kind = "text"
    unit: str = ""
    formula: str = ""
    total: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A schedule: name for files and sheets, title, columns and rows of values in their order."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A column that a schedule has where the reader may see its field.

    field: of the row; heading, kind, total as in `Column`.
    formula: as in `Column`; one that gives money or hours is rounded to their places beside that.
    name: in formulas, where it is not the field's.
    value: makes the value of the row, in SI; left out, the field's own.
    """

    field: str
    heading: str
    kind: Kind = "text"
    value: Callable[[Any], Value] | None = None
    formula: str = ""
    total: bool = False
    name: str = ""


HOURS_PLACES = 2
_UNIT_KINDS = {"length", "short_length", "mass", "temperature", "force"}
_SI_UNITS = {"power": "W", "voltage": "V", "resistance": "Ω"}


def table_of(
    edition: Edition,
    name: str,
    title: str,
    part: type[Shown],
    found: Sequence[Shown],
    wanted: Sequence[Wanted],
) -> Table:
    """Return a table of rows with the columns that the edition's reader may see, in the project's units.

    name, title: of the table.
    part: class of the rows.
    found: the rows.
    wanted: the columns, in order.
    """
    units, currency = edition.document.cover.units, edition.document.cover.currency
    readers = readers_of(part)
    visible = [column for column in wanted if edition.reader in readers[column.field]]
    return Table(
        name=name,
        title=title,
        columns=tuple(
            Column(
                name=column.name or column.field,
                heading=column.heading,
                kind=column.kind,
                unit=_unit(column.kind, units, currency),
                formula=_rounded(column, currency),
                total=column.total,
            )
            for column in visible
        ),
        rows=tuple(tuple(_value(row, column, units, currency) for column in visible) for row in found),
    )


def _unit(kind: Kind, units: str, currency: str) -> str:
    if kind in _UNIT_KINDS:
        return formatting.unit_of(kind, units)
    return currency if kind in ("money", "unit_money") else _SI_UNITS.get(kind, "")


def _rounded(column: Wanted, currency: str) -> str:
    """Return the formula of a column, rounded where the value it gives is: half up, away from zero."""
    if not column.formula or column.kind not in ("money", "hours"):
        return column.formula
    places = formatting.money_places(currency) if column.kind == "money" else HOURS_PLACES
    return f"ROUND({column.formula},{places})"


def _value(row: Shown, column: Wanted, units: str, currency: str) -> Value:
    value: Value = column.value(row) if column.value else getattr(row, column.field)
    if (
        column.kind in _UNIT_KINDS
        and isinstance(value, int | float | Decimal)
        and not isinstance(value, bool)
    ):
        return formatting.converted(float(value), column.kind, units)
    if isinstance(value, Decimal) and column.kind == "money":
        return formatting.amount(value, currency)
    if isinstance(value, Decimal) and column.kind == "unit_money":
        return formatting.unit_amount(value, currency)
    return value
