"""Rules about the signal path: inputs and outputs that are missing or taken twice."""

from collections import Counter
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.standards.sources import COMMON_PRACTICE


def ports_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each mixer or breakout that has no port left for something the room wants."""
    missing: dict[str, list[str]] = {}
    for end in design.ends:
        if not end.port:
            missing.setdefault(end.device, []).append(f"{end.name} ({end.direction}, {end.signal})")
    for tag, wanted in missing.items():
        room = next(one for one in design.rooms if any(device.tag == tag for device in one.devices))
        yield Finding(
            rule="port-missing",
            severity="error",
            where=tag,
            place=project.place("rooms", room.tag, "layout", "destinations"),
            message=f"{tag} has no port left for {listed(list(dict.fromkeys(wanted)))}.",
            value=0.0,
            limit=float(len(wanted)),
            unit="ports",
            source=COMMON_PRACTICE,
            remedy="Fix a mixer with more ports in fixed.yaml, or carry the signal as networked audio.",
        )


def outputs_shared(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each breakout whose output both carries a microphone and feeds an amplifier."""
    taken = Counter((end.device, end.port) for end in design.ends if end.direction == "output")
    for room in design.rooms:
        shared = [one for one in design.channels.of_room(room.tag) if taken[one.mixing, one.input]]
        if not shared:
            continue
        yield Finding(
            rule="output-shared",
            severity="warning",
            where=room.tag,
            place=project.place("rooms", room.tag, "layout", "output"),
            message=(
                f"On {counted(len(shared), 'output')} of the breakouts of {room.tag} a microphone stands "
                f"where an amplifier is fed: {listed([one.code for one in shared])}."
            ),
            source=COMMON_PRACTICE,
            remedy="Fix breakouts with more channels in fixed.yaml, or let a mixer make the room's mix.",
        )


CHANNEL_RULES: tuple[Rule, ...] = (ports_missing, outputs_shared)
