"""The cell formats of a workbook: numbers by their quantities, heads, inputs and plans."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from proposal.document.quantities import QUANTITIES, WORDS, Quantity
from proposal.exports.table import Value
from proposal.exports.workbook.linked_sheet import Mark
from proposal.quantities import formatting

_NUMBERS: Mapping[Quantity, str] = {
    "count": "#,##0",
    "days": "#,##0",
    "share": "0.0 %",
    "length": "#,##0.00",
    "weight": "#,##0.0",
    "watts": "#,##0.0",
    "volt-amperes": "#,##0",
    "amperes": "0.00",
    "milliamperes": "0.0",
    "kilowatt-hours": "#,##0",
    "milliseconds": "0.0",
    "volts": "0.0",
    "ohms": "0.00",
    "small length": "0.0",
    "cut length": "#,##0.00",
    "position": "#,##0.00",
    "newtons": "0",
    "temperature": "0.0",
    "temperature rise": "0.0",
    "hours": "#,##0.00",
}
_FORMATS = {one: _NUMBERS.get(one, "@" if one in WORDS else "General") for one in QUANTITIES}
_MONEY: tuple[Quantity, ...] = ("money", "unit price", "price by unit")
_LEFT: Mapping[str, str | int] = {"align": "left", "indent": 1}
"""Words keep clear of the figures before them; without its side an indent counts for nothing."""


class CellFormats:
    """The cell formats of one workbook."""

    def __init__(self, book: Any, currency: str, locale: str) -> None:
        """Add the formats to a workbook of xlsxwriter.

        currency: of amounts, by its code of ISO 4217.  locale: as whose people dates are written.
        """
        self._book = book
        self._currency = currency
        self._money: dict[int, Any] = {}
        shapes = {**_FORMATS, "date": formatting.cell_date(locale)}
        self.title = book.add_format({"bold": True, "font_size": 14})
        self.head = book.add_format(
            {
                "bold": True,
                "bg_color": "#E9EEF2",
                "border": 1,
                "text_wrap": True,
                "valign": "top",
                **_LEFT,
            }
        )
        self.head_right = book.add_format(
            {
                "bold": True,
                "bg_color": "#E9EEF2",
                "border": 1,
                "text_wrap": True,
                "valign": "top",
                "align": "right",
            }
        )
        self.unit = book.add_format({"num_format": "@", "valign": "top", **_LEFT})
        self.words = book.add_format({"text_wrap": True, "valign": "top"})
        self.prose = book.add_format({"num_format": "@", "text_wrap": True, "valign": "top", **_LEFT})
        self.label_words = book.add_format({"num_format": "@", "text_wrap": True, "valign": "top"})
        self.label = book.add_format({"bold": True, "valign": "top"})
        self._cells = {one: self._cell(shape) for one, shape in shapes.items()}
        money = _with_places(formatting.money_places(currency))
        self._planned = {
            (one, is_locked): book.add_format(
                {
                    "num_format": money if one in _MONEY else shape,
                    "valign": "top",
                    "bg_color": "#E4E4E4",
                    "italic": True,
                    "locked": is_locked,
                }
            )
            for one, shape in shapes.items()
            for is_locked in (True, False)
        }
        self.open = book.add_format({"locked": False})
        self.input, self.input_day = (
            book.add_format(
                {
                    "num_format": shape,
                    "valign": "top",
                    "bg_color": "#FFF6D6",
                    "font_color": "#123A8C",
                    "border": 1,
                    "locked": False,
                }
            )
            for shape in ("General", shapes["date"])
        )
        self._unseen = book.add_format({"num_format": ";;;"})
        self.working = book.add_format({"num_format": "General", "valign": "top", "font_color": "#5A5A5A"})
        self._totals = {one: self._total(shape) for one, shape in shapes.items()}
        self._totals |= dict.fromkeys(_MONEY, self._total(money))

    def of(self, quantity: Quantity, value: Value = None, mark: Mark = "") -> Any:
        """Return the format of a cell; that of the price of one unit has all its places.

        mark: what the cell is besides a value; a plan of the program stands on grey, and one that may be
            typed over is open where the sheet is protected.
        """
        if mark in ("planned", "trial"):
            return self._planned[quantity, mark == "planned"]
        if quantity not in _MONEY:
            return self._cells[quantity]
        exact = value if isinstance(value, Decimal) else Decimal(0)
        places = formatting.unit_money_places(exact, self._currency)
        if places not in self._money:
            self._money[places] = self._cell(_with_places(places))
        return self._money[places]

    def shown(self, quantity: Quantity, value: Value) -> str:
        """Return about how a figure is shown, to know how wide its column has to be."""
        if value is None or isinstance(value, bool | str):
            return "" if value is None else "yes"
        if isinstance(value, datetime.date):
            return value.isoformat()
        if quantity in _MONEY:
            exact = value if isinstance(value, Decimal) else Decimal(str(value))
            return f"{exact:,.{formatting.unit_money_places(exact, self._currency)}f}"
        shape = _FORMATS[quantity]
        if shape in ("General", "@"):
            return f"{float(value):.10g}"
        places = len(shape.partition(".")[2].rstrip(" %"))
        share = shape.endswith("%")
        return f"{float(value) * (100 if share else 1):,.{places}f}{' %' if share else ''}"

    def quieten(self, sheet: Any, row: int, last: int, amount: str) -> None:
        """Show nothing of a row as long as an amount is nothing.

        sheet: of xlsxwriter.  row: from 0.  last: its last column.  amount: fixed reference of a cell.
        """
        shown = {"type": "formula", "criteria": f"={amount}=0", "format": self._unseen}
        sheet.conditional_format(row, 0, row, last, shown)

    def of_total(self, quantity: Quantity) -> Any:
        """Return the format of the sum of a column."""
        return self._totals[quantity]

    def _cell(self, shape: str) -> Any:
        beside = _LEFT if shape == "@" else {}
        return self._book.add_format({"num_format": shape, "valign": "top", **beside})

    def _total(self, shape: str) -> Any:
        return self._book.add_format({"num_format": shape, "bold": True, "top": 1})


def _with_places(places: int) -> str:
    """Return the format of numbers with groups and so many decimal places."""
    return "#,##0" + ("." + "0" * places if places else "")
