"""Portable sets: carts with microphones, an access point and chargers, and where they are used."""

from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Name, Written, assumed
from proposal.model.room_shape import Point
from proposal.quantities.parsing import Angle, Length


class PortableSet(Written):
    """A line of the room schedule whose system is a cart: where the line stands, there it is kept."""

    charger: Literal["with the set", "where it is kept"] = assumed(
        "with the set",
        "Whether its chargers go with the set or stay where it is kept.",
        "Chargers go with a portable set, so that its microphones are docked in breaks",
    )
    mast: Annotated[Length, Field(gt=0, le=10)] = assumed(
        2.0,
        "Height of its access points above the ground or floor.",
        "Access points of a portable set stand on a mast of the cart",
    )


class PortablePlace(Written):
    """Where a portable set is used: a room, under its tag, or a place outdoors, under a name of its own."""

    name: str = Field(default="", description="What it is called; left out, the room's name or its own key.")
    storey: Name | None = Field(
        default=None, description="Outdoors: tag of the storey on whose height the ground lies."
    )
    at: Point = Field(description="Where the set's own origin stands in the building, x then y.")
    rotation: Annotated[Angle, Field(ge=-360, le=360)] = Field(
        default=0.0, description="Rotation of the set about its own origin, counter-clockwise."
    )
    outlet: bool = Field(description="Whether an outlet of the mains is within reach of the set's lead.")
