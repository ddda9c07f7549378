"""Quotes side by side: what is to be ordered in rows, suppliers in columns, to lay quotes beside our cost."""

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from textwrap import wrap
from typing import Any

from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.print_set_up import PrintSetUp
from proposal.exports.workbook.table_sheet import HEIGHT
from proposal.quantities import formatting

QUOTES = "Quotes side by side"
SUPPLIERS, SPARE_QUOTES = 3, 2
"""How many quotes stand beside each other at least, and how many columns of them are left to type in."""
_SPARE = ", spare"
_ITEM, _ABOUT, _SOLD_AS, _COUNT, _AWARDED, _PRICE, _FIRST = range(7)
_WIDTHS, _WIDTHS_BEHIND, _WIDTH = (14, 38, 11, 10, 29, 11), (12, 20, 15, 13, 18, 12, 12), 13
_NO_QUOTE = "library, no quote"
_ABOUT_SHEET = (
    "What is to be ordered, as it is sold; filter by who sells it. Under its name stands what each supplier "
    "quotes whose price list or quote the project holds. Type who else quotes over the heads that say Quote, "
    "and below them what one costs as it is sold, in the currency of the project. Nothing here moves the "
    "price: a quote is awarded by importing the answered request of its supplier, which brings the price "
    "into the project with its source and day."
)


@dataclass(frozen=True, slots=True)
class Quoted:
    """What a supplier asks for one of something as it is sold, before tax, in the currency of the project."""

    supplier: str
    item: str
    sold_as: str
    price: Decimal


class _Places:
    """Where columns stand: so many quotes beside each other, and what is told of them behind."""

    def __init__(self, suppliers: Sequence[str]) -> None:
        """Leave columns to type in beside those of suppliers.

        suppliers: whose quotes are known.
        """
        count = max(SUPPLIERS, len(suppliers) + SPARE_QUOTES if suppliers else 0)
        self.heads = tuple(suppliers[n] if n < len(suppliers) else f"Quote {n + 1}" for n in range(count))
        self.last = _FIRST + count - 1
        self.lowest, self.whose, self.apart = self.last + 1, self.last + 2, self.last + 3
        self.together, self.source = self.last + 4, self.last + 5
        self.day, self.order = self.last + 6, self.last + 7
        self.widths = (*_WIDTHS, *[_WIDTH] * count, *_WIDTHS_BEHIND)


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
    priced: str
    needed: datetime.date | None
    order: datetime.date | None


def write_quotes(
    book: Any, linked: LinkedBook, formats: CellFormats, printed: PrintSetUp, answered: Sequence[Quoted] = ()
) -> None:
    """Write the sheet, where something is bought.

    book: the workbook of xlsxwriter.  linked: its linked sheets.  printed: how it is printed.
    answered: what suppliers ask; it goes before what the library holds of the same supplier.
    """
    articles = bought_of(linked)
    if not articles:
        return
    stored = [Quoted(one.supplier, one.item, one.sold_as, one.costs) for one in articles if one.priced]
    quoted = {(one.supplier, one.item, one.sold_as): one.price for one in (*stored, *answered)}
    at = _Places(sorted({supplier for supplier, _, _ in quoted}))
    sheet = book.add_worksheet(QUOTES)
    sheet.freeze_panes(1, 1)
    heads = (
        *("Item", "Description", "Sold as", "Quantity", "Bought from", "Cost, for one"),
        *at.heads,
        *("Lowest, for one", "Lowest of", "Lowest against our cost, together"),
        *("Cost, together", "Cost is from", "Needed by, of this revision", "Order by, of this revision"),
    )
    words = (_ITEM, _ABOUT, _SOLD_AS, _AWARDED, at.whose, at.source)
    for n, (head, width) in enumerate(zip(heads, at.widths, strict=True)):
        is_typed = _FIRST <= n <= at.last
        look = formats.input if is_typed else formats.head if n in words else formats.head_right
        sheet.write_string(0, n, head, look)
        sheet.set_column(n, n, width)
    sheet.set_row(0, 3 * HEIGHT)
    sheet.autofilter(0, 0, len(articles), at.order)
    for row, one in enumerate(articles, 1):
        prices = [quoted.get((head, one.item, one.sold_as)) for head in at.heads]
        _write_article(sheet, row, one, prices, at, linked.places, formats)
    _write_sums(sheet, articles, quoted, at, linked.places, formats)
    note = len(articles) + 7
    sheet.merge_range(note, 0, note, at.apart, _ABOUT_SHEET, formats.words)
    sheet.set_row(note, 4 * HEIGHT)
    printed.apply(sheet, QUOTES, note, at.order, widths=at.widths)


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
            costs = count, Decimal(str(row.quantity)), cost, row.unit_cost
            yield Bought(*about, *costs, row.priced, row.needed_by, row.order_by)
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
            priced=first.priced,
            needed=first.needed_by,
            order=first.order_by,
        )


