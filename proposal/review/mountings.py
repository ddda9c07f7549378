"""Rules about where things are fixed: what a model allows, and surfaces that the client forbids."""

import math
from collections.abc import Callable, Collection, Iterator, Mapping

from proposal.design.design import Design
from proposal.design.equipment.mountings import SURFACE_OF, left_of
from proposal.design.equipment.placed_devices import Placed, to_own
from proposal.design.equipment.room_walls import AT_A_WALL_M, away_m, nearest_wall
from proposal.design.numbers.numbering import natural
from proposal.model.equipment.entry import Device, Entry
from proposal.model.equipment.sound_devices import Loudspeaker
from proposal.model.project import Path, Project
from proposal.model.rooms import Room
from proposal.quantities.tile_grid import to_bar_m, to_tile_middle_m
from proposal.review.finding import Finding, Rule, counted, length_words, listed, written_place
from proposal.review.pathway_remedies import short_words
from proposal.standards.sources import COMMON_PRACTICE, Source

IN_PLENUMS = Source("NFPA 70", clause="300.22(C)", memory=True)
_MOST_NAMED = 6
_ROUNDING_M = 0.01
OVERHEAD_M = 2.0
"""Runs that are higher above the floor than this hang from something."""
_WORDS = {
    "ceiling": "the ceiling",
    "walls": "the walls",
    "floor": "the floor",
    "furniture": "the furniture",
}
_SAID = {
    "ceiling": "on the ceiling",
    "wall": "on a wall",
    "table": "on a table",
    "under table": "under a table",
}


