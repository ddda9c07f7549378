"""Cables outside pathways on the plans of a storey: their runs, and where they go up to the ceiling."""

import math
from collections.abc import Iterable, Mapping, Set
from itertools import pairwise

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.document.wall_passages import onward_of, openings_on
from proposal.drawings.plan.plan_marks import code_of, natural, shortened
from proposal.drawings.plan.storey_pathways import HIGH_M, drawn_pathways, towards
from proposal.drawings.plan.storey_spec import Level, PlanRun, Point
from proposal.quantities.floor_runs import SIDE_BY_SIDE_M

_INSIDE_M = 0.6
"""How far from a wall a run is drawn that goes along it overhead, m."""
_STRAIGHT_M = 0.1
_Leg = tuple[Point, Point, str, str]
"""Ends of a run, where it goes on off the plan, and the room whose codes that names."""
OVERHEAD_M = 2.0
"""From this height on, what hangs on a wall stands on the ceiling plan."""


def on_level(device: DeviceRow, level: Level) -> bool:
    """Return whether a device stands on the floor plan or on the ceiling plan.

    level: floor or ceiling.
    """
    high = device.location == "wall" and device.height_m is not None and device.height_m >= OVERHEAD_M
    return (device.location == "ceiling" or high) == (level == "ceiling")


def rising_at(document: Document, cable: CableRow) -> Point | None:
    """Return where the cable of a device below the ceiling goes up to its way above it, in the building, m.

    None for a device at the ceiling, and for a way that begins low.
    """
    device = next((row for row in document.devices if row.tag == cable.from_tag), None)
    room = next((row for row in document.rooms if row.tag == cable.room), None)
    if device is None or device.at is None or room is None or device.storey != room.storey:
        return None
    if cable.first_run_m is None or cable.first_run_m <= HIGH_M or on_level(device, "ceiling"):
        return None
    if device.location == "wall":
        return _near(device.at) if device.at != (*cable.turns, None)[0] else None
    return cable.rises_at


def runs_of(document: Document, storey: str, standing: set[str], level: Level) -> tuple[PlanRun, ...]:
    """Return the runs outside pathways: from devices of this plan to where they enter, and on to racks.

    standing: tags of the devices on the plan.
    """
    at = {device.tag: device.at for device in document.devices}
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    drawn = {row.tag for row in drawn_pathways(document, storey, level)}
    other = "down to" if level == "ceiling" else "up to"
    counted: dict[_Leg, dict[str, int]] = {}
    entries = entries_of(document, storey)
    if level == "ceiling":
        counted |= _risen(document, storey, racks, entries)
    for cable in document.cables:
        start, end = at.get(cable.from_tag), at.get(cable.to_tag)
        if start is None or end is None or _together(cable, start, end):
            continue
        runs: list[_Leg] = []
        if (over := _over_the_ceiling(document, cable, racks)) is not None:
            if storey == cable.from_storey:
                # On the floor plan from both devices to where it goes up; on the other what lies overhead.
                codes = [code_of(tag, cable.room) for tag in (cable.from_tag, cable.to_tag)]
                middle = _inwards(document, cable.room, _half_way(*over), over)
                below = {cable.from_tag, cable.to_tag} <= standing
                for device_at, foot, own, far in zip((start, end), over, codes, codes[::-1], strict=True):
                    if level == "ceiling":
                        runs.append((middle, foot, f"down to {own}", cable.room))
                    elif below:
                        runs.append((device_at, foot, f"up to {far}", cable.room))
                _count(counted, runs, cable.signal)
            continue
        if _along_walls(cable):
            if storey == cable.from_storey and {cable.from_tag, cable.to_tag} <= standing:
                counting = pairwise((start, *cable.turns, end))
                _count(counted, ((one, two, "", "") for one, two in counting), cable.signal)
            continue
        if cable.from_panel and cable.turns and cable.from_storey == storey and level == "ceiling":
            runs.append((cable.turns[0], start, "", ""))
        if cable.from_storey == storey and cable.from_tag in standing:
            up = rising_at(document, cable)
            if up and not cable.pathways and cable.to_tag in racks:
                # From the furniture at a wall nothing is drawn but what goes on above the ceiling.
                if cable.floor_m:
                    runs.append((start, up, f"{other} {cable.to_tag}", ""))
            elif cable.turns:
                away = _leaving(document, cable, drawn, other)
                runs.append((start, up or entries[cable.identity], away, ""))
            else:
                ends_here = cable.to_tag in standing or cable.to_tag in racks
                code = code_of(cable.to_tag, cable.room)
                if ends_here:
                    runs.append((start, end, "", ""))
                else:
                    room = cable.room if code != cable.to_tag else ""
                    runs.append((start, cable.comes_down_at or end, f"{other} {code}", room))
        if cable.turns and cable.to_storey == storey and level == "ceiling":
            if cable.pathways:
                runs.append((cable.turns[-1], end, "", ""))
            else:
                runs.append((end, cable.turns[-1], towards(document, storey, cable.from_storey), ""))
        _count(counted, runs, cable.signal)
    return tuple(
        PlanRun((one, two), tuple(sorted(signals.items())), goes_on, room)
        for (one, two, goes_on, room), signals in sorted(counted.items())
    )


