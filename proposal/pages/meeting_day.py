"""The meeting day and the muting of a kind of room, as its page tells them."""

from proposal.document.rows.charging import MeetingDay, MuteRow, PackDay
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import code_phrase
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities import formatting
from proposal.quantities.formatting import count_of


def day_words(here: PageContext, sheet: RoomSheet) -> tuple[Html, ...]:
    """Return paragraphs about a kind of room's meeting day: what was taken into account, then each form."""
    day = sheet.day
    if day is None:
        return ()
    opening = (
        f"Computed with batteries at the end of their life, microphones open for "
        f"{_share(here, day.in_use_share)} of each session and docked for {_share(here, day.docked_share)} "
        f"of each break. At no time may less than {_share(here, day.reserve)} be left."
    )
    return (text(opening), *(text(" ".join(_of_pack(here, day, pack))) for pack in day.packs))


def _of_pack(here: PageContext, day: MeetingDay, pack: PackDay) -> list[str]:
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


def day_table(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return the figures of a kind of room's meeting day, None where it has none."""
    if sheet.day is None:
        return None
    fields: list[Field[PackDay]] = [
        *fields_of(here, PackDay, "form", "verdict"),
        Field(Column(here.heading("in_use"), numeric=True), lambda row: here.count(len(row.in_use))),
        Field(Column(here.heading("spare"), numeric=True), lambda row: here.count(len(row.spares))),
        *fields_of(here, PackDay, "run_time_h", "fresh_lowest", "aged_lowest", "lowest_at"),
        *fields_of(here, PackDay, "full_after_h", "pool", "pool_swaps"),
    ]
    return schedule("State of charge over the meeting day", fields, sheet.day.packs)


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
