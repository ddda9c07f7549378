"""Price lists of suppliers, CSV or a sheet of a workbook, read line by line by a mapping."""

import csv
import datetime
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import get_args

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.imports.xlsx_sheets import MOST_ROWS, Cell, sheets_of
from proposal.model.price.price_list import Encoding, ListColumn, PriceListMapping
from proposal.model.reading.text_files import text_of
from proposal.quantities.currencies import is_currency
from proposal.quantities.messages import nearest, shown
from proposal.quantities.money import WANTED_CURRENCY

_ZIP = b"PK\x03\x04"
_SAID = re.compile(r"(sep=(?P<delimiter>[;,\t|]))\r?\n", re.IGNORECASE)
_DELIMITERS = (";", ",", "\t", "|")
_NUMBER = {
    ".": re.compile(r"[+-]?(?:[0-9]{1,12}|[0-9]{1,3}(?:[, '\u2019\u00a0][0-9]{3})+)(?:\.[0-9]+)?"),
    ",": re.compile(r"[+-]?(?:[0-9]{1,12}|[0-9]{1,3}(?:[. '\u2019\u00a0][0-9]{3})+)(?:,[0-9]+)?"),
}
_DATES = {
    "YYYY-MM-DD": re.compile(r"(?P<year>[0-9]{4})-(?P<month>[0-9]{1,2})-(?P<day>[0-9]{1,2})"),
    "DD.MM.YYYY": re.compile(r"(?P<day>[0-9]{1,2})\.(?P<month>[0-9]{1,2})\.(?P<year>[0-9]{4})"),
    "DD/MM/YYYY": re.compile(r"(?P<day>[0-9]{1,2})/(?P<month>[0-9]{1,2})/(?P<year>[0-9]{4})"),
    "MM/DD/YYYY": re.compile(r"(?P<month>[0-9]{1,2})/(?P<day>[0-9]{1,2})/(?P<year>[0-9]{4})"),
}
_LARGEST = Decimal(10) ** 9


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceLine:
    """One line of a price list.

    place, cell: where it stands.  article, model: as the list says, empty where it does not.
    sold_as: what the price is for, where the list says.
    price, list_price: of `pack` pieces or metres, or of one unit of the library where the list tells no
        pack; None where there is none.
    awaited: whether the price is still to come.
    valid_until: last day of the price, None where it holds.
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


def read_price_list(
    data: bytes, file: str, mapping: PriceListMapping, heads: Mapping[str, Place] | None = None
) -> tuple[PriceLine, ...]:
    """Return the lines of a price list; lines that hold nothing are left out.

    data: of the file.  file: as messages name it.
    heads: where the mapping names the head of each column, if it is written.
    Raises InputError with every line that cannot be read.
    """
    rows = _of_workbook(data, file, mapping) if data.startswith(_ZIP) else _of_csv(data, file, mapping)
    reading = _Reading(file, mapping, data.startswith(_ZIP), heads or {})
    found = tuple(reading.lines(rows))
    if reading.problems:
        raise InputError(reading.problems)
    return found


def _of_workbook(data: bytes, file: str, mapping: PriceListMapping) -> Sequence[tuple[int, Sequence[Cell]]]:
    sheets = sheets_of(data, file, [mapping.sheet] if mapping.sheet else None)
    if not sheets:
        message = f"wanted a sheet named {shown(mapping.sheet)}; found none"
        raise InputError([Problem(Place(file), "", message)])
    rows = next(iter(sheets.values()))
    return [(int(re.sub(r"[A-Z]", "", row[0].name)), row) for row in rows]


def _of_csv(data: bytes, file: str, mapping: PriceListMapping) -> Sequence[tuple[int, Sequence[Cell]]]:
    problems: list[Problem] = []
    text = text_of(_in_utf8(data, file, mapping.encoding), file, problems)
    if text is None:
        raise InputError([_with_encodings(one) for one in problems])
    said = _SAID.match(text)
    if said:
        # Some programs write the delimiter on a line of its own first; lines keep their numbers.
        text = text[said.end(1) :]
    head = text.lstrip("\r\n").split("\n", 1)[0]
    delimiter = said["delimiter"] if said else max(_DELIMITERS, key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found: list[tuple[int, Sequence[Cell]]] = []
    try:
        for row in reader:
            number = reader.line_num
            cells = tuple(
                Cell("", "text" if one.strip() else "nothing", one.strip().removeprefix("'")) for one in row
            )
            if any(one.text for one in cells):
                found.append((number, cells))
            if len(found) > MOST_ROWS:
                message = f"wanted at most {MOST_ROWS} lines in a price list; found more"
                raise InputError([Problem(Place(file), "", message)])
    except csv.Error as error:
        place = Place(file, reader.line_num, 1)
        raise InputError([Problem(place, "", f"wanted correct CSV; found {shown(str(error))}")]) from None
    return found


def _in_utf8(data: bytes, file: str, encoding: Encoding) -> bytes:
    """Return a CSV file in UTF-8; raises InputError where it is not written as the mapping says."""
    if encoding == "UTF-8":
        return data
    try:
        return data.decode(encoding).encode("utf-8")
    except UnicodeError:
        message = f"wanted a text in {encoding}, as the mapping says; found another encoding"
        raise InputError([Problem(Place(file), "encoding", message)]) from None


def _with_encodings(problem: Problem) -> Problem:
    """Return what is wrong with a text, with what a mapping can say where it is not in UTF-8."""
    if not problem.message.startswith("wanted a text in UTF-8"):
        return problem
    others = " or ".join(one for one in get_args(Encoding) if one != "UTF-8")
    return replace(problem, message=f"{problem.message} (a mapping may say `encoding:` {others})")


class _Reading:
    """The lines as they are read, and what is wrong with them."""

    def __init__(
        self, file: str, mapping: PriceListMapping, is_book: bool, heads: Mapping[str, Place]
    ) -> None:
        self._heads = heads
        self.file, self.mapping, self.is_book = file, mapping, is_book
        self.problems: list[Problem] = []
        self._columns: Mapping[ListColumn, int] = {}
        self._at = Place(file)
        self._cells: Sequence[Cell] = ()

    def lines(self, rows: Sequence[tuple[int, Sequence[Cell]]]) -> Iterator[PriceLine]:
        if not rows:
            self.problems.append(Problem(self._at, "", "wanted heads and lines; found an empty list"))
            return
        heads = {cell.text: n for n, cell in reversed([*enumerate(rows[0][1])]) if cell.text}
        missing = {name: head for name, head in self.mapping.columns.items() if head not in heads}
        for name, head in missing.items():
            near = nearest(head, heads)
            meant = f" (did you mean {near}?)" if near else ""
            here = Place(self.file, rows[0][0], 1)
            where = self._heads.get(name)
            message = f"wanted a column {shown(head)}; found none{meant}"
            if where is not None:
                message = f"wanted a head of {here}; found {shown(head)}{meant}"
            self.problems.append(Problem(where or here, f"columns.{name}" if where else name, message))
        if missing:
            return
        self._columns = {name: heads[head] for name, head in self.mapping.columns.items()}
        for number, cells in rows[1:]:
            self._at, self._cells = Place(self.file, number, 1), cells
            before = len(self.problems)
            found = self._line()
            if found is not None and len(self.problems) == before:
                yield found

    def _line(self) -> PriceLine | None:
        article, model = self._text("article"), self._text("model")
        if not article and not model:
            return None  # a heading between lines, or a sum below them
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
            cell=self._cells[0].name,
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
        )

    def _cell(self, name: ListColumn) -> Cell | None:
        n = self._columns.get(name)
        found = self._cells[n] if n is not None and n < len(self._cells) else None
        return None if found is None or found.sort == "nothing" else found

    def _note(self, name: ListColumn, message: str) -> None:
        head = self.mapping.columns.get(name, name)
        self.problems.append(Problem(self._at, head, message))

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
        value: Decimal | None = None
        if cell.sort == "number":
            value = cell.number
        elif cell.sort == "text":
            text = re.sub(r"^[A-Z]{3} *| *[A-Z]{3}$", "", cell.text.strip())
            if _NUMBER[self.mapping.decimal_mark].fullmatch(text):
                mark = self.mapping.decimal_mark
                whole, _, decimals = text.partition(mark)
                value = Decimal(re.sub(r"[^0-9+-]", "", whole) + ("." + decimals if decimals else ""))
        if value is None:
            such_as = f"1234{self.mapping.decimal_mark}50"
            self._note(name, f"wanted a number such as {such_as}; found {cell}")
            return None
        if abs(value) > _LARGEST or (name == "pack" and value <= 0):
            self._note(name, f"wanted a number above 0 and below {_LARGEST:f}; found {cell}")
            return None
        return value

    def _date(self, name: ListColumn) -> datetime.date | None:
        cell = self._cell(name)
        if cell is None:
            return None
        form = "YYYY-MM-DD" if cell.sort == "date" else self.mapping.dates
        found = _DATES[form].fullmatch(cell.text.strip()) if cell.sort in ("text", "date") else None
        if found is not None:
            try:
                return datetime.date(int(found["year"]), int(found["month"]), int(found["day"]))
            except ValueError:
                pass
        self._note(name, f"wanted a day as {form}; found {cell}")
        return None
