"""Rows of calculations, findings, assumptions and open questions."""

import datetime
from itertools import groupby
from typing import Annotated, ClassVar, TypeAlias

from pydantic import Field, model_validator

from proposal.document.schedule import ALL, CHECKERS, NOT_CLIENT, Row, Schedule, Shows, composed


class WorkingRow(Row):
    """A calculation with its numbers."""

    schedule: ClassVar = Schedule(
        "working",
        subject="checks",
        key=("chapter", "subject", "title"),
        shares_key=True,
        called=("{subject}: {title}",),
    )

    number: Annotated[str, Shows("number", CHECKERS, "tag", link="number", serial=True)] = Field(
        default="", description="Number, such as A101-W12."
    )
    chapter: Annotated[str, Shows("chapter", CHECKERS)] = Field(
        default="", description="Sizing, cabling, power."
    )
    subject: Annotated[str, Shows("of", CHECKERS, "tag", link="subject", follows=True)] = Field(
        default="", description="Tag or identity of what it is about."
    )
    title: Annotated[str, Shows("what", CHECKERS)] = Field(default="", description="What is calculated.")
    equation: Annotated[str, Shows("equation", CHECKERS, "code")] = Field(
        default="", description="Equation in symbols."
    )
    substituted: Annotated[str, Shows("numbers_put_in", CHECKERS, "code", follows=True)] = Field(
        default="", description="Equation with the numbers put in."
    )
    values: Annotated[
        tuple[tuple[str, str, float, str], ...],
        Shows("values", CHECKERS, ("text", "text", "figure", "unit"), follows=True),
    ] = Field(default=(), description="Symbol, meaning, number and unit of each value put in.")
    result: Annotated[float, Shows("result", CHECKERS, "figure", follows=True)] = Field(
        default=0.0, description="Result."
    )
    unit: Annotated[str, Shows("unit", CHECKERS, "unit")] = Field(
        default="", description="Unit of the result and its limit, of the project's units."
    )
    limit: Annotated[float | None, Shows("limit", CHECKERS, "figure", follows=True)] = Field(
        default=None, description="What the result is held against."
    )
    comparison: Annotated[str, Shows("compared", CHECKERS)] = Field(default="", description="≤ or ≥.")
    verdict: Annotated[str, Shows("verdict", CHECKERS, "verdict", empty="no_limit_set")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Where the rule stands."
    )
    assumptions: Annotated[
        tuple[str, ...],
        Shows("assumptions", CHECKERS, "tag", link="number", sorted=True, refers="assumptions"),
    ] = Field(default=(), description="Numbers of assumptions used.")
    questions: Annotated[
        tuple[str, ...],
        Shows("open_questions", CHECKERS, "tag", link="number", sorted=True, refers="questions"),
    ] = Field(default=(), description="Numbers of open questions used.")
    note: Annotated[str, Shows("note", CHECKERS)] = Field(
        default="", description="What else a reader should know."
    )

    @composed(Shows("limit", CHECKERS, ("text", "figure", "unit"), together=True, order="limit"))
    def bound(self) -> tuple[tuple[str, float, str], ...]:
        """What the result is held against, with the sign of the comparison."""
        return () if self.limit is None else ((self.comparison, self.limit, self.unit),)

    @composed(Shows("values", CHECKERS, ("text", "figure", "unit", "text"), together=True))
    def terms(self) -> tuple[tuple[str, tuple[float, ...], str, str], ...]:
        """Each value put in with its unit and what it means; the terms of one sum stand together."""
        found = []
        for (meaning, unit), group in groupby(self.values, key=lambda value: (value[1], value[3])):
            symbols, numbers = zip(*((symbol, number) for symbol, _, number, _ in group), strict=True)
            symbol = symbols[0] if len(symbols) == 1 else f"{symbols[0]} … {symbols[-1]}"
            found.append((f"{symbol} =", tuple(numbers), unit, f"({meaning})"))
        return tuple(found)


class FindingRow(Row):
    """What a careful reviewer would say."""

    schedule: ClassVar = Schedule(
        "finding", subject="price", key=("rule", "where"), called=("{where}", "{rule}")
    )

    number: Annotated[str, Shows("number", CHECKERS, "tag", link="number", serial=True)] = Field(
        default="", description="Number, such as A101-F3."
    )
    rule: Annotated[str, Shows("rule", CHECKERS, "code")] = Field(default="", description="Name of the rule.")
    severity: Annotated[str, Shows("severity", CHECKERS, "word")] = Field(
        default="", description="error, warning or note."
    )
    where: Annotated[str, Shows("where", CHECKERS, "tag", link="subject")] = Field(
        default="", description="Tag or identity."
    )
    place: Annotated[str, Shows("place_in_the_files", CHECKERS, "code", serial=True)] = Field(
        default="", description="File and line that caused it."
    )
    message: Annotated[str, Shows("what", CHECKERS)] = Field(default="", description="What is the matter.")
    value: Annotated[float | None, Shows("value", CHECKERS, "figure")] = Field(
        default=None, description="Value found."
    )
    limit: Annotated[float | None, Shows("limit", CHECKERS, "figure")] = Field(
        default=None, description="Limit."
    )
    unit: Annotated[str, Shows("unit", CHECKERS, "unit")] = Field(
        default="", description="Unit of value and limit."
    )
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Where the rule stands."
    )
    remedy: Annotated[str, Shows("what_would_fix_it", CHECKERS)] = Field(
        default="", description="What would fix it."
    )
    accepted: Annotated[str, Shows("accepted", CHECKERS)] = Field(
        default="", description="Reason, name and date where the designer accepts it."
    )

    @composed(Shows("severity", CHECKERS, "verdict", together=True, order="rank"))
    def standing(self) -> str:
        """Its severity, and whether it is accepted."""
        return f"accepted {self.severity}" if self.accepted else self.severity

    @composed(Shows("severity", CHECKERS, "number", drawn=True))
    def rank(self) -> int:
        """Place of its severity, errors first."""
        return _SEVERITIES.index(self.severity) if self.severity in _SEVERITIES else len(_SEVERITIES)


