"""The meeting day: state of charge of microphones through sessions and breaks, and the night after.

Piecewise linear: a pack drains at one rate in use and at another idle on the table, and charges at one rate
up to its taper and at a lower one above. A pack that has aged holds less, but charges at the same power.
"""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from proposal.model.parts import Battery

DAY_MINUTES = 24 * 60


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the day in one state: in use, idle or docked, from start to end, minutes after midnight."""

    start: float
    end: float
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A battery pack as it drains and charges.

    capacity_wh: energy it holds when full.
    in_use_w, idle_w: drains off the charger.
    charge_w, taper_w: what it gains in a slot below and above the taper, W.
    taper_from: state of charge where charging slows, 0 to 1.
    """

    capacity_wh: float
    in_use_w: float
    idle_w: float
    charge_w: float
    taper_w: float
    taper_from: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A pack's day.

    points: minute and state of charge, 0 to 1, where the slope changes; it starts full.
    lowest: lowest state of charge, and lowest_at when, minutes after midnight.
    full_after_h: hours from the last session until it is full again; None where the night is too short.
    empty_minutes: minutes of sessions with an empty pack.
    """

    points: tuple[tuple[float, float], ...]
    lowest: float
    lowest_at: float
    full_after_h: float | None
    empty_minutes: float


def pack_of(battery: Battery, slot_power_w: float, *, aged: bool) -> Pack:
    """Return a battery's pack in a charger.

    slot_power_w: what the charger gives one slot with all slots taken.
    aged: whether at the end of its life.
    """
    charge_w = min(battery.charge_power, slot_power_w) * battery.charge_efficiency
    return Pack(
        capacity_wh=battery.energy * (battery.aged_share if aged else 1.0),
        in_use_w=battery.in_use,
        idle_w=battery.idle,
        charge_w=charge_w,
        taper_w=charge_w * battery.taper_share,
        taper_from=battery.taper_from,
    )


def stretches(sessions: Sequence[tuple[float, float]], docked_share: float) -> tuple[Stretch, ...]:
    """Return a microphone's day from its first session to the next morning's.

    sessions: start and end of each, minutes after midnight; those that overlap count once.
    docked_share: share of each break in which it is really docked; it lies idle first.
    """
    merged: list[list[float]] = []
    for start, end in sorted(sessions):
        if merged and start <= merged[-1][1]:
            merged[-1][1] = max(merged[-1][1], end)
        else:
            merged.append([start, end])
    parts: list[Stretch] = []
    for n, (start, end) in enumerate(merged):
        parts.append(Stretch(start, end, "in use"))
        if n + 1 < len(merged):
            docked_from = merged[n + 1][0] - (merged[n + 1][0] - end) * docked_share
            parts += [Stretch(end, docked_from, "idle"), Stretch(docked_from, merged[n + 1][0], "docked")]
    if merged:
        parts.append(Stretch(merged[-1][1], merged[0][0] + DAY_MINUTES, "docked"))
    return tuple(part for part in parts if part.end > part.start)


def simulate(pack: Pack, day: Sequence[Stretch]) -> Day:
    """Return a pack's day, exactly; it starts full."""
    charge = 1.0
    points: list[tuple[float, float]] = []
    lowest, lowest_at = 1.0, day[0].start if day else 0.0
    empty_minutes = 0.0
    full_after_h: float | None = 0.0
    for part in day:
        points.append((part.start, charge))
        if part.state == "docked":
            corners = _charging(pack, charge, part.start, part.end)
            full_after_h = next(
                ((at - part.start) / 60 for at, level in corners if level >= 1.0 - 1e-9), None
            )
        else:
            watts = pack.in_use_w if part.state == "in use" else pack.idle_w
            corners = _draining(pack, watts, charge, part.start, part.end)
            if part.state == "in use":
                empty_minutes += sum(
                    end - start for (start, low), (end, _) in itertools.pairwise(corners) if low <= 0
                )
        points += corners[1:]
        charge = corners[-1][1]
        for at, level in corners:
            if level < lowest - 1e-12:
                lowest, lowest_at = level, at
    return Day(
        points=tuple(dict.fromkeys(points)),
        lowest=lowest,
        lowest_at=lowest_at,
        full_after_h=full_after_h,
        empty_minutes=empty_minutes,
    )


