"""Rows of what the client asks for: each requirement, what answers it, and how many are met."""

import datetime
from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, BUYERS, NOT_CLIENT, Row, Schedule, Shows, composed


class RequirementRow(Row):
    """One requirement of the client."""

    schedule: ClassVar = Schedule("requirement", subject="terms", key=("tag",))

    tag: Annotated[str, Shows("requirement", ALL, "tag", link="tag")] = Field(
        description="Tag of the requirement, such as R-014."
    )
    document: Annotated[str, Shows("said_in", ALL)] = Field(description="Document in which it is said.")
    clause: Annotated[str, Shows("clause", ALL)] = Field(description="Clause or page of that document.")
    text: Annotated[str, Shows("in_the_clients_words", ALL)] = Field(description="The client's own words.")
    verdict: Annotated[str, Shows("verdict", ALL, "verdict", words="verdict")] = Field(
        description="met, stated, by others, met in part, open or not met: the worst of its answers."
    )


class RequirementAnswerRow(Row):
    """One answer to a requirement, and what came of it."""

    schedule: ClassVar = Schedule(
        "requirement_answer",
        subject="terms",
        key=("requirement", "number"),
        called=("{requirement}", "{number}"),
    )

    requirement: Annotated[str, Shows("requirement", ALL, "tag", link="tag")] = Field(
        description="Tag of the requirement."
    )
    number: Annotated[int, Shows("number", ALL, "number")] = Field(
        description="Which of its answers it is, from 1."
    )
    sort: Annotated[str, Shows("answered_by", ALL, "word")] = Field(
        description="Sort of answer: count, figure, check, connection, price, date, term, cable, statement."
    )
    about: Annotated[str, Shows("what", ALL)] = Field(description="What was looked at.")
    where: Annotated[str, Shows("where", ALL, "tag", link="room")] = Field(
        default="", description="Tag of the room that it is about; empty for all."
    )
    comparison: Annotated[str, Shows("compared", ALL, "word")] = Field(
        default="", description="at least or at most."
    )
    limit: Annotated[float | None, Shows("limit", ALL, "by kind")] = Field(
        default=None, description="Limit of the figure, SI."
    )
    value: Annotated[float | None, Shows("value", ALL, "by kind")] = Field(
        default=None, description="Figure found, SI."
    )
    kind: Annotated[str, Shows("kind", ALL, "kind")] = Field(
        default="", description="Kind of quantity of both; empty for a number."
    )
    limit_date: Annotated[datetime.date | None, Shows("last_day", ALL, "date")] = Field(
        default=None, description="Last day allowed."
    )
    date: Annotated[datetime.date | None, Shows("date", ALL, "date")] = Field(
        default=None, description="Day found."
    )
    limit_amount: Annotated[Decimal | None, Shows("limit_of_the_sum", BUYERS, "money", subject="price")] = (
        Field(default=None, description="Limit of the sum, in the project's currency.")
    )
    amount: Annotated[Decimal | None, Shows("sum_found", BUYERS, "money", subject="price")] = Field(
        default=None, description="Sum found."
    )
    wanted: Annotated[str, Shows("wanted", ALL)] = Field(
        default="", description="What is wanted, where it is no figure, day or sum."
    )
    found: Annotated[str, Shows("found", ALL)] = Field(
        default="", description="What was found, or what is stated."
    )
    at: Annotated[str, Shows("decided_by", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag or identity of what has the worst figure."
    )
    stated_by: Annotated[str, Shows("stated_by", ALL)] = Field(default="", description="Who states it.")
    stated_on: Annotated[datetime.date | None, Shows("stated_on", ALL, "date")] = Field(
        default=None, description="When it was stated."
    )
    nothing: Annotated[str, Shows("what_is_missing", ALL)] = Field(
        default="", description="Why nothing answers it; empty where something does."
    )
    verdict: Annotated[str, Shows("verdict", ALL, "verdict", words="verdict")] = Field(
        description="What this answer says of the requirement."
    )

    @composed(Shows("wanted", ALL, ("word", "by kind", "kind"), together=True, order="limit"))
    def bound(self) -> tuple[tuple[str, float, str], ...]:
        """Limit of the figure, with how it is compared."""
        return () if self.limit is None else ((self.comparison, self.limit, self.kind),)


class RequirementCount(Row):
    """How many requirements there are of each verdict."""

    schedule: ClassVar = Schedule("requirement_count", subject="terms")

    all: Annotated[int, Shows("requirements", ALL, "count")] = Field(description="All requirements.")
    met: Annotated[int, Shows("met", ALL, "count")] = Field(description="Met, as figures show.")
    stated: Annotated[int, Shows("promised_by_us", ALL, "count")] = Field(
        description="Promised to be met, in words."
    )
    by_others: Annotated[int, Shows("by_others", ALL, "count")] = Field(description="Met by others.")
    met_in_part: Annotated[int, Shows("met_in_part", ALL, "count")] = Field(description="Met in part.")
    open: Annotated[int, Shows("still_open", ALL, "count")] = Field(description="Open.")
    not_met: Annotated[int, Shows("not_met", ALL, "count")] = Field(description="Not met.")


def requirement_count(rows: Sequence[RequirementRow]) -> RequirementCount | None:
    """Return how many requirements there are of each verdict; None where there are none."""
    if not rows:
        return None
    of = Counter(row.verdict for row in rows)
    return RequirementCount(
        all=len(rows),
        met=of["met"],
        stated=of["stated"],
        by_others=of["by others"],
        met_in_part=of["met in part"],
        open=of["open"],
        not_met=of["not met"],
    )
