"""Answers by what data cables are."""

from typing import get_args

from proposal.model.equipment.materials import DataCable
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
        (_rank(entry), cable.identity)
        for cable in evidence.design.cables
        if cable.room in rooms and (entry := library.cables.get(cable.model)) is not None
    ]
    if not found:
        return unanswered(about, "no data cable is designed there", answer.room)
    wanted = (_ORDER.index(answer.cable), answer.screened, answer.copper)
    lacking = [one for one in found if any(has < asked for has, asked in zip(one[0], wanted, strict=True))]
    rank, at = min(lacking or found)
    low = () if lacking or answer.room else _low_cord(evidence, wanted[0])
    if low:
        return Answered(
            about="patch cord", verdict="not met", found=f"category {low[0]}", wanted=_called(*wanted),
            comparison="at least", at=low[1],
        )  # fmt: skip
    return Answered(
        about=about,
        verdict="not met" if lacking else "met",
        found=_called(*rank),
        wanted=_called(*wanted),
        comparison="at least",
        where=answer.room,
        at=at,
    )


def _low_cord(evidence: Evidence, wanted: int) -> tuple[str, str] | tuple[()]:
    """Return category and join of the first cord below a category; nothing where there is none.

    wanted: place of the category.
    """
    cords = evidence.project.library.patch_cords
    for join in evidence.design.graph.joins:
        for model in join.cords:
            entry = cords.get(model)
            if entry and entry.category is not None and _ORDER.index(entry.category) < wanted:
                return entry.category, join.identity
    return ()


def _rank(cable: DataCable) -> tuple[int, bool, bool]:
    """Return what a cable is: place of its category, whether it is screened, whether it is solid copper."""
    return (
        _ORDER.index(cable.category),
        cable.screened,
        (cable.conductor, cable.stranding) == ("copper", "solid"),
    )


def _called(category: int, screened: bool, copper: bool) -> str:
    said = [f"category {_ORDER[category]}"]
    said += ["screened"] if screened else []
    return ", ".join([*said, *(["solid copper"] if copper else [])])
