"""Rows about the meeting day and about muting, which stand on the sheets of kinds of room."""

from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Everyone, Shown


class MuteRow(Shown):
    """What holds while a trigger does: a line of the truth table."""

    trigger: Annotated[Everyone[str], Holds("text")] = Field(description="What somebody does.")
    microphones: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Codes of the microphones concerned; empty for all of the room."
    )
    indicator: Annotated[Everyone[str], Holds("text")] = Field(
        description="What the microphones' indicators show."
    )
    local_mix: Annotated[Everyone[str], Holds("text")] = Field(
        description="Whether they are heard in the room."
    )
    far_end: Annotated[Everyone[str], Holds("text")] = Field(
        description="Whether they are heard by the far end."
    )


class PackDay(Shown):
    """The day of a kind of room's microphones of one form and battery."""

    form: Annotated[Everyone[str], Holds("text")] = Field(
        description="Handheld, bodypack, boundary or gooseneck."
    )
    in_use: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Codes of those in use at once."
    )
    spares: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(description="Codes of spare ones.")
    without_slot: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Codes of those that find no charge slot."
    )
    verdict: Annotated[Everyone[str], Holds("text")] = Field(
        description="alone, with swaps, too few spares or slots short: how they last the day, batteries aged."
    )
    run_time_h: Annotated[Everyone[float], Holds("hours")] = Field(
        description="Run time of an aged pack from the start to the reserve, h."
    )
    fresh_lowest: Annotated[Everyone[float], Holds("share")] = Field(
        description="Lowest state of charge with new batteries, 0 to 1."
    )
    aged_lowest: Annotated[Everyone[float], Holds("share")] = Field(
        description="Lowest state of charge at the end of the batteries' life, 0 to 1."
    )
    lowest_at: Annotated[Everyone[float], Holds("time of day")] = Field(
        description="When that is, minutes after midnight."
    )
    empty_minutes: Annotated[Everyone[float], Holds("minutes")] = Field(
        description="Minutes of sessions without charge, batteries aged."
    )
    full_after_h: Annotated[Everyone[float | None], Holds("hours")] = Field(
        description="Hours from the last session until full, batteries aged; None where too short a night."
    )
    held_lowest: Annotated[Everyone[float], Holds("share")] = Field(
        description="Lowest where the spares held are swapped in, 0 to 1."
    )
    held_swaps: Annotated[Everyone[int], Holds("count")] = Field(description="Swaps of a day then.")
    pool: Annotated[Everyone[int | None], Holds("count")] = Field(
        description="Fewest spares that suffice; None where no number does."
    )
    pool_swaps: Annotated[Everyone[int], Holds("count")] = Field(description="Swaps of a day with them.")
    more_slots: Annotated[Everyone[int], Holds("count")] = Field(
        description="Charge slots that they would want besides."
    )
    longer_breaks_min: Annotated[Everyone[int | None], Holds("minutes")] = Field(
        description="By how many minutes each break would have to grow instead; None where that is no way."
    )
    last_end: Annotated[Everyone[float], Holds("time of day")] = Field(
        description="When the last session then ends, minutes after midnight."
    )
    charge_w: Annotated[Everyone[float | None], Holds("watts")] = Field(
        description="Power at which packs would have to charge instead, W; None where that is no way."
    )
    charged_w: Annotated[Everyone[float], Holds("watts")] = Field(
        description="Power at which they charge, below the taper, W."
    )
    fresh: Annotated[Everyone[tuple[tuple[float, float], ...]], Holds("time of day", "share")] = Field(
        description="Minute and state of charge where the slope changes, new batteries."
    )
    aged: Annotated[Everyone[tuple[tuple[float, float], ...]], Holds("time of day", "share")] = Field(
        description="The same, batteries aged."
    )
    slotless: Annotated[Everyone[tuple[tuple[float, float], ...]], Holds("time of day", "share")] = Field(
        description="The same for one that finds no slot; empty where all do."
    )


class MeetingDay(Shown):
    """The meeting day of a kind of room."""

    reserve: Annotated[Everyone[float], Holds("share")] = Field(
        description="Least state of charge wanted, 0 to 1."
    )
    docked_share: Annotated[Everyone[float], Holds("share")] = Field(
        description="Share of each break in which microphones are docked."
    )
    in_use_share: Annotated[Everyone[float], Holds("share")] = Field(
        description="Share of a session in which a microphone is open."
    )
    night_h: Annotated[Everyone[float], Holds("hours")] = Field(
        description="Hours from the last session to the next day's first."
    )
    sessions: Annotated[Everyone[tuple[tuple[float, float], ...]], Holds("time of day", "time of day")] = (
        Field(description="Start and end, minutes after midnight, joined where no break parts them.")
    )
    packs: Everyone[tuple[PackDay, ...]] = Field(description="Its microphones by form and battery.")
