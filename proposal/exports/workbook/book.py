"""All schedules of an edition in one workbook, formulas with our values as cached results."""

import datetime
import hashlib
import io
from collections import Counter
from collections.abc import Mapping, Sequence
from textwrap import wrap
from typing import Any

from proposal.document.spelling import Spelling
from proposal.editions import Edition
from proposal.exports.spelled_tables import spelled_tables
from proposal.exports.table import Table
from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.inputs_sheet import INPUTS, write_inputs
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.links import linked_book
from proposal.exports.workbook.print_set_up import PrintSetUp
from proposal.exports.workbook.quotes_sheet import QUOTES, Quoted, bought_of, write_quotes
from proposal.exports.workbook.recap_sheet import RecapSheet
from proposal.exports.workbook.sheet_order import JOBS
from proposal.exports.workbook.spelled_sheets import spelled_sheet
from proposal.exports.workbook.table_sheet import HEIGHT, write_table
from proposal.quantities import formatting

CONTENTS = "Contents"
PROJECT, NUMBER, REVISION, STATE = "Project", "Proposal number", "Revision", "State"
"""By what the sheet of contents says, a workbook that comes back is known again."""
_TOLD_APART = 12
"""Signs by which one state of a workbook is told from others."""
_STILL_DONE = {
    "format_cells": True,
    "format_columns": True,
    "format_rows": True,
    "sort": True,
    "autofilter": True,
    "pivot_tables": True,
}
"""What can be done on a sheet that is protected against a slip."""
_NOT_FOLLOWING = "#BFBFBF"
"""Colour of the tabs of sheets that do not follow the inputs."""
_LONGEST_NAME = 31
_CREATED = datetime.time(12, 0)


