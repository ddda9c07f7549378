"""The level map of a kind of room."""

from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Everyone, Shown

Point = tuple[float, float]


class LevelMapRow(Shown):
    """The level at which the weakest microphone would be received anywhere in a room."""

    room: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag of the room it was reckoned for.")
    low: Annotated[Everyone[Point], Holds("coordinates")] = Field(
        description="Corner of the grid in the room's own coordinates, m."
    )
    high: Annotated[Everyone[Point], Holds("coordinates")] = Field(description="Opposite corner, m.")
    levels_dbm: Annotated[Everyone[tuple[tuple[float, ...], ...]], Holds("dBm")] = Field(
        description="Rows of the grid in order of y, each in order of x, dBm."
    )
    wanted_dbm: Annotated[Everyone[float], Holds("dBm")] = Field(
        description="Sensitivity and fade margin, dBm."
    )
    worst: Annotated[Everyone[str], Holds("tag")] = Field(description="Code of the weakest microphone.")
    worst_at: Annotated[Everyone[Point], Holds("coordinates")] = Field(description="Its position, m.")
    worst_dbm: Annotated[Everyone[float], Holds("dBm")] = Field(
        description="Level at which it is received, dBm."
    )
    worst_margin_db: Annotated[Everyone[float], Holds("dB")] = Field(
        description="What it has above what is wanted, dB."
    )
    height_m: Annotated[Everyone[float], Holds("length")] = Field(
        description="Height above the floor for which the map holds, m."
    )
    body_db: Annotated[Everyone[float], Holds("dB")] = Field(description="Loss of bodies in it, dB.")
    marks: Annotated[Everyone[tuple[tuple[str, str, Point], ...]], Holds("text", "tag", "coordinates")] = (
        Field(description="Kind, code and position of devices in the room.")
    )
