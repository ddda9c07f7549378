"""Rows about the states in which a building is used."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows


class StateRow(Row):
    """A state in which the building is used."""

    schedule: ClassVar = Schedule("state", subject="rooms", key=("name",))

    name: Annotated[str, Shows("state", ALL)] = Field(description="Its name.")
    joined: Annotated[tuple[str, ...], Shows("joined_rooms", ALL, empty="none")] = Field(
        description="Rooms that are one, such as `A101 and A102`, each group as a text."
    )
    joined_seats: Annotated[tuple[int, ...], Shows("seats_together", ALL, "count")] = Field(
        default=(), description="Seats of the rooms of each such group together."
    )
    hearing: Annotated[tuple[str, ...], Shows("rooms_that_listen", ALL, empty="none")] = Field(
        default=(), description="Rooms that hear others and are not heard there, `A102 hears A101`."
    )
    open_walls: Annotated[tuple[str, ...], Shows("open_walls", ALL, "tag", empty="none")] = Field(
        description="Tags of the walls that stand open."
    )
    kind_of_day: Annotated[str, Shows("kind_of_day", ALL, empty="usual_day")] = Field(
        description="Kind of day that is held; empty for the usual one."
    )


class JoinedSoundRow(Row):
    """The way of one room's mix into another room, in a state that joins them."""

    schedule: ClassVar = Schedule("joined_sound", subject="sound", key=("state", "room", "other"))

    state: Annotated[str, Shows("state", NOT_CLIENT)] = Field(default="", description="Name of the state.")
    room: Annotated[str, Shows("mix_of", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the room whose mix it is."
    )
    other: Annotated[str, Shows("heard_in", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the room that hears it."
    )
    sender: Annotated[str, Shows("sent_by", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the mixer that sends it."
    )
    stream: Annotated[int | None, Shows("stream", NOT_CLIENT, "number")] = Field(
        default=None, description="Number of its stream."
    )
    receiver: Annotated[str, Shows("taken_by", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the mixer that takes it."
    )
    input: Annotated[str, Shows("input", NOT_CLIENT, empty="none left")] = Field(
        default="", description="Input of that mixer; empty where none is left."
    )
    later: Annotated[float | None, Shows("heard_later_by", NOT_CLIENT, "figure")] = Field(
        default=None, description="How much later than in its own room a talker is heard; none if not known."
    )
    unit: Annotated[str, Shows("unit", NOT_CLIENT, "unit")] = Field(default="", description="Unit of that.")
