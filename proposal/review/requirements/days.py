"""Answers by the day on which something of the programme has happened."""

from proposal.model.requirements.answers import DateAnswer
from proposal.review.requirements.answered import Answered, Evidence


def answered_by_day(answer: DateAnswer, evidence: Evidence) -> Answered:
    """Return what came of holding a day of the programme against the last one allowed."""
    day = evidence.programme.events[answer.date]
    return Answered(
        about=answer.date,
        verdict="met" if day <= answer.by else "not met",
        date=day,
        limit_date=answer.by,
        comparison="at most",
    )
