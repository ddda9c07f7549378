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
    kind: how its values are written.
    unit: unit of its values, empty where there is none.
    formula: a spreadsheet formula in which {name} stands for the cell of another column, empty where the
        values are plain; the table's value is then what the formula gives.
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

    field: of the row; heading, kind, formula, total as in `Column`.
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
    units = edition.document.cover.units
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
                unit=_unit(column.kind, units, edition.document.cover.currency),
                formula=column.formula,
                total=column.total,
            )
            for column in visible
        ),
        rows=tuple(tuple(_value(row, column, units) for column in visible) for row in found),
    )


def _unit(kind: Kind, units: str, currency: str) -> str:
    if kind in _UNIT_KINDS:
        return formatting.unit_of(kind, units)
    return currency if kind == "money" else _SI_UNITS.get(kind, "")


def _value(row: Shown, column: Wanted, units: str) -> Value:
    value: Value = column.value(row) if column.value else getattr(row, column.field)
    if (
        column.kind in _UNIT_KINDS
        and isinstance(value, int | float | Decimal)
        and not isinstance(value, bool)
    ):
        return formatting.converted(float(value), column.kind, units)
    return value
