"""Answers that hold the worst of a figure against a limit."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.charging.room_days import GroupDay, RoomDay
from proposal.design.sound.delay_path import DelayPath
from proposal.model.requirements.answers import FIGURES, Figure, FigureAnswer
from proposal.quantities.formatting import listed
from proposal.review.requirements.answered import (
    Answered,
    Evidence,
    compared,
    no_such_room,
    rooms_of,
    rooms_without_sessions,
    unanswered,
)

_NEEDS: Mapping[Figure, str] = {
    "lowest charge": "the meetings of a day, such as `sessions: {morning: {start: 09:00, end: 12:00}}`",
    "conduit fill": "a conduit among the pathways of building.yaml",
    "speech level": "loudspeakers in the room",
}
"""What has to be written before a figure can be computed."""
_Found = tuple[float, str]
"""A figure, and the tag or identity of what has it."""


def answered_by_figure(answer: FigureAnswer, evidence: Evidence) -> Answered:
    """Return what came of the worst of a figure."""
    rooms = rooms_of(evidence, answer.room)
    if not rooms:
        return unanswered(answer.figure, no_such_room(answer.room))
    found = list(_FOUND[answer.figure](evidence, rooms))
    if not found:
        where = f" in {answer.room}" if answer.room else ""
        needs = f"; it needs {_NEEDS[answer.figure]}" if answer.figure in _NEEDS else ""
        return unanswered(answer.figure, f"nothing{where} has such a figure{needs}", answer.room)
    unknown = _not_known(answer, evidence, rooms) or _left_out(answer.figure, evidence, rooms)
    if unknown:
        return unanswered(answer.figure, unknown, answer.room)
    least = answer.at_least is not None
    value, at = min(found) if least else max(found)
    limit = answer.limit
    verdict, comparison, _ = compared(value, limit if least else None, None if least else limit)
    return Answered(
        about=answer.figure,
        verdict=verdict,
        value=value,
        limit=limit,
        kind=_SHOWN.get(answer.figure, FIGURES[answer.figure]),
        comparison=comparison,
        where=answer.room,
        at=at,
    )


def _margins(evidence: Evidence, rooms: Sequence[str]) -> Iterator[_Found]:
    """Yield how far above what it needs each microphone is received, dB."""
    for one in evidence.design.radio.margins:
        if one.room in rooms:
            yield one.margin_db, one.microphone


def _charges(evidence: Evidence, rooms: Sequence[str]) -> Iterator[_Found]:
    """Yield how low microphones of each room get on each day, with packs at the end of their life."""
    for kind in evidence.design.kinds:
        for tag in kind.rooms:
            if tag in rooms:
                for day in evidence.design.days.get(kind.key, ()):
                    for group in day.groups:
                        yield _lowest(day, group), tag


def _lowest(day: RoomDay, group: GroupDay) -> float:
    """Return the lowest state of charge of a group in use, spares changing places where that is planned."""
    return group.held.lowest if day.judged(group) == "with swaps" else group.lowest.lowest


def _links(evidence: Evidence, rooms: Sequence[str]) -> Iterator[_Found]:
    """Yield the length of each permanent link of data cable, m."""
    for cable in evidence.design.cables:
        if cable.room in rooms and cable.signal == "network":
            yield cable.length_m, cable.identity


def _fills(evidence: Evidence, rooms: Sequence[str]) -> Iterator[_Found]:
    """Yield the share that is filled of each conduit in which cables of the rooms lie."""
    room_of = {cable.identity: cable.room for cable in evidence.design.cables}
    for pathway in evidence.design.pathways:
        serves = any(room_of.get(one.identity) in rooms for one in pathway.cables)
        if pathway.kind == "conduit" and pathway.fill is not None and serves:
            yield pathway.fill.result, pathway.tag


def _levels(evidence: Evidence, rooms: Sequence[str]) -> Iterator[_Found]:
    """Yield the level of speech at the listener who hears each zone weakest, dB, as far as is asked."""
    wanted = evidence.project.brief.rules.loudspeakers.level
    for line in evidence.design.loudspeaker_lines:
        if line.room in rooms:
            short_db = max((unit.short_db for unit in line.load.units), default=0.0)
            yield wanted - short_db, line.identity


def _delays(evidence: Evidence, rooms: Sequence[str]) -> Iterator[_Found]:
    """Yield how long sound takes to the loudspeakers that people of each room hear, s."""
    for path in _heard_in(evidence, rooms):
        yield path.known_s, f"{path.microphone} to {path.listener}"


def _heard_in(evidence: Evidence, rooms: Sequence[str]) -> Iterator[DelayPath]:
    """Yield the ways of sound to loudspeakers of some rooms."""
    for path in evidence.design.delays:
        heard = {path.heard_in} if path.heard_in else set(path.rooms)
        if path.uses and path.uses[0].endswith("in_room") and heard & set(rooms):
            yield path


def _not_known(answer: FigureAnswer, evidence: Evidence, rooms: Sequence[str]) -> str:
    """Return what nobody says that a figure rests on, empty where all is known."""
    if answer.figure != "delay of sound":
        return ""
    asked = [part.asked for path in _heard_in(evidence, rooms) for part in path.unknown]
    return f"nobody says how long sound takes in {asked[0]}" if asked else ""


def _left_out(figure: Figure, evidence: Evidence, rooms: Sequence[str]) -> str:
    """Return which rooms a figure says nothing about though it should, empty where it speaks of all.

    A microphone whose charge or reception nobody computes must not stand behind the worst of the others.
    """
    if figure == "lowest charge":
        lacking = rooms_without_sessions(evidence, rooms)
        return (
            f"{listed(lacking)} {'says' if len(lacking) == 1 else 'say'} no meetings of a day (sessions)"
            if lacking
            else ""
        )
    if figure == "radio margin":
        known = {one.microphone for one in evidence.design.radio.margins}
        silent = [
            device.tag
            for device in evidence.design.devices
            if device.kind == "microphone"
            and device.room in rooms
            and device.tag not in known
            and device.code in evidence.project.rooms[device.room].layout.microphones
        ]
        return f"no access point receives {listed(silent)}" if silent else ""
    return ""


_FOUND = {
    "radio margin": _margins,
    "lowest charge": _charges,
    "link length": _links,
    "conduit fill": _fills,
    "speech level": _levels,
    "delay of sound": _delays,
}
_SHOWN: Mapping[str, str] = {"delay of sound": "latency"}
"""Kinds that figures are shown in, where they are others than those they are written in."""
