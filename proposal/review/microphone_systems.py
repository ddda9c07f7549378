"""Rules about microphone systems: devices that do not work together, accessories that do not fit."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.rooms.room_kinds import RoomKind
from proposal.model.equipment.devices import Accessory, SystemDevice
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, listed, written_place
from proposal.review.rooms import rooms_of
from proposal.standards.sources import EDITABLE_DEFAULT


def mixed_systems(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each kind of room with devices of several systems, which do not work together."""
    for kind in design.kinds:
        by_system: dict[str, list[str]] = {}
        for name, model in _of_systems(kind):
            entry = project.library.entry(model)
            if isinstance(entry, SystemDevice):
                by_system.setdefault(entry.works_with, []).append(name)
        if len(by_system) < 2:
            continue
        told = "; ".join(
            f"{system}: {listed(sorted(set(by_system[system]), key=natural))}" for system in sorted(by_system)
        )
        yield Finding(
            rule="mixed-systems",
            severity="error",
            where=kind.key,
            place=written_place(
                project,
                *(("fixed", "devices", device_tag(kind.key, name), "model") for name, _ in _of_systems(kind)),
                ("fixed", "rooms", kind.key),
                (*kind.path, "system"),
                (*kind.path, "microphones"),
            ),
            message=f"Devices of {rooms_of(kind)} are of systems that do not work together: {told}.",
            value=float(len(by_system)),
            limit=1.0,
            unit="systems",
            source=EDITABLE_DEFAULT,
            remedy="Choose microphones, accessories, access points and chargers of one system.",
        )


def _of_systems(kind: RoomKind) -> Iterator[tuple[str, str]]:
    """Yield code and model of what works in one system only."""
    yield from ((code, model) for code, model in kind.sizing.microphones.items() if model)
    yield from ((code, model) for code, model in kind.sizing.spares_by_code.items() if model)
    for size in kind.sizing.sizes:
        yield from size.by_code.items()
    for code, position in kind.layout.microphones.items():
        yield from ((f"{model} at {code}", model) for model in position.accessories)


def wrong_accessories(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each accessory that does not go with the form of its microphone."""
    for kind in design.kinds:
        for code, position in kind.layout.microphones.items():
            for n, model in enumerate(position.accessories):
                entry = project.library.entry(model)
                if isinstance(entry, Accessory) and position.form not in entry.forms:
                    yield Finding(
                        rule="accessory-does-not-fit",
                        severity="error",
                        where=kind.key,
                        place=project.place(*kind.path, "microphones", code, "accessories", n),
                        message=f"The {entry.role} {model} does not go with the {position.form} microphone "
                        f"{code} of {rooms_of(kind)}.",
                        source=EDITABLE_DEFAULT,
                        remedy=f"It goes with {listed(entry.forms)} microphones: choose another, or none.",
                    )


MICROPHONE_SYSTEM_RULES: tuple[Rule, ...] = (mixed_systems, wrong_accessories)
