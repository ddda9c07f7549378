"""Answers by a state of the building: rooms whose sound is one in it, and where a portable set is used."""

from proposal.design.radio.air_plan import AirPlan
from proposal.model.requirements.answers import StateAnswer
from proposal.quantities.formatting import count_of
from proposal.review.requirements.answered import Answered, Evidence, no_such_room, unanswered


def answered_by_state(answer: StateAnswer, evidence: Evidence) -> Answered:
    """Return whether a state joins rooms or has a portable set in a place, and the air holds it."""
    about = f"state {answer.state}"
    building = evidence.project.building
    state = building.states.get(answer.state)
    if state is None:
        return unanswered(about, f"there is no state {answer.state}")
    named = [tag for tag in (*answer.joins, answer.listener, answer.hears, answer.hears_not) if tag]
    missing = next((tag for tag in named if tag not in evidence.project.rooms), "")
    if missing:
        return unanswered(about, no_such_room(missing))
    if answer.portable and answer.portable not in building.portable_sets:
        return unanswered(about, f"there is no portable set {answer.portable}")
    lacking = [
        *_not_joined(answer, evidence),
        *_not_heard(answer, evidence),
        *_not_there(answer, evidence),
        *_no_air(answer, evidence),
    ]
    wanted = []
    if answer.joins:
        wanted.append(f"the sound of {' and '.join(answer.joins)} is one")
    if answer.listener:
        wanted += [f"{answer.listener} hears {answer.hears}"] if answer.hears else []
        wanted += [f"{answer.listener} does not hear {answer.hears_not}"] if answer.hears_not else []
    if answer.portable:
        wanted.append(f"{answer.portable} is used in {answer.place}")
    return Answered(
        about=about,
        verdict="not met" if lacking else "met",
        found="; ".join(lacking) if lacking else "; ".join(wanted),
        wanted="; ".join(wanted),
    )


def _not_joined(answer: StateAnswer, evidence: Evidence) -> list[str]:
    """Return what lacks so that the sound of the rooms is one: the wall, or a way from one to another."""
    state = evidence.project.building.states[answer.state]
    if answer.joins and not any(set(answer.joins) <= set(group) for group in state.join):
        return [f"the state does not join {' and '.join(answer.joins)}"]
    heard = _ways(answer, evidence)
    return [
        f"{one} is not heard in {other}"
        for one in answer.joins
        for other in answer.joins
        if one != other and (one, other) not in heard
    ]


def _ways(answer: StateAnswer, evidence: Evidence) -> set[tuple[str, str]]:
    """Return the rooms whose mix comes to others in the state, each with the other."""
    return {
        (route.room, route.other)
        for route in evidence.design.joined_routes
        if route.state == answer.state and route.input
    }


def _not_heard(answer: StateAnswer, evidence: Evidence) -> list[str]:
    """Return that a room does not hear the other, hears one it may not, or has nothing to listen by."""
    if (answer.hears_not, answer.listener) in _ways(answer, evidence):
        return [f"{answer.listener} hears {answer.hears_not}"]
    if not answer.hears:
        return []
    if (answer.hears, answer.listener) not in _ways(answer, evidence):
        return [f"{answer.listener} does not hear {answer.hears}"]
    layout = evidence.project.rooms[answer.listener].layout
    if not (layout.loudspeakers or layout.destinations or layout.assistive_listening):
        return [f"{answer.listener} has nothing over which people listen"]
    return []


def _not_there(answer: StateAnswer, evidence: Evidence) -> list[str]:
    state = evidence.project.building.states[answer.state]
    if not answer.portable or state.portable.get(answer.portable) == answer.place:
        return []
    return [f"{answer.portable} is not used in {answer.place}"]


def _no_air(answer: StateAnswer, evidence: Evidence) -> list[str]:
    """Return that the air does not hold all microphones of the state, where that is so."""
    radio = evidence.design.radio
    airs = [one.air for one in radio.states if answer.state in one.alike.names] or [radio.air]
    return [_without_place(one) for one in airs if one.plan.outcome != "planned"]


def _without_place(air: AirPlan) -> str:
    """Return in words that not all microphones have room on the air, or that it is not known."""
    said = (
        "there is no room on the air for all microphones at once"
        if air.plan.outcome == "impossible"
        else "it is not settled whether all microphones have room on the air"
    )
    missing = sum(link.kind == "link" for link in air.missing)
    return f"{said}: {count_of(missing, 'microphone')} without a place" if missing else said
