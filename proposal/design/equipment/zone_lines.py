"""The lines of a room's loudspeakers: one a zone, or more where no channel of an amplifier carries it.

Parts of a zone play the same, at the same taps; each has a channel and a feed of its own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import count

from proposal.design.equipment.line_loads import (
    SAME_VOLTAGE_V,
    Hung,
    LineUnit,
    ZoneLoad,
    carries,
    hung_as_laid_out,
    rated_w,
    zone_loads,
)
from proposal.design.numbers.numbering import natural
from proposal.design.solving.line_order import line_order
from proposal.model.loudspeaker_rules import LINE_VOLTAGES
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.standards.loudspeaker_lines import tap_draw_w
from proposal.standards.reserve import usable_power_w

_Parts = tuple[int, float, tuple[int, ...]]
"""Of a row of loudspeakers: how many parts, the heaviest of them in W, and where each begins."""


def line_of_each(project: Project, layout: RoomType) -> Mapping[str, str]:
    """Return the line of each loudspeaker of a layout by its code: its zone, or a part of that by number.

    layout: of the room.
    """
    zones = {code: one.zone for code, one in layout.loudspeakers.items()}
    hung = hung_as_laid_out(project, layout)
    if not project.library.amplifiers or _all_light(project, layout, hung):
        return zones
    at = {one.code: one.at for one in hung}
    taken = set(zones.values())
    for zone, load in zone_loads(project, layout, hung).items():
        parts = _parts(project, load, [at[one.code] for one in load.units])
        if len(parts) > 1:
            names = (name for n in count(1) if (name := f"{zone} {n}") not in taken)
            zones |= {one.code: name for name, part in zip(names, parts, strict=False) for one in part}
    return zones


def lines_of(project: Project, layout: RoomType) -> tuple[str, ...]:
    """Return the lines of a room's loudspeakers, in order.

    layout: of the room.
    """
    return tuple(sorted(set(line_of_each(project, layout).values())))


def line_loads(
    project: Project, layout: RoomType, hung: Sequence[Hung], lines: Mapping[str, str] | None = None
) -> Mapping[str, ZoneLoad]:
    """Return the load of each line of a room, in order.

    layout: of the room.  hung: its loudspeakers where they hang.
    lines: the line of each of them by its code, where they are known already.
    """
    names = line_of_each(project, layout) if lines is None else lines
    found: dict[str, ZoneLoad] = {}
    for load in zone_loads(project, layout, hung).values():
        units: dict[str, list[LineUnit]] = {}
        for one in load.units:
            units.setdefault(names[one.code], []).append(one)
        found |= {name: replace(load, zone=name, units=tuple(part)) for name, part in units.items()}
    return dict(sorted(found.items()))


def _all_light(project: Project, layout: RoomType, hung: Sequence[Hung]) -> bool:
    """Return whether zones hold so little that one amplifier carries each at the highest taps there are."""
    rules = project.brief.rules.loudspeakers
    voltage_v = LINE_VOLTAGES.get(layout.loudspeaker_line or rules.line_in(project.brief.region))
    if voltage_v is None:
        return False
    most_w = max(
        (
            usable_power_w(rated_w(one), rules.headroom)
            for one in project.library.amplifiers.values()
            if any(abs(each - voltage_v) < SAME_VOLTAGE_V for each in one.line_voltages)
        ),
        default=0.0,
    )
    draws_w: dict[str, float] = {}
    for one in hung:
        written = layout.loudspeakers[one.code]
        tap_w = max(one.entry.rated_power, written.tap or 0.0)
        drawn_w = tap_draw_w(tap_w, one.entry.transformer_loss)
        draws_w[written.zone] = draws_w.get(written.zone, 0.0) + drawn_w
    return all(drawn_w <= most_w for drawn_w in draws_w.values())


def _parts(project: Project, load: ZoneLoad, at: Sequence[tuple[float, float]]) -> list[list[LineUnit]]:
    """Return the fewest neighbours together that a channel of the library carries each, as even as can be.

    load: of a zone.  at: position of each of its loudspeakers in the room, m.
    The zone as a whole where a channel carries it, or where none carries one loudspeaker alone.
    """
    amplifiers = project.library.amplifiers.values()

    def carried(units: Sequence[LineUnit]) -> bool:
        part = replace(load, units=tuple(units))
        return any(carries(project, one, part) for one in amplifiers)

    if carried(load.units):
        return [list(load.units)]
    away_m = [[abs(x - u) + abs(y - v) for u, v in at] for x, y in at]
    row = [load.units[n] for n in line_order([0.0] * len(at), away_m)]
    best: list[_Parts | None] = [(0, 0.0, ())]
    for end in range(1, len(row) + 1):
        found: list[_Parts] = []
        for start in range(end - 1, -1, -1):
            before = best[start]
            if not carried(row[start:end]):
                if load.voltage_v is None:
                    continue
                break
            if before is not None:
                drawn_w = sum(one.draws_w for one in row[start:end])
                found.append((before[0] + 1, max(before[1], round(drawn_w, 6)), (*before[2], start)))
        best.append(min(found, default=None))
    whole = best[-1]
    if whole is None:
        return [list(load.units)]
    ends = (*whole[2][1:], len(row))
    return [
        sorted(row[start:end], key=lambda one: natural(one.code))
        for start, end in zip(whole[2], ends, strict=True)
    ]
