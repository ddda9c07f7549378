"""Rules about rooms: sizes, spares, radio links, ceilings and open questions."""

from collections.abc import Iterator

from proposal.design.design import Design, RoomKind
from proposal.model.devices import AccessPoint
from proposal.model.project import Project
from proposal.review.findings import Finding, Rule
from proposal.standards import dect
from proposal.standards.working import COMMON_PRACTICE, EDITABLE_DEFAULT

TALKERS_A_SPARE = 10
_SHORT = {
    "access_point": ("channels-short", "radio channels", "channels"),
    "charger": ("slots-short", "charge slots", "slots"),
    "mixer": ("inputs-short", "mixer inputs", "inputs"),
    "breakout": ("outputs-short", "breakout channels", "channels"),
    "amplifier": ("amplifier-channels-short", "amplifier channels", "channels"),
}


def sizes_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room whose boxes give less than it needs."""
    for kind in design.kinds:
        for size in kind.sizing.sizes:
            if size.spare >= 0 or not size.by_hand:
                continue
            rule, noun, unit = _SHORT[size.kind]
            yield Finding(
                rule=rule,
                severity="error",
                where=kind.key,
                place=project.place("fixed", "rooms", kind.key),
                message=f"The {noun} chosen by hand are too few for {_rooms(kind)}.",
                value=float(size.given),
                limit=float(size.need),
                unit=unit,
                source=COMMON_PRACTICE,
                remedy=f"Choose boxes with {-size.spare} more {unit}, or leave the choice to the program.",
            )


def nothing_suits(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each thing a room needs that the library does not have."""
    for kind in design.kinds:
        for what in kind.sizing.unmet:
            yield Finding(
                rule="nothing-suits",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path),
                message=f"The library has no {what}.",
                source=EDITABLE_DEFAULT,
                remedy="Add a fitting entry to the project's or the company's library.",
            )


def spares(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for rooms without spare microphones, a note for rooms with few."""
    for kind in design.kinds:
        talkers = len(kind.layout.microphones)
        held = sum(kind.layout.spare_microphones.values())
        wanted = -(-talkers // TALKERS_A_SPARE)
        if held >= wanted:
            continue
        yield Finding(
            rule="no-spares" if held == 0 else "few-spares",
            severity="warning" if held == 0 else "note",
            where=kind.key,
            place=project.place(*kind.path, "spare_microphones"),
            message=f"{talkers} microphones in use and {held or 'no'} spare in {_rooms(kind)}.",
            value=float(held),
            limit=float(wanted),
            unit="microphones",
            source=COMMON_PRACTICE,
            remedy=f"Hold one spare for every {TALKERS_A_SPARE} in use, of the form most used.",
        )


def metal_ceilings(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for access points on a metal ceiling."""
    for kind in design.kinds:
        if kind.layout.ceiling.kind == "metal":
            yield Finding(
                rule="metal-ceiling",
                severity="warning",
                where=kind.key,
                place=project.place(*kind.path, "ceiling", "kind"),
                message="Access points hang from a metal ceiling, which shields and reflects radio.",
                source=COMMON_PRACTICE,
                remedy="Mount access points on brackets below the ceiling, never above it; survey the room.",
            )


def links_in_one_space(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for rooms with more radio links than one space carries."""
    for kind in design.kinds:
        model = next((code for code, _ in _boxes(kind, "access_point")), "")
        if not model:
            continue
        entry = project.library.entry(model)
        if not isinstance(entry, AccessPoint) or project.brief.region not in entry.radio.regions:
            continue
        carriers = entry.radio.regions[project.brief.region].carriers
        links_held = (
            dect.links_on_one_carrier_each if entry.radio.one_carrier else dect.links_spread_over_carriers
        )
        boxes = sum(count for _, count in _boxes(kind, "access_point"))
        most = links_held(carriers, entry.radio.slot_pairs, boxes * entry.radio.always_on_bearers)
        if kind.sizing.channels > most:
            yield Finding(
                rule="too-many-links",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path, "microphones"),
                message="More radio links are wanted in one space than the band carries.",
                value=float(kind.sizing.channels),
                limit=float(most),
                unit="links",
                source=COMMON_PRACTICE,
                remedy="Use fewer wireless microphones at once, or equipment with fewer slot pairs a link.",
            )


def open_questions(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each value the project says is unknown."""
    for question in project.questions:
        yield Finding(
            rule="open-question",
            severity="note",
            where=".".join(str(part) for part in question.path),
            place=question.place,
            message=f"Not known yet: {question.title}.",
            source=EDITABLE_DEFAULT,
            remedy="Find out and write the value; the default computes meanwhile.",
        )


def _boxes(kind: RoomKind, name: str) -> tuple[tuple[str, int], ...]:
    size = kind.sizing.size(name)
    return size.boxes if size else ()


def _rooms(kind: RoomKind) -> str:
    """Return the rooms of a kind in words."""
    if len(kind.rooms) == 1:
        return f"room {kind.rooms[0]}"
    return "rooms " + ", ".join(kind.rooms[:-1]) + f" and {kind.rooms[-1]}"


ROOM_RULES: tuple[Rule, ...] = (
    sizes_short,
    nothing_suits,
    spares,
    metal_ceilings,
    links_in_one_space,
    open_questions,
)
