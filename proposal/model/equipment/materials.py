"""What is bought by length, by the piece or by the pack: cables, cords, connectors, supports."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Written
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.parts import (
    Category,
    Count,
    Gauge,
    JacketRating,
    Positive,
    Size,
)
from proposal.quantities.dates import Date
from proposal.quantities.money import Money
from proposal.quantities.parsing import (
    Area,
    Current,
    Force,
    ForcePerLength,
    Fraction,
    Length,
    Level,
    Mass,
    Resistance,
    Temperature,
)

Screening = Literal["U/UTP", "F/UTP", "S/FTP", "U/FTP"]

TradeSize = Literal["1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4"]
Diameter = Annotated[Length, Field(gt=0, le=0.1)]
Spacing = Annotated[Length, Field(ge=0.05, le=100)]
"""Distance from one support to the next."""


class Reel(Written):
    """One length in which a cable is sold, and what it costs."""

    length: Annotated[Length, Field(ge=1, le=10_000)] = Field(description="Length on it.")
    container: Literal["box", "reel", "coil"] = Field(description="What it comes in.")
    list_price: Money = Field(description="List price before tax.")
    cost: Money = Field(description="What it costs the integrator before tax.")
    weight: Annotated[Mass, Field(ge=0, le=10_000)] = Field(
        default=0.0, description="Weight, with the container."
    )
    supplier: str = Field(
        default="",
        description="Who sells it; left out, who sells the cable. Where it is named, article number, price "
        "list and days are its own too.",
    )
    article: str = Field(default="", description="The supplier's own number for it.")
    price_source: str = Field(
        default="", description="Price list or quote that cost and list price come from, if any."
    )
    priced_on: Date | None = Field(default=None, description="Day of that price list or quote.")
    prices_hold_until: Date | None = Field(
        default=None, description="Last day on which cost and list price hold; left out, they hold."
    )


class Jacket(Written):
    """Where a cable may lie."""

    ratings: Annotated[tuple[JacketRating, ...], Field(min_length=1)] = Field(
        description="Fire ratings marked on it: NFPA 70 letters, or classes of EN 13501-6."
    )
    plenum: bool = Field(default=False, description="Whether it may lie in spaces for environmental air.")
    riser: bool = Field(default=False, description="Whether it may rise from storey to storey.")
    low_smoke: bool = Field(default=False, description="Whether it is free of halogens, with little smoke.")
    outdoor: bool = Field(default=False, description="Whether it may lie outdoors.")
    wet: bool = Field(default=False, description="Whether it may lie in a wet location.")


class Cable(Entry):
    """What every cable has; price and cost are for a metre cut to length, reels have their own."""

    unit: Literal["each", "metre", "pack"] = Field(
        default="metre", description="What the price and the cost are for."
    )
    outside_diameter: Diameter = Field(description="Outside diameter.")
    jacket: Jacket = Field(description="Where it may lie.")
    colour: str = Field(description="Colour of the jacket.")
    temperature_rating: Temperature = Field(description="Highest temperature of the cable.")
    weight_per_length: Annotated[ForcePerLength, Field(gt=0, le=100)] = Field(
        description="Weight of its length."
    )
    highest_pull: Annotated[Force, Field(gt=0, le=100_000)] = Field(description="Highest pulling tension.")
    bend_diameters: Annotated[float, Field(ge=1, le=40)] = Field(
        description="Least bend radius at rest, as a multiple of the outside diameter."
    )
    pulling_bend_diameters: Annotated[float, Field(ge=1, le=40)] = Field(
        description="Least bend radius under tension, as a multiple of the outside diameter."
    )
    reels: Annotated[Mapping[str, Reel], Field(min_length=1)] = Field(
        description="Lengths in which it is sold, by name."
    )


class DataCable(Cable):
    """A balanced four-pair copper cable."""

    kind: Literal["cable"] = Field(default="cable", description="Kind of entry.")
    category: Category = Field(description="Category: 5e, 6 or 6A.")
    screening: Screening = Field(description="Screening after ISO/IEC 11801: U/UTP has none.")
    gauge: Gauge = Field(description="Conductor gauge, AWG.")
    conductor: Literal["copper", "copper-clad aluminium"] = Field(description="Material of the conductors.")
    stranding: Literal["solid", "stranded"] = Field(
        default="solid", description="Whether the conductors are solid or stranded."
    )
    pairs: Positive = Field(default=4, description="Pairs.")
    pair_resistance: Annotated[Resistance, Field(gt=0, le=1000)] | None = Field(
        default=None, description="Loop resistance of one pair over 100 m at 20 °C; left out, by the gauge."
    )
    propagation: Annotated[Fraction, Field(gt=0.3, le=1)] = Field(
        description="Speed of propagation against that of light."
    )
    rated_current: Annotated[Current, Field(gt=0, le=1000)] | None = Field(
        default=None, description="Current of one conductor that its marking allows, if it is marked."
    )

    @property
    def screened(self) -> bool:
        """Return whether it has any screen."""
        return self.screening != "U/UTP"


class LoudspeakerCable(Cable):
    """A cable for loudspeaker lines."""

    kind: Literal["loudspeaker_cable"] = Field(default="loudspeaker_cable", description="Kind of entry.")
    conductors: Positive = Field(default=2, description="Conductors.")
    gauge: Gauge = Field(description="Conductor gauge, AWG.")
    conductor: Literal["copper", "copper-clad aluminium"] = Field(description="Material of the conductors.")
    wiring_class: Literal["class 1", "class 2", "class 3"] = Field(
        description="Highest class of wiring it is marked for."
    )


class AudioCable(Cable):
    """A screened cable for analogue audio."""

    kind: Literal["audio_cable"] = Field(default="audio_cable", description="Kind of entry.")
    pairs: Positive = Field(description="Screened pairs.")
    gauge: Gauge = Field(description="Conductor gauge, AWG.")


class FibreCable(Cable):
    """An optical fibre cable."""

    kind: Literal["fibre_cable"] = Field(default="fibre_cable", description="Kind of entry.")
    fibres: Positive = Field(description="Fibres.")
    fibre: Literal["OM3", "OM4", "OS2"] = Field(description="Sort of fibre after ISO/IEC 11801.")
    attenuation_per_km: Annotated[Level, Field(ge=0, le=100)] = Field(
        description="Loss of 1 km at the wavelength in use."
    )


class PatchCord(Entry):
    """A cord of one length."""

    kind: Literal["patch_cord"] = Field(default="patch_cord", description="Kind of entry.")
    length: Annotated[Length, Field(gt=0, le=1000)] = Field(description="Length.")
    medium: Literal["copper", "fibre"] = Field(default="copper", description="What it is made of.")
    category: Category | None = Field(default=None, description="Category of a copper cord.")
    screened: bool = Field(default=False, description="Whether it is screened.")
    gauge: Gauge | None = Field(default=None, description="Conductor gauge of a copper cord, AWG.")
    fibre: Literal["OM3", "OM4", "OS2"] | None = Field(default=None, description="Sort of fibre.")
    outside_diameter: Diameter = Field(description="Outside diameter.")
    colour: str = Field(default="grey", description="Colour.")


class Connector(Entry):
    """A plug, jack or other end of a cable."""

    kind: Literal["connector"] = Field(default="connector", description="Kind of entry.")
    form: str = Field(description="What it is, such as 8P8C plug.")
    signal: Literal["network", "analogue audio", "loudspeaker", "fibre"] = Field(
        description="What it carries."
    )
    category: Category | None = Field(default=None, description="Category, where it carries the network.")
    screened: bool = Field(default=False, description="Whether it is screened.")
    thickest_gauge: Gauge | None = Field(default=None, description="Thickest conductor it takes, AWG.")
    thinnest_gauge: Gauge | None = Field(default=None, description="Thinnest conductor it takes, AWG.")
    widest_cable: Size | None = Field(default=None, description="Largest outside diameter it takes.")


class PatchPanel(Entry):
    """A patch panel for a rack."""

    kind: Literal["patch_panel"] = Field(default="patch_panel", description="Kind of entry.")
    ports: Positive = Field(description="Ports.")
    rack_units: Positive = Field(default=1, description="Rack units it takes.")
    depth: Size = Field(description="Depth behind the rail, cables bent.")
    medium: Literal["copper", "fibre"] = Field(default="copper", description="What it ends.")
    category: Category | None = Field(default=None, description="Category of its copper ports.")
    screened: bool = Field(default=False, description="Whether it is screened.")
    loaded: bool = Field(default=True, description="Whether its jacks are included.")


class Outlet(Entry):
    """An outlet in a wall, floor or ceiling, with its jacks and plate."""

    kind: Literal["outlet"] = Field(default="outlet", description="Kind of entry.")
    jacks: Positive = Field(description="Jacks.")
    category: Category = Field(description="Category of its jacks.")
    screened: bool = Field(default=False, description="Whether it is screened.")
    place: tuple[Literal["wall", "floor box", "ceiling", "table"], ...] = Field(
        description="Where it may be mounted."
    )
    jacks_included: bool = Field(default=True, description="Whether its jacks are included.")


class Plate(Entry):
    """A plate with openings for jacks or connectors."""

    kind: Literal["plate"] = Field(default="plate", description="Kind of entry.")
    openings: Count = Field(description="Openings; 0 for a blank.")
    gangs: Positive = Field(default=1, description="Boxes it covers side by side.")


class Box(Entry):
    """A box in a wall, floor or table."""

    kind: Literal["box"] = Field(default="box", description="Kind of entry.")
    place: Literal["wall", "floor", "table", "ceiling"] = Field(description="Where it is built in.")
    gangs: Positive = Field(description="Plates it holds side by side.")
    depth: Size = Field(description="Depth.")


class Label(Entry):
    """Labels for cables, ports or devices."""

    kind: Literal["label"] = Field(default="label", description="Kind of entry.")
    marks: Literal["cable", "port", "device"] = Field(description="What they mark.")
    width: Size = Field(description="Width of the part that is printed.")
    height: Size = Field(description="Height of the part that is printed.")
    narrowest_cable: Annotated[Length, Field(ge=0, le=10)] | None = Field(
        default=None, description="Smallest cable they go round."
    )
    widest_cable: Size | None = Field(default=None, description="Largest cable they go round.")


class Support(Entry):
    """A hook, strap or clamp that carries cables where there is no tray."""

    kind: Literal["support"] = Field(default="support", description="Kind of entry.")
    form: Literal["hook", "strap", "beam clamp", "threaded rod"] = Field(description="What it is.")
    area: Annotated[Area, Field(ge=0, le=1)] = Field(default=0.0, description="Area it holds cables in.")
    load: Annotated[Mass, Field(gt=0, le=10_000)] = Field(description="Weight it can carry.")
    spacing: Spacing = Field(description="Distance from one to the next (TIA-569).")
    plenum_rated: bool = Field(
        default=False, description="Whether it may stand in a space used for environmental air."
    )


class Conduit(Entry):
    """Metallic tubing of one trade size; its internal diameter and area are those of the adopted code."""

    kind: Literal["conduit"] = Field(default="conduit", description="Kind of entry.")
    unit: Literal["each", "metre", "pack"] = Field(
        default="metre", description="What the price and the cost are for."
    )
    trade_size: TradeSize = Field(description="Trade size (NFPA 70 Chapter 9).")
    stick: Annotated[Length, Field(ge=0.1, le=100)] = Field(description="Length of one piece.")
    elbow_radius: Size = Field(description="Radius of its factory elbow.")


class ConduitFitting(Entry):
    """What joins pieces of conduit of one trade size, or leads it round a bend."""

    kind: Literal["conduit_fitting"] = Field(default="conduit_fitting", description="Kind of entry.")
    form: Literal["coupling", "elbow"] = Field(description="What it is.")
    trade_size: TradeSize = Field(description="Trade size (NFPA 70 Chapter 9).")


class Tray(Entry):
    """Cable tray."""

    kind: Literal["tray"] = Field(default="tray", description="Kind of entry.")
    unit: Literal["each", "metre", "pack"] = Field(
        default="metre", description="What the price and the cost are for."
    )
    form: Literal["wire mesh", "ladder", "perforated"] = Field(description="Sort of tray.")
    width: Size = Field(description="Width inside.")
    height: Size = Field(description="Loading height.")
    stick: Annotated[Length, Field(ge=0.1, le=100)] = Field(description="Length of one piece.")
    load_per_length: Annotated[ForcePerLength, Field(gt=0, le=100_000)] = Field(
        description="Load it can carry, supports at the usual spacing."
    )
    support_spacing: Spacing = Field(description="Usual distance between its supports.")


class Consumable(Entry):
    """What is used up: ties, lubricant, fire-stopping, sleeves."""

    kind: Literal["consumable"] = Field(default="consumable", description="Kind of entry.")
    use: Literal[
        "hook-and-loop tie", "pulling lubricant", "fire-stopping", "sleeve", "screw set", "safety wire",
        "mains outlet", "mains circuit",
    ] = Field(description="What it is for.")  # fmt: skip
    pieces_a_cable: Annotated[float, Field(ge=0, le=1000)] = Field(
        default=0.0,
        description="Pieces used for each cable, on average; of fire-stopping, for each in an opening.",
    )
    pieces_an_opening: Annotated[float, Field(ge=0, le=1000)] = Field(
        default=0.0, description="Pieces of fire-stopping for each opening, however few its cables are."
    )


MATERIAL_FIELDS: Mapping[str, type[Entry]] = {
    "cables": DataCable,
    "loudspeaker_cables": LoudspeakerCable,
    "audio_cables": AudioCable,
    "fibre_cables": FibreCable,
    "patch_cords": PatchCord,
    "connectors": Connector,
    "patch_panels": PatchPanel,
    "outlets": Outlet,
    "plates": Plate,
    "boxes": Box,
    "labels": Label,
    "supports": Support,
    "conduits": Conduit,
    "conduit_fittings": ConduitFitting,
    "trays": Tray,
    "consumables": Consumable,
}
