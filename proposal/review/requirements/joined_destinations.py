"""Answers by a place that the sound of a room goes to or comes from."""

from collections.abc import Sequence

from proposal.design.sound.audio_ends import AudioEnd
from proposal.model.requirements.answers import ConnectionAnswer, Direction
from proposal.review.requirements.answered import Answered, Evidence, no_such_room, unanswered

CUT_OFF = "the room’s network is joined to no other, and nothing in the room is written for it"
NO_WAY = "no switch and cable of the network lead there"


def answered_by_connection(answer: ConnectionAnswer, evidence: Evidence) -> Answered:
    """Return whether a destination or return of a room is joined to a port of its mixers or breakouts."""
    room = evidence.project.rooms.get(answer.room)
    if room is None:
        return unanswered(answer.connection, no_such_room(answer.room))
    layout = room.layout
    going, coming = layout.destinations.get(answer.connection), layout.returns.get(answer.connection)
    if going is None and coming is None:
        why = f"{answer.room} has no destination or return {answer.connection}"
        return unanswered(answer.connection, why, answer.room)
    design = evidence.design
    devices = {device.tag for device in design.devices if device.room == answer.room}
    ends = [end for end in design.ends if end.device in devices and answer.connection in end.joined]
    joins = [join for join in design.owner_joins if join.room == answer.room]
    good = all(
        _joined([end for end in ends if end.direction == direction])
        for one, direction in ((going, "output"), (coming, "input"))
        if one is not None
    )
    good = good and all(join.owner_port for join in joins if answer.connection in join.end.joined)
    good = good and all(
        owner.on_network
        for owner in design.owners
        if answer.room in owner.rooms and answer.connection in owner.written.serves
        for one in (going, coming)
        if one is not None and one.signal == "networked audio"
    )
    networked = any(one is not None and one.signal == "networked audio" for one in (going, coming))
    cut_off = networked and not _reached(evidence, answer)
    no_way = networked and not cut_off and not _led_to(evidence, answer, ends)
    named = next(one for one in (going, coming) if one is not None)
    has: Direction = "both ways" if going and coming else "from the room" if going else "to the room"
    wanted = answer.direction or has
    carried = has in (wanted, "both ways")
    sources = (going.carries or ("mix",)) if going else ()
    lacking = bool(answer.carries) and answer.carries not in sources
    told = f", with {answer.carries} on a channel of its own" if answer.carries else ""
    joined = f"joined as {named.signal}, {has}"
    return Answered(
        about=named.name,
        verdict="met" if good and carried and not (cut_off or no_way or lacking) else "not met",
        found="no port for it"
        if not good
        else CUT_OFF
        if cut_off
        else NO_WAY
        if no_way
        else f"its channels carry {' and '.join(sources)}"
        if lacking
        else f"{joined}{told}",
        wanted=f"joined, {wanted}{told}",
        where=answer.room,
    )


def _reached(evidence: Evidence, answer: ConnectionAnswer) -> bool:
    """Return whether networked sound finds its other end: on a network beyond the room, or in the room."""
    room = next((one for one in evidence.design.rooms if one.tag == answer.room), None)
    if room is None or room.apart != "alone":
        return True
    return any(
        answer.connection in owner.written.serves and answer.room in owner.rooms
        for owner in evidence.design.owners
    )


def _led_to(evidence: Evidence, answer: ConnectionAnswer, ends: Sequence[AudioEnd]) -> bool:
    """Return whether the network leads from each end to what the owner has there, where that is placed.

    ends: of the room, which carry it.
    """
    return all(
        evidence.design.switch_ways.between(end.device, owner.device.tag) is not None
        for owner in evidence.design.owners
        if answer.connection in owner.written.serves and answer.room in owner.rooms and owner.on_network
        for end in ends
        if end.stream
    )


def _joined(ends: Sequence[AudioEnd]) -> bool:
    """Return whether there are ends, and each has a port."""
    return bool(ends) and all(end.port for end in ends)
