"""Which way sound takes in each state between the mixers of rooms that the state joins."""

from collections.abc import Mapping, Sequence

from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.latency_parts import Part, Parts
from proposal.field_classes import dataclass
from proposal.model.joined_sound import ways_in
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedRoute:
    """The way of one room's mix into another room in a state.

    state: its name.  room, other: tags of the room whose mix it is and of the one that takes it.
    sender, receiver: tags of their mixers.  stream: number of the stream.
    input: of the mixer that takes it; empty where none is left.
    later_s: how much later than in its own room a talker is heard: the network and the second mixer; None
        where nobody says how long one of them takes.
    closed_in: states in which the input is closed.
    """

    state: str
    room: str
    other: str
    sender: str
    receiver: str
    stream: int
    input: str
    later_s: float | None
    closed_in: tuple[str, ...]


def joined_routes(
    project: Project, ends: Sequence[AudioEnd], parts: Parts, room_of: Mapping[str, str]
) -> tuple[JoinedRoute, ...]:
    """Return every route of every state, in order of states as written, then of rooms.

    Mixers whose switches nothing joins have none.

    ends: of every room.
    parts: what devices and network take.
    room_of: the room of each device.
    """
    taken = {
        (room_of[end.joined[0]], room_of[end.device]): end
        for end in ends
        if end.direction == "input"
        and end.stream
        and len(end.joined) == 1
        and room_of.get(end.joined[0], room_of[end.device]) != room_of[end.device]
    }
    building = project.building
    together = {name: set(ways_in(project.rooms, building, one)) for name, one in building.states.items()}
    return tuple(
        JoinedRoute(
            state=name,
            room=one,
            other=other,
            sender=end.joined[0],
            receiver=end.device,
            stream=end.stream,
            input=end.port,
            later_s=_later_s(between, parts.mixing(end.device)),
            closed_in=tuple(state for state in together if (one, other) not in together[state]),
        )
        for name, pairs in together.items()
        for one, other in sorted(pairs)
        if (end := taken.get((one, other))) and (between := parts.network(end.joined[0], end.device))
    )


def _later_s(between: Part, mixer: Part) -> float | None:
    """Return what the network and the second mixer take, s; None where it is not known."""
    if between.delay_s is None or mixer.delay_s is None:
        return None
    return between.delay_s + mixer.delay_s