def _write_article(
    sheet: Any,
    row: int,
    one: Bought,
    prices: Sequence[Decimal | None],
    at: _Places,
    places: int,
    formats: CellFormats,
) -> None:
    """Write one article.  prices: what each of the quotes asks for it, None where it does not."""
    text = formats.of("text")
    for column, words in (
        (_ITEM, one.item),
        (_ABOUT, one.description),
        (_SOLD_AS, one.sold_as),
        (_AWARDED, one.supplier),
    ):
        sheet.write_string(row, column, words, formats.prose if column == _ABOUT else text)
    sheet.set_row(row, HEIGHT * len(wrap(one.description, _WIDTHS[_ABOUT]) or [""]))
    money = formats.of("unit price", Decimal(one.costs))
    sheet.write_formula(row, _COUNT, f"={one.count}", formats.of("how many"), float(one.counted))
    sheet.write_formula(row, _PRICE, f"={one.cost}", money, float(one.costs))
    for column, price in enumerate(prices, _FIRST):
        if price is None:
            sheet.write_blank(row, column, None, formats.input)
        else:
            sheet.write_number(row, column, float(price), formats.input)
    typed = f"{_cell(row, _FIRST)}:{_cell(row, at.last)}"
    heads = f"{_cell(0, _FIRST, True)}:{_cell(0, at.last, True)}"
    lowest, count, awarded = _cell(row, at.lowest), _cell(row, _COUNT), _cell(row, _PRICE)
    found = [(price, head) for price, head in zip(prices, at.heads, strict=True) if price is not None]
    least, whose = min(found, key=lambda pair: pair[0]) if found else (None, "")
    apart = "" if least is None else _amount((least - one.costs) * one.counted, places)
    for column, formula, look, value in (
        (at.lowest, f"MIN({typed})", money, "" if least is None else float(least)),
        (at.whose, f"INDEX({heads},1,MATCH({lowest},{typed},0))", text, whose),
        (at.apart, f"ROUND(({lowest}-{awarded})*{count},{places})", formats.of("money"), apart),
    ):
        sheet.write_formula(row, column, f'=IF(COUNT({typed})=0,"",{formula})', look, value)
    whole = _amount(one.costs * one.counted, places)
    sheet.write_formula(
        row,
        at.together,
        f"=ROUND({awarded}*{count},{places})",
        formats.of("money", Decimal(str(whole))),
        whole,
    )
    sheet.write_string(row, at.source, one.priced or _NO_QUOTE, text)
    for column, day in ((at.day, one.needed), (at.order, one.order)):
        look = formats.of("date", mark="planned")
        if day is None:
            sheet.write_blank(row, column, None, look)
        else:
            sheet.write_datetime(row, column, datetime.datetime.combine(day, datetime.time()), look)


def _amount(exact: Decimal, places: int) -> float:
    return float(formatting.rounded(exact, places))


def _write_sums(
    sheet: Any,
    articles: Sequence[Bought],
    quoted: Mapping[tuple[str, str, str], Decimal],
    at: _Places,
    places: int,
    formats: CellFormats,
) -> None:
    """Write, below, what each supplier quotes for, and what the same articles cost as awarded.

    quoted: what is known by supplier, article and how it is sold.
    """
    first, last, row = 1, len(articles), len(articles) + 2
    counts, prices = (
        f"{_cell(first, column, True)}:{_cell(last, column, True)}" for column in (_COUNT, _PRICE)
    )
    labels = ("Articles quoted", "Quoted, all of them", "The same, at our cost", "Quote against our cost")
    for n, label in enumerate(labels):
        sheet.write_string(row + n, 0, label, formats.label)
    for column, head in enumerate(at.heads, _FIRST):
        typed = f"{_cell(first, column)}:{_cell(last, column)}"
        asks, same = _cell(row + 1, column), _cell(row + 2, column)
        mine = [(one, quoted.get((head, one.item, one.sold_as))) for one in articles]
        sums = [(price * one.counted, one.costs * one.counted) for one, price in mine if price is not None]
        theirs, ours = (_amount(sum((pair[n] for pair in sums), Decimal(0)), places) for n in (0, 1))
        for n, (formula, value) in enumerate(
            (
                (f"COUNT({typed})", float(len(sums))),
                (f"ROUND(SUMPRODUCT(ISNUMBER({typed})*{counts},{typed}),{places})", theirs),
                (f"ROUND(SUMPRODUCT(ISNUMBER({typed})*{counts},{prices}),{places})", ours),
                (f"ROUND({asks}-{same},{places})", theirs - ours),
            )
        ):
            look = formats.of_total("money") if n else formats.of("count")
            sheet.write_formula(row + n, column, f"={formula}", look, value)
    apart = f"{_cell(first, at.apart)}:{_cell(last, at.apart)}"
    together = f"{_cell(first, at.together)}:{_cell(last, at.together)}"
    whole = float(sum(formatting.rounded(one.costs * one.counted, places) for one in articles))
    sheet.write_formula(row + 3, at.together, f"=SUM({together})", formats.of_total("money"), whole)
    sheet.write_formula(
        row + 3, at.apart, f"=SUM({apart})", formats.of_total("money"), _apart(articles, quoted, places)
    )


def _apart(articles: Sequence[Bought], quoted: Mapping[tuple[str, str, str], Decimal], places: int) -> float:
    """Return what the lowest quotes of all articles come to beyond what is awarded."""
    least: dict[tuple[str, str], Decimal] = {}
    for (_, *key), price in quoted.items():
        item, sold_as = key
        least[item, sold_as] = min(price, least.get((item, sold_as), price))
    known = [(one, least[one.item, one.sold_as]) for one in articles if (one.item, one.sold_as) in least]
    return sum(_amount((price - one.costs) * one.counted, places) for one, price in known)


def _cell(row: int, column: int, fixed: bool = False) -> str:
    from xlsxwriter.utility import xl_rowcol_to_cell

    return str(xl_rowcol_to_cell(row, column, row_abs=fixed, col_abs=fixed))
