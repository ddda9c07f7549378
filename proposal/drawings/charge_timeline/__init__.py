"""The state of charge of a kind of room's microphones through the meeting day and the night after."""

from decimal import Decimal

from proposal.document.rows.charging import OneDay, PackDay
from proposal.document.rows.rooms import RoomSheet
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting, percentages

Points = tuple[tuple[float, float], ...]
VERDICTS = {
    "alone": "no swaps needed",
    "with swaps": "swaps needed",
    "too few spares": "more spares needed",
    "slots short": "more charge slots needed",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """The microphones of one form and battery.

    title: what they are and how they last.
    fresh, aged, slotless: minute after midnight and state of charge, with new batteries, with batteries at
    the end of their life, and for a microphone that finds no slot; the last is empty where all do.
    lowest, lowest_at: of the aged ones.
    """

    title: str
    fresh: Points
    aged: Points
    slotless: Points
    lowest: float
    lowest_at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TimelineSpec:
    """All that the timeline of a kind of room shows.

    sessions: start and end, minutes after midnight.  reserve: least state of charge, 0 to 1.
    until: where the timeline ends, minutes after midnight.  day: kind of day; empty for the usual one.
    """

    strip: TitleBlock
    locale: str
    sessions: tuple[tuple[float, float], ...]
    reserve: float
    until: float
    lines: tuple[Line, ...]
    day: str = ""


def spec_of(edition: Edition, sheet: SheetRow) -> TimelineSpec:
    """Return what the timeline of a kind of room shows.

    Raises ValueError for a kind of room without sessions.
    """
    room = next(row for row in edition.document.room_sheets if row.key == sheet.subject)
    name = next(iter(sheet.members), "")
    day = _day(room, name)
    if day is None:
        raise ValueError(f"wanted a kind of room with sessions; found {sheet.subject}")
    evening = day.sessions[-1][1]
    full = [pack.full_after_h for pack in day.packs]
    hours = max((one for one in full if one is not None), default=0.0)
    night = day.night_h
    return TimelineSpec(
        strip=strip_of(edition, sheet),
        locale=edition.document.cover.locale,
        sessions=day.sessions,
        reserve=day.reserve,
        until=evening + 60 * (night if None in full else min(hours + 1, night)),
        lines=tuple(_line(pack) for pack in day.packs),
        day=name,
    )


def _day(room: RoomSheet, name: str) -> OneDay | None:
    """Return the day of a name, the usual one where it is empty."""
    if not name:
        return room.day
    return next((day for day in room.further_days if day.name == name), None)


def _line(pack: PackDay) -> Line:
    spares = f", {len(pack.spares)} spare" if pack.spares else ""
    return Line(
        title=f"{len(pack.in_use)} {pack.form} in use{spares}: {VERDICTS[pack.verdict]}",
        fresh=pack.fresh,
        aged=pack.aged,
        slotless=pack.slotless,
        lowest=pack.aged_lowest,
        lowest_at=pack.lowest_at,
    )


def clock(minutes: float, locale: str) -> str:
    """Return a time of day as the locale writes it; hours after midnight count from 0 again.

    minutes: after midnight.
    """
    return formatting.time_of_day(round(minutes) % (24 * 60), locale)


def per_cent(share: float, locale: str) -> str:
    """Return a share as whole per cent, as the locale writes it."""
    return percentages.percentage(Decimal(round(share * 100)) / 100, locale)


def alternative(spec: TimelineSpec) -> str:
    """Return what the timeline shows in sentences."""
    sessions = ", ".join(
        f"{clock(start, spec.locale)} to {clock(end, spec.locale)}" for start, end in spec.sessions
    )
    over = f"day {spec.day}" if spec.day else "day"
    sentences = [
        f"State of charge over the {over}. Sessions {sessions}. "
        f"The reserve is {per_cent(spec.reserve, spec.locale)}."
    ]
    for line in spec.lines:
        fresh = min(level for _, level in line.fresh)
        sentences.append(
            f"{line.title[:1].upper()}{line.title[1:]}. "
            f"Lowest with new batteries {per_cent(fresh, spec.locale)}, "
            f"with batteries at the end of their life {per_cent(line.lowest, spec.locale)} at "
            f"{clock(line.lowest_at, spec.locale)}."
        )
    return " ".join(sentences)
