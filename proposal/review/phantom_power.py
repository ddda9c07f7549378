"""Rules about wired microphones: what they take of phantom power, and what their input gives."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.model.equipment.sound_devices import Mixer, WiredMicrophone
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, written_place
from proposal.standards.sources import Source

PHANTOM = Source("IEC 61938", clause="phantom power P48", memory=True)


def phantom_power_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each wired microphone that takes more phantom power than its input gives."""
    for end in design.ends:
        mixer = design.entries.get(end.device)
        for tag in end.joined:
            entry = design.entries.get(tag)
            if not isinstance(entry, WiredMicrophone) or not isinstance(mixer, Mixer) or not end.port:
                continue
            if entry.phantom > mixer.phantom_current:
                room, _, code = tag.rpartition("-")
                yield Finding(
                    rule="phantom-power-short",
                    severity="error",
                    where=tag,
                    place=written_place(
                        project, ("rooms", room, "layout", "wired_microphones", code), ("rooms", room)
                    ),
                    message=f"{tag} takes more phantom power than {end.device}/{end.port} gives.",
                    value=entry.phantom * 1000,
                    limit=mixer.phantom_current * 1000,
                    unit="mA",
                    source=PHANTOM,
                    remedy=f"Choose a microphone that takes {mixer.phantom_current * 1000:g} mA at most, or "
                    f"a mixer that gives {entry.phantom * 1000:g} mA or more at each input.",
                )


PHANTOM_POWER_RULES: tuple[Rule, ...] = (phantom_power_short,)
