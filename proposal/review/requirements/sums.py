"""Answers by a sum of the price, or by an allowance that it contains."""

from decimal import Decimal

from proposal.model.requirements.answers import PriceAnswer
from proposal.review.requirements.answered import Answered, Evidence, Verdict, unanswered


def answered_by_sum(answer: PriceAnswer, evidence: Evidence) -> Answered:
    """Return what came of holding a sum against its limit."""
    price = evidence.price
    about = "tax" if answer.price == "tax" else f"price {answer.price}"
    if answer.price == "allowance":
        written = evidence.project.brief.price.allowances.get(answer.allowance)
        lines = [line for line in price.lines if line.group == "allowance" and line.item == answer.allowance]
        if written is None or not lines:
            return unanswered("allowance", f"there is no allowance {answer.allowance}")
        about = f"sum set aside: {written.name}"
        amount = sum((line.price for line in lines), Decimal(0))
    elif answer.price != "before tax" and not _says_what_tax_is_due(evidence):
        # No tax in the sums is not the same as none to pay.
        why = "nothing says whether tax is due, for the price has neither taxes nor a tax_exemption"
        return unanswered(about, why)
    else:
        whole = price.whole
        amount = {"before tax": whole.price, "tax": whole.total - whole.price, "with tax": whole.total}[
            answer.price
        ]
    least = None if answer.at_least is None else answer.at_least.amount
    most = None if answer.at_most is None else answer.at_most.amount
    # A sum set aside is not what was asked for, only the money for it.
    kept: Verdict = "met in part" if answer.price == "allowance" else "met"
    holds = amount >= least if least is not None else most is not None and amount <= most
    if holds and kept != "met":
        about = f"{about} (met in part: the sum is provisional until what it pays for is known)"
    return Answered(
        about=about,
        verdict=kept if holds else "not met",
        amount=amount,
        limit_amount=least if most is None else most,
        comparison="at most" if least is None else "at least",
    )


def _says_what_tax_is_due(evidence: Evidence) -> bool:
    """Return whether the project names taxes, or why none is charged."""
    written = evidence.project.brief.price
    return bool(written.taxes) or written.tax_exemption is not None
