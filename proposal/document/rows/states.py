"""Rows about the states in which a building is used."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows


class StateRow(Row):
    """A state in which the building is used."""

    schedule: ClassVar = Schedule("state", subject="rooms", key=("name",))

    name: Annotated[str, Shows("state", ALL)] = Field(description="Its name.")
    joined: Annotated[tuple[str, ...], Shows("joined_rooms", ALL, empty="none")] = Field(
        description="Rooms that are one, such as `A101 and A102`, each group as a text."
    )
    open_walls: Annotated[tuple[str, ...], Shows("open_walls", ALL, "tag", empty="none")] = Field(
        description="Tags of the walls that stand open."
    )
    kind_of_day: Annotated[str, Shows("kind_of_day", ALL, empty="usual_day")] = Field(
        description="Kind of day that is held; empty for the usual one."
    )
