"""Ways for cables that the building has: spaces, nodes, and the trays, conduits and hooks between them."""

from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Name, Written
from proposal.model.room_shape import Point
from proposal.quantities.parsing import Angle, Length, Temperature

PathwayKind = Literal["tray", "conduit", "hooks", "sleeve", "riser shaft"]
NodeKind = Literal["junction", "floor box", "pull box"]
SpaceKind = Literal["dry", "wet", "slab on grade", "outdoors"]
Rated = Literal["wall", "floor"]
Carries = Literal["anything", "network", "loudspeaker lines"]
Size = Literal["choose", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4"]

OPEN_KINDS: tuple[PathwayKind, ...] = ("tray", "hooks")
"""Kinds that a cable may join or leave anywhere along them."""
ROUND_KINDS: tuple[PathwayKind, ...] = ("conduit", "sleeve")
"""Kinds that are tubing, entered at their ends and at boxes."""

_Size = Annotated[Length, Field(gt=0, le=5000)]
CableTemperature = Annotated[Temperature, Field(ge=-20, le=90)]
"""Air around cables: for these temperatures the resistance of copper is known."""


class Space(Written):
    """A part of the building through which cables run: what it asks of them."""

    name: str = Field(description="What it is called on drawings.")
    temperature: CableTemperature | None = Field(
        default=None,
        description="Highest air temperature in it; that of the building's ceilings where left out.",
    )
    plenum: bool = Field(default=False, description="Whether air for people to breathe is moved through it.")
    location: SpaceKind = Field(
        default="dry", description="Dry, wet, in a slab on grade (a wet location) or outdoors."
    )


class Node(Written):
    """A point where pathways meet, turn or end."""

    storey: Name = Field(description="Tag of its storey.")
    at: Point = Field(description="Position in the building, x then y.")
    height: Annotated[Length, Field(ge=-20, le=100)] | None = Field(
        default=None,
        description="Height above that storey's floor; that of its horizontal cable runs where left out.",
    )
    kind: NodeKind = Field(
        default="junction",
        description="A junction, a floor box, or a pull box, which ends the pull of a conduit.",
    )
    box: Annotated[str, Field(max_length=120)] = Field(
        default="",
        description="Of a floor box or a pull box: size, depth and cover as whoever furnishes it tells them, "
        "and in what it sits, such as `80 mm deep, lid with carpet, in the raised floor`.",
    )


class Pathway(Written):
    """One straight way for cables between two nodes."""

    kind: PathwayKind = Field(description="Tray, conduit, hooks, sleeve or riser shaft.")
    between: tuple[Name, Name] = Field(description="Tags of the nodes at its two ends.")
    space: str = Field(
        default="", description="Tag of the space it lies in; dry, at ceiling temperature where left out."
    )
    length: _Size | None = Field(
        default=None, description="Length where it is longer than the straight line between its nodes."
    )
    drops_at: Point | None = Field(
        default=None,
        description="Where a conduit goes from the height of its one end to that of the other, x then y in "
        "the building: at a wall or a column. It leads there and on along x and y, and is as long as that "
        "way. Left out, sheets say that its way is open.",
    )
    size: Size = Field(
        default="choose", description="Trade size of a conduit or sleeve, or `choose` for the smallest."
    )
    bends: Annotated[tuple[Annotated[Angle, Field(gt=0, le=180)], ...], Field(max_length=40)] = Field(
        default=(), description="Bends of a conduit in order from its first node, such as [90°, 45°]."
    )
    bend_radius: _Size | None = Field(
        default=None, description="Radius of its bends; that of a conduit's factory elbows where left out."
    )
    pull_points: Annotated[int, Field(ge=0, le=20)] | None = Field(
        default=None,
        description="Pull points between the ends of a conduit; as many as its bends need where left out.",
    )
    width: Annotated[Length, Field(gt=0, le=5)] | None = Field(
        default=None, description="Width of a tray inside."
    )
    depth: Annotated[Length, Field(gt=0, le=1)] | None = Field(
        default=None, description="Usable depth of a tray."
    )
    support: str = Field(
        default="",
        description="Model code of its hooks or straps; the smallest that holds the cables where left out.",
    )
    mains_distance: Annotated[Length, Field(ge=0, le=100)] | None = Field(
        default=None, description="Least distance to mains cables along it; left out where there are none."
    )
    bundle: Annotated[int, Field(ge=1, le=1000)] | None = Field(
        default=None,
        description="Cables tied in one bundle in it; left out, as the rules for pathways say.",
    )
    existing: bool = Field(
        default=False, description="Whether it is there already, so that it cannot be made larger."
    )
    owner_cables: Annotated[tuple[Annotated[Length, Field(gt=0, le=0.2)], ...], Field(max_length=1000)] = (
        Field(
            default=(),
            description="Outside diameters of the owner's cables in an existing one, such as [6 mm].",
        )
    )
    divided: bool = Field(
        default=False,
        description="Whether a divider parts a tray in halves, one of them for loudspeaker lines.",
    )
    barrier: bool = Field(
        default=False, description="Whether a barrier parts it from the mains cables along it."
    )
    rated_walls: Annotated[int, Field(ge=0, le=50)] = Field(
        default=0, description="How many fire-rated walls it crosses; each opening is closed again."
    )
    wall_fire_rating: Annotated[str, Field(max_length=40)] = Field(
        default="",
        description="Fire rating of the rated walls that it crosses, as the architect states it, such as "
        "EI 60 or 1 hour; printed at each opening.",
    )
    rated_floors: bool | None = Field(
        default=None,
        description="Whether the floors between its storeys are fire-rated; left out, as the rules for "
        "pathways say.",
    )
    carries: Carries = Field(
        default="anything", description="What may lie in it: anything, network or loudspeaker lines."
    )
