"""Answers by a term of the proposal."""

from proposal.model.requirements.answers import TermAnswer
from proposal.review.requirements.answered import Answered, Evidence, compared, unanswered

_UNIT = {"validity": "days", "retention": "days", "warranty": "months"}


def answered_by_term(answer: TermAnswer, evidence: Evidence) -> Answered:
    """Return what came of holding a term against its limit."""
    brief = evidence.project.brief
    held = {
        "validity": brief.terms.validity_days,
        "warranty": brief.terms.warranty_months,
        "retention": brief.price.retention_days if brief.price.retention else 0,
    }[answer.term]
    about = f"{answer.term} in {_UNIT[answer.term]}"
    if held is None:
        return unanswered(about, f"project.yaml states no {answer.term} (terms.warranty_months)")
    verdict, comparison, limit = compared(held, answer.at_least, None)
    return Answered(
        about=about, verdict=verdict, value=float(held), limit=float(limit), comparison=comparison
    )
