"""Rows about the meeting day and about muting, which stand on the sheets of kinds of room."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows


class MuteRow(Row):
    """What holds while a trigger does: a line of the truth table."""

    schedule: ClassVar = Schedule("mute", subject="rooms", key=("trigger", "microphones"))

    trigger: Annotated[str, Shows("trigger", ALL)] = Field(description="What somebody does.")
    microphones: Annotated[tuple[str, ...], Shows("microphones", ALL, "tag", sorted=True, empty="all")] = (
        Field(description="Codes of the microphones concerned; empty for all of the room.")
    )
    indicator: Annotated[str, Shows("indicator", ALL)] = Field(
        description="What the microphones' indicators show."
    )
    local_mix: Annotated[str, Shows("local_mix", ALL)] = Field(
        description="Whether they are heard in the room."
    )
    far_end: Annotated[str, Shows("far_end", ALL)] = Field(
        description="Whether they are heard by the far end."
    )


class PackDay(Row):
    """The day of a kind of room's microphones of one form and battery."""

    schedule: ClassVar = Schedule("pack_day", subject="rooms", key=("form",))

    form: Annotated[str, Shows("microphones", ALL, "word")] = Field(
        description="Handheld, bodypack, boundary or gooseneck."
    )
    in_use: Annotated[tuple[str, ...], Shows("in_use", ALL, "tag")] = Field(
        description="Codes of those in use at once."
    )
    spares: Annotated[tuple[str, ...], Shows("spare", ALL, "tag")] = Field(description="Codes of spare ones.")
    without_slot: Annotated[tuple[str, ...], Shows("without_slot", ALL, "tag")] = Field(
        description="Codes of those that find no charge slot."
    )
    verdict: Annotated[str, Shows("verdict", ALL, "verdict", words="meeting_day")] = Field(
        description="alone, with swaps, too few spares or slots short: how they last the day, batteries aged."
    )
    run_time_h: Annotated[float, Shows("runs_to_the_reserve", ALL, "hours")] = Field(
        description="Run time of an aged pack from the start to the reserve, h."
    )
    fresh_lowest: Annotated[float, Shows("lowest_new_battery", ALL, "share")] = Field(
        description="Lowest state of charge with new batteries, 0 to 1."
    )
    aged_lowest: Annotated[float, Shows("lowest_aged_battery", ALL, "share")] = Field(
        description="Lowest state of charge at the end of the batteries' life, 0 to 1."
    )
    lowest_at: Annotated[float, Shows("lowest_at", ALL, "time of day")] = Field(
        description="When that is, minutes after midnight."
    )
    empty_minutes: Annotated[float, Shows("empty_minutes", ALL, "minutes")] = Field(
        description="Minutes of sessions without charge, batteries aged."
    )
    full_after_h: Annotated[float | None, Shows("full_again_after", ALL, "hours", empty="not_by_morning")] = (
        Field(
            description="Hours from the last session until full, batteries aged; None in too short a night."
        )
    )
    held_lowest: Annotated[float, Shows("held_lowest", ALL, "share")] = Field(
        description="Lowest where the spares held are swapped in, 0 to 1."
    )
    held_swaps: Annotated[int, Shows("held_swaps", ALL, "count")] = Field(description="Swaps of a day then.")
    pool: Annotated[int | None, Shows("spares_wanted", ALL, "count")] = Field(
        description="Fewest spares that suffice; None where no number does."
    )
    pool_swaps: Annotated[int, Shows("swaps_a_day", ALL, "count")] = Field(
        description="Swaps of a day with them."
    )
    more_slots: Annotated[int, Shows("more_slots", ALL, "count")] = Field(
        description="Charge slots that they would want besides."
    )
    longer_breaks_min: Annotated[int | None, Shows("longer_breaks_min", ALL, "minutes")] = Field(
        description="By how many minutes each break would have to grow instead; None where that is no way."
    )
    last_end: Annotated[float, Shows("last_end", ALL, "time of day")] = Field(
        description="When the last session then ends, minutes after midnight."
    )
    charge_w: Annotated[float | None, Shows("charge", ALL, "watts")] = Field(
        description="Power at which packs would have to charge instead, W; None where that is no way."
    )
    charged_w: Annotated[float, Shows("charged", ALL, "watts")] = Field(
        description="Power at which they charge, below the taper, W."
    )
    fresh: Annotated[
        tuple[tuple[float, float], ...], Shows("fresh", ALL, ("time of day", "share"), drawn=True)
    ] = Field(description="Minute and state of charge where the slope changes, new batteries.")
    aged: Annotated[
        tuple[tuple[float, float], ...], Shows("aged", ALL, ("time of day", "share"), drawn=True)
    ] = Field(description="The same, batteries aged.")
    slotless: Annotated[
        tuple[tuple[float, float], ...], Shows("slotless", ALL, ("time of day", "share"), drawn=True)
    ] = Field(description="The same for one that finds no slot; empty where all do.")


class OneDay(Row):
    """What a meeting day of a kind of room holds, whichever kind of day it is."""

    reserve: Annotated[float, Shows("reserve", ALL, "share")] = Field(
        description="Least state of charge wanted, 0 to 1."
    )
    docked_share: Annotated[float, Shows("docked_share", ALL, "share")] = Field(
        description="Share of each break in which microphones are docked."
    )
    in_use_share: Annotated[float, Shows("in_use_share", ALL, "share")] = Field(
        description="Share of a session in which a microphone is open."
    )
    night_h: Annotated[float, Shows("night", ALL, "hours")] = Field(
        description="Hours from the last session to the next day's first."
    )
    sessions: Annotated[
        tuple[tuple[float, float], ...], Shows("sessions", ALL, ("time of day", "time of day"), drawn=True)
    ] = Field(description="Start and end, minutes after midnight, joined where no break parts them.")
    packs: Annotated[tuple[PackDay, ...], Shows("packs", ALL, "rows")] = Field(
        description="Its microphones by form and battery."
    )


class MeetingDay(OneDay):
    """The usual meeting day of a kind of room."""

    schedule: ClassVar = Schedule("meeting_day", subject="rooms")


class FurtherDay(OneDay):
    """A meeting day of a kind of room besides its usual one."""

    schedule: ClassVar = Schedule("further_day", subject="rooms", key=("name",))

    name: Annotated[str, Shows("kind_of_day", ALL)] = Field(description="Name of the kind of day.")
