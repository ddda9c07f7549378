"""Loss of radio paths in the building: wanted paths by ITU-R P.1238, unwanted ones by free space and walls.

Positions are arrays of x, y and z in metres, shape (paths, 3); z is above the building's datum.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from proposal.field_classes import dataclass
from proposal.model.pathways.building import Building
from proposal.model.radio.radio import BuildingRadio, Environment, Obstruction, RadioLosses
from proposal.standards.free_space import free_space_losses_db
from proposal.standards.itu_p1238 import DISTANCE_COEFFICIENTS, floor_loss_db, indoor_losses_db

Floats = NDArray[np.float64]
Point = tuple[float, float]

NEAREST_M = 1.0
"""Less than this counts as this: the equations are those of the far field."""
PARALLEL = 0.94
"""Cosine of the angle, about 20°, up to which two such lines run together."""
_CHUNK = 4_000


@dataclass(frozen=True, slots=True)
class WallLine:
    """A straight piece of wall in plan, through the whole height of its storey."""

    storey: str
    start: Point
    end: Point
    loss_db: float


@dataclass(frozen=True, slots=True)
class Surface:
    """The outline of a room in the building and what its walls lose."""

    storey: str
    corners: tuple[Point, ...]
    loss_db: float


def wall_lines(
    radio: BuildingRadio, losses: RadioLosses, rooms: Iterable[Surface], state: str = ""
) -> tuple[WallLine, ...]:
    """Return the walls that unwanted paths may cross: those written, then the sides of rooms.

    radio: walls of the building.
    losses: table of losses; a wall's own loss goes before it.
    state: of the building, empty where it has none; a wall that is open in it loses nothing.
    rooms: outlines, in order. Where a side of a room runs along a wall that is there already it is that
        wall; of two sides of rooms the one that loses less stands for the wall between them.
    """
    lines: list[WallLine] = []
    for _, wall in sorted(radio.walls.items()):
        least = losses.walls[wall.construction].least if wall.loss is None else wall.loss
        if state in wall.open_in:
            least = 0.0
        points = wall.along
        lines += [WallLine(wall.storey, a, b, least) for a, b in pairwise(points) if a != b]
    sides = [
        WallLine(room.storey, a, b, room.loss_db)
        for room in rooms
        for a, b in zip(room.corners, (*room.corners[1:], room.corners[0]), strict=True)
    ]
    sides.sort(key=lambda line: line.loss_db)  # stable: equally good sides stay in order of rooms
    by_storey: dict[str, list[WallLine]] = {}
    for side in sides:
        by_storey.setdefault(side.storey, []).append(side)
    for storey, of_storey in by_storey.items():
        written = [line for line in lines if line.storey == storey]
        lines += _without_doubles(tuple(written), tuple(of_storey), radio.same_wall)
    return tuple(lines)


@lru_cache(maxsize=64)
def _without_doubles(
    written: tuple[WallLine, ...], sides: tuple[WallLine, ...], same_m: float
) -> tuple[WallLine, ...]:
    """Return the parts of the sides that do not run along a wall or an earlier side.

    same_m: distance up to which two lines run along each other, m.
    Whatever else is tried of a building, its walls stay.
    """
    from shapely import LineString, STRtree

    known = [*written, *sides]
    shapes = [LineString([line.start, line.end]) for line in known]
    tree = STRtree(shapes)
    places = tree.query(shapes, predicate="dwithin", distance=same_m)
    near: dict[int, list[int]] = {}
    for one, other in zip(*places.tolist(), strict=True):
        if other < one:
            near.setdefault(one, []).append(other)
    kept: list[WallLine] = []
    for number in range(len(written), len(known)):
        line, rest = known[number], shapes[number]
        for other in sorted(near.get(number, [])):
            if abs(_cosine(line, known[other])) >= PARALLEL:
                rest = rest.difference(shapes[other].buffer(same_m, cap_style="flat"))
        for part in getattr(rest, "geoms", [rest]):
            if part.length > 1e-6:
                (x1, y1), (x2, y2) = part.coords[0], part.coords[-1]
                kept.append(WallLine(line.storey, (x1, y1), (x2, y2), line.loss_db))
    return tuple(kept)


def _cosine(one: WallLine, other: WallLine) -> float:
    ax, ay = one.end[0] - one.start[0], one.end[1] - one.start[1]
    bx, by = other.end[0] - other.start[0], other.end[1] - other.start[1]
    return (ax * bx + ay * by) / (math.hypot(ax, ay) * math.hypot(bx, by))


@dataclass(frozen=True)
class Surroundings:
    """Everything between two antennas: storeys, their floors and walls.

    storeys: tags from the lowest up.
    floors_m: height of each storey's floor above the datum, rising.
    slab_db: loss of the floor under each storey.
    further_db: loss of each further floor on a path.
    walls: pieces of wall.
    frequency_hz: of the band.
    environment: kind of building of the path-loss model.
    """

    storeys: tuple[str, ...]
    floors_m: tuple[float, ...]
    slab_db: tuple[float, ...]
    further_db: float
    walls: tuple[WallLine, ...]
    frequency_hz: float
    environment: Environment

    @cached_property
    def _trees(self) -> Mapping[int, tuple[Any, Floats, Floats]]:
        """The walls of each storey by its number: search tree, ends (walls, 4) and losses."""
        from shapely import LineString, STRtree

        trees = {}
        for number, storey in enumerate(self.storeys):
            lines = [wall for wall in self.walls if wall.storey == storey and wall.loss_db > 0]
            if lines:
                ends = np.array([(*line.start, *line.end) for line in lines])
                tree = STRtree([LineString([line.start, line.end]) for line in lines])
                trees[number] = (tree, ends, np.array([line.loss_db for line in lines]))
        return trees

    def storey_number(self, heights_m: Floats) -> NDArray[np.int64]:
        """Return the number of the storey, from the lowest, on which each height lies."""
        found = np.searchsorted(np.array(self.floors_m), heights_m + 1e-9, side="right") - 1
        return np.maximum(found, 0).astype(np.int64)

    def floors_db(self, from_storey: NDArray[np.int64], to_storey: NDArray[np.int64]) -> Floats:
        """Return the loss of the floors between storeys: the least one crossed, and so much for each further.

        from_storey, to_storey: numbers of storeys, one shape.
        """
        found: Floats = self._floor_table[from_storey, to_storey]
        return found

    @cached_property
    def _floor_table(self) -> Floats:
        """The loss of the floors between each two storeys, by their numbers."""
        count = len(self.storeys)
        table = np.zeros((count, count))
        for low in range(count):
            for high in range(low + 1, count):
                first = min(self.slab_db[low + 1 : high + 1])
                table[low, high] = table[high, low] = floor_loss_db(high - low, first, self.further_db)
        return table

    def unwanted_loss_db(self, starts: Floats, ends: Floats, enough_db: Floats | None = None) -> Floats:
        """Return the loss of unwanted paths: free space, each wall crossed, and floors; nothing for bodies.

        starts, ends: positions, shape (paths, 3).
        enough_db: of each path, the loss beyond which nobody asks; walls are not looked for on paths that
            lose as much without them.
        """
        loss = free_space_losses_db(self.frequency_hz, np.maximum(distance_m(starts, ends), NEAREST_M))
        loss = loss + self.floors_db(self.storey_number(starts[:, 2]), self.storey_number(ends[:, 2]))
        asked = np.arange(len(loss)) if enough_db is None else np.nonzero(loss < enough_db)[0]
        for first in range(0, len(asked), _CHUNK):
            part = asked[first : first + _CHUNK]
            loss[part] += self.walls_db(starts[part], ends[part])
        return loss

    def wanted_loss_db(self, starts: Floats, ends: Floats) -> Floats:
        """Return the loss of wanted paths by ITU-R P.1238, never under free space with the walls crossed.

        starts, ends: positions, shape (paths, 3).
        """
        floors = self.floors_db(self.storey_number(starts[:, 2]), self.storey_number(ends[:, 2]))
        coefficient_db = DISTANCE_COEFFICIENTS[self.environment]
        indoors = indoor_losses_db(self.frequency_hz, distance_m(starts, ends), coefficient_db) + floors
        return np.maximum(indoors, self.unwanted_loss_db(starts, ends))

    def walls_db(self, starts: Floats, ends: Floats) -> Floats:
        """Return what the walls that each path crosses lose together, shape (paths,)."""
        loss = np.zeros(len(starts))
        if not len(starts):
            return loss
        low, high = starts[:, 2], ends[:, 2]
        numbers = np.stack([self.storey_number(low), self.storey_number(high)])
        for storey in self._trees:
            passes = (numbers.min(axis=0) <= storey) & (numbers.max(axis=0) >= storey)
            which = np.nonzero(passes)[0]
            if len(which):
                pieces = self._piece(storey, starts[which], ends[which])
                np.add.at(loss, which, self._crossed(storey, *pieces))
        return loss

    def unavoidable_db(
        self, one: Floats, other: Floats, low: NDArray[np.int64], high: NDArray[np.int64]
    ) -> Floats:
        """Return what every path between two boxes loses at walls at least, shape (pairs,).

        one, other: west, south, east and north of each box, shape (pairs, 4).
        low, high: numbers of the lowest and highest storey that the pair's paths pass.
        A wall that all lines from corner to corner cross cannot be avoided: it parts the two boxes within
        its own length. Across storeys it counts where each of them has it, by the least of its losses.
        """
        least = np.zeros(len(one))
        for bottom, top in sorted(set(zip(low.tolist(), high.tolist(), strict=True))):
            ends, losses = self._standing_through(bottom, top)
            pairs = np.nonzero((low == bottom) & (high == top))[0]
            for first in range(0, len(pairs) if len(ends) else 0, _CHUNK):
                part = pairs[first : first + _CHUNK]
                crossed = np.ones((len(part), len(ends)), dtype=bool)
                for a in _corners(one[part]):
                    for b in _corners(other[part]):
                        crossed &= _crossing(a, b, ends)
                least[part] = crossed @ losses
        return least

    def _standing_through(self, bottom: int, top: int) -> tuple[Floats, Floats]:
        """Return the walls that every storey from bottom to top has, and the least loss of each."""
        found: dict[tuple[float, ...], list[float]] = {}
        for number in range(bottom, top + 1):
            if number not in self._trees:
                return np.zeros((0, 4)), np.zeros(0)
            _, ends, losses = self._trees[number]
            here: dict[tuple[float, ...], float] = {}
            for line, loss in zip(ends.round(6).tolist(), losses.tolist(), strict=True):
                here[tuple(line)] = min(loss, here.get(tuple(line), math.inf))
            for line_key, loss in here.items():
                found.setdefault(line_key, []).append(loss)
        through = {line: min(losses) for line, losses in found.items() if len(losses) == top - bottom + 1}
        return np.array(list(through)).reshape(-1, 4), np.array(list(through.values()))

    def _piece(self, storey: int, starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
        """Return the plan of the part of each path that lies on a storey."""
        bottom = self.floors_m[storey] if storey else -math.inf
        top = self.floors_m[storey + 1] if storey + 1 < len(self.storeys) else math.inf
        rise = ends[:, 2] - starts[:, 2]
        with np.errstate(divide="ignore", invalid="ignore"):
            at_bottom = (bottom - starts[:, 2]) / rise
            at_top = (top - starts[:, 2]) / rise
        level = np.abs(rise) < 1e-9
        enter = np.where(level, 0.0, np.clip(np.minimum(at_bottom, at_top), 0.0, 1.0))
        leave = np.where(level, 1.0, np.clip(np.maximum(at_bottom, at_top), 0.0, 1.0))
        way = ends[:, :2] - starts[:, :2]
        return starts[:, :2] + enter[:, None] * way, starts[:, :2] + leave[:, None] * way

    def _crossed(self, storey: int, a: Floats, b: Floats) -> Floats:
        """Return the loss of the walls of one storey that each plan line from a to b crosses.

        The walls near all lines together come from the search tree; on which side of every line both ends of
        every wall lie, and the other way round, are products of two matrices each.
        """
        from shapely import box

        tree, ends, losses = self._trees[storey]
        low, high = np.minimum(a, b).min(axis=0), np.maximum(a, b).max(axis=0)
        walls = np.sort(tree.query(box(*low, *high)))
        crossed: Floats = _crossing(a, b, ends[walls]) @ losses[walls]
        return crossed


def _crossing(a: Floats, b: Floats, walls: Floats) -> NDArray[np.bool_]:
    """Return which lines from a to b cross which walls, shape (lines, walls)."""
    c, d = walls[:, :2], walls[:, 2:]
    # Where two pieces of wall meet, one of them counts: the end on the line belongs to one side only.
    apart = (_sides(a, b, c) < 0) != (_sides(a, b, d) < 0)
    crossed: NDArray[np.bool_] = apart & (_sides(c, d, a) * _sides(c, d, b) < 0).T
    return crossed


def _corners(boxes: Floats) -> list[Floats]:
    """Return the four corners of each box, shape (boxes, 2) each."""
    return [boxes[:, [x, y]] for x in (0, 2) for y in (1, 3)]


def _sides(starts: Floats, ends: Floats, points: Floats) -> Floats:
    """Return on which side of each line each point lies, as signed areas, shape (lines, points)."""
    way = ends - starts
    lines = np.stack([way[:, 0], -way[:, 1], way[:, 1] * starts[:, 0] - way[:, 0] * starts[:, 1]], axis=1)
    areas: Floats = lines @ np.stack([points[:, 1], points[:, 0], np.ones(len(points))])
    return areas


def distance_m(starts: Floats, ends: Floats) -> Floats:
    """Return the straight distance of each pair of positions, m."""
    found: Floats = np.linalg.norm(ends - starts, axis=1)
    return found


def surroundings(
    building: Building,
    radio: BuildingRadio,
    losses: RadioLosses,
    rooms: Iterable[Surface],
    frequency_hz: float,
    environment: Environment,
    state: str = "",
) -> Surroundings:
    """Return what lies between antennas in a building.

    frequency_hz: of the radio, Hz.
    environment: kind of building, which sets the loss with distance.
    state: of the building, whose open walls lose nothing; empty where it has none.
    building: its storeys.
    radio: its walls and floors.
    losses: table of losses.
    rooms: outlines, in order of tags.
    """
    ordered = sorted(building.storeys.items(), key=lambda item: (item[1].height, item[0]))
    usual = losses.floors[environment]
    return Surroundings(
        storeys=tuple(tag for tag, _ in ordered),
        floors_m=tuple(storey.height for _, storey in ordered),
        slab_db=tuple(radio.slabs[tag].loss if tag in radio.slabs else usual.first for tag, _ in ordered),
        further_db=usual.further,
        walls=wall_lines(radio, losses, rooms, state),
        frequency_hz=frequency_hz,
        environment=environment,
    )


def obstruction_losses_db(
    obstructions: Mapping[str, Obstruction], starts: Sequence[Point], ends: Sequence[Point]
) -> Floats:
    """Return what the obstructions of a room that each plan line crosses lose together, shape (lines,).

    starts, ends: of each line, in the room's own coordinates, m.
    """
    found = np.zeros(len(starts))
    if not obstructions:
        return found
    from shapely import Polygon, intersects, linestrings, prepare

    lines = linestrings(np.stack([np.array(starts), np.array(ends)], axis=1))
    for _, one in sorted(obstructions.items()):
        outline = Polygon(one.outline)
        prepare(outline)
        found += np.where(intersects(lines, outline), one.loss, 0.0)
    return found
