"""Design rules and terms that a project may set."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from proposal.model.assistive_listening import AssistiveRules
from proposal.model.base import Name, Written, assumed, unwritten
from proposal.model.latency_rules import LatencyRules
from proposal.model.loudspeaker_rules import LoudspeakerRules
from proposal.model.microphone_positions import Form
from proposal.model.price.contract_terms import Bond, Damages, DamagesSum, PriceRise, Service
from proposal.model.rack_rules import RackRules
from proposal.model.radio.radio import RadioRules
from proposal.model.wiring_rules import CablingRules, NetworkRules, PathwayRules, PowerRules
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal
from proposal.quantities.parsing import Fraction, Length, Level, TimeOfDay


class ChargingRules(Written):
    """How microphones are used, docked and judged through a meeting day."""

    reserve: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.20,
        "Least state of charge of a pack at the end of its life, at any time of the day.",
        "Least state of charge of a pack at the end of its life",
    )
    full_at_start: Annotated[Fraction, Field(gt=0, le=1)] = assumed(
        1.0,
        "State of charge at the first session, of every microphone that stood in a slot overnight.",
        "State of charge of microphones at the first session of the day",
        "common practice",
    )
    in_use_share: Annotated[Fraction, Field(ge=0, le=1)] = assumed(
        1.0,
        "Share of a session in which a microphone is open; it lies muted for the rest.",
        "Share of a session in which a microphone is open",
    )
    from_wall: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.5,
        "Distance of chargers from the wall, where no position is written.",
        "Distance of chargers from the room's longest wall",
    )
    docked_share: Annotated[Fraction, Field(ge=0, le=1)] = assumed(
        0.50,
        "Share of each break in which a microphone is really docked.",
        "Share of each break in which a microphone is docked",
    )
    years: Annotated[int, Field(ge=1, le=30)] = assumed(
        5,
        "Years over which packs that wear out are counted.",
        "Years over which packs that wear out are counted",
    )


class TakeoffRules(Written):
    """Allowances of the take-off."""

    spoilage: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.07,
        "Share of cable that is spoiled in pulling.",
        "Share of cable that is spoiled in pulling",
        "common practice",
    )
    lead_and_tail: Annotated[Length, Field(ge=0, le=100)] = assumed(
        1.0,
        "Cable cut in addition to each length, to lead it in and to trim its ends.",
        "Cable cut in addition to each length, lead and tail",
    )
    length_tolerance: Annotated[Fraction, Field(ge=0, le=1)] = assumed(
        0.03,
        "Share by which an estimated length is cut longer; a measured one is not.",
        "Share by which an estimated length is cut longer",
    )
    connector_extra: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.05,
        "Share of outlets and connectors ordered beyond those counted.",
        "Share of outlets and connectors ordered beyond those counted",
        "common practice",
    )
    tray_hangers: Annotated[int, Field(ge=0, le=4)] = assumed(
        2,
        "Threaded rods, each with a beam clamp, at each support of a tray.",
        "Threaded rods, each with a beam clamp, at each support of a tray",
        "common practice",
    )
    price_pathways: bool = assumed(
        False,
        "Whether the pathways that building.yaml lists are ours to furnish and price; hooks elsewhere are.",
        "Whether the listed conduits, sleeves, trays and rows of hooks are ours to furnish and to price",
        "common practice",
    )


class MicrophoneRules(Written):
    """The system of microphones, and how high they are in use where their positions do not say."""

    system: str = assumed(
        "",
        "System of the microphones of all rooms that name none, as the library names it.",
        "Each room has the microphone system with the least cost in it",
    )
    handheld_height: Annotated[Length, Field(ge=0, le=10)] = assumed(
        1.2,
        "Height of handheld microphones above the floor.",
        "Height of handheld microphones above the floor",
        "common practice",
    )
    bodypack_height: Annotated[Length, Field(ge=0, le=10)] = assumed(
        1.2,
        "Height of bodypacks above the floor.",
        "Height of bodypacks above the floor",
        "common practice",
    )
    boundary_height: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.75,
        "Height of boundary microphones above the floor.",
        "Height of boundary microphones above the floor",
        "common practice",
    )
    gooseneck_height: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.75,
        "Height of the bases of gooseneck microphones above the floor.",
        "Height of the bases of gooseneck microphones above the floor",
        "common practice",
    )

    def height_m(self, form: Form) -> float:
        """Return the height of microphones of a form above the floor, m."""
        return {
            "handheld": self.handheld_height,
            "bodypack": self.bodypack_height,
            "boundary": self.boundary_height,
            "gooseneck": self.gooseneck_height,
        }[form]


class LevelRules(Written):
    """Levels from which tuning begins."""

    analogue: Annotated[Level, Field(ge=-100, le=30)] = assumed(
        4.0,
        "Nominal analogue level, referred to 0.775 V.",
        "Nominal analogue level, referred to 0.775 V",
        "common practice",
    )
    networked: Annotated[Level, Field(ge=-100, le=0)] = assumed(
        -20.0,
        "Nominal networked level, referred to full scale.",
        "Nominal networked level, referred to full scale",
        "common practice",
    )
    first_gain: Annotated[Level, Field(ge=-100, le=100)] = assumed(
        0.0,
        "Gain of inputs and level of outputs before tuning.",
        "Gain of inputs and level of outputs before tuning",
        "common practice",
    )


_Priority = Annotated[int, Field(ge=1, le=3)]


# As many as switches tell apart.
_LOWEST_PRIORITY = 3


class PriorityRules(Written):
    """In which order devices keep power where a switch's budget is short; no price follows from it."""

    access_points: _Priority = assumed(
        1,
        "Power priority of access points, 1 to 3; those of 1 keep power longest.",
        "Power priority of access points",
        "common practice",
    )
    mixers: _Priority = assumed(
        1, "Power priority of mixers, 1 to 3.", "Power priority of mixers", "common practice"
    )
    breakouts: _Priority = assumed(
        2, "Power priority of breakouts, 1 to 3.", "Power priority of breakouts", "common practice"
    )
    chargers: _Priority = assumed(
        3, "Power priority of chargers, 1 to 3.", "Power priority of chargers", "common practice"
    )

    def of(self, kind: str) -> int:
        """Return the priority of a kind of device; the lowest of what has none of its own.

        kind: such as access_point.
        """
        own = {
            "access_point": self.access_points,
            "mixer": self.mixers,
            "breakout": self.breakouts,
            "charger": self.chargers,
        }
        return own.get(kind, _LOWEST_PRIORITY)


