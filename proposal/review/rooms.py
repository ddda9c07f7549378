"""Rules about rooms: sizes, spares, radio links, ceilings and open questions."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.charger_choice import slots_by_form, slots_usable
from proposal.design.equipment.device_capacity import Size
from proposal.design.numbers.numbering import device_tag
from proposal.design.rooms.room_kinds import RoomKind
from proposal.errors import Place
from proposal.model.equipment.devices import Breakout, Charger, Mixer
from proposal.model.equipment.entry import Entry
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed, written_place
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT

_SHORT = {
    "access_point": ("channels-short", "radio channels", "channel"),
    "charger": ("slots-short", "charge slots", "slot"),
    "mixer": ("inputs-short", "mixer inputs", "input"),
    "breakout": ("outputs-short", "breakout channels", "channel"),
    "amplifier": ("amplifier-channels-short", "amplifier channels", "channel"),
}


def sizes_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each kind of room whose boxes, chosen by hand, give less than it needs."""
    for kind in design.kinds:
        for size in kind.sizing.sizes:
            given = size.given if size.kind != "charger" else _slots_given(project, kind, size)
            if given >= size.need or not size.by_hand:
                continue
            rule, noun, unit = _SHORT[size.kind]
            yield Finding(
                rule=rule,
                severity="error",
                where=kind.key,
                place=_sizes_place(project, kind, size),
                message=f"The {noun} chosen by hand are too few for {rooms_of(kind)}.",
                value=float(given),
                limit=float(size.need),
                unit=f"{unit}s",
                source=COMMON_PRACTICE,
                remedy=f"Choose boxes with {counted(size.need - given, unit, more=True)}, "
                "or leave the choice to the program.",
            )


def _slots_given(project: Project, kind: RoomKind, size: Size) -> int:
    """Return the charge slots that the room's forms of microphone can use."""
    entries = [project.library.entry(model) for model in size.models]
    chargers = [entry for entry in entries if isinstance(entry, Charger)]
    unusable = size.need - slots_usable(chargers, slots_by_form(kind.layout))
    return min(size.given, size.need - unusable) if unusable > 0 else size.given


def _sizes_place(project: Project, kind: RoomKind, size: Size) -> Place:
    """Return where boxes were chosen by hand: for the room, or one by one."""
    return written_place(
        project,
        ("fixed", "rooms", kind.key, f"{size.kind}s"),
        *(("fixed", "devices", device_tag(kind.key, code), "model") for code in size.by_code),
        ("fixed", "rooms", kind.key),
    )


def nothing_suits(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each thing a room needs that the library does not have."""
    for kind in design.kinds:
        for unmet in kind.sizing.unmet:
            yield Finding(
                rule="nothing-suits",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path, *unmet.path),
                message=f"The library has no {unmet.what}.",
                source=EDITABLE_DEFAULT,
                remedy="Add a fitting entry to the project's or the company's library.",
            )
    for device in design.devices:
        if device.kind == "rack" and not device.model:
            yield Finding(
                rule="nothing-suits",
                severity="error",
                where=device.tag,
                place=project.place("building", "equipment_rooms", device.room, "racks", device.code),
                message="The library has no rack.",
                source=EDITABLE_DEFAULT,
                remedy="Add a rack to the project's or the company's library.",
            )


def spares(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for rooms without spare microphones, a note for rooms with few."""
    most = project.brief.rules.review.microphones_a_spare
    for kind in design.kinds:
        talkers = len(kind.layout.microphones)
        held = sum(kind.layout.spare_microphones.values())
        wanted = -(-talkers // most)
        if held >= wanted:
            continue
        yield Finding(
            rule="no-spares" if held == 0 else "few-spares",
            severity="warning" if held == 0 else "note",
            where=kind.key,
            place=written_place(
                project, (*kind.path, "spare_microphones"), (*kind.path, "microphones"), kind.path
            ),
            message=f"Too few spare microphones are held for {rooms_of(kind)}."
            if held
            else f"No spare microphone is held for {rooms_of(kind)}.",
            value=float(held),
            limit=float(wanted),
            unit="microphones",
            source=COMMON_PRACTICE,
            remedy=f"Hold one spare for every {counted(most, 'microphone')} in use, of the form most used.",
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


def return_audio(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where return audio is wanted and has no source, an error where inputs for it lack."""
    for kind in design.kinds:
        layout = kind.layout
        hearing = [code for code, position in layout.microphones.items() if position.return_audio]
        if hearing and not layout.returns:
            yield Finding(
                rule="no-return-source",
                severity="warning",
                where=kind.key,
                place=project.place(*kind.path, "microphones", hearing[0], "return_audio"),
                message=f"Return audio is wanted in {rooms_of(kind)}, but nothing sends any.",
                source=COMMON_PRACTICE,
                remedy="Write under returns where it comes from.",
            )
        wanted = sum(one.channels for one in layout.returns.values() if one.signal == "analogue")
        size = kind.sizing.size("mixer") or kind.sizing.size("breakout")
        inputs = sum(_return_inputs(project.library.entry(model)) for model in (size.models if size else ()))
        if wanted > inputs and size and size.models:
            yield Finding(
                rule="return-inputs-short",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path, "returns"),
                message=f"There are too few analogue inputs for the return audio of {rooms_of(kind)}.",
                value=float(inputs),
                limit=float(wanted),
                unit="inputs",
                source=COMMON_PRACTICE,
                remedy="Take return audio from the network, or choose boxes with more inputs.",
            )


def _return_inputs(entry: Entry) -> int:
    if isinstance(entry, Breakout):
        return entry.return_inputs
    return entry.line_inputs if isinstance(entry, Mixer) else 0


def positions_unused(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each position given for an access point that does not exist."""
    for kind in design.kinds:
        size = kind.sizing.size("access_point")
        there = size.by_code if size else {}
        for code in kind.layout.access_points_at:
            if code not in there:
                yield Finding(
                    rule="position-unused",
                    severity="warning",
                    where=kind.key,
                    place=project.place(*kind.path, "access_points_at", code),
                    message=f"A position is given for {code}, which {rooms_of(kind)} "
                    f"{'do' if len(kind.rooms) > 1 else 'does'} not need.",
                    value=float(len(kind.layout.access_points_at)),
                    limit=float(len(there)),
                    unit="access points",
                    source=COMMON_PRACTICE,
                    remedy="Remove the position, or fix the number of access points in fixed.yaml.",
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


def rooms_of(kind: RoomKind) -> str:
    """Return the rooms of a kind in words."""
    return f"{'room' if len(kind.rooms) == 1 else 'rooms'} {listed(kind.rooms)}"


ROOM_RULES: tuple[Rule, ...] = (
    sizes_short,
    nothing_suits,
    spares,
    metal_ceilings,
    return_audio,
    positions_unused,
    open_questions,
)
