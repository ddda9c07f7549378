"""What radio depends on: walls, floors and other users of the band, a room's own settings, and the rules."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Name, Written, assumed
from proposal.quantities.parsing import Frequency, Length, Level, LevelDbm

Point = tuple[Length, Length]
Environment = Literal["office", "residential", "commercial"]
ObstructionKind = Literal["metal", "coated glass", "rack", "structure"]

_Loss = Annotated[Level, Field(ge=0, le=80)]


class Wall(Written):
    """A wall of the building, or a row of walls of one construction."""

    storey: Name = Field(description="Tag of its storey.")
    along: Annotated[tuple[Point, ...], Field(min_length=2, max_length=200)] = Field(
        description="Points in the building that it joins by straight lines, x then y."
    )
    construction: Name = Field(
        default="concrete", description="Its construction, a name of the table of wall losses."
    )
    loss: _Loss | None = Field(
        default=None, description="Loss of a radio path that crosses it; that of its construction left out."
    )
    open_in: Annotated[tuple[Name, ...], Field(max_length=50)] = Field(
        default=(), description="Names of the states in which it stands open, as an operable wall does."
    )


class Slab(Written):
    """The floor under a storey, as radio meets it."""

    loss: _Loss = Field(description="Loss of a radio path that crosses it.")


class BandUser(Written):
    """Somebody else who uses the band: telephones, a neighbour's conference system."""

    name: str = Field(description="Who or what it is.")
    storey: Name = Field(description="Tag of the storey where it stands.")
    at: Point = Field(description="Position in the building, x then y.")
    height: Annotated[Length, Field(ge=0, le=20)] = assumed(
        2.0, "Height above that storey's floor.", "Height of another user of the band above its floor"
    )
    links: Annotated[int, Field(ge=1, le=120)] = Field(description="Links it holds at once.")
    slot_pairs: Annotated[int, Field(ge=1, le=12)] = Field(
        default=1, description="Slot pairs of one of its links; a telephone takes one."
    )
    power: Annotated[LevelDbm, Field(ge=-50, le=60)] | None = Field(
        default=None, description="Its radiated power; the greatest that the region allows left out."
    )
    synchronised: bool = Field(default=False, description="Whether its frame is kept in step with ours.")


class BuildingRadio(Written):
    """What radio meets in the building."""

    walls: Annotated[Mapping[str, Wall], Field(max_length=2000)] = Field(
        default={}, description="Walls by tag; the sides of rooms count as walls without being written."
    )
    slabs: Mapping[str, Slab] = Field(
        default={}, description="Floors by the tag of the storey that stands on them."
    )
    other_users: Annotated[Mapping[str, BandUser], Field(max_length=200)] = assumed(
        dict, "Other users of the band by tag.", "Nobody else uses the band in or near the building"
    )
    same_wall: Annotated[Length, Field(gt=0, le=5)] = assumed(
        0.6,
        "Distance up to which walls and sides of rooms that run along each other are one wall.",
        "Distance up to which walls and sides of rooms that run along each other are one wall",
        "common practice",
    )


class Obstruction(Written):
    """Something in a room that stands in the way of radio."""

    outline: Annotated[tuple[Point, ...], Field(min_length=3, max_length=200)] = Field(
        description="Corners in the room type's own coordinates."
    )
    kind: ObstructionKind = Field(description="Metal, coated glass, rack or structure.")
    loss: _Loss = assumed(
        10.0, "Loss of a radio path that crosses it.", "Loss of a radio path that crosses an obstruction"
    )


class RoomRadio(Written):
    """A room's own radio settings."""

    power: Annotated[LevelDbm, Field(ge=-50, le=60)] | None = assumed(
        None,
        "Power setting of the room's access points and microphones.",
        "Radio works at the highest power that the equipment and the region allow",
    )
    walls: Name = assumed(
        "light partition",
        "Construction of the room's own walls, a name of the table of wall losses.",
        "Construction of the room's own walls, as radio meets it",
        "common practice",
    )
    group: str = assumed(
        "",
        "Name of the synchronisation group of its access points.",
        "Access points of the building share a frame, as many as the equipment can keep in step",
    )
    access_point_height: Annotated[Length, Field(gt=0, le=30)] | None = assumed(
        None, "Height of ceiling access points above the floor.", "Access points hang at the ceiling"
    )
    obstructions: Annotated[Mapping[str, Obstruction], Field(max_length=200)] = Field(
        default={}, description="What stands in the way of radio in the room, by tag."
    )