class ReviewRules(Written):
    """From which values on the review warns, and work counts as high; no size or price follows from them."""

    near_limit: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.05,
        "Share of its limit by which a permanent link stays below it without a warning.",
        "Share of its limit by which a permanent link stays below it without a warning",
        "common practice",
    )
    outside_pathways: Annotated[Length, Field(ge=0, le=1000)] = assumed(
        30.0,
        "Cable outside pathways that is passed over in silence, where a building has pathways.",
        "Cable outside pathways that is passed over in silence",
        "common practice",
    )
    microphones_a_spare: Annotated[int, Field(ge=1, le=1000)] = assumed(
        10,
        "Microphones in use for which one spare is held.",
        "Microphones in use for which one spare is held",
        "common practice",
    )
    day_begins: TimeOfDay = Field(
        default=7 * 60,
        description="When normal working time on site begins; earlier work is priced as such, or a warning.",
    )
    day_ends: TimeOfDay = Field(
        default=18 * 60,
        description="When normal working time on site ends; later work is priced as such, or a warning.",
    )
    work_at_height: Annotated[Length, Field(ge=0, le=20)] = assumed(
        3.0,
        "Height above the floor beyond which work on a device is called work at height.",
        "Height above the floor beyond which work on a device is called work at height",
        "common practice",
    )