def _draining(pack: Pack, watts: float, charge: float, start: float, end: float) -> list[tuple[float, float]]:
    """Return the corners of a stretch off the charger."""
    slope = watts / pack.capacity_wh / 60
    left = charge - slope * (end - start)
    if left >= 0 or slope == 0:
        return [(start, charge), (end, left)]
    empty_at = start + charge / slope
    return [(start, charge), (empty_at, 0.0), (end, 0.0)]


def _charging(pack: Pack, charge: float, start: float, end: float) -> list[tuple[float, float]]:
    """Return the corners of a stretch in a slot: to the taper, to full, full."""
    corners = [(start, charge)]
    at = start
    for watts, top in ((pack.charge_w, pack.taper_from), (pack.taper_w, 1.0)):
        if charge >= top or at >= end or watts <= 0:
            continue
        slope = watts / pack.capacity_wh / 60
        reached = at + (top - charge) / slope
        if reached >= end:
            corners.append((end, charge + slope * (end - at)))
            return corners
        at, charge = reached, top
        corners.append((at, charge))
    if at < end:
        corners.append((end, charge))
    return corners


def spares_needed(pack: Pack, day: Sequence[Stretch], talkers: int, reserve: float) -> int | None:
    """Return the fewest spare packs with which every talker's pack stays at its reserve or above all day.

    talkers: microphones in use at once.
    reserve: least state of charge, 0 to 1.
    The rule that people can keep to: whenever a spare in a charger is full, it changes places with the
    emptiest microphone in use. None where as many spares as talkers do not suffice.
    """
    for spares in range(talkers + 1):
        if _rotation_lowest(pack, day, talkers, spares) >= reserve - 1e-9:
            return spares
    return None


def _rotation_lowest(pack: Pack, day: Sequence[Stretch], talkers: int, spares: int) -> float:
    """Return the lowest state of charge in use with the rule of rotation, minute by minute."""
    used = [1.0] * talkers
    resting = [1.0] * spares
    lowest = 1.0
    for part in day[:-1]:
        for _ in range(round(part.end - part.start)):
            resting = [_minute(pack, charge) for charge in resting]
            if part.state == "docked":
                used = [_minute(pack, charge) for charge in used]
                continue
            watts = pack.in_use_w if part.state == "in use" else pack.idle_w
            used = [max(charge - watts / pack.capacity_wh / 60, 0.0) for charge in used]
            for n, charge in enumerate(resting):
                emptiest = min(range(talkers), key=used.__getitem__)
                if charge >= 1.0 - 1e-9 and used[emptiest] < 1.0 - 1e-9:
                    resting[n], used[emptiest] = used[emptiest], charge
            lowest = min(lowest, *used)
    return lowest


def _minute(pack: Pack, charge: float) -> float:
    """Return the state of charge after a minute in a slot."""
    return _charging(pack, charge, 0.0, 1.0)[-1][1]


def break_extension_needed(
    pack: Pack, sessions: Sequence[tuple[float, float]], docked_share: float, reserve: float
) -> float | None:
    """Return by how many minutes each break has to grow for the pack to keep its reserve; None if none does.

    sessions, docked_share: as `stretches` takes them. Later sessions move back as breaks grow.
    """
    ordered = sorted(sessions)
    if len(ordered) < 2:
        return None

    def lowest(extra: float) -> float:
        moved = [(start + n * extra, end + n * extra) for n, (start, end) in enumerate(ordered)]
        return simulate(pack, stretches(moved, docked_share)).lowest

    longest = (DAY_MINUTES - (ordered[-1][1] - ordered[0][0])) / (len(ordered) - 1)
    return _least(lowest, reserve, longest)


def charge_power_needed(pack: Pack, day: Sequence[Stretch], reserve: float, most_w: float) -> float | None:
    """Return the charge power below the taper with which the pack keeps its reserve; None up to `most_w`."""

    def lowest(watts: float) -> float:
        share = pack.taper_w / pack.charge_w if pack.charge_w else 0.0
        faster = replace(pack, charge_w=watts, taper_w=watts * share)
        return simulate(faster, day).lowest

    return _least(lowest, reserve, most_w)


def _least(lowest: Callable[[float], float], reserve: float, most: float) -> float | None:
    """Return the least argument, to a hundredth, at which the reserve is kept; None up to `most`."""
    if lowest(most) < reserve - 1e-9:
        return None
    low, high = 0.0, most
    while high - low > 0.01:
        middle = (low + high) / 2
        if lowest(middle) >= reserve - 1e-9:
            high = middle
        else:
            low = middle
    return high
