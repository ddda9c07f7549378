"""How locales write numbers, money, dates and times.

English of Ireland, the United Kingdom and the United States has a table of its own, so that what is written
in it stays the same whatever others release. Other locales are written as the installed
release of the Unicode locale data has them.
"""

import datetime
from decimal import Decimal
from functools import lru_cache
from typing import Protocol

from proposal.quantities.english_forms import ENGLISH


class LocaleForms(Protocol):
    """The forms of one locale. Numbers arrive rounded.

    value: what is written.
    places: decimal places shown.
    """

    def number(self, value: Decimal, places: int) -> str:
        """Return a number with its groups and all its decimal places."""

    def short_number(self, value: Decimal, places: int) -> str:
        """Return a number with its groups and at most so many decimal places, without trailing zeros."""

    def money(self, amount: Decimal, currency: str, places: int) -> str:
        """Return an amount with the sign of its currency, the code of ISO 4217 where it has none."""

    def date(self, value: datetime.date) -> str:
        """Return a date in words."""

    def short_date(self, value: datetime.date) -> str:
        """Return day and month without the year."""

    def weekday_date(self, value: datetime.date) -> str:
        """Return a date with its day of the week."""

    @property
    def cell_date(self) -> str:
        """The number format of dates in a spreadsheet."""

    def time_of_day(self, value: datetime.time) -> str:
        """Return hours and minutes."""


@lru_cache
def forms_of(locale: str) -> LocaleForms:
    """Return the forms of a locale.

    locale: such as `en_IE`, known to the Unicode locale data.
    """
    if locale in ENGLISH:
        return ENGLISH[locale]
    # Imported here: few proposals need it.
    from proposal.quantities.unicode_forms import UnicodeForms

    return UnicodeForms(locale)
