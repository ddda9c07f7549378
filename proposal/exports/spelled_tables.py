"""Tables of schedules with their texts as the place spells them."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache

from proposal.document.document import Document
from proposal.document.quantities import Quantity
from proposal.document.spelling import Spelling
from proposal.document.values import SHARES
from proposal.exports.table import Table, Value
from proposal.quantities import computed_figures, formatting

_MEASURED: tuple[Quantity, ...] = ("how many", "figure")
"""What is told in the unit of its row."""


def spelled_tables(tables: Sequence[Table], document: Document) -> tuple[Table, ...]:
    """Return tables with every text spelled as pages of the document spell it, and amounts in its units.

    tables: of schedules.  document: whose place and units count.
    """
    spelling = Spelling.of(document)
    spelled = cache(spelling.plain)
    found = []
    for table in tables:
        table = _in_units(table, document.cover.units)
        rows = tuple(
            tuple(spelled(value) if isinstance(value, str) else value for value in row) for row in table.rows
        )
        columns = tuple(replace(one, heading=spelled(one.heading)) for one in table.columns)
        found.append(replace(table, title=spelled(table.title), columns=columns, rows=rows))
    return tuple(found)


def _in_units(table: Table, units: str) -> Table:
    """Return a table whose amounts are in the project's units, where the unit of each stands in its row."""
    quantities = [column.quantity for column in table.columns]
    if quantities.count("unit") != 1:
        return table
    return replace(table, rows=tuple(_row_in_units(row, quantities, units) for row in table.rows))


def _row_in_units(row: Sequence[Value], quantities: Sequence[Quantity], units: str) -> tuple[Value, ...]:
    """Return a row whose amounts, and hours and money of one of them, are in the project's units.

    quantities: of the columns.
    """
    place = quantities.index("unit")
    kind = computed_figures.kind_of_unit(str(row[place]))
    if not kind or formatting.unit_of(kind, units) == row[place]:
        return tuple(row)
    found = list(row)
    found[place] = formatting.unit_of(kind, units)
    one = formatting.converted(1.0, kind, units)
    by_amount = "rule" in quantities and row[quantities.index("rule")] not in SHARES
    for n, (value, quantity) in enumerate(zip(row, quantities, strict=True)):
        if isinstance(value, float | Decimal | int) and not isinstance(value, bool):
            if quantity in _MEASURED:
                found[n] = formatting.converted(float(value), kind, units)
            elif quantity == "unit hours":
                found[n] = float(value) / one
            elif quantity == "price by unit" or (quantity == "by rule" and by_amount):
                # Feet, square feet and pounds are exact to eight places of the SI unit.
                found[n] = Decimal(value) * Decimal(f"{1 / one:.8f}").normalize()
    return tuple(found)
