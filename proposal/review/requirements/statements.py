"""Answers that a person states."""

from collections.abc import Mapping

from proposal.model.requirements.answers import Stance, StatementAnswer
from proposal.review.requirements.answered import Answered, Evidence, Verdict

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
