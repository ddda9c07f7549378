"""Rows about the time that sound takes from microphones, and on its way back, to those who listen."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows, composed


class LatencyRow(Row):
    """The slowest way from a kind of microphone, or of return audio, to a listener."""

    schedule: ClassVar = Schedule(
        "latency", subject="sound", key=("spoken_in", "heard_in", "model", "returned_from", "listener")
    )

    spoken_in: Annotated[str, Shows("spoken_in", NOT_CLIENT)] = Field(
        default="", description="Kind of room, or tag of a joined room, where people speak."
    )
    rooms: Annotated[tuple[str, ...], Shows("rooms", NOT_CLIENT, "tag", link="tag", follows=True)] = Field(
        default=(), description="Tags of the rooms for which it stands."
    )
    heard_in: Annotated[str, Shows("heard_in", NOT_CLIENT, "tag", link="tag", empty="the_same_room")] = Field(
        default="", description="Tag of the joined room where it is heard; empty for the room itself."
    )
    states: Annotated[tuple[str, ...], Shows("states", NOT_CLIENT, empty="all")] = Field(
        default=(), description="States in which it is so; none where it is so in all."
    )
    model: Annotated[str, Shows("microphone", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of the microphone."
    )
    returned_from: Annotated[str, Shows("returned_from", NOT_CLIENT)] = Field(
        default="", description="What return audio comes from; empty where people in the room speak."
    )
    listener: Annotated[str, Shows("listener", NOT_CLIENT)] = Field(
        default="", description="Loudspeakers of a zone, or what takes the mix."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict", empty="no_limit_set")] = Field(
        default="", description="holds, fails, or open where a part is not known; empty without a limit."
    )
    total_s: Annotated[float, Shows("delay_in_all", NOT_CLIENT, "milliseconds", follows=True)] = Field(
        default=0.0, description="Sum of all parts that are known, s."
    )
    limit_s: Annotated[float | None, Shows("limit", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="Longest delay allowed, s; none where none is stated."
    )
    microphone_s: Annotated[float | None, Shows("in_the_microphone", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="In the microphone, s; none where it is not known."
    )
    radio_s: Annotated[float | None, Shows("on_the_radio_link", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="On the radio link, s; none where it is not known."
    )
    access_point_s: Annotated[float | None, Shows("in_the_access_point", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="In the access point, s; none where it is not known."
    )
    network_s: Annotated[float | None, Shows("in_the_network", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="In packets, switches and receivers, s; none where it is not known."
    )
    mixing_s: Annotated[float | None, Shows("in_mixers_or_breakouts", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="In mixers or the breakout, s; none where it is not known."
    )
    amplifier_s: Annotated[float | None, Shows("in_the_amplifier", NOT_CLIENT, "milliseconds")] = Field(
        default=None, description="In the amplifier, s; none without one, or where it is not known."
    )
    largest: Annotated[str, Shows("largest_part", NOT_CLIENT)] = Field(
        default="", description="The part that takes longest."
    )
    unknown: Annotated[tuple[str, ...], Shows("not_known_yet", NOT_CLIENT, empty="nothing")] = Field(
        default=(), description="Parts of which nobody says how long they take, and who is to be asked."
    )
    way: Annotated[tuple[str, ...], Shows("way_of_sound", NOT_CLIENT)] = Field(
        default=(), description="Tags of all that sound passes, in order, and the listener."
    )

    @composed(Shows("measured", NOT_CLIENT, "blank"))
    def measured(self) -> str:
        """The delay measured on site, to be filled in."""
        return ""

    @composed(Shows("tested_by_date", NOT_CLIENT, "blank"))
    def tested_by(self) -> str:
        """Who measured it and when, to be filled in."""
        return ""
