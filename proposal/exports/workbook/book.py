"""All schedules of an edition in one workbook, formulas with our values as cached results."""

import datetime
import io
from collections import Counter
from collections.abc import Mapping, Sequence
from textwrap import wrap
from typing import Any

from proposal.editions import Edition
from proposal.exports.table import Table
from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.inputs_sheet import INPUTS, write_inputs
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.links import linked_book
from proposal.exports.workbook.print_set_up import PrintSetUp
from proposal.exports.workbook.quotes_sheet import QUOTES, Quoted, bought_of, write_quotes
from proposal.exports.workbook.recap_sheet import RecapSheet
from proposal.exports.workbook.table_sheet import HEIGHT, write_table
from proposal.quantities import formatting

CONTENTS = "Contents"
PROJECT, NUMBER, REVISION = "Project", "Proposal number", "Revision"
"""By what the sheet of contents says, a workbook that comes back is known again."""
_LONGEST_NAME = 31
_CREATED = datetime.time(12, 0)


_WIDTHS = (46, 12, 24, 34)
"""Signs of the columns of the contents."""
_ABOUT_COLUMNS = "Columns that hold nothing in this revision are folded: the + above a sheet shows them."
_ABOUT_TOTALS = "Totals and costs follow when a quantity or a price is changed; all else are values."
_ABOUT_LINKED = (
    "Change a value of the sheet of inputs: every sheet that follows it is computed anew, to the same "
    "smallest unit as the program computes. Values on grey are plans that the program alone makes (reels and "
    "what they hold; days and weeks on site): after a change of what reels cost, or of hours, let it plan "
    "them again. Sheets and columns that do not follow hold the values of this revision, and say so."
)


def workbook(edition: Edition, tables: Sequence[Table], quotes: Sequence[Quoted] = ()) -> bytes:
    """Return a workbook with a contents sheet and one sheet a table; with inputs, where the edition has them.

    edition: names the project, revision and reader on the contents sheet.
    tables: the schedules; heads are frozen, columns typed and filtered, totals below.
    quotes: what suppliers answered, to lay beside what is awarded.
    """
    import xlsxwriter

    content = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    with xlsxwriter.Workbook(content, options) as book:
        cover = edition.document.cover
        created = datetime.datetime.combine(cover.revision.date, _CREATED)
        book.set_properties({"title": cover.name, "author": cover.integrator.name, "created": created})
        formats, printed = CellFormats(book, cover.currency, cover.locale), PrintSetUp(cover)
        linked = linked_book(edition.document, tables, _sheet_names(tables))
        if linked.follows:
            RecapSheet(book, edition, linked, formats).write(printed)
        _contents(book, edition, linked, formats, printed)
        if linked.follows:
            write_inputs(book, linked.inputs, _described(edition), formats, printed)
            write_quotes(book, linked, formats, printed, quotes)
        for table in tables:
            write_table(book, linked.sheets[table.name], formats, printed)
    return content.getvalue()


def _described(edition: Edition) -> Mapping[str, str]:
    """Return what each model of devices and materials is, by its code."""
    document = edition.document
    bought = {one.item: one.description for one in document.purchases}
    return {**bought, **{one.model: one.description for one in document.equipment}}


def _contents(
    book: Any, edition: Edition, linked: LinkedBook, formats: CellFormats, printed: PrintSetUp
) -> None:
    """Write the first sheet: what this is and which sheets there are."""
    cover = edition.document.cover
    sheet = book.add_worksheet(CONTENTS)
    for n, width in enumerate(_WIDTHS):
        sheet.set_column(n, n, width)
    sheet.write_string(0, 0, cover.name, formats.title)
    facts = [
        (PROJECT, cover.name),
        (NUMBER, cover.number),
        (REVISION, cover.revision.identity),
        ("Of", f"{formatting.date(cover.revision.date, cover.locale)}, {cover.revision.purpose}"),
        ("Client", cover.client.name),
        ("Integrator", cover.integrator.name),
        ("Edition", f"for the {edition.reader}"),
        ("Currency", cover.currency),
        ("Formulas", _ABOUT_LINKED if linked.follows else _ABOUT_TOTALS),
        ("Columns", _ABOUT_COLUMNS),
    ]
    for n, (name, value) in enumerate(facts, 2):
        sheet.write_string(n, 0, name, formats.label)
        sheet.merge_range(n, 1, n, len(_WIDTHS) - 1, value, formats.words)
        sheet.set_row(n, HEIGHT * max(len(wrap(value, sum(_WIDTHS[1:]))), 1))
    heads = row = len(facts) + 3
    sheet.write_string(row, 0, "Sheet", formats.head)
    sheet.write_string(row, 1, "Rows", formats.head_right)
    if linked.follows:
        sheet.write_string(row, 2, "Follows the inputs", formats.head)
        sheet.write_url(row + 1, 0, f"internal:'{INPUTS}'!A1", string=INPUTS)
        sheet.write_number(row + 1, 1, len(linked.inputs.rows), formats.of("count"))
        row += 1
        if bought := bought_of(linked):
            sheet.write_url(row + 1, 0, f"internal:'{QUOTES}'!A1", string=QUOTES)
            sheet.write_number(row + 1, 1, len(bought), formats.of("count"))
            sheet.write_string(row + 1, 2, "yes", formats.unit)
            row += 1
    for n, one in enumerate(linked.sheets.values(), row + 1):
        sheet.write_url(n, 0, f"internal:'{one.name}'!A1", string=one.name)
        sheet.write_number(n, 1, len(one), formats.of("count"))
        if linked.follows:
            follows = "yes" if one.table.name in linked.follows else "in part" if one.formulas else "no"
            sheet.write_string(n, 2, follows, formats.unit)
    last = row + len(linked.sheets)
    printed.apply(sheet, CONTENTS, last, len(_WIDTHS) - 1, heads=heads)


def _sheet_names(tables: Sequence[Table]) -> Mapping[str, str]:
    """Return the name of each table's sheet by the table's own: its title, else its own name in words.

    A title counts where it is short and unique.
    """
    titles = Counter(table.title.casefold() for table in tables)
    return {
        table.name: table.title
        if len(table.title) <= _LONGEST_NAME and titles[table.title.casefold()] == 1
        else table.name[:_LONGEST_NAME].replace("-", " ").capitalize()
        for table in tables
    }
