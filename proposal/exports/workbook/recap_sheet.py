"""The recap of the bid on one sheet: kinds of cost, general conditions, total, margin, what is open."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from textwrap import wrap
from typing import Any

from proposal.editions import Edition
from proposal.exports.workbook.cell_formats import CellFormats
from proposal.exports.workbook.formulas import added, runs
from proposal.exports.workbook.inputs_sheet import INPUTS
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.planned_days import SAID as ABOUT_DAYS
from proposal.exports.workbook.planned_days import is_day
from proposal.exports.workbook.print_set_up import PrintSetUp, page_breaks
from proposal.exports.workbook.quotes_sheet import Bought, bought_of
from proposal.exports.workbook.recap_alternates import ABOUT_CHOICES, MARGIN_HEADS, choices, left_by
from proposal.exports.workbook.recap_notes import (
    doubtful_prices,
    general_conditions_without_a_line,
    priced_on_request,
)
from proposal.exports.workbook.room_counts import SAID as ABOUT_ROOMS
from proposal.exports.workbook.room_counts import is_room_count
from proposal.exports.workbook.spare_allowances import is_spare
from proposal.exports.workbook.spare_alternates import SAID as ABOUT_FURTHER
from proposal.exports.workbook.spare_alternates import is_spare_alternate
from proposal.exports.workbook.table_sheet import HEIGHT
from proposal.field_classes import dataclass
from proposal.quantities import formatting

RECAP = "Recap"
TOTAL, TOTAL_COLUMN = "Total with tax", 3
"""Line and column of the total, which is read when the workbook comes back."""
AMOUNTS = ("cost", "reserve", "price", "tax")
_HEADS = ("", "Cost", "Reserve", "Price", "Tax")
_GROUPS = ("equipment", "materials", "labour", "travel", "surcharge", "allowance")
_PLURAL = {"surcharge": "surcharges that have lines of their own", "allowance": "allowances"}
_GENERAL = ("project management", "travel", "documents", "training")
"""Phases whose work serves the whole job."""
_BY_SUPPLIER = "What is bought, by supplier"
_ABOUT_QUOTES = (
    "Quoted is what a price list or an answered request gave; all else stands at the cost of a library. What "
    "each article costs, and where from, is on the sheet Quotes side by side."
)
NOTHING = Decimal(0)
_HEAD_SIGNS = 14
"""Signs of a head that fit in the column of an amount."""
_LABEL_SIGNS = 56
"""Signs of a label that fit in its column."""
_SIGNS = 105
"""Signs of a note that fit beside each other over all columns."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the recap: what it is, its formulas and their values."""

    what: str
    formulas: tuple[str, ...]
    values: tuple[Decimal, ...]


