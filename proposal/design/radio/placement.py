"""Where access points hang: the best worst margin, then second path, even load, and few others heard.

Candidates are a grid at the ceiling, in the middle of its tiles, and places on the
walls. The answer is exact among them: each step of the objective is settled by an integer programme and held
while the next is. Margins are rounded to 0.1 dB, so that the last digits of a computation cannot choose a
place. A room with many access points or hundreds of microphones keeps fewer candidates, spread over the room,
so that the work stays bounded.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Literal

import numpy as np

from proposal.design.equipment.operable_walls import is_on_one
from proposal.design.equipment.room_walls import Wall
from proposal.design.radio.place_search import STEP_DB, Search
from proposal.design.radio.place_sets import most_places
from proposal.design.radio.propagation import obstruction_losses_db
from proposal.field_classes import dataclass
from proposal.model.radio.radio import Environment, Obstruction
from proposal.quantities.tile_grid import to_tile_middle_m
from proposal.standards.itu_p1238 import DISTANCE_COEFFICIENTS, indoor_losses_db

Point = tuple[float, float]
Mounting = Literal["ceiling", "wall"]

MOST_CANDIDATES = 70
MOST_PATHS = 12_000
"""Microphones times places of a room: over this the search takes long, and fewer places are looked at."""
FINEST_GRID_M = 1.0
SETTING_OUT_PLACES = 1
"""Decimals of a metre to which places over the middle of microphones are set out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Talker:
    """A microphone as placement sees it.

    code: its code.
    at: position in the room, m; height_m above the floor.
    receivable_db: what its path may lose: power and gains less body, sensitivity and fade margin.
    """

    code: str
    at: Point
    height_m: float
    receivable_db: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """Where access points may hang in any room.

    from_walls_m: least distance of a ceiling place from the walls.
    wall_height_m: height of wall places; below_ceiling_m: least distance from there to the ceiling.
    off_walls_m: distance of a wall place from its wall.
    """

    from_walls_m: float
    wall_height_m: float
    below_ceiling_m: float
    off_walls_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One room whose access points are to be placed; equal tasks are solved once.

    outline: corners of the room; ceiling_m: height of its ceiling places.
    setting: how far places keep from walls and ceiling.
    talkers: its microphones, in order.
    channels: channels of each access point, in the order of their codes.
    spacing_m: least distance between access points.
    obstructions: what stands in the way: tag, obstruction.
    surfaces: where access points may hang.
    operable: walls that open in some state, on which nothing hangs.
    same_wall_m: up to which distance they and sides of the room are one.
    tile: size of a tile of the ceiling along x and y, m, None where no grid is stated.
    foreign_dbm: the strongest level of other users of the band at each of `places_of`; empty without any.
    """

    outline: tuple[Point, ...]
    ceiling_m: float
    setting: Setting
    talkers: tuple[Talker, ...]
    channels: tuple[int, ...]
    spacing_m: float
    frequency_hz: float
    environment: Environment
    obstructions: tuple[tuple[str, Obstruction], ...] = ()
    surfaces: tuple[Mounting, ...] = ("ceiling", "wall")
    operable: tuple[Wall, ...] = ()
    same_wall_m: float = 0.0
    tile: tuple[float, float] | None = None
    foreign_dbm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Candidate:
    """A place for an access point, m."""

    at: Point
    height_m: float
    mounting: Mounting


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where the access points of a room hang and whom they serve.

    places: in the order of the task's channels.
    serves: codes of the microphones of each.
    worst_db: least margin of a microphone to the access point that serves it.
    """

    places: tuple[Candidate, ...]
    serves: tuple[tuple[str, ...], ...]
    worst_db: float


