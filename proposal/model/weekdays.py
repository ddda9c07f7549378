"""Days of the week as people write them, and which of the month they are."""

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, WithJsonSchema

from proposal.quantities.messages import refusal, shown

Weekday = Literal["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]
WEEKDAYS: tuple[Weekday, ...] = (
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
)
_SHORTEST = 3
_RUN = re.compile(r"([A-Za-z]+)(?:\s*(?:-|–|to)\s*([A-Za-z]+))?")


def _weekday(name: str) -> int | None:
    """Return which day of the week a name or its beginning means, from 0 for Monday; None for no day."""
    found = [n for n, day in enumerate(WEEKDAYS) if day.lower().startswith(name.lower())]
    return found[0] if len(name) >= _SHORTEST and len(found) == 1 else None


def _read_weekdays(value: Any) -> Any:
    """Return the days of the week that a list or a short form means: `Sat`, `Mon-Fri`, `Tue, Thu`."""
    parts = value.split(",") if isinstance(value, str) else value
    if not isinstance(parts, list | tuple) or not all(isinstance(part, str) for part in parts):
        return value
    days: set[int] = set()
    for part in parts:
        run = _RUN.fullmatch(part.strip())
        first = _weekday(run[1]) if run else None
        last = first if run is None or run[2] is None else _weekday(run[2])
        if first is None or last is None:
            if part.strip().lower().split(" ")[0] in WEEKS:
                raise refusal("days of the week alone, such as `days: Mon, weeks: second`", shown(part))
            raise refusal("days of the week, such as `Mon-Fri`, `Sat` or `[Tuesday, Thursday]`", shown(part))
        days |= {(first + n) % 7 for n in range((last - first) % 7 + 1)}
    return tuple(WEEKDAYS[day] for day in sorted(days))


Weekdays = Annotated[
    tuple[Weekday, ...],
    BeforeValidator(_read_weekdays),
    WithJsonSchema(
        {
            "description": "Days of the week: Mon-Fri, Sat, or a list of days.",
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}],
        },
        mode="validation",
    ),
]
"""Days of the week in their order, as a list or in a short form."""

Week = Literal["first", "second", "third", "fourth", "last"]
WEEKS: tuple[Week, ...] = ("first", "second", "third", "fourth", "last")


def _read_weeks(value: Any) -> Any:
    """Return which days of the month a list or a short form means: `second`, `first, third`."""
    parts = value.split(",") if isinstance(value, str) else value
    if not isinstance(parts, list | tuple) or not all(isinstance(part, str) for part in parts):
        return value
    for part in parts:
        if part.strip().lower() not in WEEKS:
            raise refusal(
                "which of the month, `first` to `fourth` or `last`, such as `second` or `[first, third]`",
                shown(part),
            )
    found = {part.strip().lower() for part in parts}
    return tuple(week for week in WEEKS if week in found)


Weeks = Annotated[
    tuple[Week, ...],
    BeforeValidator(_read_weeks),
    WithJsonSchema(
        {
            "description": "Which ones of the month: second, or a list such as first, third.",
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}],
        },
        mode="validation",
    ),
]
"""Which ones of a month days of the week are, in their order."""


def weekdays_in_words(days: tuple[Weekday, ...], weeks: tuple[Week, ...]) -> str:
    """Return days that come again in words: `every Tuesday`, `the second Monday of the month`.

    days: of the week.  weeks: which ones of the month; every one where empty.
    """
    named = _listed(days)
    return f"the {_listed(weeks)} {named} of the month" if weeks else f"every {named}"


_NAME = "(?:" + "|".join(f"{day[:3]}(?:{day[3:]}|[a-z]{{0,3}})" for day in WEEKDAYS) + r")\b\.?"
_NAMED = re.compile(
    rf"(?:every\s+)?({_NAME}(?:\s*(?:-|–|,\s*and|,|and|to|through)\s*{_NAME})*)\s*,?", re.IGNORECASE
)
_BETWEEN = re.compile(r"\s*(?:,\s*and\b|,|\band\b)\s*", re.IGNORECASE)


def with_weekdays_alike(text: str) -> str:
    """Return a text with its days of the week in one form, however people write them.

    `Mon-Fri`, `Monday to Friday` and `every Monday, Tuesday, Wednesday, Thursday and Friday,` are alike.
    """

    def alike(found: re.Match[str]) -> str:
        parts = [part.replace("through", "to").replace(".", "") for part in _BETWEEN.split(found[1]) if part]
        try:
            return "/".join(_read_weekdays(parts)) + " "
        except ValueError:
            return found[0]

    return _NAMED.sub(alike, text)


def _listed(words: tuple[str, ...]) -> str:
    return " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else words[0]
