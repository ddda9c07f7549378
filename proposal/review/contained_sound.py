"""Rules about rooms whose sound may not leave them."""

from collections.abc import Iterator

from proposal.design.contained_sound import ContainedSound, way_in_words
from proposal.design.design import Design
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.quantities.formatting import listed
from proposal.review.finding import Finding, Rule
from proposal.standards.sources import COMMON_PRACTICE


def sound_leaves(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room whose sound may not leave it and does, with the way that it takes."""
    kinds = {tag: kind.path for kind in design.kinds for tag in kind.rooms}
    for one in design.contained_sound:
        for port in one.missing:
            yield Finding(
                rule="unplugged-port-unknown",
                severity="error",
                where=one.room,
                place=project.place(*kinds[one.room], "unplugged"),
                message=f"A lead is to be pulled out at {port}, and nothing is joined there.",
                source=COMMON_PRACTICE,
                remedy="Name a port as the patch table does: of the room without its tag, of any other "
                "device with its whole tag, such as `B102-MX1/N1`.",
            )
        if one.way:
            yield Finding(
                rule="sound-leaves-room",
                severity="error",
                where=one.room,
                place=project.place(*kinds[one.room], "sound_stays"),
                message=f"The sound of {one.room} may not leave it{_when(one.states)} "
                f"({one.reason.rstrip('.')}), and it does: {way_in_words(one.start, one.way)}; {one.ends}.",
                source=COMMON_PRACTICE,
                remedy=f"{_next_lead(one, project.rooms[one.room].layout)}"
                f"{_remedy(project.rooms[one.room].layout)}",
            )


def _next_lead(one: ContainedSound, layout: RoomType) -> str:
    """Return which lead of the way out can be pulled out before, as a sentence; empty where none is to be.

    Of a way through what counts as part of the room that is the first lead that goes on to anything else.
    """
    if not one.states or not (layout.sound_may_pass or layout.unplugged):
        return ""
    leads = [
        (step.by.partition(" ")[2], step.to) for step in one.way if step.by.startswith(("cable ", "cord "))
    ]
    own = (one.room, *layout.sound_may_pass)
    onward = [lead for lead, to in leads if to.rpartition("-")[0] not in own] or [
        lead for lead, _ in leads[-1:]
    ]
    ports = ["/".join(lead.split("/")[:2]) for lead in onward[:1]]
    return "".join(
        f"Pull the lead out at {port} before (unplugged: [{port}]). Or change the design. " for port in ports
    )


def _remedy(layout: RoomType) -> str:
    """Return what keeps the sound of a room in it."""
    doubled = [
        code
        for code, end in layout.destinations.items()
        if layout.loudspeakers and end.signal == "networked audio" and "loudspeaker" in end.name.casefold()
    ]
    if doubled:
        return (
            f"Remove the destination {listed(doubled)}: the room's own loudspeakers are fed by its "
            "amplifier. Then write network: alone, so that mixer and amplifier stand in the room, and join "
            "it to nothing that stands elsewhere, keeps its sound or sends it away."
        )
    own = (
        "The room's own loudspeakers play it, with mixer and amplifier in the room."
        if layout.loudspeakers
        else "What plays the sound in the room is equipment of the owner there (kind: other equipment, an "
        "analogue input) that serves an analogue destination, or loudspeakers of ours."
    )
    pulled = (
        " What sends sound out in other states alone can be pulled out before: name its ports (unplugged)."
        if layout.sound_stays_in and not layout.unplugged
        else ""
    )
    kept = (
        " Where one of its destinations is to have the sound all the same, such as a recorder, name it "
        "(sound_may_reach)."
        if layout.destinations and not layout.sound_may_reach
        else ""
    )
    locked = (
        ""
        if layout.sound_may_pass or layout.network in ("alone", "isolated")
        else " Where a locked equipment room counts as part of the room, name it (sound_may_pass), and pull "
        "out the leads that go on from there."
    )
    alone = (
        "The room's network stands alone already: join it"
        if layout.network == "alone"
        else "Let the room's network stand alone (network: alone), and join it"
    )
    return (
        f"{alone} to nothing that stands elsewhere, keeps its sound or sends it away. "
        f"{own}{pulled}{kept}{locked}"
    )


def _when(states: tuple[str, ...]) -> str:
    """Return in which states, as a phrase; empty for all."""
    return f" in the state {listed(states)}" if states else ""


CONTAINED_SOUND_RULES: tuple[Rule, ...] = (sound_leaves,)
