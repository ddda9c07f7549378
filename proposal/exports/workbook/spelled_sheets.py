"""Sheets of a workbook whose texts are spelled as the pages of its document are."""

from typing import Any

from proposal.document.document import Document
from proposal.document.spelling import Spelling
from proposal.exports.workbook.inputs_sheet import INPUTS, KEY_COLUMN


def spelled_sheet(document: Document) -> Any:
    """Return a class of sheets that spell what is written to them, but for keys, by which inputs are known.

    document: whose place and units count.
    """
    from xlsxwriter.worksheet import Worksheet

    spelling = Spelling.of(document)

    class SpelledSheet(Worksheet):  # type: ignore[misc]  # xlsxwriter ships no types
        """A sheet whose texts are spelled."""

        def _write_string(self, row: int, col: int, string: str, cell_format: Any = None) -> Any:
            is_key = self.name == INPUTS and row and col in (KEY_COLUMN, KEY_COLUMN + 1)
            return super()._write_string(row, col, string if is_key else spelling.plain(string), cell_format)

    return SpelledSheet
