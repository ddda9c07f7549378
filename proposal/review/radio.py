"""Rules about radio: levels, places of access points, neighbours, and what the plan rests on."""

import math
from collections.abc import Iterator
from itertools import combinations

from proposal.design.design import Design
from proposal.design.equipment.placed_devices import Placed, in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import Neighbourhood, neighbourhood
from proposal.design.radio.placement import place
from proposal.design.radio.radio_settings import power_limit_dbm, region, spacing_m
from proposal.design.radio.room_placement import placement_task
from proposal.design.rooms.room_kinds import RoomKind
from proposal.errors import Place
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.project import Project
from proposal.quantities.formatting import count_of, listed
from proposal.review.finding import Finding, Rule, length_words, written_place
from proposal.review.radio_words import levers_words, overfull_words
from proposal.standards.dect import LISTENING, transceivers_needed
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source

_LEVELS = Source("received level at least sensitivity and fade margin", kind="common practice")
_INTERFERENCE = Source(
    "carrier to interference of the equipment and fade margin", kind="common practice", memory=True
)
_ROUNDING_DB = 0.05


def margins_low(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each access point whose weakest microphone is received too weakly."""
    weakest: dict[str, int] = {}
    margins = design.radio.margins
    for number, margin in enumerate(margins):
        before = weakest.get(margin.access_point)
        if before is None or margin.margin_db < margins[before].margin_db:
            weakest[margin.access_point] = number
    for tag in sorted(weakest, key=natural):
        margin = margins[weakest[tag]]
        if margin.margin_db >= 0:
            continue
        yield Finding(
            rule="radio-margin-low",
            severity="error",
            where=margin.microphone,
            place=_place_of(project, design, tag),
            message=f"The link of {margin.microphone} to {tag} is received too weakly.",
            value=margin.received_dbm,
            limit=margin.sensitivity_dbm + margin.fade_db,
            unit="dBm",
            source=_LEVELS,
            remedy=_stronger(project, design, margin.room, -margin.margin_db),
        )


def _stronger(project: Project, design: Design, room: str, short_db: float) -> str:
    """Return what would bring a room's weakest link up by so much: other places, or more power."""
    kind = _kind(design, room)
    best = _best_margin_db(project, kind)
    now = min(margin.margin_db for margin in design.radio.margins if margin.room == room)
    if best is not None and best >= 0 > now:
        return f"Leave the positions out: in the best places found, the margin is {best:.1f} dB."
    layout = project.rooms[room].layout
    if layout.radio.power is not None:
        return f"Raise the room's power setting by {math.ceil(short_db)} dB, now {layout.radio.power:g} dBm."
    worst = max((margin.hindered_db for margin in design.radio.margins if margin.room == room), default=0.0)
    if worst > short_db:
        return f"Clear the path: obstructions take {worst:.1f} dB of it."
    return f"Add an access point nearer by; {short_db:.1f} dB are missing."


def _best_margin_db(project: Project, kind: RoomKind) -> float | None:
    """Return the worst margin that the best places would give, None where placement has no answer."""
    size = kind.sizing.size("access_point")
    task = placement_task(project, kind.layout, kind.sizing.microphones, size.by_code if size else {})
    found = place(task) if task else None
    return found.worst_db if found else None


def second_paths_weak(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for rooms with several access points where a microphone has no second path."""
    rooms: dict[str, tuple[float, str]] = {}
    for margin in design.radio.margins:
        if margin.second_db is not None and margin.second_db < 0:
            rooms[margin.room] = min(
                rooms.get(margin.room, (math.inf, "")), (margin.second_db, margin.microphone)
            )
    for room in sorted(rooms, key=natural):
        value, microphone = rooms[room]
        yield Finding(
            rule="no-second-path",
            severity="note",
            where=room,
            place=project.place("rooms", room),
            message=f"{microphone} is received by only one access point; a person in the way can cut it off.",
            value=value,
            limit=0.0,
            unit="dB",
            source=COMMON_PRACTICE,
            remedy=f"Move the room's access points so that a second one gains {-value:.1f} dB.",
        )


def access_points_close(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for access points of a room that hang too near each other."""
    for room in design.rooms:
        boxes = [
            (device, entry)
            for device in room.devices
            if isinstance(entry := design.entries.get(device.tag), AccessPoint)
        ]
        for (one, first), (other, second) in combinations(boxes, 2):
            least = spacing_m(project, first, second)
            apart = math.dist((*one.at, one.height_m), (*other.at, other.height_m))
            if apart < least - 1e-6:
                yield Finding(
                    rule="access-points-close",
                    severity="warning",
                    where=other.tag,
                    place=_place_of(project, design, other.tag),
                    message=f"{one.tag} and {other.tag} hang too near each other.",
                    value=apart,
                    limit=least,
                    unit="m",
                    source=COMMON_PRACTICE,
                    remedy=f"Move {other.tag} away by {length_words(least - apart, project.brief.units)}.",
                )


def access_points_out_of_place(project: Project, design: Design) -> Iterator[Finding]:
    """Yield findings about access points outside their room or inside an obstruction."""
    from shapely import Point, Polygon

    for room in design.rooms:
        layout = project.rooms[room.tag].layout
        outline = Polygon([in_building(project.rooms[room.tag], corner) for corner in layout.outline])
        for device in room.devices:
            if device.kind != "access_point":
                continue
            at = Point(device.at)
            if not outline.buffer(1e-6).covers(at):
                yield _outside(project, design, device)
            for tag, one in sorted(layout.radio.obstructions.items()):
                shape = Polygon([in_building(project.rooms[room.tag], corner) for corner in one.outline])
                if shape.contains(at):
                    yield Finding(
                        rule="access-point-obstructed",
                        severity="warning",
                        where=device.tag,
                        place=_place_of(project, design, device.tag),
                        message=f"{device.tag} hangs inside obstruction {tag} ({one.kind}).",
                        source=COMMON_PRACTICE,
                        remedy=f"Hang it clear of {tag}, in sight of its microphones.",
                    )


def _outside(project: Project, design: Design, device: Placed) -> Finding:
    worst = min(
        (margin.margin_db for margin in design.radio.margins if margin.access_point == device.tag),
        default=None,
    )
    judged = "It serves no microphone."
    if worst is not None:
        judged = f"With the walls on the way its weakest microphone keeps {worst:.1f} dB of margin."
    return Finding(
        rule="access-point-outside-room",
        severity="note" if worst is not None and worst >= 0 else "warning",
        where=device.tag,
        place=_place_of(project, design, device.tag),
        message=f"{device.tag} hangs outside its room. {judged}",
        source=COMMON_PRACTICE,
        remedy="Measure on site before it is fixed, or hang it in the room.",
    )


def plan_impossible(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each neighbourhood that is too full, with the sum; the first says what helps."""
    radio = design.radio
    if radio.outcome != "impossible":
        return
    too_full = [one for one in radio.neighbourhoods if one.over]
    proof = radio.air.plan.proof
    if not too_full and proof is not None:
        too_full = [neighbourhood(radio.air, proof)]
    helps = levers_words(radio.levers, project.brief.units, radio.planned_alone)
    for number, one in enumerate(too_full):
        several = "radio" if number == 0 else ", ".join(one.rooms)
        alone = one.rooms[0] if len(one.rooms) == 1 else several
        if one.kind == "transceivers":
            yield _transceivers_short(project, design, one)
            continue
        yield Finding(
            rule="radio-impossible",
            severity="error",
            where=alone,
            place=project.place("rooms", next((tag for tag in one.rooms if tag in project.rooms), "")),
            message=overfull_words(one),
            value=float(one.wanted) if one.over else None,
            limit=float(one.held) if one.over else None,
            unit="slot pairs",
            source=_INTERFERENCE,
            remedy=helps
            if number == 0
            else f"Take {count_of(one.over_links, 'link')} out here, or do here what would help in the "
            "fullest neighbourhood.",
        )


def _transceivers_short(project: Project, design: Design, one: Neighbourhood) -> Finding:
    entry = design.entries.get(one.access_point)
    wanted = transceivers_needed(one.links, entry.radio.slot_pairs) if isinstance(entry, AccessPoint) else 0
    return Finding(
        rule="transceivers-short",
        severity="error",
        where=one.access_point,
        place=_place_of(project, design, one.access_point),
        message=overfull_words(one),
        value=float(one.wanted),
        limit=float(one.held),
        unit="slot pairs",
        source=Source("ETSI EN 300 175-2"),
        remedy=f"Choose an access point with {wanted} transceivers or more, or serve fewer links by it.",
    )


def plan_not_settled(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where some links found no place though no sum rules that out, with what would help."""
    radio = design.radio
    if radio.outcome != "not settled":
        return
    missing = radio.air.missing
    rooms = listed(sorted({link.room for link in missing}, key=natural))
    near_far = sum(one.near_far for one in radio.rooms if one.room in {link.room for link in missing})
    pairs = (
        f"{count_of(near_far, 'pair')} of links there differ too much in level for neighbouring carriers."
        if near_far
        else "No two links there differ too much in level for neighbouring carriers."
    )
    fullest = radio.neighbourhoods[0]
    yield Finding(
        rule="radio-not-settled",
        severity="warning",
        where="radio",
        place=written_place(project, ("building", "radio"), ("building", "storeys")),
        message=f"{count_of(len(missing), 'link')} of {len(radio.air.links)} found no place on the air, in "
        f"{rooms}, though no sum rules it out. {pairs} Fullest: {overfull_words(fullest)}",
        value=float(fullest.wanted),
        limit=float(fullest.held),
        unit="slot pairs",
        source=_INTERFERENCE,
        remedy=levers_words(radio.levers, project.brief.units, radio.planned_alone),
    )


def plan_without_reserve(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for neighbourhoods whose every slot pair is taken: nothing can change its channel."""
    if design.radio.outcome != "planned":
        return
    for one in design.radio.neighbourhoods:
        if one.kind == "carrier" and one.wanted == one.held:
            yield Finding(
                rule="radio-no-reserve",
                severity="warning",
                where=one.rooms[0] if len(one.rooms) == 1 else "radio",
                place=project.place("rooms", next((tag for tag in one.rooms if tag in project.rooms), "")),
                message=f"Every slot pair is taken: {overfull_words(one)}",
                value=float(one.wanted),
                limit=float(one.held),
                unit="slot pairs",
                source=COMMON_PRACTICE,
                remedy="Use one wireless microphone less at once, so that a disturbed link can move.",
            )


def places_not_proven(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where microphones that listen first may find their places taken, by all they hear."""
    rules = region(project).listening
    unproven = [tag for tag, access in design.radio.accesses.items() if access == "not proven"]
    if rules is None or not unproven:
        return
    rooms = {margin.microphone: margin.room for margin in design.radio.margins}
    where = listed(sorted({rooms[tag] for tag in unproven}, key=natural))
    yield Finding(
        rule="radio-reuse-not-proven",
        severity="warning",
        where="radio",
        place=project.place("building", "radio"),
        message=f"That {count_of(len(unproven), 'link')} in {where} may use places again that others use "
        "was not proven: their microphones hear others above the first threshold there, and a quieter place "
        f"elsewhere. Access is sought anew every {rules.repeated_after_h:g} h.",
        source=LISTENING,
        remedy="Measure what these microphones hear with all rooms in use, or lower the power of others.",
    )


def shares_exceeded(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for access points that hold more of the band than one device may."""
    for one in design.radio.heavy:
        yield Finding(
            rule="radio-share-exceeded",
            severity="warning",
            where=one.access_point,
            place=_place_of(project, design, one.access_point),
            message=f"{one.access_point} holds more of the band than one device may: it fills "
            f"{count_of(one.carriers, 'carrier')}.",
            value=float(one.slot_pairs),
            limit=float(one.most),
            unit="slot pairs",
            source=LISTENING,
            remedy="Serve fewer links by it, or choose more access points with fewer channels.",
        )


def plan_fragile(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note where walls or interference that are off break the plan, and what to measure."""
    if design.radio.outcome != "planned":
        return
    stronger, shift_db = design.radio.cases.stronger.outcome, design.radio.cases.shift_db
    if stronger == "planned":
        # What bears so much more from everywhere bears walls and floors that lose so much less.
        return
    tolerance = design.radio.tolerance
    walls = tolerance is not None and tolerance.off_db < shift_db
    said = f"With interference {shift_db:g} dB stronger than computed the plan is {stronger}."
    remedy = "Write the walls as they are built, and measure in the fullest neighbourhood."
    if tolerance is not None and walls:
        said = (
            f"The plan breaks where all walls and floors lose {tolerance.off_db + 1} dB less than computed."
        )
        if tolerance.loss_db is not None:
            remedy = (
                f"Measure between {listed(tolerance.rooms)}: the loss from antenna to antenna must be "
                f"{math.ceil(tolerance.loss_db)} dB or more."
            )
    yield Finding(
        rule="radio-plan-fragile",
        severity="note",
        where="radio",
        place=written_place(project, ("building", "radio"), ("building", "storeys")),
        message=said,
        source=_INTERFERENCE,
        remedy=remedy,
    )


def power_settings(project: Project, design: Design) -> Iterator[Finding]:
    """Yield findings about power settings: above the limit, or not among those of the equipment."""
    for kind in design.kinds:
        wanted = kind.layout.radio.power
        radios = [
            entry
            for room in design.rooms
            if room.tag == kind.rooms[0]
            for device in room.devices
            if isinstance(entry := design.entries.get(device.tag), AccessPoint | Microphone)
        ]
        if wanted is None or not radios:
            continue
        limit = min(power_limit_dbm(project, entry.radio.antenna_gain) for entry in radios)
        settings = sorted(
            {
                power
                for entry in radios
                if project.brief.region in entry.radio.regions
                for power in entry.radio.regions[project.brief.region].powers
            }
        )
        where, place_of = kind.key, project.place(*kind.path, "radio", "power")
        allowed = max((power for power in settings if power <= limit + _ROUNDING_DB), default=limit)
        if wanted > limit + _ROUNDING_DB:
            yield Finding(
                rule="radio-power-above-limit",
                severity="error",
                where=where,
                place=place_of,
                message="The room's power setting is above what the region allows.",
                value=wanted,
                limit=limit,
                unit="dBm",
                source=Source("power limit of the region"),
                remedy=f"Set {allowed:g} dBm or less.",
            )
        elif settings and all(abs(wanted - power) > _ROUNDING_DB for power in settings):
            yield Finding(
                rule="radio-power-no-setting",
                severity="warning",
                where=where,
                place=place_of,
                message=f"{wanted:g} dBm is no power setting of the equipment; the next lower one is used.",
                source=EDITABLE_DEFAULT,
                remedy=f"Set one of {', '.join(f'{power:g} dBm' for power in settings)}.",
            )


def _kind(design: Design, room: str) -> RoomKind:
    return next(kind for kind in design.kinds if room in kind.rooms)


def _place_of(project: Project, design: Design, tag: str) -> Place:
    """Return where the position of an access point stands, or what else it follows from."""
    if tag in project.fixed.devices:
        return project.place("fixed", "devices", tag)
    for room in design.rooms:
        for device in room.devices:
            if device.tag == tag:
                kind = _kind(design, room.tag)
                if device.code in kind.layout.access_points_at:
                    return project.place(*kind.path, "access_points_at", device.code)
                return project.place(*kind.path)
    return project.place("rooms")


RADIO_RULES: tuple[Rule, ...] = (
    margins_low,
    second_paths_weak,
    access_points_close,
    access_points_out_of_place,
    plan_impossible,
    plan_not_settled,
    plan_without_reserve,
    places_not_proven,
    shares_exceeded,
    plan_fragile,
    power_settings,
)
