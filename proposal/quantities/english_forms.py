"""Numbers, money, dates and times in English, as readers of three countries write them."""

import datetime
from collections.abc import Mapping
from decimal import Decimal

from proposal.field_classes import dataclass

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
# A sign that is another country's too has letters before it; currencies without a sign of their own show
# their codes.
_SIGNS: Mapping[str, str] = {
    "AUD": "A$",
    "BRL": "R$",
    "CAD": "CA$",
    "CNY": "CN¥",
    "EUR": "€",
    "GBP": "£",
    "HKD": "HK$",
    "ILS": "₪",
    "INR": "₹",
    "JPY": "JP¥",
    "KRW": "₩",
    "MXN": "MX$",
    "NZD": "NZ$",
    "PHP": "₱",
    "TWD": "NT$",
    "USD": "US$",
    "VND": "₫",
    "XAF": "FCFA",
    "XCD": "EC$",
    "XCG": "Cg.",
    "XOF": "F\N{NARROW NO-BREAK SPACE}CFA",
    "XPF": "CFPF",
}
_SEPTEMBER = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class English:
    """English of one country.

    own_signs: signs of currencies that readers there take for one without letters before it.
    month_first: whether the month stands before the day.
    september: its short form.
    after_weekday: what follows the day of the week.
    half_days: whether hours are counted to twelve twice.

    Its methods write a `value`, which arrives rounded, with as many decimal `places` as they are given.
    """

    own_signs: Mapping[str, str]
    month_first: bool
    september: str
    after_weekday: str
    half_days: bool

    def number(self, value: Decimal, places: int) -> str:
        """Return a number with its groups and all its decimal places, `1,234.50`."""
        return f"{value:,.{places}f}"

    def short_number(self, value: Decimal, places: int) -> str:
        """Return a number without trailing zeros, `0.6` or `12`."""
        written = f"{value:,.{places}f}"
        return written.rstrip("0").rstrip(".") if "." in written else written

    def money(self, amount: Decimal, currency: str, places: int) -> str:
        """Return an amount with the sign of its currency, `€1,234.50`."""
        sign = self.own_signs.get(currency) or _SIGNS.get(currency, currency)
        minus = "-" if amount < 0 else ""
        return f"{minus}{sign}{abs(amount):,.{places}f}"

    def date(self, value: datetime.date) -> str:
        """Return a date in words, `2 March 2026`."""
        month = _MONTHS[value.month - 1]
        return (
            f"{month} {value.day}, {value.year}" if self.month_first else f"{value.day} {month} {value.year}"
        )

    def short_date(self, value: datetime.date) -> str:
        """Return day and month without the year, `2 Mar`."""
        month = self.september if value.month == _SEPTEMBER else _MONTHS[value.month - 1][:3]
        return f"{month} {value.day}" if self.month_first else f"{value.day} {month}"

    def weekday_date(self, value: datetime.date) -> str:
        """Return a date with its day of the week, `Mon 2 Mar 2026`."""
        year = f", {value.year}" if self.month_first else f" {value.year}"
        return f"{_DAYS[value.weekday()]}{self.after_weekday}{self.short_date(value)}{year}"

    @property
    def cell_date(self) -> str:
        """The number format of dates in a spreadsheet, `d mmm yyyy`."""
        return "mmm d, yyyy" if self.month_first else "d mmm yyyy"

    def time_of_day(self, value: datetime.time) -> str:
        """Return hours and minutes, `09:30`."""
        if not self.half_days:
            return f"{value.hour:02}:{value.minute:02}"
        half = "AM" if value.hour < 12 else "PM"
        return f"{value.hour % 12 or 12}:{value.minute:02}\N{NARROW NO-BREAK SPACE}{half}"


ENGLISH: Mapping[str, English] = {
    "en_GB": English(own_signs={}, month_first=False, september="Sept", after_weekday=", ", half_days=False),
    "en_IE": English(own_signs={}, month_first=False, september="Sept", after_weekday=" ", half_days=False),
    "en_US": English(
        own_signs={"USD": "$", "JPY": "¥"},
        month_first=True,
        september="Sep",
        after_weekday=", ",
        half_days=True,
    ),
}
