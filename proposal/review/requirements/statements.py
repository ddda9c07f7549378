"""Answers that a person states, and those that measuring has still to give."""

from collections.abc import Mapping

from proposal.model.requirements.answers import MeasuredAnswer, Stance, StatementAnswer
from proposal.review.requirements.answered import Answered, Evidence, Verdict, no_such_room, unanswered

_VERDICTS: Mapping[Stance, Verdict] = {
    "complies": "stated",
    "clarification": "stated",
    "complies in part": "met in part",
    "does not comply": "not met",
    "by others": "by others",
}


def answered_by_statement(answer: StatementAnswer, evidence: Evidence) -> Answered:
    """Return what a person states: never that a requirement is met."""
    return Answered(about=answer.statement, verdict=_VERDICTS[answer.statement], found=answer.words)


def answered_by_measuring(answer: MeasuredAnswer, evidence: Evidence) -> Answered:
    """Return that a figure is not computed, and is open until it has been measured."""
    if answer.room and answer.room not in evidence.project.rooms:
        return unanswered(answer.measured, no_such_room(answer.room))
    return Answered(
        about=answer.measured,
        verdict="open",
        found="not computed; to be measured on site before acceptance",
        wanted=answer.wanted,
        where=answer.room,
    )
