"""The parts that entries of the equipment library are made of: ports, supplies, radio, battery."""

from collections.abc import Mapping
from typing import Annotated, Generic, Literal, TypeVar

from pydantic import Field

from proposal.model.base import Written
from proposal.quantities.money import Money
from proposal.quantities.parsing import (
    ApparentPower,
    Current,
    DataRate,
    Duration,
    Energy,
    Fraction,
    Frequency,
    Length,
    Level,
    LevelDbm,
    Power,
    Voltage,
)

Value = TypeVar("Value")
Region = Literal["europe", "north_america"]
Share = Annotated[Fraction, Field(ge=0, le=1)]
Positive = Annotated[int, Field(gt=0, le=1_000)]
Count = Annotated[int, Field(ge=0, le=1_000)]
"""How many of something one device has or takes."""
Many = Annotated[int, Field(gt=0, le=1_000_000)]
"""How often something is done, or how many come in a pack."""
Size = Annotated[Length, Field(gt=0, le=10)]
"""Width, height, depth or another measure of a device or a part."""
Watts = Annotated[Power, Field(ge=0, le=100_000)]
PoeWatts = Annotated[Power, Field(gt=0, le=100)]
PackWatts = Annotated[Power, Field(ge=0, le=100)]
Delay = Annotated[Duration, Field(ge=0, le=60)]
RadioLevel = Annotated[LevelDbm, Field(ge=-150, le=60)]
Rate = Annotated[DataRate, Field(gt=0)]
Gauge = Annotated[int, Field(ge=4, le=40)]
PoeClass = Annotated[int, Field(ge=0, le=8)]
PoeType = Annotated[int, Field(ge=1, le=4)]
Category = Literal["5e", "6", "6A"]
JacketRating = Literal[
    "CMP",
    "CMR",
    "CM",
    "CL2P",
    "CL3P",
    "CL2R",
    "CL3R",
    "CL2",
    "CL3",
    "CMX",
    "OFNP",
    "OFNR",
    "OFN",
    "B2ca",
    "Cca",
    "Dca",
    "Eca",
]
Signal = Literal[
    "network", "fibre", "analogue input", "analogue output", "loudspeaker", "USB", "contact input",
    "contact output",
]  # fmt: skip

CeilingKind = Literal[
    "mineral tile",
    "plasterboard",
    "plaster",
    "coffered plaster",
    "metal",
    "timber",
    "coffered timber",
    "open",
]
"""What a ceiling is made of, with its coffers."""


class Ports(Written):
    """Ports of one sort on a device; they are called by the sort's letters and 1, 2, 3 …."""

    signal: Signal = Field(description="What passes through them.")
    count: Positive = Field(description="How many there are.")
    connector: str = Field(description="Connector on the device, such as 8P8C jack.")
    speed: Rate | None = Field(default=None, description="Highest data rate of a network port.")
    level: Level | None = Field(default=None, description="Highest analogue level, referred to 0.775 V.")
    powers: bool = Field(default=False, description="Whether a network port feeds PoE.")
    powered: bool = Field(default=False, description="Whether the device may take its PoE from it.")
    at: Literal["front", "rear", "side"] = Field(default="rear", description="Face of the device.")
    takes_conductors: bool = Field(
        default=False,
        description="Whether conductors are clamped in it without a connector of their own.",
    )


class PoeInput(Written):
    """What a device takes over its network cable (IEEE 802.3)."""

    device_class: PoeClass = Field(description="Class the device asks for.")
    type: PoeType = Field(description="Type of the device, 1 to 4.")
    typical: PoeWatts = Field(description="Typical power at the device.")
    maximum: PoeWatts = Field(description="Highest power at the device.")
    when_short: Literal["off", "derated"] = Field(
        default="off", description="What it does on a port of a lower class."
    )
    lowest_class: PoeClass | None = Field(
        default=None, description="Lowest port class on which it still works, if derated."
    )
    derated: str = Field(default="", description="What it no longer does when derated.")


