"""Answers by a condition under which the work of a room is priced."""

from proposal.model.requirements.answers import ConditionAnswer
from proposal.review.requirements.answered import Answered, Evidence, no_such_room, unanswered


def answered_by_condition(answer: ConditionAnswer, evidence: Evidence) -> Answered:
    """Return whether every line of labour of a room that a condition slows is priced under it."""
    about = f"work under the condition {answer.condition}"
    room = evidence.project.rooms.get(answer.room)
    if room is None:
        return unanswered(about, no_such_room(answer.room))
    condition = evidence.project.labour.conditions.get(answer.condition)
    if condition is None:
        return unanswered(about, f"there is no condition {answer.condition}", answer.room)
    choices = evidence.project.brief.labour
    named = {*choices.conditions, *choices.project_conditions}
    for key in (answer.room, room.type):
        named.update(choices.room_conditions.get(key, ()))
    slowed = [
        line
        for line in evidence.labour.lines
        if line.room == answer.room and line.phase in condition.phases and line.hours
    ]
    if not slowed:
        return unanswered(about, f"no work of {answer.room} is of its phases", answer.room)
    return Answered(
        about=about,
        verdict="met" if answer.condition in named else "not met",
        found="priced so" if answer.condition in named else "priced in normal hours",
        wanted="priced so",
        where=answer.room,
    )
