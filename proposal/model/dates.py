"""Dates as a person writes them."""

import datetime
import re
from typing import Annotated, Any

from pydantic import BeforeValidator

from proposal.model.messages import refusal, shape, shown

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
        return datetime.date.fromisoformat(text if _DATE.fullmatch(text) else "")
    except ValueError:
        raise refusal(wanted, shown(value)) from None


Date = Annotated[datetime.date, BeforeValidator(_read_date)]
