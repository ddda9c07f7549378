"""Rules about the meeting day: reserve, swaps, slots and the night."""

import math
from collections.abc import Iterator

from proposal.design.charging.room_days import GroupDay, RoomDay
from proposal.design.design import Design
from proposal.design.rooms.room_kinds import RoomKind
from proposal.errors import Place
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT

_MOST_TIMES = 4


def reserve_not_kept(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a finding for microphones that fall below the reserve: a warning where swapping spares helps."""
    for kind, day, group in _groups(design):
        judged = day.judged(group)
        if judged not in ("with swaps", "too few spares"):
            continue
        enough = judged == "with swaps"
        run_out = f", empty for {group.aged.empty_minutes:.0f} minutes" if group.aged.empty_minutes else ""
        message = (
            f"{_capital(group.form)} microphones with batteries at the end of their life do not last the day "
            f"{_on(day)}of {_rooms(kind)} without swaps: {group.aged.lowest:.0%} at "
            f"{clock(group.aged.lowest_at)}{run_out}."
        )
        if enough:
            message += (
                f" Swapping {counted(len(group.spares), 'spare')} keeps them at {group.held.lowest:.0%} or "
                f"above with {counted(len(group.held.swaps), 'swap')} a day."
            )
        else:
            held = counted(len(group.spares), "spare")
            message += f" Swapping {held} is not enough." if group.spares else " No spare is held."
        yield Finding(
            rule="battery-needs-swaps" if enough else "battery-below-reserve",
            severity="warning" if enough else "error",
            where=kind.key,
            place=_place(project, kind, day),
            message=message,
            value=group.aged.lowest * 100,
            limit=day.rules.reserve * 100,
            unit="%",
            source=EDITABLE_DEFAULT,
            remedy=f"{_swaps(group)}; or {_remedies(day, group, enough=True)}"
            if enough
            else _capital(_remedies(day, group, enough=False)),
        )


def slots_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for microphones that have no charge slot of their own."""
    for kind, day, group in _groups(design):
        # A slot is there or not, whatever the day.
        if group.without_slot and day is design.days[kind.key][0]:
            yield Finding(
                rule="no-charge-slot",
                severity="error",
                where=kind.key,
                place=project.place("fixed", "rooms", kind.key),
                message=(
                    f"{counted(len(group.without_slot), f'{group.form} microphone')} of {_rooms(kind)} "
                    f"without a charge slot: {listed(group.without_slot)}. Nothing charges them overnight."
                ),
                value=float(len(group.in_use) + len(group.spares) - len(group.without_slot)),
                limit=float(len(group.in_use) + len(group.spares)),
                unit="microphones with a slot",
                source=COMMON_PRACTICE,
                remedy=f"Add chargers with {counted(len(group.without_slot), 'slot')} for this form.",
            )


def nights_too_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where microphones in their slots are not full again by the next morning."""
    for kind, day, group in _groups(design):
        if group.aged.full_after_h is None and not group.slotless:
            yield Finding(
                rule="night-too-short",
                severity="warning",
                where=kind.key,
                place=_place(project, kind, day),
                message=(
                    f"{_capital(group.form)} microphones of {_rooms(kind)} are not full when the next day "
                    f"begins{f' after the day {day.name}' if day.name else ''}: {group.aged.morning:.0%}."
                ),
                value=group.aged.morning * 100,
                limit=100.0,
                unit="%",
                source=COMMON_PRACTICE,
                remedy=_longer_nights(group),
            )


def _longer_nights(group: GroupDay) -> str:
    """Return what fills microphones by the morning; spares only where fewer are held than are in use."""
    lacking = len(group.in_use) - len(group.spares)
    if lacking <= 0:
        return "End earlier, or charge with more power."
    spares = counted(lacking, f"spare {group.form} microphone", more=bool(group.spares))
    return f"End earlier, charge with more power, or hold {spares}: as many as are in use."


def clock(minutes: float) -> str:
    """Return a time of day: 16:30.

    minutes: after midnight.
    """
    hours, rest = divmod(round(minutes), 60)
    return f"{hours % 24:02d}:{rest:02d}"


def _swaps(group: GroupDay) -> str:
    """Return who has to be found to change microphones, how often and when."""
    times = list(dict.fromkeys(clock(at) for at in group.held.swaps))
    told = listed(times) if len(times) <= _MOST_TIMES else f"the first at {times[0]}, the last at {times[-1]}"
    return f"Agree who makes the {counted(len(group.held.swaps), 'swap')} of the day ({told})"


def _remedies(day: RoomDay, group: GroupDay, *, enough: bool) -> str:
    """Return what would keep the reserve, each computed, as a sentence."""
    ways = []
    if not enough and group.pool:
        more = group.pool.spares - len(group.spares)
        slots = f" and {counted(group.more_slots, 'charge slot', more=True)}" if group.more_slots else ""
        ways.append(
            f"hold {counted(more, f'spare {group.form} microphone', more=True)} ({group.pool.spares} in all)"
            f"{slots}, with {counted(len(group.pool.swaps), 'swap')} a day"
        )
    if group.longer_breaks_min is not None:
        ways.append(
            f"make each break {counted(group.longer_breaks_min, 'minute')} longer, so that the day ends at "
            f"{clock(group.last_end)}"
        )
    if group.charge_w is not None:
        ways.append(
            f"charge packs with {group.charge_w:.1f} W instead of {group.pack.charge_w:.1f} W below "
            f"{group.pack.taper_from:.0%}"
        )
    if group.energy_wh is not None:
        # Rounded up: a pack as large as it is printed keeps the reserve.
        ways.append(
            f"take packs that hold {math.ceil(group.energy_wh * 10 - 1e-9) / 10:.1f} Wh new instead of "
            f"{group.battery.energy:.1f} Wh, at the same drains"
        )
    if not ways:
        ways.append(
            "no longer break, faster charge or further spare helps: shorten the sessions, or take "
            "microphones that run longer"
            if not enough
            else "shorten the sessions: no longer break and no faster charge would do without"
        )
    return "; or ".join(ways) + "."


def _groups(design: Design) -> Iterator[tuple[RoomKind, RoomDay, GroupDay]]:
    for kind in design.kinds:
        for day in design.days.get(kind.key, ()):
            yield from ((kind, day, group) for group in day.groups)


def _on(day: RoomDay) -> str:
    return f"{day.name} " if day.name else ""


def _place(project: Project, kind: RoomKind, day: RoomDay) -> Place:
    """Return where the sessions of a day are written."""
    return project.place(*kind.path, *(("days", day.name) if day.name else ("sessions",)))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _rooms(kind: RoomKind) -> str:
    return f"{'room' if len(kind.rooms) == 1 else 'rooms'} {listed(kind.rooms)}"


CHARGING_RULES: tuple[Rule, ...] = (reserve_not_kept, slots_missing, nights_too_short)
