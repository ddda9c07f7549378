"""The level map of a kind of room."""

from pydantic import Field

from proposal.document.readers import Everyone, Shown

Point = tuple[float, float]


class LevelMapRow(Shown):
    """The level at which the weakest microphone would be received anywhere in a room."""

    room: Everyone[str] = Field(description="Tag of the room it was reckoned for.")
    low: Everyone[Point] = Field(description="Corner of the grid in the room's own coordinates, m.")
    high: Everyone[Point] = Field(description="Opposite corner, m.")
    levels_dbm: Everyone[tuple[tuple[float, ...], ...]] = Field(
        description="Rows of the grid in order of y, each in order of x, dBm."
    )
    wanted_dbm: Everyone[float] = Field(description="Sensitivity and fade margin, dBm.")
    worst: Everyone[str] = Field(description="Code of the weakest microphone.")
    worst_at: Everyone[Point] = Field(description="Its position, m.")
    worst_dbm: Everyone[float] = Field(description="Level at which it is received, dBm.")
    worst_margin_db: Everyone[float] = Field(description="What it has above what is wanted, dB.")
    height_m: Everyone[float] = Field(description="Height above the floor for which the map holds, m.")
    body_db: Everyone[float] = Field(description="Loss of bodies in it, dB.")
    marks: Everyone[tuple[tuple[str, str, Point], ...]] = Field(
        description="Kind, code and position of devices in the room."
    )
