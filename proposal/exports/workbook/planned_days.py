"""Days of the programme as inputs: what a shifted phase costs only the program can plan, when they come back.

Spreadsheets count days from the end of 1899; an input of a day holds that number, shown as a date.
"""

import datetime
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.editions import Edition

DAY = "day"
_BEFORE_THE_FIRST = datetime.date(1899, 12, 30)
SAID = (
    "Days among the inputs shift the order, or what phases wait for. Nothing in this workbook moves with "
    "them: import plans the programme anew, and tells the new end and what overtime and general conditions "
    "by time come to. A phase without a day of its own is given one in project.yaml, under programme, dates."
)


def is_day(row: PriceInputRow) -> bool:
    """Say whether an input is a day."""
    return row.unit == DAY


def serial(day: datetime.date) -> Decimal:
    """Return a day as spreadsheets count it."""
    return Decimal((day - _BEFORE_THE_FIRST).days)


def day_of(value: Decimal) -> datetime.date | None:
    """Return the day that a number stands for; None where it is no whole number of a day that there is.

    value: as spreadsheets count days.
    """
    if value % 1 or not 1 <= value <= serial(datetime.date.max):
        return None
    return _BEFORE_THE_FIRST + datetime.timedelta(int(value))


def with_planned_days(edition: Edition) -> Edition:
    """Return an edition with the days of its programme among the inputs, where its price has any."""
    return replace(edition, document=planned_days(edition.document))


def planned_days(document: Document) -> Document:
    """Return a document with the days of its programme among the inputs.

    document: as its reader may see it; the same one where its price has no inputs.
    """
    if not document.price_inputs or any(map(is_day, document.price_inputs)):
        return document
    rows = (*document.price_inputs, *_rows(document))
    return document.model_copy(update={"price_inputs": rows})


def _rows(document: Document) -> Iterator[PriceInputRow]:
    plan = document.programme
    if plan is None:
        return
    told = "as assumed" if plan.order_assumed else ""
    days = [("programme.order", "day of the order", told, plan.start)]
    days += [
        (f"programme.dates.{one.key}.date", one.rule, f"{one.name}: {', '.join(one.phases)}", one.date)
        for one in plan.days_set
    ]
    for key, what, subject, day in days:
        yield PriceInputRow(
            key=key, what=what, subject=subject, value=serial(day), unit=DAY, per=Decimal(1), layer="project"
        )
