"""Rules of loudspeaker lines: their voltage, how loud they play, what they may lose."""

from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Written, assumed
from proposal.model.equipment.parts import Region
from proposal.quantities.parsing import Fraction, Length, Level, SoundLevel

Line = Literal["70.7 V", "100 V", "low impedance"]
LINE_VOLTAGES: dict[Line, float] = {"70.7 V": 70.7, "100 V": 100.0}
"""Voltage of each constant-voltage line at the rated power of its amplifier, V."""


class LoudspeakerRules(Written):
    """How loudspeakers are wired to amplifiers, and how loud they are to play."""

    line: Literal["by region", "70.7 V", "100 V", "low impedance"] = assumed(
        "by region",
        "Lines to loudspeakers: constant voltage of 70.7 V or 100 V, or low impedance without transformers.",
        "Loudspeaker lines have a constant voltage: 70.7 V in North America, 100 V elsewhere",
        "common practice",
    )
    headroom: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.20,
        "Share of an amplifier channel's rated power that is left free.",
        "Share of an amplifier channel's rated power that is left free",
    )
    loss: Annotated[Level, Field(gt=0, le=20)] = assumed(
        0.5,
        "The most that a line may lose on its way to any of its loudspeakers.",
        "The most that a loudspeaker line may lose on its way to any loudspeaker",
    )
    level: Annotated[SoundLevel, Field(ge=30, le=130)] = assumed(
        65.0,
        "Level of speech at every listener, by which taps are chosen.",
        "Level of speech at every listener, by which taps are chosen",
        "common practice",
    )
    peaks: Annotated[Level, Field(ge=0, le=30)] = assumed(
        15.0,
        "What loudspeakers can play louder than that level at every listener.",
        "What loudspeakers can play louder than speech at every listener",
        "common practice",
    )
    ear_height: Annotated[Length, Field(ge=0, le=3)] = assumed(
        1.2,
        "Height of listeners' ears above the floor.",
        "Height of listeners' ears above the floor",
        "common practice",
    )
    impedance_tolerance: Annotated[Fraction, Field(gt=0, lt=1)] = assumed(
        0.20,
        "Share by which the measured impedance of a line may differ from the computed one.",
        "Share by which the measured impedance of a loudspeaker line may differ from the computed one",
        "common practice",
    )

    def line_in(self, region: Region) -> Line:
        """Return the sort of line: as written, else 70.7 V in North America and 100 V elsewhere.

        region: radio region of the project.
        """
        if self.line == "by region":
            return "70.7 V" if region == "north_america" else "100 V"
        return self.line
