"""The named states of a building: rooms joined by operable walls, portable sets, and the kind of day."""

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field

from proposal.model.base import Name, Written


class State(Written):
    """One state in which the building is used; equipment, cables and price are the same in all of them."""

    join: Annotated[
        tuple[Annotated[tuple[Name, ...], Field(min_length=2, max_length=50)], ...], Field(max_length=100)
    ] = Field(default=(), description="Tags of rooms that are one room in this state, a list for each.")
    day: str = Field(
        default="",
        description="Kind of day of a room type that is then held; rooms without one of the name have their "
        "usual day.",
    )
    portable: Annotated[Mapping[str, Name], Field(max_length=100)] = Field(
        default={},
        description="Where each portable set is used in this state, by its tag: a place of portable_places. "
        "One that is left out is put away and not on the air.",
    )