class RadioRules(Written):
    """Inputs that every radio figure depends on."""

    carrier_to_interference: Annotated[Level, Field(ge=0, le=40)] | None = assumed(
        None,
        "Carrier-to-interference ratio that a link needs; the equipment's own left out.",
        "Required carrier-to-interference ratio: the equipment's own, 10 dB (11 dB is also quoted)",
        "memory",
    )
    fade_margin: Annotated[Level, Field(ge=0, le=40)] = assumed(
        10.0, "Margin kept for fading.", "Margin kept for fading", "editable default"
    )
    body_loss: Annotated[Level, Field(ge=0, le=40)] | None = assumed(
        None,
        "Loss of bodies on the wanted path; the equipment's own left out.",
        "Loss of bodies on the wanted path only: the equipment's own, 8 dB",
        "editable default",
    )
    sensitivity: Annotated[LevelDbm, Field(ge=-150, le=0)] | None = assumed(
        None,
        "Least level that a receiver needs; the equipment's own left out.",
        "Receiver sensitivity: the equipment's own, −83 dBm",
        "memory",
    )
    spread: Annotated[Level, Field(gt=0, le=30)] = assumed(
        10.0,
        "Spread of received levels about their median, as a standard deviation.",
        "Spread of received levels about their median (standard deviation)",
        "ITU-R P.1238 (memory)",
    )
    interference_shift: Annotated[Level, Field(gt=0, le=15)] = assumed(
        5.0,
        "How much stronger and weaker than computed interference is tried.",
        "How much stronger and weaker than computed interference is tried",
        "common practice",
    )
    environment: Environment = assumed(
        "office",
        "Kind of building of the path-loss model: office, residential or commercial.",
        "Kind of building of the path-loss model",
        "ITU-R P.1238",
    )
    access_point_spacing: Annotated[Length, Field(ge=0, le=100)] = assumed(
        3.0,
        "Least distance between access points.",
        "Least distance between access points",
        "common practice",
    )

    emission_bandwidth: Annotated[Frequency, Field(ge=50e3, le=2.5e6)] = assumed(
        1.4e6,
        "Emission bandwidth, from which the power limit of the United States follows.",
        "Emission bandwidth of the equipment",
        "memory",
    )
    from_walls: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.5,
        "Least distance of access points at the ceiling from the walls, where they are placed.",
        "Least distance of access points at the ceiling from the walls",
        "common practice",
    )
    wall_height: Annotated[Length, Field(gt=0, le=30)] = assumed(
        2.4,
        "Height of access points on walls, where they are placed; lower under a low ceiling.",
        "Height of access points on walls",
        "common practice",
    )
    below_ceiling: Annotated[Length, Field(ge=0, le=10)] = assumed(
        0.3,
        "Least distance of access points on walls below the ceiling.",
        "Least distance of access points on walls below the ceiling",
        "common practice",
    )
    off_walls: Annotated[Length, Field(gt=0, le=1)] = assumed(
        0.1,
        "Distance of the antennas of access points on walls from their wall.",
        "Distance of the antennas of access points on walls from their wall",
    )


class Loss(Written):
    """What a path loses at one construction."""

    least: _Loss = Field(description="Least loss, which interference is computed with.")
    greatest: _Loss = Field(description="Greatest loss.")
    source: str = Field(description="Source word.")


class FloorLoss(Written):
    """What a path loses at the floors of a kind of building."""

    first: _Loss = Field(description="Loss of the first floor.")
    further: _Loss = Field(description="Loss of each further floor.")
    source: str = Field(description="Source word.")


class RadioLosses(Written):
    """The table of wall and floor losses: shared/radio/walls.yaml."""

    walls: Mapping[str, Loss] = Field(default={}, description="Losses by construction.")
    floors: Mapping[Environment, FloorLoss] = Field(default={}, description="Losses by kind of building.")
