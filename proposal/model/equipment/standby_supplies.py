"""Standby supplies in the library, with their batteries and run times."""

from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Written
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import (
    Delay,
    Positive,
)
from proposal.quantities.parsing import (
    ApparentPower,
    Charge,
    Duration,
    Fraction,
    Power,
    Voltage,
)


class RunTime(Written):
    """One point of a maker's constant-power table."""

    load: Annotated[Power, Field(gt=0, le=100_000)] = Field(description="Load on the supply.")
    time: Annotated[Duration, Field(ge=0, le=31_536_000)] = Field(
        description="How long a new battery carries it."
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
    life_years: Positive = Field(description="Years until then.")


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
