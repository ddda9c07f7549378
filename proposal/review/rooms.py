"""Rules about rooms: sizes, spares, radio links, ceilings and open questions."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.equipment.audio_needs import MIXES
from proposal.design.equipment.device_capacity import Size
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.rooms.device_positions import charging_point
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.rooms.side_by_side import CLEAR_OF_DOORS_M, CLEAR_OF_SEATS_M
from proposal.errors import Place
from proposal.model.outlines import Point, corners_in_building, from_sides_m, is_on
from proposal.model.project import Path, Project
from proposal.review.finding import Finding, Rule, counted, length_words, listed, written_place
from proposal.review.model_remedies import fitting_microphones
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT

_SHORT = {
    "access_point": ("channels-short", "radio channels", "channel"),
    "charger": ("slots-short", "charge slots", "slot"),
    "mixer": ("inputs-short", "mixer inputs", "input"),
    "breakout": ("outputs-short", "breakout outputs", "output"),
    "amplifier": ("amplifier-channels-short", "amplifier channels", "channel"),
}


def sizes_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each kind of room whose boxes, chosen by hand, give less than it needs."""
    for kind in design.kinds:
        for size in kind.sizing.sizes:
            if size.carried or size.given >= size.need or not size.by_hand:
                continue
            rule, noun, unit = _SHORT[size.kind]
            yield Finding(
                rule=rule,
                severity="error",
                where=kind.key,
                place=_sizes_place(project, kind, size),
                message=f"The {noun} chosen by hand are too few for {rooms_of(kind)}.",
                value=float(size.given),
                limit=float(size.need),
                unit=f"{unit}s",
                source=COMMON_PRACTICE,
                remedy=f"Choose boxes with {counted(size.need - size.given, unit, more=True)}, "
                "or leave the choice to the program.",
            )


_IN_WORDS = {
    "networked inputs": ("inputs-short", "microphones"),
    "analogue outputs": ("outputs-short", "destinations"),
    "analogue inputs": ("return-inputs-short", "returns"),
    "USB channels in": ("inputs-short", "returns"),
}


def audio_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each sort of input or output that the mixers or breakouts of a kind of room lack.

    What breakouts cannot carry that nobody chose by hand, a mixer would carry: it is an error of its own.
    """
    for kind in design.kinds:
        size = kind.sizing.size("mixer") or kind.sizing.size("breakout")
        if size is None:
            continue
        choice = "chosen by hand for" if size.by_hand else "of"
        for one in size.lacking:
            rule, field = _IN_WORDS.get(
                one.what, ("inputs-short" if size.kind == "mixer" else "outputs-short", "destinations")
            )
            if one.what != MIXES and (size.by_hand or rule == "return-inputs-short"):
                yield Finding(
                    rule=rule,
                    severity="error",
                    where=kind.key,
                    place=_sizes_place(project, kind, size)
                    if size.by_hand
                    else written_place(project, (*kind.path, field), kind.path),
                    message=f"The {size.kind}s {choice} {rooms_of(kind)} have too few {one.what}.",
                    value=float(one.given),
                    limit=float(one.need),
                    unit=one.what,
                    source=COMMON_PRACTICE,
                    remedy=f"Choose boxes with {one.need - one.given} more, or carry less over them.",
                )
        if size.kind == "breakout" and size.models and size.lacking:
            lacks = listed([f"{one.what} ({one.given} of {one.need})" for one in size.lacking])
            by_hand = size.by_hand and all(one.what != MIXES for one in size.lacking)
            if not by_hand:
                yield Finding(
                    rule="mix-without-mixer",
                    severity="error",
                    where=kind.key,
                    place=project.place(*kind.path, "output"),
                    message=f"The breakouts of {rooms_of(kind)} cannot carry what the room names: {lacks}.",
                    source=COMMON_PRACTICE,
                    remedy="Write output: mixer, or give every destination a channel for each microphone.",
                )


def _sizes_place(project: Project, kind: RoomKind, size: Size) -> Place:
    """Return where boxes were chosen by hand: for the room, or one by one."""
    return written_place(
        project,
        ("fixed", "rooms", kind.key, f"{size.kind}s"),
        *(("fixed", "devices", device_tag(kind.key, code), "model") for code in size.by_code),
        ("fixed", "rooms", kind.key),
    )


def chargers_in_the_way(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where chargers whose place nobody wrote stand among seats or in a door."""
    for kind in design.kinds:
        layout = kind.layout
        if layout.charging_at is not None or not kind.sizing.slots:
            continue
        at = charging_point(project, layout)
        near = [
            (math.dist(at, one.at) - CLEAR_OF_SEATS_M, f"seat {tag}") for tag, one in layout.seats.items()
        ]
        near += [
            (math.dist(at, one.at) - one.width / 2 - CLEAR_OF_DOORS_M, f"door {tag}")
            for tag, one in layout.doors.items()
        ]
        short_m, what = min(near, default=(0.0, ""))
        if short_m >= 0:
            continue
        units = project.brief.units
        yield Finding(
            rule="chargers-in-the-way",
            severity="warning",
            where=kind.key,
            place=project.place(*kind.path, "seat_rows" if what.startswith("seat") else "doors"),
            message=f"Nobody wrote where the chargers of {rooms_of(kind)} stand; before the middle of the "
            f"longest wall ({length_words(at[0], units)}, {length_words(at[1], units)}) is {what}.",
            source=COMMON_PRACTICE,
            remedy="Write charging_at: a place clear of seats and doors.",
        )