_SEVERITIES = ("error", "warning", "note")


class FindingCount(Row):
    """How many findings of each severity."""

    schedule: ClassVar = Schedule("finding_count", subject="checks")

    errors: Annotated[int, Shows("errors", ALL, "count")] = Field(description="Errors not accepted.")
    warnings: Annotated[int, Shows("warnings", ALL, "count")] = Field(description="Warnings not accepted.")
    notes: Annotated[int, Shows("notes", ALL, "count")] = Field(description="Notes not accepted.")
    accepted: Annotated[int, Shows("accepted_by_the_designer", ALL, "count")] = Field(
        description="Accepted by the designer."
    )


_Key: TypeAlias = Annotated[
    str,
    Shows("key", ALL, "tag", drawn=True),
    Field(
        description="Where the value is written in the project, by which it is known again however it is "
        "worded; its title in records of earlier programs."
    ),
]


def _with_key(cls: type, data: dict[str, object]) -> dict[str, object]:
    """Give a row of an earlier program the key that its path is, or its title where it had none."""
    return {"key": data.get("path") or data.get("title"), **data}


class AssumptionRow(Row):
    """A default that was taken because nothing was written."""

    schedule: ClassVar = Schedule(
        "assumption", subject="checks", key=("subject", "key"), called=("{subject}: {title}",)
    )

    number: Annotated[str, Shows("number", ALL, "tag", serial=True)] = Field(
        description="Number, such as cabling-A4."
    )
    title: Annotated[str, Shows("assumed", ALL)] = Field(description="What is assumed.")
    subject: Annotated[str, Shows("applies_to", ALL, "tag", link="subject")] = Field(
        description="What it applies to: project, building, kind of room or tag."
    )
    value: Annotated[float | str | bool | None, Shows("value", ALL, "by kind", empty="as_stated")] = Field(
        description="Value taken, SI where a quantity."
    )
    kind: Annotated[str, Shows("kind", ALL, "kind")] = Field(
        description="Kind of quantity, for its unit; empty where none."
    )
    source: Annotated[str, Shows("source", NOT_CLIENT)] = Field(
        default="", description="Where the default comes from."
    )
    foremost: Annotated[int, Shows("number", ALL, "number", serial=True, drawn=True)] = Field(
        default=0, description="Its place among the ten that matter most, from 1; 0 for the others."
    )
    in_words: Annotated[str, Shows("assumed_in_words", ALL)] = Field(
        default="",
        description="What is assumed with its value, as a client says it; else empty.",
    )
    path: Annotated[str, Shows("written_in", CHECKERS)] = Field(
        default="", description="Where the value would be written."
    )
    key: _Key = ""

    _has_a_key = model_validator(mode="before")(_with_key)

    @composed(Shows("assumed", ALL, together=True))
    def said(self) -> str:
        """What is assumed, as a client says it where somebody wrote that."""
        return self.in_words or self.title

    @composed(Shows("value", ALL, "by kind", together=True))
    def value_beside(self) -> float | str | bool | None:
        """The value where no words tell it."""
        return "" if self.in_words else self.value


class QuestionRow(Row):
    """A value that has to be found out."""

    schedule: ClassVar = Schedule(
        "question", subject="checks", key=("subject", "key"), called=("{subject}: {title}",)
    )

    number: Annotated[str, Shows("number", ALL, "tag", serial=True)] = Field(
        description="Number, such as Q2."
    )
    title: Annotated[str, Shows("to_be_found_out", ALL)] = Field(description="What has to be found out.")
    asked: Annotated[str, Shows("question", ALL)] = Field(
        default="", description="The question, in the words of a person who can answer it."
    )
    who: Annotated[str, Shows("who_answers", ALL)] = Field(default="", description="Who can answer it.")
    by: Annotated[datetime.date | None, Shows("by_when", ALL, "date", empty="with_the_order")] = Field(
        default=None, description="Day by which the answer is needed."
    )
    subject: Annotated[str, Shows("applies_to", ALL, "tag", link="subject")] = Field(
        description="What it applies to."
    )
    value: Annotated[
        float | str | bool | None, Shows("taken_meanwhile", ALL, "by kind", empty="nothing_counted_meanwhile")
    ] = Field(description="Value taken meanwhile.")
    kind: Annotated[str, Shows("kind", ALL, "kind")] = Field(
        description="Kind of quantity, for its unit; empty where none."
    )
    used_by: Annotated[
        tuple[str, ...],
        Shows("used_by", CHECKERS, "tag", link="number", sorted=True, refers="workings", most=3),
    ] = Field(default=(), description="Numbers of workings that use it.")
    place: Annotated[str, Shows("place_in_the_files", CHECKERS, serial=True)] = Field(
        default="", description="File and line."
    )
    key: _Key = ""

    _has_a_key = model_validator(mode="before")(_with_key)
