"""Quotes side by side: what is bought in rows, suppliers in columns, to lay quotes beside what is awarded."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.print_set_up import PrintSetUp
from proposal.exports.workbook.table_sheet import HEIGHT

QUOTES = "Quotes side by side"
SUPPLIERS = 3
"""How many quotes stand beside each other."""
_SPARE = ", spare"
_ITEM, _ABOUT, _SOLD_AS, _COUNT, _AWARDED, _PRICE, _FIRST = range(7)
_LAST = _FIRST + SUPPLIERS - 1
_LOWEST, _OF, _APART = _LAST + 1, _LAST + 2, _LAST + 3
_WIDTHS = (16, 56, 14, 10, 30, 12, *[16] * SUPPLIERS, 12, 22, 18)
_ABOUT_SHEET = (
    "Type who quotes over the heads Quote 1 to Quote 3, and below them what one costs as it is sold, in the "
    "currency of the project. Nothing here moves the price: a quote is awarded by importing the answered "
    "request of its supplier, which brings the price into the project with its source and day."
)


@dataclass(frozen=True, slots=True)
class Bought:
    """One article: what it is, how it is sold, where its quantity and its cost stand, and what they are."""

    item: str
    description: str
    sold_as: str
    supplier: str
    count: str
    counted: Decimal
    cost: str
    costs: Decimal


def write_quotes(book: Any, linked: LinkedBook, formats: CellFormats, printed: PrintSetUp) -> None:
    """Write the sheet, where something is bought.

    book: the workbook of xlsxwriter.  linked: its linked sheets.  printed: how it is printed.
    """
    articles = bought_of(linked)
    if not articles:
        return
    sheet = book.add_worksheet(QUOTES)
    sheet.freeze_panes(1, 1)
    heads = (
        *("Item", "Description", "Sold as", "Quantity", "Awarded to", "Awarded, for one"),
        *(f"Quote {n + 1}" for n in range(SUPPLIERS)),
        *("Lowest, for one", "Lowest of", "Lowest against awarded, together"),
    )
    words = (_ITEM, _ABOUT, _SOLD_AS, _AWARDED, _OF)
    for n, (head, width) in enumerate(zip(heads, _WIDTHS, strict=True)):
        is_typed = _FIRST <= n <= _LAST
        look = formats.input if is_typed else formats.head if n in words else formats.head_right
        sheet.write_string(0, n, head, look)
        sheet.set_column(n, n, width)
    sheet.set_row(0, 3 * HEIGHT)
    sheet.autofilter(0, 0, len(articles), _APART)
    for row, one in enumerate(articles, 1):
        _write_article(sheet, row, one, linked.places, formats)
    _write_sums(sheet, articles, linked.places, formats)
    note = len(articles) + 7
    sheet.merge_range(note, 0, note, _APART, _ABOUT_SHEET, formats.words)
    sheet.set_row(note, 2 * HEIGHT)
    printed.apply(sheet, QUOTES, note, _APART, widths=_WIDTHS)


def bought_of(linked: LinkedBook) -> list[Bought]:
    """Return what is bought, devices first.

    linked: the sheets of the workbook.
    """
    return list(_bought(linked))


def _bought(linked: LinkedBook) -> Iterator[Bought]:
    """Yield what is bought, devices first, a spare reel with its like; what the owner furnishes is not."""
    ours = {row.key for row in linked.document.price_inputs}
    devices, others = linked.sheets.get("equipment"), linked.sheets.get("purchases")
    for n, row in enumerate(linked.document.equipment if devices else ()):
        if devices and f"library.{row.model}.cost" in ours and row.unit_cost:
            count, cost = devices.cell(n, "quantity"), devices.cell(n, "unit_cost")
            about = row.model, row.description, "each", row.supplier
            yield Bought(*about, count, Decimal(str(row.quantity)), cost, row.unit_cost)
    same: dict[tuple[str, str], list[int]] = {}
    purchases = linked.document.purchases
    for n, one in enumerate(purchases if others else ()):
        if f"library.{one.item}.cost" in ours and one.unit_cost and one.bought:
            same.setdefault((one.item, one.sold_as.removesuffix(_SPARE)), []).append(n)
    for (item, sold_as), rows in same.items():
        assert others is not None
        first = purchases[rows[0]]
        yield Bought(
            item=item,
            description=first.description,
            sold_as=sold_as,
            supplier=first.supplier,
            count="+".join(others.cell(n, "bought") for n in rows),
            counted=Decimal(sum(purchases[n].bought for n in rows)),
            cost=others.cell(rows[0], "unit_cost"),
            costs=first.unit_cost or Decimal(0),
        )


def _write_article(sheet: Any, row: int, one: Bought, places: int, formats: CellFormats) -> None:
    text = formats.of("text")
    for column, words in (
        (_ITEM, one.item),
        (_ABOUT, one.description),
        (_SOLD_AS, one.sold_as),
        (_AWARDED, one.supplier),
    ):
        sheet.write_string(row, column, words, text)
    sheet.write_formula(row, _COUNT, f"={one.count}", formats.of("how many"), float(one.counted))
    sheet.write_formula(
        row, _PRICE, f"={one.cost}", formats.of("unit price", Decimal(one.costs)), float(one.costs)
    )
    for column in range(_FIRST, _LAST + 1):
        sheet.write_blank(row, column, None, formats.input)
    typed = f"{_cell(row, _FIRST)}:{_cell(row, _LAST)}"
    heads = f"{_cell(0, _FIRST, True)}:{_cell(0, _LAST, True)}"
    lowest, count, price = _cell(row, _LOWEST), _cell(row, _COUNT), _cell(row, _PRICE)
    money = formats.of("unit price", Decimal(one.costs))
    sheet.write_formula(row, _LOWEST, f'=IF(COUNT({typed})=0,"",MIN({typed}))', money, "")
    sheet.write_formula(
        row, _OF, f'=IF(COUNT({typed})=0,"",INDEX({heads},1,MATCH({lowest},{typed},0)))', text, ""
    )
    sheet.write_formula(
        row,
        _APART,
        f'=IF(COUNT({typed})=0,"",ROUND(({lowest}-{price})*{count},{places}))',
        formats.of("money"),
        "",
    )


def _write_sums(sheet: Any, articles: list[Bought], places: int, formats: CellFormats) -> None:
    """Write, below, what each supplier quotes for, and what the same articles cost as awarded."""
    first, last, row = 1, len(articles), len(articles) + 2
    counts, prices = (
        f"{_cell(first, column, True)}:{_cell(last, column, True)}" for column in (_COUNT, _PRICE)
    )
    labels = ("Articles quoted", "Quoted, all of them", "The same, as awarded", "Quote against awarded")
    for n, label in enumerate(labels):
        sheet.write_string(row + n, 0, label, formats.label)
    for column in range(_FIRST, _LAST + 1):
        typed = f"{_cell(first, column)}:{_cell(last, column)}"
        quoted, same = _cell(row + 1, column), _cell(row + 2, column)
        for n, formula in enumerate(
            (
                f"COUNT({typed})",
                f"ROUND(SUMPRODUCT(ISNUMBER({typed})*{counts},{typed}),{places})",
                f"ROUND(SUMPRODUCT(ISNUMBER({typed})*{counts},{prices}),{places})",
                f"ROUND({quoted}-{same},{places})",
            )
        ):
            look = formats.of_total("money") if n else formats.of("count")
            sheet.write_formula(row + n, column, f"={formula}", look, 0)
    apart = f"{_cell(first, _APART)}:{_cell(last, _APART)}"
    sheet.write_formula(row + 3, _APART, f"=SUM({apart})", formats.of_total("money"), 0)


def _cell(row: int, column: int, fixed: bool = False) -> str:
    from xlsxwriter.utility import xl_rowcol_to_cell

    return str(xl_rowcol_to_cell(row, column, row_abs=fixed, col_abs=fixed))
