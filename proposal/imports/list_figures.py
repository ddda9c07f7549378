"""Numbers, days and lead times as suppliers write them in the cells of a price list or quote."""

import datetime
import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Literal

from proposal.imports.xlsx_sheets import Cell
from proposal.model.price.price_list import DateForm

DecimalMark = Literal[".", ","]
_NUMBER: dict[DecimalMark, re.Pattern[str]] = {
    ".": re.compile(r"[+-]?(?:[0-9]{1,12}|[0-9]{1,3}(?:[, '\u2019\u00a0][0-9]{3})+)(?:\.[0-9]{1,20})?"),
    ",": re.compile(r"[+-]?(?:[0-9]{1,12}|[0-9]{1,3}(?:[. '\u2019\u00a0][0-9]{3})+)(?:,[0-9]{1,20})?"),
}
_CURRENCY = re.compile(r"^[A-Z]{3} *| *[A-Z]{3}$")
_WITH_COMMA = re.compile(r"[+-]?[0-9. '\u2019\u00a0]*,(?:[0-9]{1,2}|[0-9]{4,20})")
_DATES: dict[DateForm, re.Pattern[str]] = {
    "YYYY-MM-DD": re.compile(r"(?P<year>[0-9]{4})-(?P<month>[0-9]{1,2})-(?P<day>[0-9]{1,2})"),
    "DD.MM.YYYY": re.compile(r"(?P<day>[0-9]{1,2})\.(?P<month>[0-9]{1,2})\.(?P<year>[0-9]{4})"),
    "DD/MM/YYYY": re.compile(r"(?P<day>[0-9]{1,2})/(?P<month>[0-9]{1,2})/(?P<year>[0-9]{4})"),
    "MM/DD/YYYY": re.compile(r"(?P<month>[0-9]{1,2})/(?P<day>[0-9]{1,2})/(?P<year>[0-9]{4})"),
}
_LEAD_TIME = re.compile(
    r"(?:[0-9]{1,4} *(?:-|\u2013|to) *)?(?P<longest>[0-9]{1,4}) *(?P<unit>days?|weeks?|d|w|wks?)?",
    re.IGNORECASE,
)
LONGEST_LEAD_TIME = 3650


def number_in(cell: Cell, mark: DecimalMark) -> Decimal | None:
    """Return the number of a cell, with or without a currency beside it; None where it holds none.

    mark: before the decimals of a number that is written as text.
    """
    if cell.sort == "number":
        return cell.number
    if cell.sort != "text":
        return None
    text = _CURRENCY.sub("", cell.text.strip())
    if not _NUMBER[mark].fullmatch(text):
        return None
    whole, _, decimals = text.partition(mark)
    return Decimal(re.sub(r"[^0-9+-]", "", whole) + ("." + decimals if decimals else ""))


def mark_of(cells: Iterable[Cell]) -> DecimalMark:
    """Return the sign before decimals in a list that separates its columns by another sign than a comma.

    cells: that hold its numbers. A comma before three digits alone may be either sign, and settles nothing.
    """
    texts = (_CURRENCY.sub("", one.text.strip()) for one in cells if one.sort == "text")
    return "," if any(_WITH_COMMA.fullmatch(text) for text in texts) else "."


def day_in(cell: Cell, forms: Iterable[DateForm]) -> datetime.date | None:
    """Return the day of a cell, None where it holds none.

    forms: in which days may be written as text.
    """
    for form in ("YYYY-MM-DD",) if cell.sort == "date" else tuple(forms):
        found = _DATES[form].fullmatch(cell.text.strip()) if cell.sort in ("text", "date") else None
        if found is not None:
            try:
                return datetime.date(int(found["year"]), int(found["month"]), int(found["day"]))
            except ValueError:
                continue
    return None


def lead_time_in(cell: Cell, *, weeks: bool) -> int | None:
    """Return a lead time in calendar days, the longest where a span is given; None where it holds none.

    weeks: whether a number alone is of weeks, and not of days.
    """
    if cell.sort not in ("number", "text"):
        return None
    text = cell.text.strip()
    if cell.sort == "number" and Decimal(f"{cell.number:.0f}") == cell.number:
        text = f"{cell.number:.0f}"
    found = _LEAD_TIME.fullmatch(text)
    if found is None:
        return None
    unit = (found["unit"] or ("weeks" if weeks else "days")).casefold()
    days = int(found["longest"]) * (7 if unit.startswith("w") else 1)
    return days if days <= LONGEST_LEAD_TIME else None
