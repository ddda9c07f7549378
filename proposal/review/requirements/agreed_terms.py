"""Answers by terms of the contract, and by work that is charged as overtime."""

import re
from collections.abc import Iterator

from proposal.estimate.price.markup_and_margin import NOTHING
from proposal.model.price.terms_in_words import AS_WRITTEN, NOT_KNOWN, terms_in_words
from proposal.model.requirements.answers import Agreed, AgreedAnswer, OvertimeAnswer
from proposal.model.weekdays import with_weekdays_alike
from proposal.review.contract_terms import underpaid
from proposal.review.requirements.answered import Answered, Evidence, no_such_room, unanswered

_HOURS = re.compile(r"(\d\d?:\d\d(?:\s*[AP]M)?)\s*[-–]\s*(\d\d?:\d\d)", re.IGNORECASE)


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
    # for as the files have them or as people of the place write them. Several are asked for with `;` between.
    forms = {
        _plain(form, answer.agreed): told
        for one, term in zip(held, here, strict=True)
        for form, told in _forms(answer.agreed, one, term)
    }
    whole = _plain(answer.says, answer.agreed) in forms
    asked = [answer.says] if whole else [one for one in answer.says.split(";") if one.strip()]
    same = [forms.get(_plain(one, answer.agreed), "") for one in asked]
    wanting = answer.agreed == "payment days" and len(held) > 1
    paid = answer.agreed != "wages" or not underpaid(project)
    met = bool(asked) and all(same) and paid and not wanting
    # What the client has left open cannot be held against what was asked.
    is_open = not met and any(NOT_KNOWN in one for one in held)
    return Answered(
        about=answer.agreed,
        verdict="met" if met else "open" if is_open else "not met",
        found="; ".join(here),
        wanted="; ".join(same) if asked and all(same) else answer.says,
    )


def _forms(agreed: str, as_written: str, here: str) -> Iterator[tuple[str, str]]:
    """Yield every form in which a term may be asked for, with that in which it is told."""
    for one in (as_written, here):
        short = one.partition(" (")[0]
        yield one, here
        yield short, here.partition(" (")[0]
        # A name may stand before its share, and a retention be asked for whatever its time.
        name = one.partition(" (")[2].removesuffix(")")
        if agreed == "bond":
            yield f"{name} {short}", here
        if agreed == "retention":
            yield short.partition(" for ")[0].partition(",")[0], here
        if agreed == "payment days":
            yield short.removesuffix(" days"), here
        # Time to pay and months of a service may be left open by who asks; a limit of damages may not.
        parts = short.split(", ") if agreed in ("payment", "service") else []
        for count in range(1, len(parts)):
            asked = ", ".join(parts[:count])
            yield asked, asked


def _plain(form: str, agreed: Agreed) -> str:
    """Return a form without what people write in several ways: spaces, capital letters, days and hours."""
    if agreed in ("work hours", "no work"):
        form = _HOURS.sub(r"\1 to \2", with_weekdays_alike(form))
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
