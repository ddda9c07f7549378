"""Numbers, money, dates and times as the Unicode locale data has them (CLDR, by way of Babel)."""

import datetime
from copy import copy
from decimal import Decimal

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time
from babel.numbers import format_decimal


class UnicodeForms:
    """The forms of one locale.

    Its methods write a `value`, which arrives rounded, with as many decimal `places` as they are given.
    """

    def __init__(self, locale: str) -> None:
        """Take the data of a locale, such as `de_CH`, of the release that is installed."""
        self._locale = Locale.parse(locale.replace("-", "_"))
        latin = self._locale.number_symbols["latn"]
        if latin["group"] == "'":
            # Babel takes two of them for quotation signs and drops both; the typographic sign is the same.
            latin["group"] = "’"

    def number(self, value: Decimal, places: int) -> str:
        """Return a number with its groups and all its decimal places."""
        return self._decimal(value, "#,##0" + ("." + "0" * places if places else ""))

    def short_number(self, value: Decimal, places: int) -> str:
        """Return a number without trailing zeros."""
        return self._decimal(value, "#,##0" + ("." + "#" * places if places else ""))

    def money(self, amount: Decimal, currency: str, places: int) -> str:
        """Return an amount with the sign of its currency."""
        # The locale says where signs stand and how digits are grouped, never how many places there are.
        pattern = copy(self._locale.currency_formats["standard"])
        pattern.frac_prec = (places, places)
        shown: str = pattern.apply(amount, self._locale, currency=currency, currency_digits=False)
        return shown

    def date(self, value: datetime.date) -> str:
        """Return a date in words."""
        shown: str = format_date(value, format="long", locale=self._locale)
        return shown

    def short_date(self, value: datetime.date) -> str:
        """Return day and month without the year."""
        return self._skeleton(value, "MMMd")

    def weekday_date(self, value: datetime.date) -> str:
        """Return a date with its day of the week."""
        return self._skeleton(value, "yMMMEd")

    @property
    def cell_date(self) -> str:
        """The number format of dates in a spreadsheet, in figures that no language writes otherwise."""
        return "yyyy-mm-dd"

    def time_of_day(self, value: datetime.time) -> str:
        """Return hours and minutes."""
        shown: str = format_time(value, format="short", locale=self._locale)
        return shown

    def _decimal(self, value: Decimal, pattern: str) -> str:
        shown: str = format_decimal(value, format=pattern, locale=self._locale)
        return shown

    def _skeleton(self, value: datetime.date, skeleton: str) -> str:
        shown: str = format_skeleton(skeleton, value, locale=self._locale)
        return shown
