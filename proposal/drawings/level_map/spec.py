"""What a level map shows."""

from proposal.drawings.sheet import TitleBlock
from proposal.field_classes import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelMapSpec:
    """All that the level map of a kind of room shows, m.

    as_on_plan: whether points count from west and south of the room as it lies in the building, as on its
        plan; else in the room's own coordinates.
    units: metric or us_customary.
    outline, furniture, seats: of the room.
    marks: kind, code and position of devices.
    low, high, levels_dbm: corners of the grid and its rows in order of y, each in order of x.
    wanted_dbm: sensitivity and fade margin.
    worst, worst_at, worst_dbm, worst_margin_db: the weakest microphone.
    served_by: code of the access point that receives it.
    height_m, body_db: for which the map holds.
    """

    strip: TitleBlock
    units: str
    locale: str
    room: str
    outline: tuple[Point, ...]
    furniture: tuple[tuple[str, tuple[Point, ...]], ...]
    seats: tuple[Point, ...]
    marks: tuple[tuple[str, str, Point], ...]
    low: Point
    high: Point
    levels_dbm: tuple[tuple[float, ...], ...]
    wanted_dbm: float
    worst: str
    served_by: str
    worst_at: Point
    worst_dbm: float
    worst_margin_db: float
    height_m: float
    body_db: float
    as_on_plan: bool = False