class MainsInput(Written):
    """What a device takes from the mains."""

    inlet: str = Field(description="Inlet on the device, such as IEC 60320 C14.")
    lowest_voltage: Annotated[Voltage, Field(gt=0, le=1000)] = Field(
        description="Lowest mains voltage it takes."
    )
    highest_voltage: Annotated[Voltage, Field(gt=0, le=1000)] = Field(
        description="Highest mains voltage it takes."
    )
    frequencies: tuple[Frequency, ...] = Field(description="Mains frequencies it takes.")
    typical: Watts = Field(description="Typical power, without what it feeds onward over PoE.")
    maximum: Annotated[Power, Field(gt=0, le=100_000)] = Field(
        description="Highest power, with everything it can feed onward."
    )
    standby: Watts = Field(default=0.0, description="Power when idle or off.")
    power_factor: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Watts for each volt-ampere at full load."
    )
    inrush: Annotated[Current, Field(ge=0)] = Field(description="Peak current at switch-on, at 230 V, cold.")
    inrush_time: Annotated[Duration, Field(ge=0)] = Field(
        description="How long the inrush stays above half its peak."
    )
    leakage: Annotated[Current, Field(ge=0)] = Field(
        description="Protective-conductor current of all its supplies together."
    )
    supplies: Positive = Field(default=1, description="Number of mains inlets.")
    efficiency: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of the mains power that the supply passes on; the rest is heat."
    )

    @property
    def typical_apparent(self) -> ApparentPower:
        """Return the typical apparent power, VA."""
        return self.typical / self.power_factor

    @property
    def maximum_apparent(self) -> ApparentPower:
        """Return the highest apparent power, VA."""
        return self.maximum / self.power_factor


class NetworkNeeds(Written):
    """What a device needs of the network, for its people's own page."""

    addresses: Count = Field(default=1, description="Network addresses it takes.")
    sent_channels: Count = Field(default=0, description="Audio channels it sends as AES67 streams.")
    received_channels: Count = Field(default=0, description="Audio channels it receives.")
    channels_a_stream: Annotated[int, Field(ge=1, le=64)] = Field(
        default=8, description="Audio channels in one stream at most."
    )
    whole_streams: bool = Field(
        default=False,
        description="Whether it receives whole streams only, so that channels it does not use count as well.",
    )
    control_rate: Annotated[DataRate, Field(ge=0)] = Field(description="Data rate of control and monitoring.")
    can_lead_clock: bool = Field(default=False, description="Whether it can be the clock leader.")
    clock_priority: Annotated[int, Field(ge=0, le=255)] = Field(
        default=128, description="Priority in the clock election (IEEE 1588); the lowest leads."
    )
    protocols: Mapping[str, str] = Field(
        default={}, description="Transport and port by use, such as control: TCP 443."
    )
    found_by: str = Field(
        default="",
        description="How it is found on the network, without a display too; left out, the maker is asked.",
    )
    updated_by: str = Field(
        default="", description="How its software is updated; left out, the maker is asked."
    )
    time_needed: str = Field(
        default="", description="What it needs of time of day and clock; left out, the maker is asked."
    )
    names_needed: str = Field(
        default="", description="What it needs of name servers; left out, the maker is asked."
    )
    encryption: str = Field(
        default="",
        description="Whether its sound and its settings are encrypted on the network, and how; left out, the "
        "maker is asked.",
    )
    certificates: str = Field(
        default="",
        description="Which certificates it holds, and whether the owner's can replace them; left out, the "
        "maker is asked.",
    )


class ControlPoint(Written):
    """One thing that a control system can read or set."""

    access: Literal["read", "set", "read and set"] = Field(description="What can be done with it.")
    value: str = Field(description="What it holds, such as on or off, per cent, decibels.")


class RadioRegion(Written):
    """How a radio works in one region."""

    carriers: Annotated[int, Field(ge=1, le=100)] = Field(description="Carriers it can use there.")
    powers: Annotated[tuple[RadioLevel, ...], Field(min_length=1)] = Field(
        description="Power settings at the antenna connector, highest (the usual one) first."
    )
    approval: str = Field(default="", description="Rule under which it may be used there.")


