"""The sheet of inputs: every figure that the price rests on, as a named cell to change."""

from typing import Any

from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.named_inputs import NamedInputs

INPUTS = "Inputs"
VALUE_COLUMN = 2
_HEADS = (
    ("What", 24),
    ("Of", 40),
    ("Value", 14),
    ("Unit", 10),
    ("For so many", 12),
    ("Key", 48),
    ("Name", 48),
)


def write_inputs(book: Any, inputs: NamedInputs, formats: CellFormats) -> None:
    """Write the sheet of inputs and give each value its name.

    book: the workbook of xlsxwriter.
    Raises ValueError where a name is not legal.
    """
    sheet = book.add_worksheet(INPUTS)
    sheet.freeze_panes(1, VALUE_COLUMN)
    for n, (head, width) in enumerate(_HEADS):
        sheet.write_string(0, n, head, formats.head)
        sheet.set_column(n, n, width)
    sheet.autofilter(0, 0, len(inputs.rows), len(_HEADS) - 1)
    for number, row in enumerate(inputs.rows, 1):
        name = inputs.names[row.key]
        sheet.write_string(number, 0, row.what)
        sheet.write_string(number, 1, row.subject)
        sheet.write_number(number, VALUE_COLUMN, float(row.value), formats.input)
        sheet.write_string(number, 3, row.unit)
        sheet.write_number(number, 4, float(row.per))
        sheet.write_string(number, 5, row.key)
        sheet.write_string(number, 6, name)
        if book.define_name(name, f"={INPUTS}!$C${number + 1}") == -1:
            raise ValueError(f"wanted a legal name of a cell; found {name}")
