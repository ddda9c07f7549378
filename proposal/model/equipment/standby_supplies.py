"""Standby supplies in the library, with their batteries and run times."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from proposal.model.base import Written
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import (
    Delay,
    Positive,
)
from proposal.quantities.money import Money
from proposal.quantities.parsing import (
    ApparentPower,
    Charge,
    Duration,
    Fraction,
    Power,
    Temperature,
    Voltage,
)


class RunTime(Written):
    """One point of a maker's constant-power table."""

    load: Annotated[Power, Field(gt=0, le=100_000)] = Field(description="Load on the supply.")
    time: Annotated[Duration, Field(gt=0, le=31_536_000)] = Field(
        description="How long a new battery carries it."
    )


class BatteryPacks(Written):
    """Some battery packs beside a standby supply, and its run times with them."""

    count: Annotated[int, Field(gt=0, le=20)] = Field(description="Packs beside the supply.")
    run_times: tuple[RunTime, ...] = Field(
        default=(),
        description="The maker's constant-power table with them, least load first; left out, each pack "
        "adds a battery like that of the supply.",
    )


class StandbyBattery(Written):
    """The battery of a standby supply, for the estimate after Peukert."""

    blocks: Positive = Field(description="Blocks in series.")
    block_voltage: Annotated[Voltage, Field(gt=0, le=1000)] = Field(description="Nominal voltage of a block.")
    capacity: Annotated[Charge, Field(gt=0, le=10_000)] = Field(description="Rated capacity of a block.")
    rated_hours: Annotated[Duration, Field(gt=0, le=3_600_000)] = Field(
        description="Discharge time of the rated capacity."
    )
    peukert: Annotated[float, Field(ge=1, le=1.6)] = Field(
        description="Peukert exponent; 1.15 to 1.25 for sealed lead-acid (memory)."
    )
    aged_share: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of its capacity at the end of its life."
    )
    life_years: Positive = Field(description="Years until then, at the rated temperature.")
    rated_temperature: Annotated[Temperature, Field(ge=0, le=60)] = Field(
        description="Temperature of the rated capacity and life."
    )
    cold_loss: Annotated[Fraction, Field(ge=0, le=0.1)] = Field(
        description="Share of its capacity lost for each kelvin below the rated temperature (memory).",
    )
    list_price: Money | None = Field(
        default=None,
        description="List price of a new battery for it; ask the maker where left out.",
    )


class StandbySupply(Device):
    """A standby supply (UPS)."""

    kind: Literal["standby_supply"] = Field(default="standby_supply", description="Kind of entry.")
    rated_power: Annotated[Power, Field(gt=0, le=100_000)] = Field(description="Highest load in watts.")
    rated_apparent_power: Annotated[ApparentPower, Field(gt=0, le=100_000)] = Field(
        description="Highest load in volt-amperes."
    )
    run_times: tuple[RunTime, ...] = Field(
        default=(), description="The maker's constant-power table with a new battery, least load first."
    )
    battery: StandbyBattery = Field(description="Its battery.")
    inverter_efficiency: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of the battery's power that reaches the load."
    )
    outlets: Positive = Field(description="Outlets it offers.")
    outlet_form: str = Field(
        description="Sort of those outlets, or of the outlet a mains cord goes into, such as IEC 60320 C13."
    )
    transfer_time: Delay = Field(description="Transfer time when the mains fails.")
    recharge_time: Annotated[Duration, Field(ge=0, le=31_536_000)] = Field(
        description="Time to 90 % of charge."
    )
    pack: str = Field(
        default="", description="Model code of its battery pack, a rack part; empty where it takes none."
    )
    packs: Annotated[tuple[BatteryPacks, ...], Field(max_length=20)] = Field(
        default=(), description="Numbers of packs that it takes, the fewest first, with their run times."
    )

    @model_validator(mode="after")
    def _tables_fall(self) -> "StandbySupply":
        """Refuse a table whose loads do not rise or whose times rise with them, and packs without a model."""
        for table in (self.run_times, *(one.run_times for one in self.packs)):
            if not _falls(table):
                wanted = "run times with rising loads, each no longer than the one before"
                found = ", ".join(f"{one.load:g} W: {one.time / 60:g} min" for one in table)
                raise PydanticCustomError(
                    "wanted", "{message}", {"message": f"wanted {wanted}; found {found}"}
                )
        if self.packs and not self.pack:
            wanted = "the model code of its battery pack under pack; found none"
            raise PydanticCustomError("wanted", "{message}", {"message": f"wanted {wanted}"})
        return self


def _falls(table: Sequence[RunTime]) -> bool:
    return all(one.load < other.load and one.time >= other.time for one, other in pairwise(table))