def same_codes(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where two things of one room have the same code, so that a plan shows it twice."""
    for kind in design.kinds:
        layout = kind.layout
        held = (
            ("seats", layout.seats),
            ("microphones", layout.microphones),
            ("wired_microphones", layout.wired_microphones),
            ("loudspeakers", layout.loudspeakers),
        )
        for n, (name, codes) in enumerate(held):
            for other, others in held[n + 1 :]:
                same = sorted(set(codes) & set(others), key=natural)
                if same:
                    yield Finding(
                        rule="same-code-twice",
                        severity="warning",
                        where=kind.key,
                        place=written_place(
                            project, (*kind.path, other, same[0]), (*kind.path, other), kind.path
                        ),
                        message=f"{counted(len(same), 'code')} of {rooms_of(kind)} ({same[0]} to {same[-1]}) "
                        f"stand for {name.replace('_', ' ')} and for {other.replace('_', ' ')}.",
                        source=COMMON_PRACTICE,
                        remedy=f"Call the {other.replace('_', ' ')} otherwise.",
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
                remedy=fitting_microphones(project, kind, unmet.path)
                or "Add a fitting entry to the project's or the company's library.",
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
        used = Counter(one.form for one in kind.layout.microphones.values())
        form = min(used, key=lambda one: (-used[one], one))
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
            remedy=f"Hold {counted(wanted - held, f'spare {form} microphone', more=held > 0)} "
            f"(spare_microphones): one for every {counted(most, 'microphone')} in use.",
        )


def metal_ceilings(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for access points on a metal ceiling."""
    for kind in design.kinds:
        if kind.layout.ceiling.kind == "metal" and kind.layout.microphones:
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
    """Yield a warning where return audio is wanted and has no source, or comes and is heard by nobody."""
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
        if layout.returns and not hearing and not layout.loudspeakers:
            yield Finding(
                rule="return-unheard",
                severity="warning",
                where=kind.key,
                place=project.place(*kind.path, "returns"),
                message=f"Return audio comes into {rooms_of(kind)}, and nobody can hear it there.",
                source=COMMON_PRACTICE,
                remedy="Write return_audio at the microphones whose talkers hear it, or loudspeakers.",
            )


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


_NOTHING: tuple[object, ...] = (None, "", (), {})
"""Defaults that stand for nothing, such as no public holidays."""


def open_questions(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each value that the project says is unknown, or leaves out though nothing is usual."""
    for question in project.questions:
        left_out = question.path not in project.places
        meanwhile = (
            "nothing but what the assumptions say is counted for it"
            if question.value in _NOTHING
            else "the default computes"
        )
        yield Finding(
            rule="not-stated" if left_out else "open-question",
            severity="note",
            where=".".join(str(part) for part in question.path),
            place=question.place,
            message=f"{'Not stated' if left_out else 'Not known yet'}: {question.title}.",
            source=EDITABLE_DEFAULT,
            remedy=f"Find out and write the value; {meanwhile} meanwhile.",
        )


def rooms_of(kind: RoomKind) -> str:
    """Return the rooms of a kind in words."""
    return f"{'room' if len(kind.rooms) == 1 else 'rooms'} {listed(kind.rooms)}"


def outside_the_building(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each room and equipment room that reaches beyond the outer walls given."""
    standing: list[tuple[str, str, Sequence[Point], Path]] = [
        (tag, room.storey, corners_in_building(room), ("rooms", tag))
        for tag, room in project.rooms.items()
        if tag not in project.building.portable_sets
    ]
    standing += [
        (tag, room.storey, [room.at], ("building", "equipment_rooms", tag, "at"))
        for tag, room in project.building.equipment_rooms.items()
    ]
    for tag, storey, points, path in standing:
        outline = project.building.storeys[storey].outline
        beyond = [point for point in points if outline and not is_on(point, outline)]
        if not outline or not beyond:
            continue
        far_m = max(from_sides_m(point, outline) for point in beyond)
        moved = length_words(math.ceil(far_m * 10) / 10, project.brief.units)
        yield Finding(
            rule="outside-the-building",
            severity="warning",
            where=tag,
            place=project.place(*path),
            message=f"{tag} reaches beyond the outer walls of {storey}.",
            value=far_m,
            limit=0.0,
            unit="m",
            source=EDITABLE_DEFAULT,
            remedy=f"Move it by {moved} at least, or correct the outline of {storey} in building.yaml.",
        )


ROOM_RULES: tuple[Rule, ...] = (
    outside_the_building,
    sizes_short,
    chargers_in_the_way,
    same_codes,
    audio_short,
    nothing_suits,
    spares,
    metal_ceilings,
    return_audio,
    positions_unused,
    open_questions,
)
