"""The meeting day: state of charge of a microphone through sessions and breaks, and the night after.

Piecewise linear: a pack drains at one rate in use and at another idle on the table, and charges at one rate
up to its taper and at a lower one above. A pack that has aged holds less, but charges at the same power.
"""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import replace

from proposal.field_classes import dataclass
from proposal.model.equipment.parts import Battery

DAY_MINUTES = 24 * 60
FULL = 1.0 - 1e-9
_MOST_DAYS = 60
_SETTLED = 1e-6


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the day in one state: in use, idle, docked or off.

    start, end: minutes after midnight.
    """

    start: float
    end: float
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A battery pack as it drains and charges.

    capacity_wh: energy it holds when full.
    in_use_w, idle_w, off_w: drains off the charger.
    charge_w, taper_w: what it gains in a slot below and above the taper, W.
    taper_from: state of charge where charging slows, 0 to 1.
    """

    capacity_wh: float
    in_use_w: float
    idle_w: float
    off_w: float = 0.0
    charge_w: float
    taper_w: float
    taper_from: float

    def drain_w(self, state: str) -> float:
        """Return what it loses off the charger in a state, W."""
        return {"in use": self.in_use_w, "idle": self.idle_w, "off": self.off_w}[state]


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A pack's day.

    points: minute and state of charge, 0 to 1, where the slope changes.
    lowest: lowest state of charge, and lowest_at when, minutes after midnight.
    full_after_h: hours from the last session until it is full again; None where the night is too short.
    empty_minutes: minutes of sessions with an empty pack.
    """

    points: tuple[tuple[float, float], ...]
    lowest: float
    lowest_at: float
    full_after_h: float | None
    empty_minutes: float

    @property
    def morning(self) -> float:
        """Return the state of charge at the first session of the next day."""
        return self.points[-1][1] if self.points else 1.0


def pack_of(battery: Battery, slot_power_w: float, in_use_share: float, *, aged: bool) -> Pack:
    """Return a battery's pack in a charger.

    slot_power_w: what the charger can give one slot; what the device itself takes there comes off it first.
    in_use_share: share of a session in which the microphone is open; it lies muted for the rest.
    aged: whether at the end of its life.
    """
    given_w = max(slot_power_w - battery.docked, 0.0)
    return Pack(
        capacity_wh=battery.energy * (battery.aged_share if aged else 1.0),
        in_use_w=battery.in_use * in_use_share + battery.idle * (1 - in_use_share),
        idle_w=battery.idle,
        off_w=battery.off,
        charge_w=min(battery.charge_power, given_w) * battery.charge_efficiency,
        taper_w=min(battery.charge_power * battery.taper_share, given_w) * battery.charge_efficiency,
        taper_from=battery.taper_from,
    )


def merged(sessions: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Return sessions in order, those that overlap or follow each other without a break as one.

    sessions: start and end of each, minutes after midnight.
    """
    joined: list[tuple[float, float]] = []
    for start, end in sorted(sessions):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return tuple(joined)


def stretches(sessions: Sequence[tuple[float, float]], docked_share: float) -> tuple[Stretch, ...]:
    """Return a microphone's day from its first session to the next morning's; it stands docked at night.

    sessions: start and end of each, minutes after midnight; those that overlap count once.
    docked_share: share of each break in which it is really docked; it lies idle first.
    """

    def breaks(start: float, end: float) -> tuple[Stretch, ...]:
        docked_from = end - (end - start) * docked_share
        return Stretch(start, docked_from, "idle"), Stretch(docked_from, end, "docked")

    return _day(sessions, breaks, "docked")


def stretches_without_slot(sessions: Sequence[tuple[float, float]]) -> tuple[Stretch, ...]:
    """Return the day of a microphone for which there is no slot: idle in breaks, switched off at night."""
    return _day(sessions, lambda start, end: (Stretch(start, end, "idle"),), "off")


def _day(
    sessions: Sequence[tuple[float, float]],
    breaks: Callable[[float, float], tuple[Stretch, ...]],
    at_night: str,
) -> tuple[Stretch, ...]:
    joined = merged(sessions)
    if not joined:
        return ()
    parts = [Stretch(*joined[0], "in use")]
    for (_, end), (start, until) in itertools.pairwise(joined):
        parts += [*breaks(end, start), Stretch(start, until, "in use")]
    parts.append(Stretch(joined[-1][1], joined[0][0] + DAY_MINUTES, at_night))
    return tuple(part for part in parts if part.end > part.start)