@lru_cache(maxsize=512)
def candidates(
    outline: tuple[Point, ...],
    ceiling_m: float,
    setting: Setting,
    over: tuple[Point, ...] = (),
    tile: Point | None = None,
) -> tuple[Candidate, ...]:
    """Return the places where an access point may hang: ceiling, then walls, each in order of y and x.

    outline: corners of the room; ceiling_m: height of its ceiling places.
    setting: how far places keep from walls and ceiling.
    over: positions of the microphones, over whose middle a place comes first.
    tile: size of a tile of the ceiling along x and y, m; places are in the middle of tiles where it is known.
    The grid is as fine as 1 m where that gives no more places than can be searched. Rooms that are alike ask
    once, whatever changes of what is heard there.
    """
    from shapely import Polygon, contains_xy

    room = Polygon(outline)
    # A room narrower than twice the distance from the walls keeps what distance it can.
    kept = (room.buffer(-setting.from_walls_m * share) for share in (1.0, 0.5, 0.2, 0.02, 0.0))
    area = next(inner for inner in kept if not inner.is_empty)
    grid = max(FINEST_GRID_M, math.sqrt(area.area / MOST_CANDIDATES))
    west, south, east, north = area.bounds
    columns, rows = _spread(west, east, grid), _spread(south, north, grid)
    grown = area.buffer(1e-6)
    hung = [
        Candidate((x, y), ceiling_m, "ceiling") for y in rows for x in columns if contains_xy(grown, x, y)
    ]
    middles = _middles(over)
    first = [Candidate(point, ceiling_m, "ceiling") for point in middles if contains_xy(area, *point)]
    hung = [*first, *(one for one in hung if one not in first)]
    if tile is not None:
        middle = [replace(one, at=_in_its_tile(one.at, tile)) for one in hung]
        # Where no tile's middle is far enough from the walls, a bar is told of rather than no place found.
        hung = [one for one in dict.fromkeys(middle) if contains_xy(grown, *one.at)] or hung
    if not hung:
        inside = area.representative_point()
        hung = [Candidate((round(inside.x, 3), round(inside.y, 3)), ceiling_m, "ceiling")]
    walls = []
    height = min(setting.wall_height_m, ceiling_m - setting.below_ceiling_m)
    ring = room.exterior
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        length = math.dist(a, b)
        for share in (0.25, 0.5, 0.75) if length > 4 * FINEST_GRID_M else (0.5,):
            x, y = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
            off = setting.off_walls_m / length
            across = (-(b[1] - a[1]) * off, (b[0] - a[0]) * off)
            if not ring.is_ccw:
                across = (-across[0], -across[1])
            point = (round(x + across[0], 3), round(y + across[1], 3))
            if height > 0 and contains_xy(room, *point):
                walls.append(Candidate(point, height, "wall"))
    walls.sort(key=lambda one: (one.at[1], one.at[0]))
    return (*hung, *walls)


def _in_its_tile(point: Point, tile: Point) -> Point:
    """Return the middle of the tile in which a point lies."""
    x, y = to_tile_middle_m(point, tile)
    return round(point[0] + x, 3), round(point[1] + y, 3)


def _middles(points: Sequence[Point]) -> list[Point]:
    """Return the mean of points and the middle of the smallest circle round them."""
    if not points:
        return []
    from shapely import MultiPoint, minimum_bounding_circle

    mean = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    circle = minimum_bounding_circle(MultiPoint(points)).centroid
    # Round points that hardly differ no circle is found.
    middle = mean if circle.is_empty else (circle.x, circle.y)
    # Set out as on site, so that a microphone that moves a little moves no access point.
    found = [(round(x, SETTING_OUT_PLACES), round(y, SETTING_OUT_PLACES)) for x, y in (mean, middle)]
    return list(dict.fromkeys(found))


def _spread(low: float, high: float, grid: float) -> list[float]:
    """Return evenly spaced numbers from low to high, the middle alone where there is no room for two."""
    count = round((high - low) / grid)
    if count < 1:
        return [round((low + high) / 2, 3)]
    return [round(low + (high - low) * n / count, 3) for n in range(count + 1)]


