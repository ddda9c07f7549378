"""The level map of a kind of room."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows

Point = tuple[float, float]


class LevelMapRow(Row):
    """The level at which the weakest microphone would be received anywhere in a room."""

    schedule: ClassVar = Schedule("level_map", subject="rooms")

    room: Annotated[str, Shows("room", ALL, "tag")] = Field(
        description="Tag of the room it was computed for."
    )
    low: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(
        description="Corner of the grid in the room's own coordinates, m."
    )
    high: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(description="Opposite corner, m.")
    levels_dbm: Annotated[tuple[tuple[float, ...], ...], Shows("levels", ALL, "dBm", drawn=True)] = Field(
        description="Rows of the grid in order of y, each in order of x, dBm."
    )
    wanted_dbm: Annotated[float, Shows("wanted", ALL, "dBm")] = Field(
        description="Sensitivity and fade margin, dBm."
    )
    worst: Annotated[str, Shows("worst", ALL, "tag")] = Field(description="Code of the weakest microphone.")
    worst_at: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(description="Its position, m.")
    worst_dbm: Annotated[float, Shows("worst", ALL, "dBm")] = Field(
        description="Level at which it is received, dBm."
    )
    worst_margin_db: Annotated[float, Shows("worst_margin", ALL, "dB")] = Field(
        description="What it has above what is wanted, dB."
    )
    height_m: Annotated[float, Shows("height", ALL, "position")] = Field(
        description="Height above the floor for which the map holds, m."
    )
    body_db: Annotated[float, Shows("body", ALL, "dB")] = Field(description="Loss of bodies in it, dB.")
    marks: Annotated[
        tuple[tuple[str, str, Point], ...], Shows("marks", ALL, ("text", "tag", "coordinates"), drawn=True)
    ] = Field(description="Kind, code and position of devices in the room.")
