"""What a room type looks like: outline, ceiling, furniture, levels, doors and seats."""

from typing import Annotated

from pydantic import BeforeValidator, Field

from proposal.model.base import Written
from proposal.model.equipment.parts import CeilingKind
from proposal.model.rows_of_places import OF_LEVEL, RowOfPlaces
from proposal.quantities.parsing import Length

Point = tuple[Length, Length]


Outline = Annotated[tuple[Point, ...], Field(min_length=3)]


_ALSO_CALLED = {
    "gypsum board": "plasterboard",
    "gypsum": "plasterboard",
    "drywall": "plasterboard",
    "acoustical tile": "mineral tile",
    "wood": "timber",
}


def _as_called_here(written: object) -> object:
    """Return a kind of ceiling by the name that it has here, where a place calls it otherwise."""
    return _ALSO_CALLED.get(written, written) if isinstance(written, str) else written


class Ceiling(Written):
    """The ceiling under which a room's equipment hangs."""

    height: Annotated[Length, Field(gt=0, le=100)] = Field(description="Finished floor to finished ceiling.")
    kind: Annotated[CeilingKind, BeforeValidator(_as_called_here)] = Field(
        description="What the ceiling is made of, with its coffers; metal hinders radio. Its height is that "
        "of the lowest part. Gypsum board or drywall is taken for plasterboard, acoustical tile for mineral "
        "tile, wood for timber."
    )
    tile: tuple[Annotated[Length, Field(ge=0.05, le=10)], Annotated[Length, Field(ge=0.05, le=10)]] | None = (
        Field(
            default=None,
            description="Size of the tiles of its grid along x and y, drawn on plans from the origin.",
        )
    )
    space: str = Field(
        default="",
        description="Tag of the space above it, in which cables outside pathways lie; that of its storey "
        "where left out.",
    )


class Furniture(Written):
    """A table, bench or lectern, drawn on plans."""

    name: str = Field(description="What it is called on drawings.")
    outline: Outline = Field(description="Corners in the room type's own coordinates.")


class RoomLevel(Written):
    """A part of a room whose floor lies higher or lower: a balcony, a gallery, a stage."""

    name: str = Field(min_length=1, description="What it is called, such as Balcony.")
    height: Annotated[Length, Field(ge=-20, le=50)] = Field(
        description="Height of its floor above the floor of the room; below 0 where it lies deeper."
    )
    outline: Outline = Field(description="Corners in the room type's own coordinates.")


class Door(Written):
    """A door of the room, drawn on plans."""

    at: Point = Field(description="Middle of the opening, on a wall, in the room type's own coordinates.")
    width: Annotated[Length, Field(gt=0, le=20)] = Field(description="Width of the opening.")


class Seat(Written):
    """A place where somebody sits or stands to speak or listen."""

    at: Point = Field(description="Position in the room type's own coordinates, x then y.")
    name: str = Field(default="", description="Who sits there, where it matters: chair, clerk, witness.")
    level: str = Field(default="", description=OF_LEVEL)


class SeatRow(RowOfPlaces):
    """Seats in a row, called by the code of the row and their numbers: A1, A2, A3."""
