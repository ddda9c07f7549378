"""Dates as a person writes them."""

import datetime
import re
from typing import Annotated, Any

from pydantic import BeforeValidator

from proposal.quantities.messages import refusal, shape, shown

FIRST_YEAR, LAST_YEAR = 1900, 2099
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def _read_date(value: Any) -> Any:
    """Return the date a text means; seconds since 1970, which pydantic takes too, are refused."""
    wanted = "a date, such as 2031-04-15"
    if isinstance(value, datetime.date):
        return value
    if not isinstance(value, str):
        raise refusal(wanted, shape(value))
    text = value.strip()
    try:
        date = datetime.date.fromisoformat(text if _DATE.fullmatch(text) else "")
    except ValueError:
        if _DATE.fullmatch(text):
            raise refusal("a day that the calendar has, such as 2031-04-15", shown(value)) from None
        raise refusal(wanted, shown(value)) from None
    # Days are counted on from here, and archives count seconds that end in 2106.
    if not FIRST_YEAR <= date.year <= LAST_YEAR:
        raise refusal(f"a date of the years {FIRST_YEAR} to {LAST_YEAR}, such as 2031-04-15", shown(value))
    return date


Date = Annotated[datetime.date, BeforeValidator(_read_date)]
