"""Answers by what data cables are."""

from typing import get_args

from proposal.model.equipment.parts import Category
from proposal.model.requirements.answers import CableAnswer
from proposal.review.requirements.answered import Answered, Evidence, no_such_room, rooms_of, unanswered

_ORDER = get_args(Category)


def answered_by_data_cable(answer: CableAnswer, evidence: Evidence) -> Answered:
    """Return what came of holding the lowest data cable against what is wanted."""
    about = "data cable"
    rooms = rooms_of(evidence, answer.room)
    if not rooms:
        return unanswered(about, no_such_room(answer.room))
    library = evidence.project.library
    found = [
        (_ORDER.index(entry.category), entry.screened, cable.identity)
        for cable in evidence.design.cables
        if cable.room in rooms and (entry := library.cables.get(cable.model)) is not None
    ]
    if not found:
        return unanswered(about, "no data cable is designed there", answer.room)
    wanted = (_ORDER.index(answer.cable), answer.screened)
    lacking = sorted(one for one in found if one[0] < wanted[0] or one[1] < wanted[1])
    category, screened, at = lacking[0] if lacking else min(found)
    return Answered(
        about=about,
        verdict="not met" if lacking else "met",
        found=_called(_ORDER[category], screened),
        wanted=_called(answer.cable, answer.screened),
        comparison="at least",
        where=answer.room,
        at=at,
    )


def _called(category: str, screened: bool) -> str:
    return f"category {category}, screened" if screened else f"category {category}"
