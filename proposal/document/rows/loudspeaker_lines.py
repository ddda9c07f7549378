"""Rows of loudspeaker lines: each line with its load and conductor, and each loudspeaker on it."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.sound import TICK
from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows, composed


class LoudspeakerLineRow(Row):
    """A loudspeaker line: what its channel gives, what it takes, what it loses, how it is tested."""

    schedule: ClassVar = Schedule("loudspeaker_line", subject="sound", key=("room", "zone"))

    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the room."
    )
    zone: Annotated[str, Shows("zone", NOT_CLIENT)] = Field(
        default="", description="Zone of loudspeakers that it plays."
    )
    amplifier: Annotated[str, Shows("amplifier", NOT_CLIENT, "tag", link="tag", empty="none_left")] = Field(
        default="", description="Tag of its amplifier; empty where no channel is left."
    )
    output: Annotated[str, Shows("output", NOT_CLIENT)] = Field(
        default="", description="Terminals at the amplifier."
    )
    line: Annotated[str, Shows("sort_of_line", NOT_CLIENT)] = Field(
        default="", description="70.7 V, 100 V or low impedance."
    )
    wiring: Annotated[str, Shows("wiring", NOT_CLIENT, "word")] = Field(
        default="", description="parallel or series."
    )
    loudspeakers: Annotated[
        tuple[str, ...], Shows("loudspeakers", NOT_CLIENT, "tag", link="tag", sorted=True)
    ] = Field(default=(), description="Tags of its loudspeakers, from the amplifier on.")
    load_w: Annotated[float, Shows("load", NOT_CLIENT, "watts", sums=True)] = Field(
        default=0.0, description="What its loudspeakers draw, W."
    )
    usable_w: Annotated[float | None, Shows("load_allowed", NOT_CLIENT, "watts")] = Field(
        default=None, description="What its channel may give it with headroom, W."
    )
    rated_w: Annotated[float | None, Shows("rated_power", NOT_CLIENT, "watts")] = Field(
        default=None, description="Rated power of its channel, all channels of the amplifier driven, W."
    )
    lowest_ohm: Annotated[float | None, Shows("least_load", NOT_CLIENT, "ohms")] = Field(
        default=None, description="Least impedance of its amplifier, of a line without transformers, Ω."
    )
    cable: Annotated[tuple[str, ...], Shows("cable", NOT_CLIENT, "tag", link="model")] = Field(
        default=(), description="Model codes of its cables."
    )
    gauge_awg: Annotated[int | None, Shows("conductor_awg", NOT_CLIENT, "number")] = Field(
        default=None, description="Gauge of its conductors, AWG; none where it has no cable."
    )
    wiring_class: Annotated[str, Shows("wiring_class", NOT_CLIENT, "word")] = Field(
        default="", description="Class of wiring marked on the amplifier."
    )
    length_m: Annotated[float, Shows("length", NOT_CLIENT, "length", sums=True, subject="lengths")] = Field(
        default=0.0, description="All its stretches together, m."
    )
    resistance_ohm: Annotated[float, Shows("resistance_out_and_back", NOT_CLIENT, "ohms")] = Field(
        default=0.0, description="Resistance of its conductors to the last loudspeaker, out and back, Ω."
    )
    current_a: Annotated[float, Shows("current_in_first_stretch", NOT_CLIENT, "milliamperes")] = Field(
        default=0.0, description="Current in its first stretch at the load, A."
    )
    loss_db: Annotated[float, Shows("loss_of_line", NOT_CLIENT, "loss of a line")] = Field(
        default=0.0, description="What it loses to the loudspeaker that it weakens most, dB."
    )
    limit_db: Annotated[float, Shows("loss_allowed", NOT_CLIENT, "loss of a line")] = Field(
        default=0.0, description="The most that it may lose, dB."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails: by load, by what the amplifier drives and by loss."
    )
    impedance_ohm: Annotated[float | None, Shows("impedance_expected", NOT_CLIENT, "ohms")] = Field(
        default=None, description="Impedance at the amplifier's end; none where it takes nothing, Ω."
    )
    least_ohm: Annotated[float | None, Shows("least_measured", NOT_CLIENT, "ohms")] = Field(
        default=None, description="The least that a measurement may show, Ω."
    )
    most_ohm: Annotated[float | None, Shows("most_measured", NOT_CLIENT, "ohms")] = Field(
        default=None, description="The most that a measurement may show, Ω."
    )

    @composed(Shows("measured_impedance", NOT_CLIENT, "blank"))
    def measured(self) -> str:
        """Its impedance as measured, to be filled in."""
        return ""

    @composed(Shows("tested_by_date", NOT_CLIENT, "blank"))
    def tested(self) -> str:
        """Who tested it and when, to be filled in."""
        return ""


class LineLoudspeakerRow(Row):
    """A loudspeaker as the installer finds it: its tap, its terminals and the cables that end there."""

    schedule: ClassVar = Schedule("line_loudspeaker", subject="sound", key=("loudspeaker",))

    loudspeaker: Annotated[str, Shows("loudspeaker", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag."
    )
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of its room."
    )
    zone: Annotated[str, Shows("zone", NOT_CLIENT)] = Field(default="", description="Zone that plays it.")
    place: Annotated[int, Shows("place_on_line", NOT_CLIENT, "number")] = Field(
        default=0, description="Place on its line, from the amplifier on, from 1."
    )
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    output: Annotated[str, Shows("amplifier_output", NOT_CLIENT, "tag", empty="none_left")] = Field(
        default="", description="Amplifier and output that play it."
    )
    line: Annotated[str, Shows("sort_of_line", NOT_CLIENT)] = Field(
        default="", description="70.7 V, 100 V or low impedance."
    )
    tap_w: Annotated[float | None, Shows("tap", NOT_CLIENT, "tap of a loudspeaker", empty="none")] = Field(
        default=None,
        description="Its tap, or its power without a transformer, W; none where it has no tap for the line.",
    )
    chosen_by: Annotated[str, Shows("chosen_by", NOT_CLIENT, words="chosen_tap")] = Field(
        default="", description="`designer` where the tap is written, else `level`."
    )
    needed_w: Annotated[float, Shows("power_needed", NOT_CLIENT, "tap of a loudspeaker")] = Field(
        default=0.0, description="What the level asked at its weakest listener takes, W."
    )
    draws_w: Annotated[float, Shows("draws", NOT_CLIENT, "tap of a loudspeaker", sums=True)] = Field(
        default=0.0, description="What it takes from the line, W."
    )
    terminals: Annotated[str, Shows("terminals", NOT_CLIENT)] = Field(
        default="", description="Port and connector of its terminals."
    )
    cable_in: Annotated[str, Shows("cable_from_amplifier", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Identity of the cable from the amplifier's side."
    )
    cable_out: Annotated[str, Shows("cable_onward", NOT_CLIENT, "tag", link="tag", empty="end_of_line")] = (
        Field(default="", description="Identity of the cable to the next one; empty at the end of the line.")
    )
    temperature_c: Annotated[float | None, Shows("temperature", NOT_CLIENT, "temperature")] = Field(
        default=None, description="Highest temperature along the cable from the amplifier's side, °C."
    )
    current_a: Annotated[float, Shows("current", NOT_CLIENT, "milliamperes")] = Field(
        default=0.0, description="Current in the cable from the amplifier's side at the load, A."
    )
    loss_db: Annotated[float, Shows("loss_of_line", NOT_CLIENT, "loss of a line")] = Field(
        default=0.0, description="What the line loses on the way to it, dB."
    )

    @composed(Shows("tap_set", NOT_CLIENT, "blank"))
    def tap_set(self) -> str:
        """A box to tick when its tap is set and its terminals are made off."""
        return TICK

    @composed(Shows("by_on", NOT_CLIENT, "blank"))
    def set_by(self) -> str:
        """Who did it and when, to be filled in."""
        return ""
