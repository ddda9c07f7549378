"""What came of an answer to a requirement, and what it was computed from."""

import datetime
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Literal, Protocol

from proposal.design.design import Design
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule

if TYPE_CHECKING:
    from proposal.estimate.labour.labour import LabourEstimate
    from proposal.estimate.price.price import PriceEstimate
    from proposal.estimate.programme.programme import ProgrammePlan

Verdict = Literal["met", "stated", "by others", "met in part", "open", "not met"]
VERDICTS: tuple[Verdict, ...] = ("met", "stated", "by others", "met in part", "open", "not met")
"""Verdicts, the worst last."""


class Evidence(Protocol):
    """What answers are computed from; labour, price and programme are made when they are asked for."""

    @property
    def project(self) -> Project:
        """What people have written."""

    @property
    def design(self) -> Design:
        """What follows from it."""

    @property
    def found(self) -> Mapping[Rule, tuple[Finding, ...]]:
        """What each rule of the review finds in it."""

    @property
    def labour(self) -> "LabourEstimate":
        """The hours that the design takes."""

    @property
    def price(self) -> "PriceEstimate":
        """The price of the design."""

    @property
    def programme(self) -> "ProgrammePlan":
        """When the work is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What came of one answer.

    about: what was looked at, in words, such as `microphones`.
    verdict: what it says of the requirement.
    value, limit, kind: figure found, its limit, and the kind of quantity of both, SI; None without one.
    comparison: `at least` or `at most`; empty where nothing is compared.
    date, limit_date: day found and last day allowed.
    amount, limit_amount: sum found and its limit, in the project's currency.
    found, wanted: what is compared in words, where it is no figure, day or sum.
    where: tag of the room that it is about; at: tag or identity of what decides; empty for all.
    nothing: why nothing answers it; empty where something does.
    """

    about: str
    verdict: Verdict
    value: float | None = None
    limit: float | None = None
    kind: str = ""
    comparison: str = ""
    date: datetime.date | None = None
    limit_date: datetime.date | None = None
    amount: Decimal | None = None
    limit_amount: Decimal | None = None
    found: str = ""
    wanted: str = ""
    where: str = ""
    at: str = ""
    nothing: str = ""


def unanswered(about: str, why: str, where: str = "") -> Answered:
    """Return what came of an answer that names nothing that exists.

    about: what was to be looked at, in words.  why: what is missing, as a sentence without its stop.
    where: tag of the room that it is about, empty for all.
    """
    return Answered(about=about, verdict="open", where=where, nothing=why)


def compared(value: float, least: float | None, most: float | None) -> tuple[Verdict, str, float]:
    """Return verdict, comparison and limit of a figure that has one limit.

    value, least, most: in one unit; one of the limits is None.
    """
    limit = most if least is None else least
    assert limit is not None
    # Sums of lengths that should meet a limit exactly miss it by less than this share.
    noise = 1e-9 * max(abs(limit), 1e-3)
    holds = value >= limit - noise if least is not None else value <= limit + noise
    return ("met" if holds else "not met"), ("at least" if least is not None else "at most"), limit


def worst(verdicts: Sequence[Verdict]) -> Verdict:
    """Return the worst of several verdicts; open where there is none."""
    return max(verdicts, key=VERDICTS.index, default="open")


def rooms_of(evidence: Evidence, room: str) -> tuple[str, ...]:
    """Return the tags of the rooms that an answer is about; none where it names no room that there is.

    room: its tag, empty for all rooms of the building.
    """
    project = evidence.project
    if room:
        return (room,) if room in project.rooms else ()
    return tuple(tag for tag in project.rooms if tag not in project.building.portable_sets)


def rooms_without_sessions(evidence: Evidence, rooms: Sequence[str]) -> tuple[str, ...]:
    """Return which of some rooms say nothing of the meetings of their microphones: no charge is known."""
    known = {
        tag for kind in evidence.design.kinds if evidence.design.days.get(kind.key) for tag in kind.rooms
    }
    return tuple(tag for tag in rooms if tag not in known and evidence.project.rooms[tag].layout.microphones)


def no_such_room(room: str) -> str:
    """Return what is said where an answer names no room that there is."""
    return f"there is no room {room}"
