"""Answers by terms of the contract, and by work that is charged as overtime."""

from proposal.estimate.price.markup_and_margin import NOTHING
from proposal.model.price.terms_in_words import AS_WRITTEN, terms_in_words
from proposal.model.requirements.answers import AgreedAnswer, OvertimeAnswer
from proposal.review.contract_terms import underpaid
from proposal.review.requirements.answered import Answered, Evidence, no_such_room, unanswered


def answered_by_agreed_term(answer: AgreedAnswer, evidence: Evidence) -> Answered:
    """Return whether the proposal has a term as it was asked for; wages have to be paid too."""
    project = evidence.project
    held, here = (
        terms_in_words(project.brief, project.labour.trades, locale).get(answer.agreed, ())
        for locale in (AS_WRITTEN, project.brief.locale)
    )
    if not held:
        return unanswered(answer.agreed, f"project.yaml has no {answer.agreed}")
    # A bond of a named kind answers one that is asked for by its share alone, and days and hours may be asked
    # for as the files have them or as people of the place write them.
    pairs = zip((*held, *map(_short, held)), (*here, *map(_short, here)), strict=True)
    same = [told for one, told in pairs if _plain(answer.says) in (_plain(one), _plain(told))]
    wanting = answer.agreed == "payment days" and len(held) > 1
    paid = answer.agreed != "wages" or not underpaid(project)
    return Answered(
        about=answer.agreed,
        verdict="met" if same and paid and not wanting else "not met",
        found="; ".join(here),
        wanted=same[0] if same else answer.says,
    )


def _short(form: str) -> str:
    return form.partition(" (")[0]


def _plain(form: str) -> str:
    """Return a form without what people write in several ways: spaces, and capital letters."""
    return " ".join(form.casefold().split())


def answered_by_overtime(answer: OvertimeAnswer, evidence: Evidence) -> Answered:
    """Return whether all work of a phase in a room is charged outside normal time, and to that room."""
    about = f"{answer.overtime} outside normal working time"
    if answer.room not in evidence.project.rooms:
        return unanswered(about, no_such_room(answer.room))
    worked = charged = NOTHING
    for line in evidence.price.lines:
        if (line.room, line.phase, line.group) == (answer.room, answer.overtime, "labour"):
            if line.kind == "overtime":
                charged += line.quantity
            else:
                worked += line.quantity
    if not worked:
        return unanswered(about, f"{answer.room} has no work of that phase", answer.room)
    return Answered(
        about=about,
        verdict="met" if charged >= worked else "not met",
        found="charged to the room" if charged >= worked else "in normal working time, or in part",
        wanted="charged to the room",
        where=answer.room,
    )
