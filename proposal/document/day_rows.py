"""Rows about the meeting day and about muting, which stand on the sheets of kinds of room."""

from pydantic import Field

from proposal.document.readers import Everyone, Shown


class MuteRow(Shown):
    """What holds while a trigger does: a line of the truth table."""

    trigger: Everyone[str] = Field(description="What somebody does.")
    microphones: Everyone[tuple[str, ...]] = Field(
        description="Codes of the microphones concerned; empty for all of the room."
    )
    indicator: Everyone[str] = Field(description="What the microphones' indicators show.")
    local_mix: Everyone[str] = Field(description="Whether they are heard in the room.")
    far_end: Everyone[str] = Field(description="Whether they are heard by the far end.")


class PackDay(Shown):
    """The day of a kind of room's microphones of one form and battery."""

    form: Everyone[str] = Field(description="Handheld, bodypack, boundary or gooseneck.")
    in_use: Everyone[tuple[str, ...]] = Field(description="Codes of those in use at once.")
    spares: Everyone[tuple[str, ...]] = Field(description="Codes of spare ones.")
    without_slot: Everyone[tuple[str, ...]] = Field(description="Codes of those that find no charge slot.")
    verdict: Everyone[str] = Field(
        description="alone, with swaps, too few spares or slots short: how they last the day, batteries aged."
    )
    run_time_h: Everyone[float] = Field(
        description="Run time of an aged pack from the start to the reserve, h."
    )
    fresh_lowest: Everyone[float] = Field(description="Lowest state of charge with new batteries, 0 to 1.")
    aged_lowest: Everyone[float] = Field(
        description="Lowest state of charge at the end of the batteries' life, 0 to 1."
    )
    lowest_at: Everyone[float] = Field(description="When that is, minutes after midnight.")
    empty_minutes: Everyone[float] = Field(description="Minutes of sessions without charge, batteries aged.")
    full_after_h: Everyone[float | None] = Field(
        description="Hours from the last session until full, batteries aged; None where too short a night."
    )
    held_lowest: Everyone[float] = Field(description="Lowest where the spares held are swapped in, 0 to 1.")
    held_swaps: Everyone[int] = Field(description="Swaps of a day then.")
    pool: Everyone[int | None] = Field(description="Fewest spares that suffice; None where no number does.")
    pool_swaps: Everyone[int] = Field(description="Swaps of a day with them.")
    more_slots: Everyone[int] = Field(description="Charge slots that they would want besides.")
    longer_breaks_min: Everyone[int | None] = Field(
        description="By how many minutes each break would have to grow instead; None where that is no way."
    )
    last_end: Everyone[float] = Field(description="When the last session then ends, minutes after midnight.")
    charge_w: Everyone[float | None] = Field(
        description="Power at which packs would have to charge instead, W; None where that is no way."
    )
    charged_w: Everyone[float] = Field(description="Power at which they charge, below the taper, W.")
    fresh: Everyone[tuple[tuple[float, float], ...]] = Field(
        description="Minute and state of charge where the slope changes, new batteries."
    )
    aged: Everyone[tuple[tuple[float, float], ...]] = Field(description="The same, batteries aged.")
    slotless: Everyone[tuple[tuple[float, float], ...]] = Field(
        description="The same for one that finds no slot; empty where all do."
    )


class MeetingDay(Shown):
    """The meeting day of a kind of room."""

    reserve: Everyone[float] = Field(description="Least state of charge wanted, 0 to 1.")
    docked_share: Everyone[float] = Field(description="Share of each break in which microphones are docked.")
    in_use_share: Everyone[float] = Field(description="Share of a session in which a microphone is open.")
    night_h: Everyone[float] = Field(description="Hours from the last session to the next day's first.")
    sessions: Everyone[tuple[tuple[float, float], ...]] = Field(
        description="Start and end, minutes after midnight, joined where no break parts them."
    )
    packs: Everyone[tuple[PackDay, ...]] = Field(description="Its microphones by form and battery.")
