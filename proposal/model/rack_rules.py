"""Rules of what stands in racks, each with an editable default."""

from typing import Annotated

from pydantic import Field

from proposal.model.base import Written, assumed
from proposal.quantities.parsing import Duration, Fraction, Length, Mass, Power, TemperatureRise


class RackRules(Written):
    """Room, weight, air and outlets of racks."""

    spare_units: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.20,
        "Share of a rack's units left free; gaps for air count as used.",
        "Share of a rack's units left free",
        "common practice",
    )
    rear_rails_from: Annotated[Mass, Field(gt=0, le=1000)] = assumed(
        15.0,
        "Weight from which a device is held at front and rear rails.",
        "Weight from which a device in a rack is held at front and rear rails",
        "common practice",
    )
    still_air: Annotated[Power, Field(ge=0, le=100_000)] = assumed(
        250.0,
        "Heat that a rack without fans gives off by itself.",
        "Heat that a rack without fans gives off by itself",
    )
    air_rise: Annotated[TemperatureRise, Field(gt=0, le=40)] = assumed(
        10.0,
        "How much warmer the air leaves a rack than it enters.",
        "How much warmer the air leaves a rack than it enters",
        "common practice",
    )
    strip_load: Annotated[Fraction, Field(gt=0, le=1)] = assumed(
        0.80,
        "Share of a power strip's rated current that all its devices together may take.",
        "Share of a power strip's rated current that its devices together may take",
        "common practice",
    )
    panels_a_manager: Annotated[int, Field(ge=1, le=100)] = assumed(
        1,
        "Copper patch panels that share a cable manager.",
        "Copper patch panels that share a cable manager",
        "common practice",
    )
    cord_slack: Annotated[Length, Field(ge=0, le=5)] = assumed(
        0.2,
        "What a cord in a rack is longer than its way, so that it bends at both plugs.",
        "What a cord in a rack is longer than its way, for the bends at both its plugs",
        "common practice",
    )
    standby_load: Annotated[Fraction, Field(gt=0, le=1)] = assumed(
        0.80,
        "Share of a standby supply's rating, in watts and in volt-amperes, that all it feeds may take.",
        "Share of a standby supply's rating, in watts and in volt-amperes, that what it feeds may take",
        "common practice",
    )
    ride_through: Annotated[Duration, Field(gt=0, le=1)] = assumed(
        0.020,
        "Gap in the mains that devices ride through; a standby supply takes over within it.",
        "Gap in the mains that devices ride through while a standby supply takes over",
        "common practice",
    )
