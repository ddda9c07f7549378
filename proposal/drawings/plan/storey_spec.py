"""What the plan of a storey is made of: rooms, equipment rooms, pathways, boxes, runs of cables, pieces."""

from typing import Literal

from proposal.drawings.plan.openings import DoorLines, Line
from proposal.drawings.plan.plan_marks import PlanMark
from proposal.drawings.sheet import TitleBlock
from proposal.field_classes import dataclass
from proposal.quantities.plan_pieces import Piece

Point = tuple[float, float]
Level = Literal["floor", "ceiling"]


@dataclass(frozen=True, slots=True)
class PlanRoom:
    """A room in the building, m.

    told: lines below its name: its ceiling and the heights of what hangs in it.
    furniture: corners of each piece.  doors, levels, grid: of the room and of its ceiling.
    marks: of its devices on this plan.
    enlarged: number of the sheet with its own plan.
    """

    tag: str
    name: str
    told: tuple[str, ...]
    outline: tuple[Point, ...]
    furniture: tuple[tuple[Point, ...], ...]
    doors: tuple[DoorLines, ...]
    levels: tuple[tuple[Point, ...], ...]
    grid: tuple[Line, ...]
    marks: tuple[PlanMark, ...]
    enlarged: str


@dataclass(frozen=True, slots=True)
class PlanPlace:
    """An equipment room: tag, name, position of its racks, m, and their tags.

    faces: side that the fronts of its racks look at; empty where that is not given or not one.
    size: of a single rack from west to east and from south to north, m; empty where it is not known.
    """

    tag: str
    name: str
    at: Point
    racks: tuple[str, ...]
    faces: str = ""
    size: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanPathway:
    """A pathway of cables: its ends, m, one where it leaves the storey, and the lines of its label.

    way: up or down where it leaves the storey.
    drop: where it goes to the other plan of the storey, m; None where it does not, or nobody says where.
    """

    kind: str
    points: tuple[Point, ...]
    lines: tuple[str, ...]
    way: str = ""
    drop: Point | None = None


@dataclass(frozen=True, slots=True)
class PlanNode:
    """A box that cables pass or come out of: tag, kind and position, m."""

    tag: str
    kind: str
    at: Point


@dataclass(frozen=True, slots=True)
class PlanRun:
    """A right-angled run of cables outside pathways: its ends, m, and how many of each signal take it.

    goes_on: where it goes on off this plan, such as `up to T03`; empty where it ends on the plan.
    room: tag of the room whose codes that names; empty where it names none.
    """

    ends: tuple[Point, Point]
    signals: tuple[tuple[str, int], ...]
    goes_on: str
    room: str = ""


@dataclass(frozen=True, slots=True)
class PlanPiece:
    """A piece of a storey that is too large for one sheet: what it reaches over, m, and its sheet."""

    box: Piece
    number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreyPlanSpec:
    """All that the floor plan or the ceiling plan of a storey shows.

    units: metric or us_customary.
    origin: where the building's origin is, in words of the project; empty where it does not say.
    outer_walls: lines along the outer walls of the storey, m; empty where they are not given.
    holds: what waits for an answer, in sentences.
    walls: tag, construction and points of each that is given.
    pieces: those in which a storey is shown that is too large for one sheet.  here: number of the one shown,
        from 0; -1 where the whole storey is.
    passages: tag, place and lie of each opening in a wall: whether that wall runs from south to north.
    shared_opening_m: so near to one another cables are led to one opening.
    openings: whether its pathways pass rated walls or floors.
    schedules: numbers of the sheets with the devices and cables of the storey; empty where there are none.
    """

    strip: TitleBlock
    units: str
    locale: str
    level: Level
    storey: str
    name: str
    walls: tuple[tuple[str, str, tuple[Point, ...]], ...]
    rooms: tuple[PlanRoom, ...]
    places: tuple[PlanPlace, ...]
    nodes: tuple[PlanNode, ...]
    pathways: tuple[PlanPathway, ...]
    runs: tuple[PlanRun, ...]
    passages: tuple[tuple[str, Point, bool], ...] = ()
    shared_opening_m: float = 0.0
    schedules: str = ""
    origin: str = ""
    holds: tuple[str, ...] = ()
    pieces: tuple[PlanPiece, ...] = ()
    here: int = -1
    openings: bool = False
    outer_walls: tuple[tuple[Point, ...], ...] = ()