def untouchable_touched(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each device that is fixed to a surface to which nothing may be fixed."""
    for device in design.devices:
        room = project.rooms.get(device.room)
        surface = SURFACE_OF.get(device.location)
        if room is None or surface is None or surface not in room.layout.untouchable:
            continue
        entry = design.entries.get(device.tag)
        yield Finding(
            rule="surface-not-to-be-touched",
            severity="error",
            where=device.tag,
            place=written_place(project, *places_written(project, design, device)),
            message=f"{device.tag} is fixed to {_WORDS[surface]} of {device.room}, to which nothing may be "
            f"fixed: {room.layout.untouchable[surface].rstrip('.')}.",
            source=COMMON_PRACTICE,
            remedy=_elsewhere(project, room, device, entry),
        )


_MOUNTED_BY = {
    "access_point": "access_points_on",
    "loudspeaker": "mounting",
    "microphone": "mounting",
    "assistive_device": "transmitters_on",
}
"""The field that says where a device is mounted, by its kind; for other devices there is none."""


def _field(project: Project, device: Placed) -> str:
    """Return the field that says where a device is mounted, empty where none does."""
    entry = project.library.assistive_devices.get(device.model)
    return "signs_on" if entry and entry.role == "sign" else _MOUNTED_BY.get(device.kind, "")


def _choices(project: Project, device: Placed) -> tuple[str, ...]:
    """Return what may be written in that field."""
    field = _field(project, device)
    written = {"signs_on": ("wall", "table"), "transmitters_on": ("wall", "ceiling", "stand", "table")}
    if device.kind == "microphone":
        return ("ceiling", "wall", "table", "stand", "furniture")
    return written.get(field, ("ceiling", "wall") if field else ())


def _elsewhere(
    project: Project, room: Room | None, device: Placed, entry: Entry | None, fits: str = ""
) -> str:
    """Return what can be written so that a device is where it can be and may.

    entry: its model.  fits: the place for which another model may be made; empty where none may be.
    """
    untouchable = room.layout.untouchable if room else {}
    allowed = entry.mounting if isinstance(entry, Device) else ()
    places = [one for one in left_of(_choices(project, device), untouchable) if one in allowed]
    cures = []
    if places:
        cures.append(f"Write `{_field(project, device)}: {' or '.join(places)}` and a place for it")
    if device.location == "furniture" and room is not None:
        cures.append("Write another `network:` than alone or isolated, so that it is in a rack")
    other = f"{'choose' if cures else 'Choose'} a model that is made for "
    cures.append(other + (f"a place {_SAID[fits]}" if fits else "another place"))
    return ", or ".join(cures[:1] + [one[0].lower() + one[1:] for one in cures[1:]]) + "."


def outlets_at_untouchable_surfaces(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each mains outlet that would be in a surface to which nothing may be fixed."""
    for outlet in (one for circuit in design.circuits for one in circuit.outlets):
        room = project.rooms.get(outlet.place)
        surface = SURFACE_OF.get(outlet.location)
        if room is None or surface is None or surface not in room.layout.untouchable:
            continue
        x_m, y_m = to_own(room, outlet.at)
        place = ", ".join(length_words(one, project.brief.units) for one in (x_m, y_m, outlet.height_m))
        kind = next(one.path for one in design.kinds if outlet.place in one.rooms)
        yield Finding(
            rule="outlet-not-to-be-there",
            severity="error",
            where=outlet.serves,
            place=written_place(project, (*kind, "untouchable"), kind),
            message=f"The outlet for {outlet.serves} ({place} in the room; {outlet.full_w:.0f} W) would be "
            f"in {_WORDS[surface]} of {outlet.place}, to which nothing may be fixed: "
            f"{room.layout.untouchable[surface].rstrip('.')}.",
            source=COMMON_PRACTICE,
            remedy="Move what it feeds to another place or mounting, so that its outlet goes there too.",
        )


def boxes_in_untouchable_floors(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each new floor box in a floor that may not be touched."""
    from shapely import Polygon, contains_xy

    from proposal.model.outlines import corners_in_building

    existing = {node for one in project.building.pathways.values() if one.existing for node in one.between}
    for tag, room in project.rooms.items():
        reason = room.layout.untouchable.get("floor")
        if not reason:
            continue
        inside = Polygon(corners_in_building(room))
        for node, at in project.building.nodes.items():
            new = at.kind == "floor box" and at.storey == room.storey and node not in existing
            if new and contains_xy(inside, *at.at):
                yield Finding(
                    rule="surface-not-to-be-touched",
                    severity="error",
                    where=node,
                    place=project.place("building", "nodes", node),
                    message=f"{node} is a new box in the floor of {tag}, which may not be touched: "
                    f"{reason.rstrip('.')}.",
                    source=COMMON_PRACTICE,
                    remedy="End the pathway elsewhere, or say that it is there already (existing: yes).",
                )


def not_mounted_so(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each device that hangs or stands where its model cannot."""
    for device in design.devices:
        entry = design.entries.get(device.tag)
        if entry is None or device.kind == "microphone" or device.location not in _SAID:
            continue
        if device.location not in entry.mounting:
            allowed = ", ".join(entry.mounting)
            yield Finding(
                rule="mounting-not-possible",
                severity="error",
                where=device.tag,
                place=written_place(project, *places_written(project, design, device)),
                message=f"{device.model} cannot be {_SAID[device.location]}; it is made for: {allowed}.",
                source=COMMON_PRACTICE,
                remedy=_elsewhere(
                    project, project.rooms.get(device.room), device, entry, fits=device.location
                ),
            )


def far_from_walls(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each device that is to hang on a wall and stands away from all of them."""
    for device in design.devices:
        room = project.rooms.get(device.room)
        if room is None or device.location != "wall":
            continue
        own = to_own(room, device.at)
        found_m = away_m(own, nearest_wall(room.layout.outline, own))
        if found_m > AT_A_WALL_M:
            yield Finding(
                rule="not-at-a-wall",
                severity="error",
                where=device.tag,
                place=written_place(project, *places_written(project, design, device)),
                message=f"{device.tag} is to hang on a wall and is not at one.",
                value=found_m,
                limit=AT_A_WALL_M,
                unit="m",
                source=COMMON_PRACTICE,
                remedy="Write a position at a wall."
                if device.kind not in _MOUNTED_BY
                else f"Write a position at a wall, or another `{_field(project, device)}`.",
            )


def _some(cables: Collection[str]) -> str:
    """Return the identities of some cables as a list, the rest counted."""
    names = sorted(cables, key=natural)
    more = len(names) - _MOST_NAMED
    return f"{', '.join(names[:_MOST_NAMED])} and {more} more" if more > 0 else listed(names)


def cables_at_untouchable_ceilings(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each room whose cables run outside pathways under a ceiling not to be touched."""
    from shapely import LineString, Polygon

    from proposal.model.outlines import corners_in_building

    for tag, room in project.rooms.items():
        reason = room.layout.untouchable.get("ceiling")
        if not reason or tag in project.building.portable_sets:
            continue
        # What lies near a wall is fixed to that, where something may be.
        near_m = 0.0 if "walls" in room.layout.untouchable else AT_A_WALL_M
        inside = Polygon(corners_in_building(room)).buffer(-near_m, join_style="mitre")
        overhead_m = project.building.storeys[room.storey].height + OVERHEAD_M
        crossing: dict[str, float] = {}
        for cable in design.cables:
            length_m = 0.0
            for one in cable.route.stretches if cable.room == tag else ():
                if one.level is not None and one.level[0][2] > overhead_m:
                    (x1, y1, _), (x2, y2, _) = one.level
                    length_m += inside.intersection(LineString([(x1, y1), (x2, y1), (x2, y2)])).length
            if length_m > _ROUNDING_M:
                crossing[cable.identity] = length_m
        if crossing:
            yield Finding(
                rule="cables-at-untouchable-ceiling",
                severity="warning",
                where=tag,
                place=written_place(project, *_of_room(design, tag)),
                message=f"{counted(len(crossing), 'cable')} of {tag} ({_some(crossing)}) run overhead "
                f"outside pathways where nothing may be fixed to the ceiling ({reason.rstrip('.')}).",
                value=max(crossing.values()),
                limit=0.0,
                unit="m",
                source=COMMON_PRACTICE,
                remedy="Give them pathways of their own (conduit, trays), and lead them there "
                "(`route` of the cables in fixed.yaml).",
            )


def _on_ceilings(
    project: Project, design: Design, concerned: Callable[[Loudspeaker, Placed], bool]
) -> Mapping[str, list[Placed]]:
    """Return the loudspeakers at ceilings that a rule is concerned with, by model."""
    found: dict[str, list[Placed]] = {}
    for device in design.devices:
        entry = project.library.loudspeakers.get(device.model)
        if entry is not None and device.location == "ceiling" and concerned(entry, device):
            found.setdefault(device.model, []).append(device)
    return found


def no_safety_wire(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each model of loudspeaker that hangs from ceilings and cannot be secured twice."""
    for model, devices in _on_ceilings(project, design, lambda entry, _: not entry.safety_wire).items():
        yield Finding(
            rule="no-safety-wire",
            severity="warning",
            where=devices[0].tag,
            place=written_place(project, *places_written(project, design, devices[0])),
            message=f"{model} has no point for an independent safety wire, and hangs from the ceiling "
            f"{len(devices)} times.",
            source=COMMON_PRACTICE,
            remedy="Choose a loudspeaker that has one, or let a licensed engineer secure it a second time.",
        )


def not_for_moving_air(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each model of loudspeaker that reaches into moving air and is not rated for it.

    An access point hangs below the ceiling; a loudspeaker reaches through it.
    """

    def reaches(entry: Loudspeaker, device: Placed) -> bool:
        room = project.rooms.get(device.room)
        if room is None or entry.plenum_rated:
            return False
        above = room.layout.ceiling.space or project.building.storeys[room.storey].ceiling_space
        return above in project.building.spaces and project.building.spaces[above].plenum

    for model, devices in _on_ceilings(project, design, reaches).items():
        yield Finding(
            rule="not-plenum-rated",
            severity="warning",
            where=devices[0].tag,
            place=written_place(project, *places_written(project, design, devices[0])),
            message=f"{model} reaches into a space through which air for people moves, and is not rated for "
            f"it: {', '.join(one.tag for one in devices)}.",
            source=IN_PLENUMS,
            remedy="Choose a loudspeaker that is rated for plenums, or enclose it as the adopted code asks.",
        )


def over_ceiling_bars(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each kind of room where a bar of the grid is in the way of what hangs there.

    What goes through a tile, or hangs from a bridge across it, needs half its width to the nearest bar.
    """
    for kind in design.kinds:
        found: list[tuple[float, Placed, float, float]] = []
        for device in design.devices:
            room = project.rooms.get(device.room)
            entry = project.library.entry(device.model) if device.model else None
            if (
                room is None
                or device.room != kind.rooms[0]
                or room.layout.ceiling.tile is None
                or device.location != "ceiling"
                or not isinstance(entry, Device)
            ):
                continue
            clear = to_bar_m(to_own(room, device.at), room.layout.ceiling.tile)
            if clear < entry.width / 2 - _ROUNDING_M / 10:
                found.append((clear - entry.width / 2, device, clear, entry.width / 2))
        if not found:
            continue
        _, worst, clear, wanted = min(found, key=lambda one: (one[0], natural(one[1].code)))
        room = project.rooms[worst.room]
        tile = room.layout.ceiling.tile or (1.0, 1.0)
        away = short_words(project, math.hypot(*to_tile_middle_m(to_own(room, worst.at), tile)))
        codes = sorted((one.code for _, one, _, _ in found), key=natural)
        yield Finding(
            rule="over-a-ceiling-bar",
            severity="warning",
            where=worst.tag,
            place=written_place(project, *places_written(project, design, worst)),
            message=f"The grid of the ceiling is in the way of {listed(codes)} in {listed(kind.rooms)}: the "
            f"middle of {worst.code} is too near to a bar for its width.",
            value=clear,
            limit=wanted,
            unit="m",
            source=COMMON_PRACTICE,
            remedy=f"Hang {worst.code} in the middle of its tile, {away} away, and others likewise; check "
            "loudspeaker cover and radio again.",
        )


def _of_room(design: Design, tag: str) -> tuple[Path, ...]:
    kind = next(one.path for one in design.kinds if tag in one.rooms)
    return ((*kind, "untouchable"), kind)


def places_written(project: Project, design: Design, device: Placed) -> tuple[Path, ...]:
    """Return where the place of a device may be written, the nearest first."""
    paths = {tag: kind.path for kind in design.kinds for tag in kind.rooms}
    kind = paths.get(device.room, ("rooms", device.room))
    field = {"access_point": "access_points_at", "loudspeaker": "loudspeakers", "microphone": "microphones"}
    named = field.get(device.kind, "charging_at")
    if device.kind == "assistive_device":
        written = (*kind, "assistive_devices")
        return (
            ("fixed", "devices", device.tag),
            (*written, "transmitters_at", device.code),
            (*written, _field(project, device)),
            (*kind, "untouchable"),
            written,
            (*kind, "assistive_listening"),
            kind,
        )
    return (
        ("fixed", "devices", device.tag),
        (*kind, named, device.code),
        (*kind, "untouchable"),
        (*kind, named),
        kind,
    )


MOUNTING_RULES: tuple[Rule, ...] = (
    untouchable_touched,
    outlets_at_untouchable_surfaces,
    boxes_in_untouchable_floors,
    not_mounted_so,
    far_from_walls,
    cables_at_untouchable_ceilings,
    no_safety_wire,
    not_for_moving_air,
    over_ceiling_bars,
)
"""Rules about where things are fixed."""
