"""Price lists of suppliers, CSV or a sheet of a workbook, read line by line by a mapping."""

import datetime
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import field
from decimal import Decimal

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.imports.list_figures import LONGEST_LEAD_TIME, day_in, lead_time_in, mark_of, number_in
from proposal.imports.list_rows import ABOVE, ListRow, csv_rows, workbook_rows
from proposal.imports.xlsx_sheets import Cell
from proposal.model.price.price_list import DateForm, ListColumn, PriceListMapping
from proposal.quantities.currencies import is_currency
from proposal.quantities.messages import nearest, shown
from proposal.quantities.money import WANTED_CURRENCY

_ZIP = b"PK\x03\x04"
_LARGEST, _SMALLEST_PACK = Decimal(10) ** 9, Decimal(1) / 1000
_MOST_HEADS = 8
"""Most heads of a list that a message names."""
_NUMBERS: tuple[ListColumn, ...] = ("price", "list_price", "pack", "quantity")


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceLine:
    """One line of a price list.

    place, cell: where it stands.  article, model: as the list says, empty where it does not.
    sold_as: what the price is for, where the list says.
    price, list_price: of `pack` pieces or metres, or of one unit of the library where the list tells no
        pack; None where there is none.
    awaited: whether the price is still to come.
    valid_until: last day of the price, None where it holds.
    quantity: how many the line is for, None where the list does not say.
    lead_time_days: calendar days from order to delivery, None where the list does not say.
    remark: whatever else the supplier wrote of it.
    places: where its cells stand, by the columns that the list has.
    """

    place: Place
    cell: str
    article: str
    model: str
    sold_as: str
    price: Decimal | None
    list_price: Decimal | None
    awaited: bool
    pack: Decimal | None
    currency: str
    supplier: str
    priced_on: datetime.date
    valid_until: datetime.date | None
    reference: str
    quantity: Decimal | None = None
    lead_time_days: int | None = None
    remark: str = ""
    places: Mapping[ListColumn, Place] = field(default_factory=dict)

    def at(self, name: ListColumn) -> Place:
        """Return where a cell of it stands; where the line is named where the list has no such column."""
        return self.places.get(name, self.place)


@dataclass(frozen=True, slots=True)
class Charge:
    """A line with an amount that names no article, such as delivery.

    place: where it stands.  text: what the line says.  amount, currency: of its price.
    """

    place: Place
    text: str
    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class ReadList:
    """What a price list says.

    lines: with what could be read of each.  charges: with an amount and without an article.
    unread: heads of columns with something below them that nothing says how to read.
    problems: everything that could not be read.
    """

    lines: tuple[PriceLine, ...]
    charges: tuple[Charge, ...]
    unread: tuple[str, ...]
    problems: tuple[Problem, ...]


def read_price_list(
    data: bytes,
    file: str,
    mapping: PriceListMapping,
    heads: Mapping[str, Place] | None = None,
    optional: Set[ListColumn] = frozenset(),
    ours: Set[str] = frozenset(),
) -> ReadList:
    """Return what a price list says; lines that hold nothing are left out.

    data: of the file.  file: as messages name it.
    heads: where the mapping names the head of each column, if it is written.
    optional: columns that the list may lack.  ours: heads of columns that nobody has to read.
    Raises InputError where it is no list at all.
    """
    is_book = data.startswith(_ZIP)
    rows, delimiter = (workbook_rows(data, file, mapping), "") if is_book else csv_rows(data, file, mapping)
    reading = _Reading(file, mapping, is_book, heads or {}, optional)
    found = tuple(reading.lines(rows, delimiter))
    unread = tuple(head for head in reading.unread if head not in ours)
    return ReadList(found, tuple(reading.charges), unread, tuple(reading.problems))