class Rules(Written):
    """Rules of the design, each with an editable default."""

    cabling: CablingRules = Field(default=unwritten(CablingRules), description="Cabling.")
    pathways: PathwayRules = Field(default=unwritten(PathwayRules), description="Pathways and conduits.")
    power: PowerRules = Field(default=unwritten(PowerRules), description="Power over Ethernet.")
    network: NetworkRules = Field(default=unwritten(NetworkRules), description="Network.")
    charging: ChargingRules = Field(default=unwritten(ChargingRules), description="Batteries and charging.")
    takeoff: TakeoffRules = Field(default=unwritten(TakeoffRules), description="Take-off.")
    radio: RadioRules = Field(default=unwritten(RadioRules), description="Radio.")
    microphones: MicrophoneRules = Field(
        default=unwritten(MicrophoneRules), description="Heights of microphones."
    )
    levels: LevelRules = Field(default=unwritten(LevelRules), description="Levels before tuning.")
    latency: LatencyRules = Field(
        default=unwritten(LatencyRules), description="Delay from microphones to those who listen."
    )
    priorities: PriorityRules = Field(
        default=unwritten(PriorityRules), description="Which devices keep power longest."
    )
    racks: RackRules = Field(default=unwritten(RackRules), description="Racks.")
    loudspeakers: LoudspeakerRules = Field(
        default=unwritten(LoudspeakerRules), description="Loudspeaker lines."
    )
    assistive_listening: AssistiveRules = Field(
        default=unwritten(AssistiveRules), description="Receivers for assistive listening."
    )
    review: ReviewRules = Field(
        default=unwritten(ReviewRules), description="From where on a review speaks up."
    )


class Subnet(Written):
    """A network the building offers."""

    network: Name = Field(description="Address range, such as 10.20.30.0/24.")
    vlan: Annotated[int, Field(ge=1, le=4094)] = Field(description="VLAN number.")
    purpose: Literal["audio and control", "audio", "control"] = Field(
        default="audio and control",
        description="What travels on it; one for control takes devices that neither send nor take audio.",
    )
    addressing: Literal["static", "reserved"] = Field(
        default="static", description="Set in the device, or reserved by the building's DHCP."
    )
    gateway: str = Field(default="", description="Address of the gateway; the first address where left out.")


class ExchangeRate(Written):
    """What one unit of another currency costs."""

    rate: Annotated[Decimal, Field(gt=0, le=1_000_000, max_digits=15)] = Field(
        description="Units of the project's currency for one unit."
    )
    date: Date = Field(description="Day of the rate.")
    source: str = Field(min_length=1, description="Who published the rate, such as a central bank.")


class Terms(Written):
    """Commercial terms printed in the proposal."""

    validity_days: Annotated[int, Field(ge=1, le=730)] = assumed(
        90, "Days for which the proposal holds.", "Days for which the proposal holds", "common practice"
    )
    warranty_months: Annotated[int, Field(ge=1, le=600)] | None = Field(
        default=None, description="Months of warranty for the work, from acceptance."
    )
    damages: Damages | None = Field(
        default=None, description="What is deducted for delay, as a share of the contract; none left out."
    )
    damages_sum: DamagesSum | None = Field(
        default=None, description="What is deducted for delay, as a fixed sum, in place of `damages`."
    )
    price_rises: Mapping[str, PriceRise] = Field(
        default={},
        description="By how much the price rises with a later order, each under a name of your own.",
    )
    services: Mapping[str, Service] = Field(
        default={},
        description="What is done beside the installation and is in the price: training, maintenance visits, "
        "response to faults, spare parts, each under a name of your own.",
    )
    bonds: Mapping[str, Bond] = Field(
        default={}, description="Bonds that the client asks for, each under a name of your own."
    )
    exchange: Mapping[str, ExchangeRate] = Field(
        default={}, description="Exchange rates by currency code, where the library has other currencies."
    )

    @model_validator(mode="after")
    def _deducts_one_way(self) -> "Terms":
        """Refuse damages both as a share and as a sum."""
        if self.damages is not None and self.damages_sum is not None:
            raise refusal(
                "one of both, such as `damages_sum: {amount: 250.00 USD, each: day}` without damages", "both"
            )
        return self