class RecapSheet:
    """Writes the recap from top to bottom."""

    def __init__(self, book: Any, edition: Edition, linked: LinkedBook, formats: CellFormats) -> None:
        """Add the sheet.

        book: the workbook of xlsxwriter.  linked: its linked sheets.
        """
        self._edition, self._linked, self._formats = edition, linked, formats
        self._sheet = book.add_worksheet(RECAP)
        self._row = 0
        self._sheet.set_column(0, 0, 52)
        self._sheet.set_column(1, len(AMOUNTS), 16)
        self._parts: list[int] = []
        self._lines: dict[int, int] = {}
        rows = enumerate(linked.inputs.rows, 2)
        self._names = {row.subject: f"{INPUTS}!$B${n}" for n, row in rows if is_spare(row)}

    def write(self, printed: PrintSetUp) -> None:
        """Write all parts in the order in which a bid is looked through.

        printed: how it is printed.
        """
        document = self._edition.document
        cover = document.cover
        self._sheet.write_string(0, 0, f"Recap: {cover.name}", self._formats.title)
        issued = f"{cover.revision.identity}, {formatting.date(cover.revision.date, cover.locale)}"
        revision = f"Revision {issued}, amounts in {cover.currency}"
        self._sheet.write_string(1, 0, revision)
        self._row = 3
        lines = document.price_lines
        present = [group for group in _GROUPS if any(line.group == group for line in lines)]
        self._part(
            "By kind of cost",
            [self._where(_PLURAL.get(group, group), [("group", group)]) for group in present],
        )
        self._totals()
        self._materials()
        for applies, said in ((is_room_count, ABOUT_ROOMS), (is_day, ABOUT_DAYS)):
            if any(map(applies, self._linked.inputs.rows)):
                self._note(said)
        general = [
            self._where(phase, [("group", "labour"), ("phase", phase)])
            for phase in _GENERAL
            if any(line.group == "labour" and line.phase == phase for line in lines)
        ]
        surcharges = [
            self._line(line.description, [n]) for n, line in enumerate(lines) if line.group == "surcharge"
        ]
        travel = [self._where("travel and expenses", [("group", "travel")])] if "travel" in present else []
        self._part("General conditions, all of them among the above", [*general, *travel, *surcharges])
        own = {line.description for line in lines if line.group == "surcharge"}
        for one in document.surcharges:
            if one.name not in own:
                self._note(
                    f"{one.name}: in no line of its own; it is the reserve above, spread over the lump lines"
                )
        for said in general_conditions_without_a_line(document):
            self._note(said)
        self._row += 1
        allowances = [
            self._line(line.description, [n]) for n, line in enumerate(lines) if line.group == "allowance"
        ]
        self._part("Allowances, settled when they are known", allowances)
        self._suppliers()
        self._further_alternates()
        self._alternates()
        self._open()
        printed.apply(self._sheet, RECAP, self._row - 1, len(AMOUNTS), heads=None)
        self._sheet.set_h_pagebreaks(list(page_breaks([*self._parts, self._row], self._lines)))

    def _where(self, what: str, wanted: Sequence[tuple[str, str]]) -> _Line:
        """Return the line of all lines of the price with some values."""
        lines = self._edition.document.price_lines
        found = [n for n, line in enumerate(lines) if all(getattr(line, by) == value for by, value in wanted)]
        return self._line(what, found)

    def _line(self, what: str, places: Sequence[int]) -> _Line:
        """Return the line of some lines of the price."""
        lines, sheet = self._edition.document.price_lines, self._linked.sheets["price-lines"]
        return _Line(
            what=what[:1].upper() + what[1:],
            formulas=tuple(_sum(sheet.cells(name, one) for one in runs(places)) for name in AMOUNTS),
            values=tuple(_of((lines[n] for n in places), name) for name in AMOUNTS),
        )

    def _part(self, title: str, lines: Sequence[_Line]) -> None:
        if not lines:
            return
        self._head(title, _HEADS[1:])
        for line in lines:
            named = self._names.get(line.what)
            if named:
                self._sheet.write_formula(self._row, 0, f"={named}", None, line.what)
            else:
                self._sheet.write_string(self._row, 0, line.what)
            for n, (formula, value) in enumerate(zip(line.formulas, line.values, strict=True), 1):
                shape = self._formats.of("money", value)
                self._sheet.write_formula(self._row, n, f"={formula}", shape, float(value))
            if named:
                self._formats.quieten(self._sheet, self._row, len(AMOUNTS), f"$B${self._row + 1}")
            self._row += 1
        self._row += 1

    def _head(self, title: str, heads: Sequence[str]) -> None:
        self._parts.append(self._row)
        for n, head in enumerate((title, *heads)):
            self._sheet.write_string(
                self._row, n, head, self._formats.head_right if n else self._formats.head
            )
        self._high(max((len(wrap(head, _HEAD_SIGNS)) for head in heads), default=1))
        self._row += 1

    def _high(self, lines: int) -> None:
        """Make the present row so many lines high."""
        if lines > 1:
            self._lines[self._row] = lines
            self._sheet.set_row(self._row, lines * HEIGHT)

    def _note(self, text: str) -> None:
        last = len(AMOUNTS)
        self._sheet.merge_range(self._row, 0, self._row, last, text, self._formats.words)
        self._high(-(-len(text) // _SIGNS))
        self._row += 1

    def _money(self, column: int, formula: str, value: Decimal) -> None:
        shape = self._formats.of_total("money")
        self._sheet.write_formula(self._row, column, f"={formula}", shape, float(value))

    def _totals(self) -> None:
        total, sheet = self._edition.document.price, self._linked.sheets["price"]
        assert total is not None
        self._row -= 1
        wanted = (
            ("Before tax", "price", total.price),
            ("Tax", "tax", total.tax),
            (TOTAL, "total", total.total),
            ("Cost", "cost", total.cost or NOTHING),
            ("Margin", "margin", total.margin or NOTHING),
            ("Margin if the reserve is spent", "margin_at_least", total.margin_at_least or NOTHING),
        )
        for what, name, value in wanted:
            self._sheet.write_string(self._row, 0, what, self._formats.label)
            self._money(TOTAL_COLUMN, sheet.cell(0, name), value)
            self._row += 1
        self._moved(total.total)
        share = total.margin_share
        self._sheet.write_string(self._row, 0, "Margin (share of price)", self._formats.label)
        if share is not None:
            shape = self._formats.of("share")
            self._sheet.write_formula(self._row, 3, f"={sheet.cell(0, 'margin_share')}", shape, float(share))
        self._row += 2

    def _moved(self, total: Decimal) -> None:
        """Write the total of this revision, and what changes of the inputs add to it or take off."""
        now = self._linked.sheets["price"].cell(0, "total")
        self._sheet.write_string(self._row, 0, "Total with tax, of this revision", self._formats.label)
        self._sheet.write_number(self._row, 3, float(total), self._formats.of_total("money"))
        self._sheet.write_string(self._row + 1, 0, "Moved by changed inputs", self._formats.label)
        self._row += 1
        self._money(3, f"ROUND({now}-D{self._row},{self._linked.places})", NOTHING)
        self._row += 1

    def _materials(self) -> None:
        """Write what materials cost as they are bought, and spoilage of cable, priced beside that."""
        sheet, rows = self._linked.sheets["purchases"], self._edition.document.purchases
        takeoff, lines = self._linked.sheets["takeoff"], self._edition.document.takeoff
        spoilt = [n for n, line in enumerate(lines) if line.spoilage_only]
        if not rows or not spoilt:
            return
        self._head("Materials among the above", ("Cost",))
        cost = _of((lines[n] for n in spoilt), "cost")
        for what, formula, value in (
            (
                "Bought in wholes: reels with what is left over and spares, packs, sticks, pieces",
                _sum([sheet.cells("cost")]),
                _of(rows, "cost"),
            ),
            (
                "Spoilage of cable, by the metre: no reel holds it",
                _sum(takeoff.cells("cost", one) for one in runs(spoilt)),
                cost,
            ),
        ):
            self._sheet.write_string(self._row, 0, what, self._formats.label_words)
            self._high(-(-len(what) // _LABEL_SIGNS))
            shape = self._formats.of("money", value)
            self._sheet.write_formula(self._row, 1, f"={formula}", shape, float(value))
            self._row += 1
        self._row += 1

    def _suppliers(self) -> None:
        """Write what is bought of each supplier, and how much of it no quote or price list gives."""
        bought: dict[str, list[Bought]] = {}
        for one in bought_of(self._linked):
            bought.setdefault(one.supplier, []).append(one)
        if not bought:
            return
        self._head(_BY_SUPPLIER, ("Cost", "Articles", "Of them quoted", "Cost, not quoted"))
        first = self._row
        for supplier, articles in sorted(bought.items()):
            without = [one for one in articles if not one.priced]
            self._sheet.write_string(self._row, 0, supplier)
            for column, members in ((1, articles), (4, without)):
                value = sum((self._cost_of(one) for one in members), NOTHING)
                formula = added(f"ROUND(({one.count})*{one.cost},{self._linked.places})" for one in members)
                shape = self._formats.of("money", value)
                self._sheet.write_formula(self._row, column, f"={formula}", shape, float(value))
            for column, count in ((2, len(articles)), (3, len(articles) - len(without))):
                self._sheet.write_number(self._row, column, count, self._formats.of("count"))
            self._row += 1
        self._sheet.write_string(self._row, 0, "Together", self._formats.label)
        every = [one for articles in bought.values() for one in articles]
        quoted = [one for one in every if one.priced]
        for column, value in (
            (1, sum(map(self._cost_of, every), NOTHING)),
            (4, sum((self._cost_of(one) for one in every if not one.priced), NOTHING)),
        ):
            self._money(column, f"SUM({_column(column)}{first + 1}:{_column(column)}{self._row})", value)
        for column, count in ((2, len(every)), (3, len(quoted))):
            self._sheet.write_number(self._row, column, count, self._formats.of("count"))
        self._row += 1
        self._note(_ABOUT_QUOTES)
        self._row += 1

    def _cost_of(self, one: Bought) -> Decimal:
        return formatting.rounded(one.counted * one.costs, self._linked.places)

    def _further_alternates(self) -> None:
        """Write the alternates that are added among the inputs, to be named and to be written by import."""
        inputs, now = self._linked.inputs, self._linked.sheets["price"].cell(0, "price")
        rows = [(n, row) for n, row in enumerate(inputs.rows, 2) if is_spare_alternate(row)]
        if not rows:
            return
        self._head(
            "Alternates added among the inputs",
            ("Before tax, add or deduct", "Before tax, price with it, about"),
        )
        shape = self._formats.of("money", NOTHING)
        price = self._edition.document.price
        for n, row in rows:
            self._sheet.write_formula(self._row, 0, f"={INPUTS}!$B${n}", None, row.subject)
            self._sheet.write_formula(self._row, 1, f"={inputs.amount(row.key)}", shape, 0)
            about = f"=ROUND({now}+B{self._row + 1},{self._linked.places})"
            self._sheet.write_formula(self._row, 2, about, shape, float(price.price if price else 0))
            self._row += 1
        self._note(ABOUT_FURTHER)
        self._row += 1

    def _alternates(self) -> None:
        """Write what combinations of alternates come to: of this revision, and about, with changed inputs."""
        found = choices(self._edition)
        if not found:
            return
        base = found[0][1].price or NOTHING
        now = self._linked.sheets["price"].cell(0, "price")
        self._head(
            "Alternates and combinations",
            (
                "Before tax, add or deduct",
                "Before tax, of it together",
                "With tax, of this revision",
                "Before tax, price now, about",
            ),
        )
        alone: dict[str, tuple[int, Decimal]] = {}
        for called, one in found:
            apart, row = (one.price or NOTHING) - base, self._row + 1
            self._sheet.write_string(self._row, 0, called, self._formats.label_words)
            parts = [alone[key] for key in one.chosen if key in alone]
            planned, shape = self._formats.of("money", apart, "trial"), self._formats.of("money", apart)
            if len(one.chosen) == 1:
                alone[one.chosen[0]] = row, apart
                self._sheet.write_number(self._row, 1, float(apart), planned)
            elif one.chosen:
                together = apart - sum((part for _, part in parts), NOTHING)
                added_up = "+".join([*(f"B{place}" for place, _ in parts), f"C{row}"])
                self._sheet.write_formula(
                    self._row, 1, f"=ROUND({added_up},{self._linked.places})", shape, float(apart)
                )
                self._sheet.write_number(self._row, 2, float(together), planned)
            self._sheet.write_number(self._row, 3, float(one.total or 0), planned)
            self._sheet.write_formula(
                self._row,
                len(AMOUNTS),
                f"=ROUND({now}+B{row},{self._linked.places})",
                shape,
                float(one.price or 0),
            )
            self._row += 1
        self._note(ABOUT_CHOICES)
        self._row += 1
        left = left_by(found)
        if left:
            self._head("Margin of alternates and combinations, of this revision", MARGIN_HEADS)
        for each in left:
            self._sheet.write_string(self._row, 0, each.called, self._formats.label_words)
            for column, amount in enumerate((each.cost, each.margin, each.whole), 1):
                if amount is not None:
                    shape = self._formats.of("money", amount, "planned")
                    self._sheet.write_number(self._row, column, float(amount), shape)
            if each.share is not None:
                self._sheet.write_number(self._row, 4, float(each.share), self._formats.of("share"))
            self._row += 1
        self._row += bool(left)

    def _open(self) -> None:
        """Write what has no price of its own yet, or one that nobody should count on."""
        document = self._edition.document
        for title, found in (
            ("Awaited, not priced, or priced on figures that do not hold", doubtful_prices(document)),
            ("Later changes that are priced on request", priced_on_request(document)),
        ):
            self._head(title, ())
            for text in list(found) or ["Nothing"]:
                self._note(text)
            self._row += 1


def _column(place: int) -> str:
    return "ABCDE"[place]


def _sum(ranges: Iterable[str]) -> str:
    return f"SUM({','.join(ranges)})"


def _of(rows: Iterable[Any], name: str) -> Decimal:
    return sum((getattr(row, name) or NOTHING for row in rows), NOTHING)
