"""The mains of the building."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Written, assumed
from proposal.model.equipment.parts import Region
from proposal.quantities.parsing import Current, Frequency, Length, Voltage

OF_REGION = {"europe": (230.0, 50.0), "north_america": (120.0, 60.0)}
"""Nominal voltage and frequency (IEC 60038, memory)."""
BREAKERS = {"europe": (16.0, "C", 0.030), "north_america": (20.0, "", 0.0)}
"""Rating and curve of the breaker of a circuit, and rated residual current of its device; 0 for none."""
OUTLETS = {"europe": "CEE 7/3", "north_america": "NEMA 5-15R"}
"""Usual sort of the outlets of a building."""

USUAL_DAYS = 220
"""Days of a year on which rooms are used as on a usual day, where nobody says."""


class Mains(Written):
    """Voltage and frequency of the outlets that equipment is plugged into, and the circuits behind them."""

    voltage: Annotated[Voltage, Field(ge=100, le=250)] | None = assumed(
        None,
        "Voltage of the outlets; left out, that of the region.",
        "Outlets have the usual voltage of the region: 230 V in Europe, 120 V in North America",
        "published IEC 60038 (memory)",
    )
    frequency: Annotated[Frequency, Field(ge=50, le=60)] | None = assumed(
        None,
        "Frequency of the mains; left out, that of the region.",
        "The mains have the usual frequency of the region: 50 Hz in Europe, 60 Hz in North America",
        "published IEC 60038 (memory)",
    )
    breaker: Annotated[Current, Field(ge=1, le=125)] | None = assumed(
        None,
        "Rating of the breaker of a circuit; left out, that of the region.",
        "A circuit has the usual breaker of the region: 16 A in Europe, 20 A in North America",
        "common practice",
    )
    curve: Literal["by region", "B", "C", "D", "not marked"] = assumed(
        "by region",
        "Curve of the breakers after IEC 60898-1; `not marked` where they have none.",
        "Breakers have curve C in Europe; in North America they are not marked with a curve",
        "common practice",
    )
    residual_current: Annotated[Current, Field(ge=0, le=10)] | None = assumed(
        None,
        "Rated residual current of the device that protects a circuit; 0 A for circuits without one.",
        "Circuits have residual-current devices of 30 mA in Europe, and none in North America",
        "common practice",
    )
    outlet: str = assumed(
        "by region",
        "Sort of the outlets of the building, as the library names it of mains cords.",
        "Outlets of the building are of the usual sort of the region: CEE 7/3 in Europe, NEMA 5-15R in North "
        "America",
        "common practice",
    )
    cord: Annotated[Length, Field(ge=0, le=30)] = assumed(
        2.0,
        "Least length of a mains cord from an outlet of the building to a device.",
        "Least length of a mains cord from an outlet of the building to a device",
    )
    circuits: Annotated[Mapping[str, Annotated[int, Field(ge=1, le=100)]], Field(max_length=700)] = Field(
        default={},
        description="How many circuits a room or an equipment room has, by its tag; as many as its outlets "
        "need where left out.",
    )

    energy_price: Annotated[Decimal, Field(ge=0, le=1000, max_digits=12)] | None = Field(
        default=None,
        description="Price of a kilowatt-hour in the project's currency; no cost is told where left out.",
    )
    usual_days: Annotated[int, Field(ge=0, le=366)] = assumed(
        USUAL_DAYS,
        "Days of a year on which rooms are used as on a usual day.",
        "Days of a year on which rooms are used as on a usual day",
    )
    further_days: Annotated[Mapping[str, Annotated[int, Field(ge=0, le=366)]], Field(max_length=100)] = Field(
        default={},
        description="Days of a year of each further kind of day of the room types; none where left out.",
    )

    def outlet_form(self, region: Region) -> str:
        """Return the sort of the outlets of the building.

        region: of the project.
        """
        return OUTLETS[region] if self.outlet == "by region" else self.outlet

    def breaker_a(self, region: Region) -> float:
        """Return the rating of a breaker, A.

        region: of the project.
        """
        return BREAKERS[region][0] if self.breaker is None else self.breaker

    def breaker_curve(self, region: Region) -> str:
        """Return the curve of a breaker, empty where it is not marked.

        region: of the project.
        """
        if self.curve == "by region":
            return BREAKERS[region][1]
        return "" if self.curve == "not marked" else self.curve

    def residual_a(self, region: Region) -> float:
        """Return the rated residual current of the device of a circuit, A; 0 without one.

        region: of the project.
        """
        return BREAKERS[region][2] if self.residual_current is None else self.residual_current
