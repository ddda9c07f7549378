"""The take-off by supplier: a file each, without any price of ours, to be filled in and sent back."""

import csv
import datetime
import io
from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap

from proposal.document.document import Document
from proposal.document.rows.terms import Cover
from proposal.editions import Edition
from proposal.exports.csv_files import cell
from proposal.exports.workbook.print_set_up import PrintSetUp
from proposal.exports.workbook.table_sheet import HEIGHT
from proposal.quantities.file_names import file_name

SHEET = "Quote"
REFERENCE, SUPPLIER, ARTICLE, MODEL = "Reference", "Supplier", "Article", "Model"
SOLD_AS, HOLDS, QUANTITY, NEEDED_BY = "Sold as", "Holds", "Quantity", "Needed by"
PRICE, CURRENCY, QUOTED_ON, VALID_UNTIL = "Price of one", "Currency", "Quoted on", "Valid until"
DESCRIPTION, OF, LEAD_TIME, REMARK = "Description", "Of", "Lead time (days)", "Remark"
HEADS = (
    (REFERENCE, 16),
    (SUPPLIER, 22),
    (ARTICLE, 14),
    (MODEL, 14),
    (DESCRIPTION, 38),
    (SOLD_AS, 12),
    (HOLDS, 8),
    (OF, 6),
    (QUANTITY, 9),
    (NEEDED_BY, 11),
    (PRICE, 10),
    (CURRENCY, 9),
    (QUOTED_ON, 11),
    (VALID_UNTIL, 11),
    (LEAD_TIME, 10),
    (REMARK, 20),
)
"""Heads and widths; the last six are for the supplier, who writes days as 2031-04-15."""
_SPARE = ", spare"
_CREATED = datetime.time(12, 0)
_LEFT_EMPTY = 5

Line = tuple[str | int | float, ...]


def reference_of(cover: Cover) -> str:
    """Return what a request is known by: the number of the proposal, else its name, and the revision."""
    return f"{cover.number or cover.name}, revision {cover.revision.identity}"


def quote_files(edition: Edition) -> Mapping[str, bytes]:
    """Return a CSV file and a workbook for each supplier, by file name.

    edition: of the estimator.
    """
    by_supplier: dict[str, list[Line]] = {}
    for supplier, line in _lines(edition.document):
        by_supplier.setdefault(supplier, []).append(line)
    found: dict[str, bytes] = {}
    for supplier, lines in sorted(by_supplier.items()):
        name = file_name(supplier, "supplier")
        while f"{name}.csv" in found:
            name += "-2"
        found[f"{name}.csv"] = _csv(lines)
        found[f"{name}.xlsx"] = _workbook(edition.document.cover, supplier, lines)
    return found


def asked_quantities(document: Document) -> Mapping[tuple[str, str], Mapping[str, int]]:
    """Return how many of each thing a supplier is asked for: by supplier and model, then as sold.

    document: of the estimator.
    """
    found: dict[tuple[str, str], dict[str, int]] = {}
    for supplier, line in _lines(document):
        found.setdefault((supplier, str(line[3])), {})[str(line[5])] = int(line[8])
    return found


def _lines(document: Document) -> Iterator[tuple[str, Line]]:
    """Yield what is bought of each supplier, devices first; what the owner furnishes is not."""
    ours = {row.key for row in document.price_inputs}
    reference = reference_of(document.cover)

    def line(supplier: str, *about: str | int | float) -> tuple[str, Line]:
        return supplier, (reference, supplier, *about, "", document.cover.currency, "", "", "", "")

    for row in document.equipment:
        if f"library.{row.model}.cost" in ours:
            device = (row.article, row.model, row.description, "each", 1, "each", row.quantity)
            yield line(row.supplier, *device, _iso(row.needed_by))
    # Pathways that others furnish are counted at no cost.
    purchases = [one for one in document.purchases if one.section != "pathways" or one.unit_cost]
    bought: dict[tuple[str, str], int] = {}
    for one in purchases:
        key = one.item, one.sold_as.removesuffix(_SPARE)
        bought[key] = bought.get(key, 0) + one.bought
    for one in purchases:
        sold_as = one.sold_as.removesuffix(_SPARE)
        count = bought.pop((one.item, sold_as), 0)
        if count and f"library.{one.item}.cost" in ours:
            about = (one.article, one.item, one.description, sold_as, float(one.pieces), one.unit, count)
            yield line(one.supplier, *about, _iso(one.needed_by))


def _iso(day: datetime.date | None) -> str:
    return "" if day is None else day.isoformat()


def _csv(lines: Sequence[Line]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([head for head, _ in HEADS])
    writer.writerows([cell(value) for value in line] for line in lines)
    # The mark at its beginning tells spreadsheets that signs beyond those of English are UTF-8.
    return text.getvalue().encode("utf-8-sig")


def _workbook(cover: Cover, supplier: str, lines: Sequence[Line]) -> bytes:
    import xlsxwriter

    content = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(content, options) as book:
        created = datetime.datetime.combine(cover.revision.date, _CREATED)
        book.set_properties({"title": f"{reference_of(cover)}, {supplier}", "created": created})
        head = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
        asked_cell = {"bg_color": "#fff7d6", "border": 1, "border_color": "#b8a45a", "valign": "top"}
        open_cell = book.add_format(asked_cell)
        words, figure = (
            book.add_format({"text_wrap": True, "valign": "top", **beside}) for beside in ({}, {"indent": 1})
        )
        sheet = book.add_worksheet(SHEET)
        sheet.freeze_panes(1, 0)
        sheet.set_row(0, 2 * HEIGHT)
        asked = [n for n, (name, _) in enumerate(HEADS) if n >= len(HEADS) - _LEFT_EMPTY - 1]
        for n, (name, width) in enumerate(HEADS):
            sheet.write_string(0, n, name, head)
            sheet.set_column(n, n, width)
        for row, line in enumerate(lines, 1):
            lines_of_text = max(
                len(wrap(value, HEADS[n][1])) for n, value in enumerate(line) if isinstance(value, str)
            )
            sheet.set_row(row, HEIGHT * max(lines_of_text, 1))
            for n, value in enumerate(line):
                look = open_cell if n in asked else figure if isinstance(value, int | float) else words
                if value == "":
                    sheet.write_blank(row, n, None, look)
                elif isinstance(value, str):
                    sheet.write_string(row, n, value, look)
                else:
                    sheet.write_number(row, n, value, look)
        widths = [width for _, width in HEADS]
        PrintSetUp(cover).apply(sheet, SHEET, len(lines), len(HEADS) - 1, widths=widths)
    return content.getvalue()