def margins_db(task: Task, places: Sequence[Candidate]) -> list[list[float]]:
    """Return the margin of each talker's path to each place, in steps of 0.1 dB.

    task: the room.
    places: candidates or positions of the designer's.
    """
    obstructions = dict(task.obstructions)
    coefficient_db = DISTANCE_COEFFICIENTS[task.environment]
    table = []
    for talker in task.talkers:
        row = []
        distances = np.array(
            [math.dist((*talker.at, talker.height_m), (*place.at, place.height_m)) for place in places]
        )
        losses = indoor_losses_db(task.frequency_hz, distances, coefficient_db) + obstruction_losses_db(
            obstructions, [talker.at] * len(places), [place.at for place in places]
        )
        for loss in losses.tolist():
            row.append(round((talker.receivable_db - loss) / STEP_DB) * STEP_DB)
        table.append([round(value, 1) for value in row])
    return table


def places_of(task: Task) -> tuple[Candidate, ...]:
    """Return the places on the surfaces of a room where its access points may hang, in order.

    task: the room.
    """
    over = tuple(talker.at for talker in task.talkers)
    found = candidates(task.outline, task.ceiling_m, task.setting, over, task.tile)
    return tuple(
        one
        for one in found
        if one.mounting in task.surfaces
        and not (one.mounting == "wall" and is_on_one(task.outline, one.at, task.operable, task.same_wall_m))
    )


@lru_cache(maxsize=512)
def place(task: Task) -> Placement | None:
    """Return the best places for a room's access points, None where it has none or they cannot serve it.

    task: the room.
    By order: the best worst margin, the best worst second path, the least greatest load, the least level of
    other users of the band where it is greatest, the greatest sum of margins, the earliest places.
    """
    if not task.channels or not task.talkers or sum(task.channels) < len(task.talkers):
        return None
    places = places_of(task)
    if not places:
        return None
    margins, foreign = margins_db(task, places), task.foreign_dbm or (0.0,) * len(places)
    most = min(MOST_PATHS // len(task.talkers), most_places(len(task.channels)))
    most = max(most, len(task.channels))
    if len(places) > most:
        kept = spread_out([(*one.at, one.height_m) for one in places], margins, most)
        places = tuple(places[n] for n in kept)
        margins, foreign = [[row[n] for n in kept] for row in margins], tuple(foreign[n] for n in kept)
    at = [(*one.at, one.height_m) for one in places]
    chosen = _single(margins, foreign) if len(task.channels) == 1 else None
    spacing = task.spacing_m
    while chosen is None:
        chosen = Search(task.channels, at, margins, foreign, spacing).solve()
        if chosen is None and spacing < STEP_DB:
            return None
        spacing = round(spacing / 2, 3) if spacing > 0.5 else 0.0
    opened, server = chosen
    return Placement(
        places=tuple(places[n] for n in opened),
        serves=tuple(
            tuple(talker.code for talker, by in zip(task.talkers, server, strict=True) if by == n)
            for n in range(len(opened))
        ),
        worst_db=min(row[opened[by]] for row, by in zip(margins, server, strict=True)),
    )


def spread_out(
    at: Sequence[tuple[float, float, float]], margins: Sequence[Sequence[float]], most: int
) -> list[int]:
    """Return so many places, in order: the one with the best worst margin, then always the one farthest away.

    at: positions of the places, m; margins: of each microphone at each place, dB.
    most: how many are kept.
    """
    points = np.array(at)
    kept = [max(range(len(at)), key=lambda n: (min(row[n] for row in margins), -n))]
    away = np.full(len(at), math.inf)
    while len(kept) < most:
        away = np.minimum(away, np.linalg.norm(points - points[kept[-1]], axis=1))
        kept.append(int(np.argmax(away)))
    return sorted(kept)


def _single(margins: Sequence[Sequence[float]], foreign: Sequence[float]) -> tuple[list[int], list[int]]:
    """Return the best place of one access point, which serves all."""

    def worth(n: int) -> tuple[float, ...]:
        own = [row[n] for row in margins]
        return min(own), -foreign[n], round(sum(own), 1), -n

    return [max(range(len(foreign)), key=worth)], [0] * len(margins)