_WIDTHS = (46, 12, 24, 34)
"""Signs of the columns of the contents."""
_SIGNS = 70
"""Signs of a line of what is said above the list."""
_ABOUT_COLUMNS = "Columns that hold nothing in this revision are folded: the + above a sheet shows them."
_ABOUT_HIDDEN = (
    "Columns that hold nothing in this revision are hidden: select the columns on both sides of them to show "
    "them again."
)
_ABOUT_TYPING = (
    f"What is to come back is typed on the sheet {INPUTS}, into the cells on yellow: values, and the names "
    "of further allowances and alternates. Two places are to try things out, and nothing of them comes "
    f"back: quotes on the sheet {QUOTES}, and what an alternate adds on the recap. All other cells are "
    "locked against a slip, without a password: unprotect a sheet to sort its rows. Rows can be filtered "
    "and columns be shown and hidden all the same, and notes fit to the right of tables. A quantity is "
    "changed in the project, or as a further allowance."
)
_ABOUT_TOTALS = "Totals and costs follow when a quantity or a price is changed; all else are values."
_ABOUT_LINKED = (
    "Change a value of the sheet of inputs: every sheet that follows it is computed anew, to the same "
    "smallest unit as the program computes. Values on grey are plans that the program alone makes (reels and "
    "what they hold; days and weeks on site): after a change of what reels cost, or of hours, let it plan "
    "them again. A column of amounts, hours or days that does not follow says “of this revision” in its "
    "head. Nothing on a sheet with a grey tab follows."
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
        if Spelling.of(edition.document).changes_words:
            book.worksheet_class = spelled_sheet(edition.document)
            tables = spelled_tables(tables, edition.document)
        created = datetime.datetime.combine(cover.revision.date, _CREATED)
        book.set_properties({"title": cover.name, "author": cover.integrator.name, "created": created})
        formats, printed = CellFormats(book, cover.currency, cover.locale), PrintSetUp(cover)
        linked = linked_book(edition.document, tables, _sheet_names(tables))
        if linked.follows:
            RecapSheet(book, edition, linked, formats).write(printed)
        state = _contents(book, edition, linked, formats, printed)
        if linked.follows:
            about = _described(edition), _layers(linked)
            write_inputs(book, linked.inputs, *about, formats, printed)
            write_quotes(book, linked, formats, printed, quotes)
        for table in tables:
            write_table(book, linked.sheets[table.name], formats, printed)
            if linked.follows and not _follows(linked, linked.sheets[table.name]):
                book.get_worksheet_by_name(linked.sheets[table.name].name).set_tab_color(_NOT_FOLLOWING)
        if linked.follows:
            book.get_worksheet_by_name(CONTENTS).write_string(
                state, 1, _state_of(book, linked), formats.words
            )
            for sheet in book.worksheets():
                sheet.protect("", _STILL_DONE)
    return content.getvalue()


def _described(edition: Edition) -> Mapping[str, str]:
    """Return what each model of devices and materials is, by its code."""
    document = edition.document
    bought = {one.item: one.description for one in document.purchases}
    return {**bought, **{one.model: one.description for one in document.equipment}}


def _layers(linked: LinkedBook) -> Mapping[str, str]:
    """Return where each input comes from, in words, by its key."""
    sheet = linked.sheets.get("price-inputs")
    if sheet is None or not sheet.has("key", "layer"):
        return {}
    return {str(sheet.value(n, "key")): str(sheet.value(n, "layer") or "") for n in range(len(sheet))}


def _contents(
    book: Any, edition: Edition, linked: LinkedBook, formats: CellFormats, printed: PrintSetUp
) -> int:
    """Write the first sheet: what this is and which sheets there are; return the row of its state."""
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
        ("Columns", _ABOUT_HIDDEN if linked.follows else _ABOUT_COLUMNS),
        *([("Typing", _ABOUT_TYPING)] if linked.follows else []),
        *([(STATE, "")] if linked.follows else []),
    ]
    for n, (name, value) in enumerate(facts, 2):
        sheet.write_string(n, 0, name, formats.label)
        sheet.merge_range(n, 1, n, len(_WIDTHS) - 1, value, formats.words)
        sheet.set_row(n, HEIGHT * max(len(wrap(value, _SIGNS)), 1))
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
    job = JOBS[edition.reader]
    for title, sheets in (
        (f"For the job of the {edition.reader}, in the order of the work", _part(linked, job, True)),
        ("All else that the proposal holds", _part(linked, job, False)),
    ):
        row += 1
        sheet.write_string(row, 0, title, formats.label)
        for one in sheets:
            row += 1
            sheet.write_url(row, 0, f"internal:'{one.name}'!A1", string=one.name)
            sheet.write_number(row, 1, len(one), formats.of("count"))
            if linked.follows:
                sheet.write_string(row, 2, _follows(linked, one) or "no", formats.unit)
    printed.apply(sheet, CONTENTS, row, len(_WIDTHS) - 1, heads=heads)
    return len(facts) + 1


def _part(linked: LinkedBook, job: Sequence[str], is_job: bool) -> Sequence[LinkedSheet]:
    """Return the sheets of a job, or all others, in their order."""
    return [one for name, one in linked.sheets.items() if (name in job) == is_job]


def _follows(linked: LinkedBook, sheet: LinkedSheet) -> str:
    """Return whether a sheet follows the inputs: yes, in part, or empty."""
    return "yes" if sheet.table.name in linked.follows else "in part" if sheet.formulas else ""


def _state_of(book: Any, linked: LinkedBook) -> str:
    """Return by what a workbook that comes back is told from one of another state: linked cells.

    Quotes and combinations of alternates stand beside the estimate, and are no part of its state.
    """
    names = {sheet.name for name, sheet in linked.sheets.items() if name in linked.follows}
    texts = list(book.str_table.string_table)
    told = hashlib.sha256()
    for sheet in book.worksheets():
        if sheet.name not in names:
            continue
        told.update(f"{sheet.name}\0".encode())
        for row, cells in sorted(sheet.table.items()):
            for column, cell in sorted(cells.items()):
                # Formats are no part of it; of texts the table is kept, in which each stands once.
                kind = type(cell).__name__
                held = texts[cell.string] if kind == "String" else [part for part in cell if _is_held(part)]
                told.update(f"{row} {column} {kind} {held}\0".encode())
    return told.hexdigest()[:_TOLD_APART]


def _is_held(part: object) -> bool:
    return isinstance(part, str | int | float | datetime.datetime)


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