class Radio(Written):
    """The radio of a microphone or an access point."""

    regions: Annotated[Mapping[Region, RadioRegion], Field(min_length=1)] = Field(
        description="Regions it is made for: europe, north_america."
    )
    transceivers: Annotated[int, Field(ge=1, le=100)] = Field(
        default=1, description="Transceivers; each serves one carrier at a time and 12 duplex slot pairs."
    )
    slot_pairs: Annotated[int, Field(ge=1, le=12)] = Field(description="Slot pairs of one link.")
    one_carrier: bool = Field(description="Whether the slot pairs of a link stay on one carrier.")
    in_a_row: bool = Field(description="Whether the slots of a link follow each other.")
    always_on_bearers: Annotated[int, Field(ge=0, le=4)] = Field(
        default=0, description="Bearers an access point keeps on the air while it carries no traffic."
    )
    initiated_by: Literal["microphone", "access_point"] = Field(
        default="microphone",
        description="Which end of an access point's links asks for a place on the air, and listens first "
        "where the region has equipment listen: microphone or access_point.",
    )
    sensitivity: Annotated[LevelDbm, Field(ge=-150, le=0)] = Field(
        description="Least level it receives well."
    )
    antenna_gain: Annotated[Level, Field(ge=-20, le=30)] = Field(
        default=0.0, description="Antenna gain over an isotropic one."
    )
    carrier_to_interference: Annotated[Level, Field(ge=0, le=40)] = Field(
        description="Carrier-to-interference ratio it needs in the same slot and carrier."
    )
    synchronisation: Literal["network", "radio", "follows", "none"] = Field(
        description="How it shares its frame with its group; a microphone follows."
    )
    group_size: Positive = Field(default=1, description="Access points that can share one frame.")
    latency: Delay | None = Field(
        default=None,
        description="Time that audio takes over the link; counted once, at the access point. Left out there, "
        "a question to its maker.",
    )


class Battery(Written):
    """The pack of a portable device."""

    energy: Annotated[Energy, Field(gt=0, le=1000)] = Field(description="Energy of a new pack.")
    run_time: Annotated[Duration, Field(gt=0, le=31_536_000)] = Field(
        description="Run time in use on a new pack."
    )
    in_use: Annotated[Power, Field(gt=0, le=100)] = Field(description="Drain while it is spoken into.")
    idle: Annotated[Power, Field(gt=0, le=100)] = Field(
        description="Drain muted or idle on the table: the link is kept."
    )
    docked: PackWatts = Field(description="Drain in a charge slot.")
    off: PackWatts = Field(description="Drain when switched off.")
    charge_power: Annotated[Power, Field(gt=0, le=1000)] = Field(
        description="Power into the pack while it charges, below the taper."
    )
    taper_from: Share = Field(description="State of charge above which charging slows.")
    taper_share: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of the charge power that is taken above it."
    )
    charge_efficiency: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of the charge power that the pack keeps."
    )
    aged_share: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of its energy that a pack still holds at the end of its life."
    )
    cycles: Many = Field(description="Charges until then.")
    replaceable: bool = Field(default=True, description="Whether the pack can be changed by the user.")
    pack_list_price: Money | None = Field(default=None, description="List price of a spare pack.")
    pack_cost: Money | None = Field(default=None, description="Cost of a spare pack.")


class OctaveBands(Written, Generic[Value]):
    """One value for each octave band, by its middle frequency."""

    hz_125: Value = Field(description="At 125 Hz.")
    hz_250: Value = Field(description="At 250 Hz.")
    hz_500: Value = Field(description="At 500 Hz.")
    hz_1000: Value = Field(description="At 1000 Hz.")
    hz_2000: Value = Field(description="At 2000 Hz.")
    hz_4000: Value = Field(description="At 4000 Hz.")
    hz_8000: Value = Field(description="At 8000 Hz.")
