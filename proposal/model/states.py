"""The named states of a building: rooms joined by operable walls, portable sets, and the kind of day."""

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from proposal.model.base import Name, Written
from proposal.quantities.messages import refusal, shown


def _groups(value: Any) -> Any:
    """Refuse tags where lists of tags are wanted, which is easily written so for a single pair of rooms."""
    tags = [one for one in value if isinstance(one, str)] if isinstance(value, list | tuple) else []
    if tags:
        raise refusal(
            "a list of lists, one for each room that arises, such as `[[A101, A102]]`", shown(tags[0])
        )
    return value


class State(Written):
    """One state in which the building is used; equipment, cables and price are the same in all of them."""

    join: Annotated[
        tuple[Annotated[tuple[Name, ...], Field(min_length=2, max_length=50)], ...],
        Field(max_length=100),
        BeforeValidator(_groups),
    ] = Field(
        default=(),
        examples=[[["A101", "A102"]]],
        description="Tags of rooms that are one room in this state, a list for each.",
    )
    hear: Annotated[
        Mapping[Name, Annotated[tuple[Name, ...], Field(min_length=1, max_length=50)]],
        Field(max_length=100),
    ] = Field(
        default={},
        description="Rooms that hear others in this state and are not heard there, such as an overflow room: "
        "by its tag the tags of the rooms whose mix it gets, `{A102: [A101]}`. Each needs a mixer.",
    )
    day: str = Field(
        default="",
        description="Kind of day of a room type that is then held; rooms without one of the name have their "
        "usual day.",
    )
    portable: Annotated[Mapping[str, Name], Field(max_length=100)] = Field(
        default={},
        examples=[{"P1": "courtyard"}],
        description="Where each portable set is used in this state, by its tag: a place of portable_places. "
        "One that is left out is put away and not on the air.",
    )