class _Reading:
    """The lines as they are read, and what is wrong with them."""

    def __init__(
        self,
        file: str,
        mapping: PriceListMapping,
        is_book: bool,
        heads: Mapping[str, Place],
        optional: Set[ListColumn],
    ) -> None:
        self._heads, self._optional = heads, optional
        self.file, self.mapping, self.is_book = file, mapping, is_book
        self.problems: list[Problem] = []
        self.charges: list[Charge] = []
        self.unread: Sequence[str] = ()
        self._mark = mapping.decimal_mark
        said = "dates" in mapping.model_fields_set
        self._dates: tuple[DateForm, ...] = (mapping.dates,) if said else (mapping.dates, "DD.MM.YYYY")
        self._columns: Mapping[ListColumn, int] = {}
        self._at = Place(file)
        self._row = ListRow((), (self._at,))

    def lines(self, rows: Sequence[ListRow], delimiter: str) -> Iterator[PriceLine]:
        if not rows:
            self.problems.append(Problem(self._at, "", "wanted heads and lines; found an empty list"))
            return
        rows = rows[self._row_of_heads(rows) :]
        heads = _heads_of(rows[0])
        named = self.mapping.columns.items()
        missing = {name: head for name, head in named if head not in heads and name not in self._optional}
        self._note_missing(missing, rows[0], heads)
        if missing:
            return
        self._columns = {name: heads[head] for name, head in named if head in heads}
        self._note_unread(rows, heads)
        if delimiter not in ("", ",") and "decimal_mark" not in self.mapping.model_fields_set:
            at = [self._columns[name] for name in _NUMBERS if name in self._columns]
            self._mark = mark_of(row.cells[n] for row in rows[1:] for n in at if n < len(row.cells))
        for row in rows[1:]:
            self._row = row
            self._at = row.place(self._named_in())
            found = self._line()
            if found is not None:
                yield found

    def _row_of_heads(self, rows: Sequence[ListRow]) -> int:
        """Return which row holds the heads: the first of those at the top that has most of them.

        Lists begin with titles, addresses, days.
        """
        wanted = set(self.mapping.columns.values())
        counts = [len(wanted & _heads_of(row).keys()) for row in rows[:ABOVE]]
        return counts.index(max(counts))

    def _note_missing(
        self, missing: Mapping[ListColumn, str], row: ListRow, heads: Mapping[str, int]
    ) -> None:
        here, found = (
            row.place(0),
            ", ".join(map(shown, sorted(heads, key=heads.__getitem__)[:_MOST_HEADS])) or "no head",
        )
        for name, head in missing.items():
            near = nearest(head, heads)
            meant = f" (did you mean {near}?)" if near else f" among {found}"
            where = self._heads.get(name)
            message = f"wanted a column {shown(head)}; found none{meant}"
            if where is not None:
                among = here if near else f"{here} ({found})"
                message = f"wanted a head of {among}; found {shown(head)}{meant if near else ''}"
            self.problems.append(Problem(where or here, f"columns.{name}" if where else name, message))

    def _named_in(self) -> int | None:
        """Return the place of the cell that says what a line is of, or of the amount of one that does not."""
        names: tuple[ListColumn, ...] = ("article", "model", "price")
        return next((self._columns[name] for name in names if self._cell(name) is not None), None)

    def _note_unread(self, rows: Sequence[ListRow], heads: Mapping[str, int]) -> None:
        """Note the heads of columns that hold something and are read by nobody."""
        read = set(self._columns.values())
        filled = {n for row in rows[1:] for n, cell in enumerate(row.cells) if cell.sort != "nothing"}
        self.unread = [head for head, n in sorted(heads.items(), key=_second) if n in filled - read]

    def _charge(self) -> None:
        """Note the amount of a line that names no article; headings between lines have none."""
        cell = self._cell("price")
        amount = None if cell is None else number_in(cell, self._mark)
        if cell is None or amount is None:
            return
        named = {n for name, n in self._columns.items() if name != "remark"}
        others = (
            one.text.strip()
            for n, one in enumerate(self._row.cells)
            if n not in named and one.sort == "text" and one.text.strip()
        )
        text = ", ".join(dict.fromkeys(others))
        currency = self._text("currency") or self.mapping.currency
        self.charges.append(Charge(self._at, text, amount, currency))

    def _line(self) -> PriceLine | None:
        article, model = self._text("article"), self._text("model")
        if not article and not model:
            self._charge()
            return None
        price, awaited = self._price("price")
        list_price, _ = self._price("list_price")
        pack = self._number("pack")
        currency = self._text("currency") or self.mapping.currency
        if not is_currency(currency):
            self._note("currency", f"{WANTED_CURRENCY}; found {shown(currency)}")
        supplier = self._text("supplier") or self.mapping.supplier
        if not supplier:
            self._note("supplier", "wanted whose price it is; found nothing")
        priced_on = self._date("priced_on") or self.mapping.priced_on
        if (
            priced_on is None
            and self._cell("priced_on") is None
            and (price is not None or list_price is not None or awaited)
        ):
            self._note("priced_on", "wanted the day of the price; found nothing")
        return PriceLine(
            place=self._at,
            cell=self._row.cells[0].name,
            article=article,
            model=model,
            sold_as=self._text("sold_as"),
            price=price,
            list_price=list_price,
            awaited=awaited,
            pack=pack,
            currency=currency,
            supplier=supplier,
            priced_on=priced_on or datetime.date.min,
            valid_until=self._date("valid_until") or self.mapping.valid_until,
            reference=self._text("reference"),
            quantity=self._number("quantity"),
            lead_time_days=self._lead_time(),
            remark=self._text("remark"),
            places={name: self._row.place(n) for name, n in self._columns.items() if self._cell(name)},
        )

    def _lead_time(self) -> int | None:
        """Return the calendar days from order to delivery, None where the list does not say."""
        names: tuple[ListColumn, ...] = ("lead_time_days", "lead_time_weeks")
        for name in names:
            cell = self._cell(name)
            if cell is None:
                continue
            found = lead_time_in(cell, weeks=name == "lead_time_weeks")
            if found is None:
                wanted = f"calendar days or weeks, such as 42 or 6 weeks, at most {LONGEST_LEAD_TIME} days"
                self._note(name, f"wanted {wanted}; found {cell}")
            return found
        return None

    def _cell(self, name: ListColumn) -> Cell | None:
        n = self._columns.get(name)
        found = self._row.cells[n] if n is not None and n < len(self._row.cells) else None
        return None if found is None or found.sort == "nothing" else found

    def _note(self, name: ListColumn, message: str) -> None:
        head = self.mapping.columns.get(name, name)
        place = self._at if self._cell(name) is None else self._row.place(self._columns[name])
        self.problems.append(Problem(place, head, message))

    def _text(self, name: ListColumn) -> str:
        cell = self._cell(name)
        if cell is None:
            return ""
        if cell.sort not in ("text", "number"):
            self._note(name, f"wanted a text; found {cell}")
            return ""
        return cell.text.strip()

    def _price(self, name: ListColumn) -> tuple[Decimal | None, bool]:
        """Return a price, None where there is none, and whether it is still to come."""
        cell = self._cell(name)
        if cell is not None and cell.text.strip().casefold() in {
            one.casefold() for one in self.mapping.awaited
        }:
            return None, True
        found = self._number(name)
        if found is not None and found < 0:
            self._note(name, f"wanted a price that is not below 0; found {cell}")
        return found, False

    def _number(self, name: ListColumn) -> Decimal | None:
        cell = self._cell(name)
        if cell is None:
            return None
        value = number_in(cell, self._mark)
        if value is None:
            such_as = f"1234{self._mark}50"
            self._note(name, f"wanted a number such as {such_as}; found {cell}")
            return None
        if abs(value) > _LARGEST or (name == "pack" and value < _SMALLEST_PACK):
            least = _SMALLEST_PACK if name == "pack" else 0
            self._note(name, f"wanted a number from {least} to {_LARGEST:f}; found {cell}")
            return None
        return value

    def _date(self, name: ListColumn) -> datetime.date | None:
        cell = self._cell(name)
        if cell is None:
            return None
        found = day_in(cell, self._dates)
        if found is None:
            self._note(name, f"wanted a day as {self._dates[0]}; found {cell}")
        return found


def _heads_of(row: ListRow) -> dict[str, int]:
    """Return the texts of a row with their places; the first of those that are alike."""
    return {cell.text: n for n, cell in reversed([*enumerate(row.cells)]) if cell.text}


def _second(pair: tuple[str, int]) -> int:
    return pair[1]
