"""The meeting days and the muting of a kind of room, as its page tells them."""

from collections.abc import Iterator, Sequence

from proposal.document.rows.charging import MuteRow, OneDay, PackDay
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import code_phrase
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities import formatting
from proposal.quantities.formatting import count_of


def day_words(here: PageContext, sheet: RoomSheet) -> tuple[Html, ...]:
    """Return paragraphs about a kind of room's meeting days: what was taken into account, then each form.

    Further kinds of day follow by name, and last what holds on which day.
    """
    days = _days(sheet)
    if not days:
        return ()
    _, day = days[0]
    opening = (
        f"Computed with batteries at the end of their life, microphones open for "
        f"{_share(here, day.in_use_share)} of each session and in their chargers for "
        f"{_share(here, day.docked_share)} of each break. At no time may less than "
        f"{_share(here, day.reserve)} be left."
    )
    paragraphs = [opening]
    for name, one in days:
        lines = [" ".join(_of_pack(here, pack)) for pack in one.packs]
        if name:
            lines[:1] = [f"{_on_day(here, name, one)} {line}" for line in lines[:1]]
        paragraphs += lines
    if len(days) > 1:
        paragraphs += _by_day(days)
    return tuple(text(one) for one in paragraphs)


def _days(sheet: RoomSheet) -> list[tuple[str, OneDay]]:
    """Return a kind of room's meeting days by name, the usual one without a name first."""
    usual = [("", sheet.day)] if sheet.day else []
    return [*usual, *((day.name, day) for day in sheet.further_days)]


def _on_day(here: PageContext, name: str, day: OneDay) -> str:
    sessions = [f"{_time(here, start)} to {_time(here, end)}" for start, end in day.sessions]
    return f"On the day {name}, with sessions {formatting.listed(sessions)}:"


def _by_day(days: Sequence[tuple[str, OneDay]]) -> Iterator[str]:
    """Yield for each form how it lasts on which day, and which day wants most spares where they differ."""
    packs = [
        (f"the day {name}" if name else "the usual day", pack) for name, day in days for pack in day.packs
    ]
    for form in dict.fromkeys(pack.form for _, pack in packs):
        held: dict[str, list[str]] = {}
        pools: dict[int, list[str]] = {}
        for on_day, pack in packs:
            if pack.form == form:
                held.setdefault(_HOLDS[pack.verdict], []).append(on_day)
                if pack.pool is not None:
                    pools.setdefault(pack.pool, []).append(on_day)
        said = "; ".join(f"{verdict} on {formatting.listed(on_days)}" for verdict, on_days in held.items())
        sentence = f"{form.capitalize()} microphones: {said}."
        if len(pools) > 1:
            most = max(pools)
            sentence += f" The spares wanted are those of {formatting.listed(pools[most])}: {most}."
        yield sentence


_HOLDS = {
    "alone": "no swaps",
    "with swaps": "swaps with the spares held",
    "too few spares": "not enough spares",
    "slots short": "not enough charge slots",
}


def _of_pack(here: PageContext, pack: PackDay) -> list[str]:
    """Return the sentences about microphones of one form and battery."""
    count = len(pack.in_use)
    lowest = f"{here.quantity(pack.aged_lowest, 'fraction')} at {_time(here, pack.lowest_at)}"
    who = f"{pack.form.capitalize()} microphones ({code_phrase(pack.in_use)})"
    if pack.verdict == "alone":
        return [f"{who} last the day without swaps: their lowest is {lowest}."]
    if pack.verdict == "slots short":
        return [
            f"{who}: there is no charge slot for {code_phrase(pack.without_slot)}.",
            f"Without one a microphone starts every day lower, until it stays empty: {lowest}.",
        ]
    empty = f", empty for {count_of(round(pack.empty_minutes), 'minute')}" if pack.empty_minutes >= 1 else ""
    sentences = [f"{who} do not last the day without swaps: they fall to {lowest}{empty}."]
    if pack.verdict == "with swaps":
        sentences.append(
            f"With {count_of(len(pack.spares), 'spare')} held and {count_of(pack.held_swaps, 'swap')} a day, "
            f"none falls below {here.quantity(pack.held_lowest, 'fraction')}."
        )
    elif pack.pool is not None and pack.pool > len(pack.spares):
        slots = f" and {count_of(pack.more_slots, 'more charge slot')}" if pack.more_slots else ""
        sentences.append(
            f"{count_of(pack.pool, 'spare').capitalize()} for {count} in use{slots} would do, with "
            f"{count_of(pack.pool_swaps, 'swap')} a day; {len(pack.spares)} held."
        )
    elif pack.pool is None:
        sentences.append("No number of spares would do.")
    ways = []
    if pack.longer_breaks_min is not None:
        ways.append(
            f"breaks longer by {count_of(pack.longer_breaks_min, 'minute')}, which ends the day at "
            f"{_time(here, pack.last_end)}"
        )
    if pack.charge_w is not None:
        ways.append(
            f"charging with {here.quantity(pack.charge_w, 'power')} instead of "
            f"{here.quantity(pack.charged_w, 'power')}"
        )
    if ways:
        sentences.append(f"What would do instead: {', or '.join(ways)}.")
    return sentences


def day_tables(here: PageContext, sheet: RoomSheet) -> tuple[Html, ...]:
    """Return the figures of each of a kind of room's meeting days, the usual one first."""
    return tuple(_day_table(here, name, day) for name, day in _days(sheet))


def _day_table(here: PageContext, name: str, day: OneDay) -> Html:
    fields: list[Field[PackDay]] = [
        *fields_of(here, PackDay, "form", "verdict"),
        Field(Column(here.heading("in_use"), numeric=True), lambda row: here.count(len(row.in_use))),
        Field(Column(here.heading("spare"), numeric=True), lambda row: here.count(len(row.spares))),
        *fields_of(here, PackDay, "run_time_h", "fresh_lowest", "aged_lowest", "lowest_at"),
        *fields_of(here, PackDay, "full_after_h", "pool", "pool_swaps"),
    ]
    over = f"day {name}" if name else "meeting day"
    return schedule(f"Charge of the batteries over the {over}", fields, day.packs)


def mute_table(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return what each way of muting does in a kind of room, None where nothing is known of it."""
    if not sheet.mutes:
        return None
    fields: list[Field[MuteRow]] = [
        *fields_of(here, MuteRow, "trigger", "microphones", "indicator", "local_mix", "far_end"),
    ]
    return schedule("What each way of muting does", fields, sheet.mutes)


def _share(here: PageContext, share: float) -> str:
    return here.short_quantity(share, "fraction")


def _time(here: PageContext, minutes: float) -> str:
    return formatting.time_of_day(round(minutes), here.cover.locale)
