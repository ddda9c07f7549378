"""The sheet of inputs: every figure that the price rests on, as a named cell to change."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from proposal.document.rows.price_inputs import PriceInputRow
from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.named_inputs import NamedInputs
from proposal.exports.workbook.planned_days import is_day
from proposal.exports.workbook.print_set_up import PrintSetUp
from proposal.exports.workbook.room_counts import MOST, is_room_count
from proposal.exports.workbook.spare_allowances import is_spare
from proposal.exports.workbook.spare_alternates import ALTERNATE, is_spare_alternate
from proposal.exports.workbook.table_sheet import HEIGHT

INPUTS = "Inputs"
VALUE_COLUMN, KEY_COLUMN = 2, 6
BELOW_ONE = ("margin", "share of the sum", "share from there")
SUBJECT, VALUE, UNIT, KEY, NAME, BEFORE = "Of", "Value", "Unit", "Key", "Name", "Of this revision"
"""Heads of the columns that are read when the workbook comes back."""
_FROM_COLUMN = KEY_COLUMN - 1
LARGEST = 10**12
_HEADS = (
    ("What", 24),
    (SUBJECT, 74),
    (VALUE, 14),
    (UNIT, 10),
    ("For", 30),
    ("Comes from", 17),
    (KEY, 48),
    (NAME, 48),
    (BEFORE, 16),
    ("Changed", 10),
)


def write_inputs(
    book: Any,
    inputs: NamedInputs,
    described: Mapping[str, str],
    layers: Mapping[str, str],
    formats: CellFormats,
    printed: PrintSetUp,
) -> None:
    """Write the sheet of inputs and give each value its name.

    book: the workbook of xlsxwriter.  printed: how it is printed.
    described: what each model is, by its code.  layers: where each input comes from, by its key.
    Beside each stands its value of this revision, and whether it was changed since; a further allowance or
    alternate is named in place of what it is of.
    Raises ValueError where a name is not legal.
    """
    sheet = book.add_worksheet(INPUTS)
    sheet.freeze_panes(1, VALUE_COLUMN)
    for n, (head, width) in enumerate(_HEADS):
        sheet.write_string(0, n, head, formats.head)
        sheet.set_column(n, n, width)
    sheet.set_row(0, 2 * HEIGHT)
    sheet.autofilter(0, 0, len(inputs.rows), len(_HEADS) - 1)
    for number, row in enumerate(inputs.rows, 1):
        name = inputs.names[row.key]
        sheet.write_string(number, 0, row.what)
        told = described.get(row.subject.partition(",")[0], "")
        about = f"{row.subject}: {told}" if told else row.subject
        sheet.write_string(number, 1, about, formats.input if _is_added(row) else None)
        shape = formats.input_day if is_day(row) else formats.input
        sheet.write_number(number, VALUE_COLUMN, float(row.value), shape)
        sheet.write_string(number, 3, row.unit, formats.unit)
        sheet.write_string(number, 4, _held_for(row), formats.unit)
        sheet.write_string(number, _FROM_COLUMN, layers.get(row.key, ""), formats.unit)
        sheet.write_string(number, KEY_COLUMN, row.key)
        sheet.write_string(number, KEY_COLUMN + 1, name)
        was = KEY_COLUMN + 2
        sheet.write_number(number, was, float(row.value), formats.of("date") if is_day(row) else None)
        sheet.write_formula(number, was + 1, f'=IF($C${number + 1}=$I${number + 1},"","changed")', None, "")
        sheet.data_validation(number, VALUE_COLUMN, number, VALUE_COLUMN, _allowed(row))
        if book.define_name(name, f"={INPUTS}!$C${number + 1}") == -1:
            raise ValueError(f"wanted a legal name of a cell; found {name}")
    printed.apply(sheet, INPUTS, len(inputs.rows), _FROM_COLUMN)


def _held_for(row: PriceInputRow) -> str:
    """Return what one value is for: `piece`, `304.8 m`, `10 pieces of a pack`."""
    return row.holds_for if row.per == 1 else f"{row.per.normalize():f} {row.holds_for}".strip()


def _is_added(row: PriceInputRow) -> bool:
    return is_spare(row) or is_spare_alternate(row)


def _allowed(row: PriceInputRow) -> dict[str, object]:
    """Return what may be typed into an input: a number; below 1 of a margin, below 0 too of an allowance."""
    told: dict[str, object] = {"error_title": "Not a value of this input", "ignore_blank": False}
    if is_room_count(row):
        return {
            **told,
            "validate": "integer",
            "criteria": "between",
            "minimum": 0,
            "maximum": MOST,
            "error_message": f"Wanted how many times the room counts: a whole number from 0 to {MOST}.",
        }
    if is_day(row):
        return {
            **told,
            "validate": "date",
            "criteria": "between",
            "minimum": datetime.date(1990, 1, 1),
            "maximum": datetime.date(2999, 12, 31),
            "error_message": "Wanted a day, such as 2031-06-30.",
        }
    least, most = limits(row)
    is_share = row.what in BELOW_ONE
    return {
        **told,
        "validate": "decimal",
        "criteria": "between",
        "minimum": float(least),
        "maximum": float(most),
        "error_message": "Wanted a share from 0 to below 1, such as 0.25 for 25 %."
        if is_share
        else "Wanted a number, without currency or unit; a share as 0.07 for 7 %.",
    }


def limits(row: PriceInputRow) -> tuple[Decimal, Decimal]:
    """Return the least and the most that may be typed into an input that is a number.

    What a margin is of has to stay above nothing; allowances and alternates alone may be below 0.
    """
    if row.what in BELOW_ONE:
        return Decimal(0), Decimal("0.9999")
    return Decimal(-LARGEST if row.what in ("allowance", ALTERNATE) else 0), Decimal(LARGEST)
