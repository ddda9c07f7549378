"""The route of a cable: stretches along pathways, and runs outside them."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from proposal.design.pathways.entry_points import Point3, run_parts_m
from proposal.field_classes import dataclass

Level = tuple[Point3, Point3]
"""Where a level run begins and ends, in the building; it goes along x first, then along y."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight part of a cable route.

    name: what it is, in words.
    length_m: its length, m.
    pathway: tag of the pathway, empty for a run outside them.
    space: tag of the space it lies in, empty where none is described.
    to: tag of the node it reaches, empty where it ends between nodes.
    vertical: whether it goes straight up or down.
    level: where a level run outside pathways begins and ends, at one height; None for all else.
    in_rack: whether it lies inside a rack, from one device to another.
    on_floor: whether it lies along the floor of a room.
    """

    name: str
    length_m: float
    pathway: str = ""
    space: str = ""
    to: str = ""
    vertical: bool = False
    level: Level | None = None
    in_rack: bool = False
    on_floor: bool = False


def to_the_wall(height_m: float, along_m: float, *, on_floor: bool) -> tuple[Stretch, ...]:
    """Return how a cable reaches the wall at which it goes up: along its furniture, or along the floor.

    height_m: of its device above the floor, m.
    along_m: from the device to the wall, m.
    on_floor: whether it goes down to the floor and along that; else its device stands at the wall.
    """
    if not on_floor:
        return (Stretch("to the wall", along_m),)
    return (
        Stretch("down to the floor", height_m, vertical=True),
        Stretch("along the floor to the wall", along_m, on_floor=True),
    )


def from_the_wall(name: str, height_m: float, along_m: float, *, on_floor: bool) -> tuple[Stretch, ...]:
    """Return how a cable reaches a device from the wall at which it comes down.

    name: of the device.  height_m: of it above the floor, m.
    along_m: from the wall to the device, m.
    on_floor: whether it lies on the floor so far; else the device stands at the wall.
    """
    if not on_floor:
        return (Stretch(f"from the wall to {name}", along_m),)
    return (
        Stretch("along the floor from the wall", along_m, on_floor=True),
        Stretch(f"up to {name}", height_m, vertical=True),
    )


def right_angled(
    name: str, start: Point3, end: Point3, around: float, *, height_m: float
) -> tuple[Stretch, Stretch]:
    """Return a right-angled run as its two stretches: straight up or down, and along x and y.

    name: where it leads.
    start, end: in the building, m.
    around: factor on the horizontal part for ways round obstacles.
    height_m: height above datum at which it goes along x and y, m.
    """
    along_m, rise_m = run_parts_m(start, end, around)
    level = (*start[:2], height_m), (*end[:2], height_m)
    return (
        Stretch(f"up or down to {name}", rise_m, vertical=True),
        Stretch(f"along x and y to {name}", along_m, level=level),
    )


ON_THE_FLOOR_M = 0.1
"""A level run no higher above a floor lies on it."""


def laid_on_floors(route: "CableRoute", floor_m: float) -> "CableRoute":
    """Return a route whose level runs on the floor of a storey are known as such: nothing holds them up.

    floor_m: height of the floor above datum, m.
    """
    return replace(
        route,
        stretches=tuple(
            replace(one, level=None, on_floor=True)
            if one.level and abs(one.level[0][2] - floor_m) <= ON_THE_FLOOR_M
            else one
            for one in route.stretches
        ),
    )


@dataclass(frozen=True, slots=True)
class CableRoute:
    """The route of a cable, from the device to where it ends.

    stretches: in order.
    fault: what is wrong with a route fixed by hand; empty where nothing is.
    turns: where it enters and where it leaves pathways or a shaft, or the corners that it passes along walls,
        in the building, x then y, m; empty for a run straight to where it ends.
    rises_at: where it goes up at a wall to what lies above its device, in the building, m; None where nothing
        does, or where its device hangs.
    comes_down_at: where it comes down at a wall to the device of the room that it ends at, m.
    """

    stretches: tuple[Stretch, ...]
    fault: str = ""
    turns: tuple[tuple[float, float], ...] = ()
    rises_at: tuple[float, float] | None = None
    comes_down_at: tuple[float, float] | None = None

    @property
    def length_m(self) -> float:
        """Return the length of all stretches together, m."""
        return sum(stretch.length_m for stretch in self.stretches)

    @property
    def text(self) -> str:
        """Return the route in words, stretch by stretch."""
        walked = [stretch.name for stretch in self.stretches if stretch.length_m > 0]
        walked = [name for name, _ in groupby(walked)]
        return ", ".join(walked or [stretch.name for stretch in self.stretches])

    @property
    def pathways(self) -> tuple[str, ...]:
        """Return the tags of the pathways it takes, in order."""
        return tuple(dict.fromkeys(stretch.pathway for stretch in self.stretches if stretch.pathway))

    @property
    def floor_m(self) -> float:
        """Return how much of it lies along the floor of a room, m."""
        return sum(stretch.length_m for stretch in self.stretches if stretch.on_floor)

    @property
    def outside_m(self) -> float:
        """Return how much of it lies outside pathways, m."""
        return sum(
            stretch.length_m for stretch in self.stretches if not stretch.pathway and not stretch.in_rack
        )


def run_heights_m(route: CableRoute, floors_m: tuple[float, float]) -> tuple[float | None, float | None]:
    """Return the heights of a cable's first and last level run outside pathways, above their floors, m.

    floors_m: of the floors of the storeys where it begins and ends, above datum, m.
    0 for one that lies on the floor. None where it has none on its way to the first pathway or from the last.
    """
    inside = [n for n, one in enumerate(route.stretches) if one.pathway]
    before = route.stretches[: inside[0]] if inside else route.stretches
    after = route.stretches[inside[-1] + 1 :] if inside else route.stretches
    return _height_m(before, floors_m[0]), _height_m(after[::-1], floors_m[1])


def _height_m(stretches: Sequence[Stretch], floor_m: float) -> float | None:
    """Return the height above a floor of the first level run of some stretches, m."""
    level = next((one.level for one in stretches if one.level), None)
    if level is not None:
        return round(level[0][2] - floor_m, 6)
    return 0.0 if any(one.on_floor for one in stretches) else None
