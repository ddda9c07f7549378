"""Rules about radio: levels, places of access points, power settings."""

import math
from collections.abc import Iterator
from itertools import combinations

from proposal.design.design import Design
from proposal.design.equipment.placed_devices import Placed, in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.placement import place
from proposal.design.radio.radio_settings import power_limit_dbm, spacing_m
from proposal.design.radio.room_placement import placement_task
from proposal.design.rooms.room_kinds import RoomKind
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, at_least_words, length_words
from proposal.review.radio_plan import RADIO_PLAN_RULES, kind_of, place_of
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source

_LEVELS = Source("received level at least sensitivity and fade margin", kind="common practice")
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
            place=place_of(project, design, tag),
            message=f"The link of {margin.microphone} to {tag} is received too weakly.",
            value=margin.received_dbm,
            limit=margin.sensitivity_dbm + margin.fade_db,
            unit="dBm",
            source=_LEVELS,
            remedy=_stronger(project, design, margin.room, -margin.margin_db),
        )


def _stronger(project: Project, design: Design, room: str, short_db: float) -> str:
    """Return what would bring a room's weakest link up by so much: other places, or more power."""
    kind = kind_of(design, room)
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
    """Yield a warning for access points of a room that are too close to each other."""
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
                    place=place_of(project, design, other.tag),
                    message=f"{one.tag} and {other.tag} are too close to each other.",
                    value=apart,
                    limit=least,
                    unit="m",
                    source=COMMON_PRACTICE,
                    remedy=f"Move {other.tag} away by {length_words(least - apart, project.brief.units)}"
                    + (
                        ", to a mast of its own (access_points_at)."
                        if room.tag in project.building.portable_sets
                        else "."
                    ),
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
                    inside_m = shape.exterior.distance(at)
                    yield Finding(
                        rule="access-point-obstructed",
                        severity="warning",
                        where=device.tag,
                        place=place_of(project, design, device.tag),
                        message=f"{device.tag} hangs inside obstruction {tag} ({one.kind}).",
                        source=COMMON_PRACTICE,
                        remedy=f"Move it by {at_least_words(inside_m, project.brief.units)} at least, "
                        f"clear of {tag} and in sight of its microphones.",
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
        place=place_of(project, design, device.tag),
        message=f"{device.tag} is outside its room. {judged}",
        source=COMMON_PRACTICE,
        remedy="Measure on site before it is fixed, or hang it in the room.",
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


RADIO_RULES: tuple[Rule, ...] = (
    margins_low,
    second_paths_weak,
    access_points_close,
    access_points_out_of_place,
    *RADIO_PLAN_RULES,
    power_settings,
)
