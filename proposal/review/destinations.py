"""Rules about where sound goes: assistive listening where it is required, and a feed for each destination."""

from collections.abc import Iterator, Mapping

from proposal.design.connections.ports_and_joins import Join
from proposal.design.design import Design
from proposal.model.assistive_listening import serves_assistive_listening
from proposal.model.joined_sound import TO_JOINED
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.review.model_remedies import feeding
from proposal.standards.sources import COMMON_PRACTICE


def assistive_listening_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each kind of room that has to offer assistive listening and sends it no sound."""
    for kind in design.kinds:
        layout = kind.layout
        if not layout.assistive_listening or serves_assistive_listening(layout):
            continue
        sent = {tag for end in design.ends for tag in end.joined if end.port and end.direction == "output"}
        of_room = [one for one in design.devices if one.room == kind.rooms[0]]
        if not any(one.kind == "assistive_device" and one.tag in sent for one in of_room):
            yield Finding(
                rule="assistive-listening-missing",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path, "assistive_listening"),
                message=f"Assistive listening is required in {kind.layout.name}, and none is designed.",
                source=COMMON_PRACTICE,
                remedy="Put transmitters and receivers for the region into a library, or write the system of "
                "somebody else among the destinations of the room.",
            )


def destinations_not_fed(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each destination of a kind of room to which nothing sends the room's sound."""
    for kind in design.kinds:
        room = kind.rooms[0]
        devices = {device.tag for device in design.devices if device.room == room}
        fed = {
            code
            for end in design.ends
            if end.device in devices and end.direction == "output"
            for code in end.joined
        }
        for code, destination in kind.layout.destinations.items():
            if code not in fed and code != TO_JOINED:
                yield Finding(
                    rule="destination-not-fed",
                    severity="error",
                    where=kind.key,
                    place=project.place(*kind.path, "destinations", code),
                    message=f"Nothing in {kind.layout.name} feeds {destination.name} ({code}).",
                    source=COMMON_PRACTICE,
                    remedy=feeding(project, kind),
                )


def sources_not_chosen(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each destination whose channels are to carry what only a mixer can choose."""
    for kind in design.kinds:
        if kind.layout.output == "mixer":
            continue
        for code, one in kind.layout.destinations.items():
            if set(one.carries) <= {"mix"}:
                continue
            yield Finding(
                rule="channel-source-not-possible",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path, "destinations", code, "carries"),
                message=f"The channels of {one.name} ({code}) are to carry {listed(list(one.carries))}, and "
                f"no mixer in {kind.layout.name} chooses that.",
                source=COMMON_PRACTICE,
                remedy="Let sound leave through a mixer (output: mixer), or take the microphones from the "
                "outputs of the breakouts, where each has one of its own.",
            )


def leads_not_counted(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each kind of room with USB cords, which come with the equipment of others."""
    for kind in design.kinds:
        room = kind.rooms[0]
        leads = [
            join
            for join in design.graph.joins
            if join.room == room and join.signal == "USB"
            # What is placed and has no port left is told by another rule.
            if all(port.name or port.device not in design.every_entry for port in (join.start, join.end))
        ]
        if not leads:
            continue
        names = {
            code: one.name for code, one in (*kind.layout.destinations.items(), *kind.layout.returns.items())
        }
        told = listed([_lead(join, room, names) for join in leads])
        rooms = f" in each of {counted(len(kind.rooms), 'room')}" if len(kind.rooms) > 1 else ""
        yield Finding(
            rule="lead-not-counted",
            severity="note",
            where=kind.key,
            place=project.place(*kind.path, "destinations"),
            message=f"{counted(len(leads), 'USB cord')} of {kind.layout.name}{rooms} "
            f"{'comes' if len(leads) == 1 else 'come'} with the equipment of others, neither counted nor "
            f"priced: {told}.",
            source=COMMON_PRACTICE,
            remedy=f"Have whoever furnishes the equipment confirm {counted(len(leads), 'USB cord')}{rooms}, "
            "each long enough to reach.",
        )


def _lead(join: Join, room: str, names: Mapping[str, str]) -> str:
    """Return what a lead is and where it leads, `from MX1/U1 to codec`."""
    start, end = (
        names.get(port.device, f"{port.device}/{port.name}".removeprefix(f"{room}-").removesuffix("/"))
        for port in (join.start, join.end)
    )
    return f"from {start} to {end}"


def loudspeakers_said_twice(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where a room has loudspeakers of ours and names others as a destination of the network.

    What the owner furnishes for such a destination is other equipment, and no warning.
    """
    owned = {code for one in design.owners for code in one.written.serves}
    for kind in design.kinds:
        if not kind.layout.loudspeakers:
            continue
        for code, destination in kind.layout.destinations.items():
            named = "loudspeaker" in f"{code} {destination.name}".casefold()
            if not named or destination.signal != "networked audio" or code in owned:
                continue
            yield Finding(
                rule="loudspeakers-said-twice",
                severity="warning",
                where=kind.key,
                place=project.place(*kind.path, "destinations", code),
                message=f"{kind.layout.name} has loudspeakers with an amplifier of ours, and names "
                f"{destination.name} ({code}) as a destination on the network besides.",
                source=COMMON_PRACTICE,
                remedy=f"Remove the destination {code} where it means the same loudspeakers; write who "
                "furnishes the others (owner_equipment that serves it) where it does not.",
            )


DESTINATION_RULES: tuple[Rule, ...] = (
    assistive_listening_missing,
    destinations_not_fed,
    sources_not_chosen,
    leads_not_counted,
    loudspeakers_said_twice,
)
