"""Rules of cabling, pathways, power and network."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from proposal.model.base import Written, assumed
from proposal.model.equipment.parts import Region
from proposal.model.pathways.pathways import CableTemperature
from proposal.quantities.parsing import Force, Fraction, Length, Resistance, Told

FireCode = Literal["by region", "NFPA 70", "EN 50575"]


def _whole_number(value: object) -> object:
    # Scalars of files arrive as text, and a choice among numbers would compare text with numbers.
    return int(value) if isinstance(value, str) and value in ("24", "26", "28") else value


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
    lead_to_others: Annotated[Length, Field(gt=0, le=100)] = assumed(
        5.0,
        "Lead from a mixer or breakout to equipment of others that building.yaml does not place.",
        "Length of each lead to equipment of others that is not placed",
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
        "Whether cables are chosen only among those free of halogens.",
        "Whether cables are chosen only among those free of halogens",
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
        "What a length outside pathways counts for when the cheapest way is chosen.",
        "What a length outside pathways counts for when a cable's way is chosen",
    )
    below_floor_above: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.5,
        "How far below the floor above horizontal cable runs lie, where their storey does not say.",
        "How far below the floor above horizontal cable runs lie",
    )
    rated_floors: bool = assumed(
        True,
        "Whether floors between storeys are fire-rated, where a pathway does not say.",
        "Whether floors between storeys are fire-rated: each that a pathway crosses is an opening to close",
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
    warming_open: Annotated[float, Told("warming"), Field(ge=0, le=100)] = assumed(
        1.5,
        "Kelvin by which each watt of heat in a metre of a bundle in the open warms it (tray, hooks).",
        "Warming of a bundle in the open by the heat in each length of it",
    )
    warming_enclosed: Annotated[float, Told("warming"), Field(ge=0, le=100)] = assumed(
        2.5,
        "Kelvin by which each watt of heat in a metre of a bundle in a conduit or sleeve warms it.",
        "Warming of a bundle in a conduit or sleeve by the heat in each length of it",
    )
    line_distance: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.05,
        "Distance kept between loudspeaker lines and other cables on trays and hooks.",
        "Distance between loudspeaker lines and other cables on trays and hooks",
        "common practice",
    )
    shared_opening: Annotated[Length, Field(ge=0, le=5)] = assumed(
        0.8,
        "So near to one another cables outside pathways are led to one opening in a wall.",
        "So near to one another cables outside pathways are led to one opening in a wall",
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
    conductor_resistance: Literal["stricter", "nominal"] = assumed(
        "stricter",
        "Resistance of data cables: nominal by their gauge, or that or the category's limit, the stricter.",
        "Data cables have the resistance of their gauge or the limit of their category, whichever is higher",
    )
    cord_temperature: CableTemperature = assumed(
        20.0, "Temperature of patch cords.", "Temperature of patch cords", "common practice"
    )


class NetworkRules(Written):
    """Allowances for the network."""

    spare_ports: Annotated[Fraction, Field(ge=0, lt=1)] = assumed(
        0.20, "Share of switch ports left free.", "Share of switch ports left free"
    )