def _inwards(document: Document, room: str, at: Point, ends: tuple[Point, Point]) -> Point:
    """Return a point moved into a room, so that what runs along its walls is drawn inside these, m.

    room: its tag.  ends: where what runs through the point ends.
    """
    outline = next((row.outline for row in document.rooms if row.tag == room), ())
    middles = [(min(values) + max(values)) / 2 for values in zip(*outline, strict=True)] or at
    moved = [
        one + max(-_INSIDE_M, min(_INSIDE_M, middle - one)) for one, middle in zip(at, middles, strict=True)
    ]
    # What ends nearly there goes straight on.
    x, y = (
        next((end[axis] for end in ends if abs(end[axis] - moved[axis]) < _STRAIGHT_M), moved[axis])
        for axis in (0, 1)
    )
    return _near((x, y))


def _over_the_ceiling(document: Document, cable: CableRow, racks: Set[str]) -> tuple[Point, Point] | None:
    """Return where a cable between two devices of a room goes up one wall and comes down another, m.

    racks: tags of all.  None for a cable that does not.
    """
    up, down = rising_at(document, cable), cable.comes_down_at
    if up is None or down is None or cable.pathways or cable.turns or cable.to_tag in racks:
        return None
    return up, down


def _along_walls(cable: CableRow) -> bool:
    """Return whether a cable goes by the corners of its room, along its walls."""
    return bool(cable.turns) and not cable.pathways and cable.from_storey == cable.to_storey


def _count(
    counted: dict[_Leg, dict[str, int]],
    runs: Iterable[_Leg],
    signal: str,
) -> None:
    """Count a cable of a signal on each of its runs that has a length."""
    for one, two, goes_on, room in runs:
        if _near(one) != _near(two):
            signals = counted.setdefault((_near(one), _near(two), goes_on, room), {})
            signals[signal] = signals.get(signal, 0) + 1


def entries_of(document: Document, storey: str) -> dict[str, Point]:
    """Return where each cable that begins on a storey enters its first pathway, led through its opening, m.

    An opening that it shares lies on its way along the pathway: it enters that beside the opening.
    """
    entering = {
        cable.identity: cable for cable in document.cables if cable.from_storey == storey and cable.turns
    }
    found = {name: cable.turns[0] for name, cable in entering.items()}
    onward = onward_of(document)
    for one in openings_on(document, storey):
        axis = 1 if one.upright else 0
        for name in one.names:
            if name not in entering:
                continue
            x, y = found[name]
            far = sorted((0.0, onward[name][axis]))
            if far[0] <= one.at[axis] - found[name][axis] <= far[1]:
                found[name] = (x, one.at[1]) if one.upright else (one.at[0], y)
    return found


def _together(cable: CableRow, start: Point, end: Point) -> bool:
    """Return whether a cable joins two devices that stand side by side, so that no run of it is drawn."""
    if cable.turns or cable.rises_at or cable.comes_down_at or cable.to_storey != cable.from_storey:
        return False
    return math.dist(start, end) <= SIDE_BY_SIDE_M


def _risen(
    document: Document, storey: str, racks: Set[str], entries: Mapping[str, Point]
) -> dict[_Leg, dict[str, int]]:
    """Return what goes on above the ceiling of a storey from where cables come up, counted by signal.

    racks: tags of all; to these a cable may go without a pathway.
    entries: where each cable enters its first pathway, m.
    """
    at = {device.tag: device.at for device in document.devices}
    together: dict[tuple[Point, Point, str, str], list[CableRow]] = {}
    for cable in document.cables:
        if cable.from_storey == storey and (up := rising_at(document, cable)) is not None:
            into = entries.get(cable.identity, at.get(cable.to_tag))
            if into is not None and (cable.turns or cable.to_tag in racks):
                away = "" if cable.pathways else towards(document, storey, cable.to_storey)
                together.setdefault((_near(into), _near(up), cable.room, away), []).append(cable)
    found: dict[_Leg, dict[str, int]] = {}
    for (into, up, room, away), cables in together.items():
        codes = shortened(sorted({code_of(cable.from_tag, room) for cable in cables}, key=natural))
        # One that leaves the storey without a pathway says at both ends where it goes.
        middle = _half_way(up, into) if away else into
        ends = [(middle, up, f"down to {codes}", room), *([(middle, into, away, "")] if away else [])]
        for run in ends:
            signals = found.setdefault(run, {})
            for cable in cables:
                signals[cable.signal] = signals.get(cable.signal, 0) + 1
    return found


def _half_way(start: Point, end: Point) -> Point:
    """Return the middle of the longer leg of a right-angled run, along x first, then along y."""
    corner = end[0], start[1]
    one, two = max(((start, corner), (corner, end)), key=lambda leg: math.dist(*leg))
    return _near(((one[0] + two[0]) / 2, (one[1] + two[1]) / 2))


def _leaving(document: Document, cable: CableRow, drawn: set[str], other: str) -> str:
    """Return where a run goes on off the plan; empty where its pathway is drawn there.

    drawn: tags of the pathways on the plan.  other: towards the other plan of the storey, in words.
    """
    if not cable.pathways:
        return towards(document, cable.from_storey, cable.to_storey)
    return "" if cable.pathways[0] in drawn else f"{other} {cable.pathways[0]}"


def _near(at: Point) -> Point:
    return round(at[0], 3), round(at[1], 3)
