"""Design rules and terms that a project may set."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from proposal.model.base import Name, Written, assumed, unwritten
from proposal.model.equipment.parts import Region
from proposal.model.pathways.pathways import CableTemperature
from proposal.model.rack_rules import RackRules
from proposal.model.radio.radio import RadioRules
from proposal.model.rooms import Form
from proposal.quantities.dates import Date
from proposal.quantities.parsing import Force, Fraction, Length, Level, Resistance


def _whole_number(value: object) -> object:
    # Scalars of files arrive as text, and a choice among numbers would compare text with numbers.
    return int(value) if isinstance(value, str) and value in ("24", "26", "28") else value


FireCode = Literal["by region", "NFPA 70", "EN 50575"]
CordGauge = Annotated[Literal[24, 26, 28], BeforeValidator(_whole_number)]


class CablingRules(Written):
    """Allowances and choices for cables."""

    rack_slack: Annotated[Length, Field(ge=0, le=100)] = assumed(
        3.0, "Slack left at the rack.", "Slack at the rack", "common practice"
    )
    ceiling_slack: Annotated[Length, Field(ge=0, le=100)] = assumed(
        1.0, "Slack left at a ceiling device.", "Slack at a ceiling device", "common practice"
    )
    table_slack: Annotated[Length, Field(ge=0, le=100)] = assumed(
        1.5, "Slack left at a table or wall box.", "Slack at a table or wall box", "common practice"
    )
    termination: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.3, "Cable used up by terminating both ends.", "Cable used up by terminating both ends"
    )
    routing_factor: Annotated[float, Field(ge=1, le=3)] = assumed(
        1.0,
        "Factor on right-angled runs for ways round obstacles.",
        "Factor on right-angled runs for ways round obstacles",
    )
    equipment_cord: Annotated[Length, Field(gt=0, le=100)] = assumed(
        2.0, "Patch cord at the rack.", "Length of the patch cord at the rack"
    )
    device_cord: Annotated[Length, Field(gt=0, le=100)] = assumed(
        2.0,
        "Cord between outlet and device, for devices on tables and walls.",
        "Length of the cord between outlet and device",
    )
    cord_gauge: CordGauge = assumed(
        24, "Conductor gauge of patch cords, AWG.", "Conductor gauge of patch cords, AWG"
    )
    panel_ports: Annotated[int, Field(ge=1, le=96)] = assumed(
        24,
        "Ports of a patch panel, where the library holds no panel for copper cables.",
        "Ports of a patch panel, where the library holds none",
        "common practice",
    )
    rack_height: Annotated[Length, Field(ge=0, le=20)] = assumed(
        1.0, "Height above the floor at which cables end in a rack.", "Height at which cables end in a rack"
    )
    data_cable: str = assumed(
        "",
        "Model code of the data cable; the least-cost one that suits the equipment where left out.",
        "The least-cost data cable that suits the equipment",
    )
    fire_code: FireCode = assumed(
        "by region",
        "Code for the jackets of cables: NFPA 70, or classes of reaction to fire after EN 50575.",
        "NFPA 70 is adopted in North America; elsewhere cables have classes of reaction to fire (EN 50575)",
    )
    halogen_free: bool = assumed(
        False,
        "Whether cables have to be free of halogens.",
        "Whether cables have to be free of halogens",
    )

    def nfpa_70(self, region: Region) -> bool:
        """Return whether NFPA 70 is adopted: as written, else in North America.

        region: radio region of the project.
        """
        if self.fire_code == "by region":
            return region == "north_america"
        return self.fire_code == "NFPA 70"


class PathwayRules(Written):
    """How cables take pathways, and how they are pulled through conduits."""

    outside_factor: Annotated[float, Field(ge=1, le=20)] = assumed(
        3.0,
        "What a metre outside pathways counts for when the cheapest way is chosen.",
        "What a metre outside pathways counts for when a cable's way is chosen",
    )
    below_floor_above: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.5,
        "How far below the floor above horizontal cable runs lie, where their storey does not say.",
        "How far below the floor above horizontal cable runs lie",
    )
    rated_floors: bool = assumed(
        True,
        "Whether floors between storeys are fire-rated, where a pathway does not say.",
        "Floors between storeys are fire-rated: each that a pathway crosses is an opening to close",
        "common practice",
    )
    tray_fill: Annotated[Fraction, Field(gt=0, le=1)] = assumed(
        0.5,
        "Share of a tray, or of the hooks' area, that cables may take.",
        "Share of a tray, or of the hooks' area, that cables may take",
        "common practice",
    )
    bundle: Annotated[int, Field(ge=1, le=1000)] | None = assumed(
        None,
        "Cables tied in one bundle; all that lie together where left out.",
        "All cables that lie together in a pathway, or on a run outside pathways, make one bundle",
    )
    warming_open: Annotated[float, Field(ge=0, le=100)] = assumed(
        1.5,
        "Kelvin by which each watt of heat in a metre of a bundle in the open warms it (tray, hooks).",
        "Warming of a bundle in the open for each watt of heat in a metre of it, in kelvin",
    )
    warming_enclosed: Annotated[float, Field(ge=0, le=100)] = assumed(
        2.5,
        "Kelvin by which each watt of heat in a metre of a bundle in a conduit or sleeve warms it.",
        "Warming of a bundle in a conduit or sleeve for each watt of heat in a metre of it, in kelvin",
    )
    line_distance: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.05,
        "Distance kept between loudspeaker lines and other cables on trays and hooks.",
        "Distance between loudspeaker lines and other cables on trays and hooks",
        "common practice",
    )
    friction: Annotated[float, Field(ge=0, le=1)] = assumed(
        0.35,
        "Coefficient of friction between cables and conduit.",
        "Coefficient of friction between cables and conduit",
    )
    back_tension: Annotated[Force, Field(ge=0, le=10_000)] = assumed(
        10.0, "Tension at which one cable leaves its reel.", "Tension at which one cable leaves its reel"
    )


class PowerRules(Written):
    """Allowances for power over Ethernet."""

    headroom: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.20, "Share of a switch's power budget left free.", "Share of a switch's power budget left free"
    )
    built_in_headroom: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.0,
        "Share of the power budget of a switch inside a breakout left free.",
        "Share of the power budget of a switch inside a breakout left free: it feeds its own room alone",
    )
    connector_resistance: Annotated[Resistance, Field(ge=0, le=100)] = assumed(
        0.2,
        "Resistance of all connectors of a powered channel, out and back.",
        "Resistance of all connectors of a powered channel, out and back",
    )
    cord_temperature: CableTemperature = assumed(
        20.0, "Temperature of patch cords.", "Temperature of patch cords", "common practice"
    )


class NetworkRules(Written):
    """Allowances for the network."""

    spare_ports: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.20, "Share of switch ports left free.", "Share of switch ports left free"
    )


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
    price_pathways: bool = assumed(
        False,
        "Whether conduit, trays and hooks are ours to furnish and price.",
        "Conduit, trays and hooks are furnished by others: counted, not priced",
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
    """From where on a review speaks up, and work is called high; no size and no price follows from them."""

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
    priorities: PriorityRules = Field(
        default=unwritten(PriorityRules), description="Which devices keep power longest."
    )
    racks: RackRules = Field(default=unwritten(RackRules), description="Racks.")
    review: ReviewRules = Field(
        default=unwritten(ReviewRules), description="From where on a review speaks up."
    )


class Subnet(Written):
    """A network the building offers."""

    network: Name = Field(description="Address range, such as 10.20.30.0/24.")
    vlan: Annotated[int, Field(ge=1, le=4094)] = Field(description="VLAN number.")
    purpose: Literal["audio and control"] = Field(
        default="audio and control", description="What travels on it."
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
    exchange: Mapping[str, ExchangeRate] = Field(
        default={}, description="Exchange rates by currency code, where the library has other currencies."
    )
