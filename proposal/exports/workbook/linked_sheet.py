"""A schedule as it becomes a sheet: which of its cells are formulas, and what they are computed with."""

from collections.abc import Mapping, Sequence
from dataclasses import field
from decimal import Decimal
from typing import Literal

from proposal.document.rows.price_inputs import FEET
from proposal.document.values import SHARES
from proposal.exports.table import Table, Value
from proposal.field_classes import dataclass

Mark = Literal["", "input", "planned", "trial"]
"""What a cell is besides a value or a formula: an input to change, a plan that only the program makes, or
such a plan that may be typed over to try what follows."""
_FOOT_M = 0.3048
_SIGNS: Mapping[object, str] = {"how many": "*", "price by unit": "/", "unit hours": "/", "by rule": "/"}
"""By which sign of 0.3048 an amount of feet, or what one costs or takes, is that of metres."""
_OTHER = {"*": "/", "/": "*"}
HEAD_ROW = 0
FIRST_ROW = HEAD_ROW + 1


@dataclass(frozen=True, slots=True)
class Working:
    """A column beside a schedule with what shares are computed with."""

    heading: str
    values: tuple[float, ...]
    formulas: tuple[str, ...]


@dataclass(slots=True)
class LinkedSheet:
    """A table, the name of its sheet, and the formulas of its cells by row and name of the column.

    Formulas are given and computed in metres; where a row is told in feet, its amounts and prices of one are
    shown so (`put`), and taken back to metres where they are referred to (`cell`, `number`).
    stays: columns that do not follow the inputs, though others of the sheet do.
    quiet: by row, the column whose amount has to be more than nothing for the row to be seen.
    """

    table: Table
    name: str
    formulas: dict[tuple[int, str], str] = field(default_factory=dict)
    marks: dict[tuple[int, str], Mark] = field(default_factory=dict)
    workings: list[Working] = field(default_factory=list)
    stays: frozenset[str] = frozenset()
    quiet: dict[int, str] = field(default_factory=dict)
    _places: dict[str, int] = field(default_factory=dict)
    _unit: int | None = None

    def __post_init__(self) -> None:
        """Note where each column stands."""
        self._places = {column.name: n for n, column in enumerate(self.table.columns)}
        units = [n for n, column in enumerate(self.table.columns) if column.quantity == "unit"]
        self._unit = units[0] if len(units) == 1 else None

    def __len__(self) -> int:
        """Return how many rows there are."""
        return len(self.table.rows)

    def has(self, *names: str) -> bool:
        """Say whether there are columns of these names."""
        return all(name in self._places for name in names)

    def value(self, row: int, name: str) -> Value:
        """Return what a cell holds."""
        return self.table.rows[row][self._places[name]]

    def number(self, row: int, name: str) -> float:
        """Return the number that a cell holds, 0 where it is empty."""
        shown = self.shown(row, name)
        sign = self._of_feet(row, name)
        return shown if not sign else shown * _FOOT_M if sign == "*" else shown / _FOOT_M

    def shown(self, row: int, name: str) -> float:
        """Return the number that a cell shows, 0 where it is empty."""
        value = self.value(row, name)
        return float(value) if isinstance(value, int | float | Decimal) else 0.0

    def put(self, row: int, name: str, formula: str) -> None:
        """Make a formula of a cell, where there is such a column and the cell is not empty."""
        sign = self._of_feet(row, name) if name in self._places else ""
        self.put_as_shown(row, name, f"({formula}){_OTHER[sign]}{_FOOT_M}" if sign else formula)

    def put_as_shown(self, row: int, name: str, formula: str) -> None:
        """Make a formula of a cell as `put` does, whose result is in the unit of the row already."""
        if name in self._places and self.value(row, name) is not None:
            self.formulas[row, name] = formula

    def cell(self, row: int, name: str) -> str:
        """Return the formula of what a cell holds, from any sheet."""
        sign = self._of_feet(row, name)
        return f"({self.reference(row, name)}{sign}{_FOOT_M})" if sign else self.reference(row, name)

    def reference(self, row: int, name: str) -> str:
        """Return the reference of a cell, from any sheet."""
        return f"{self._sheet}!{_absolute(FIRST_ROW + row, self._places[name])}"

    def _of_feet(self, row: int, name: str) -> str:
        """Return by which sign 0.3048 makes of a cell what it is by metres; empty of any other."""
        place = self._unit
        if place is None or self.table.rows[row][place] != FEET:
            return ""
        quantity = self.table.columns[self._places[name]].quantity
        if quantity == "by rule" and self.has("rule") and self.value(row, "rule") in SHARES:
            return ""
        return _SIGNS.get(quantity, "")

    def cells(self, name: str, rows: Sequence[int] = ()) -> str:
        """Return the reference of a column, from any sheet.

        rows: first row and the one behind the last; all of them where left out.
        """
        first, end = rows or (0, len(self))
        place = self._places[name]
        return f"{self._sheet}!{_absolute(FIRST_ROW + first, place)}:{_absolute(FIRST_ROW + end - 1, place)}"

    def working(self, heading: str, values: Sequence[float], formulas: Sequence[str]) -> int:
        """Add a column of workings and return its place.

        heading, values, formulas: of the column; a cell without a formula is a value.
        """
        self.workings.append(Working(heading, tuple(values), tuple(formulas)))
        return len(self.table.columns) + len(self.workings)

    def at(self, row: int, place: int) -> str:
        """Return the reference of a cell by the place of its column."""
        return f"{self._sheet}!{_absolute(FIRST_ROW + row, place)}"

    def all_at(self, place: int) -> str:
        """Return the reference of a column by its place."""
        last = FIRST_ROW + len(self) - 1
        return f"{self._sheet}!{_absolute(FIRST_ROW, place)}:{_absolute(last, place)}"

    @property
    def _sheet(self) -> str:
        quoted = self.name.replace("'", "''")
        return f"'{quoted}'"


def _absolute(row: int, column: int) -> str:
    from xlsxwriter.utility import xl_rowcol_to_cell

    return str(xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True))