def simulate(pack: Pack, day: Sequence[Stretch], start: float = 1.0) -> Day:
    """Return a pack's day, exactly.

    start: state of charge at its beginning, 0 to 1.
    """
    charge = start
    points: list[tuple[float, float]] = []
    lowest, lowest_at = start, day[0].start if day else 0.0
    empty_minutes = 0.0
    full_after_h: float | None = None
    for part in day:
        corners = _corners(pack, charge, part)
        if part.state == "in use":
            empty_minutes += sum(b - a for (a, low), (b, _) in itertools.pairwise(corners) if low <= 0)
        points += corners
        charge = corners[-1][1]
        for at, level in corners:
            if level < lowest - 1e-12:
                lowest, lowest_at = level, at
        full_after_h = None
        if part.state == "docked":
            full_after_h = next(((at - part.start) / 60 for at, level in corners if level >= FULL), None)
    return Day(
        points=tuple(dict.fromkeys(points)),
        lowest=lowest,
        lowest_at=lowest_at,
        full_after_h=full_after_h,
        empty_minutes=empty_minutes,
    )


def settled(pack: Pack, day: Sequence[Stretch], start: float) -> Day:
    """Return a pack's day once it is like the day before: where the night is too short it starts lower.

    start: state of charge at its beginning after a night that was long enough, 0 to 1.
    """
    found = simulate(pack, day, start)
    begins = start
    for _ in range(_MOST_DAYS):
        after = min(start, found.morning)
        if abs(after - begins) <= _SETTLED:
            break
        begins = after
        found = simulate(pack, day, begins)
    return found


def _corners(pack: Pack, charge: float, part: Stretch) -> list[tuple[float, float]]:
    """Return minute and state of charge at both ends of a stretch and wherever the slope changes."""
    if part.state == "docked":
        return charging(pack, charge, part.start, part.end)
    return _draining(pack, pack.drain_w(part.state), charge, part.start, part.end)


def _draining(pack: Pack, watts: float, charge: float, start: float, end: float) -> list[tuple[float, float]]:
    slope = watts / pack.capacity_wh / 60
    left = charge - slope * (end - start)
    if left >= 0 or slope == 0:
        return [(start, charge), (end, left)]
    empty_at = start + charge / slope
    return [(start, charge), (empty_at, 0.0), (end, 0.0)]


def charging(pack: Pack, charge: float, start: float, end: float) -> list[tuple[float, float]]:
    """Return minute and state of charge in a slot: at the start, at the taper, when full, at the end."""
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


def longer_breaks_needed(
    pack: Pack, sessions: Sequence[tuple[float, float]], docked_share: float, reserve: float, start: float
) -> int | None:
    """Return by how many whole minutes each break has to grow for the pack to keep its reserve.

    reserve: least state of charge at the end of a session, 0 to 1.
    start: state of charge in the morning, 0 to 1.
    sessions, docked_share: as `stretches` takes them; later sessions move back as breaks grow.
    None where there is no break, or none that lets the last session end by midnight does. Every minute is
    tried: a long break in which a microphone first lies idle can be worse than a short one.
    """
    ordered = merged(sessions)
    if len(ordered) < 2:
        return None
    for extra in range(int(DAY_MINUTES - ordered[-1][1]) // (len(ordered) - 1) + 1):
        moved = [(begin + n * extra, end + n * extra) for n, (begin, end) in enumerate(ordered)]
        if settled(pack, stretches(moved, docked_share), start).lowest >= reserve - 1e-9:
            return extra
    return None


def _least(suffices: Callable[[float], bool], most: float) -> float | None:
    """Return the least value, to 0.01, that suffices as all greater ones do; None where none does."""
    if not suffices(most):
        return None
    low, high = 0.0, most
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (low, middle) if suffices(middle) else (middle, high)
    return high


def charge_power_needed(
    pack: Pack, day: Sequence[Stretch], reserve: float, start: float, most_w: float
) -> float | None:
    """Return the least power, to 0.01 W, that the pack must gain below the taper to keep its reserve.

    day: stretches of the day in order.
    reserve, start: least state of charge allowed, and that of the morning, 0 to 1.
    most_w: the most power that is tried, W.
    None where up to `most_w` does not suffice. The share of it that is taken above the taper stays as it is.
    """
    share = pack.taper_w / pack.charge_w if pack.charge_w else 1.0

    def keeps(watts: float) -> bool:
        faster = replace(pack, charge_w=watts, taper_w=watts * share)
        return settled(faster, day, start).lowest >= reserve - 1e-9

    return _least(keeps, most_w)


def capacity_needed(
    pack: Pack, day: Sequence[Stretch], reserve: float, start: float, most_wh: float
) -> float | None:
    """Return the least energy, to 0.01 Wh, that the pack must hold to keep its reserve with the same drains.

    day: stretches of the day in order.
    reserve, start: least state of charge allowed, and that of the morning, 0 to 1.
    most_wh: the most energy that is tried, Wh.
    None where up to `most_wh` does not suffice. It gains charge with the same power.
    """

    def keeps(energy_wh: float) -> bool:
        return settled(replace(pack, capacity_wh=energy_wh), day, start).lowest >= reserve - 1e-9

    return _least(keeps, most_wh)
