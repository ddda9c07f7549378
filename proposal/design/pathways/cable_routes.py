"""The route of a cable: stretches along pathways, and runs outside them."""

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
    """

    name: str
    length_m: float
    pathway: str = ""
    space: str = ""
    to: str = ""
    vertical: bool = False
    level: Level | None = None
    in_rack: bool = False


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


@dataclass(frozen=True, slots=True)
class CableRoute:
    """The route of a cable, from the device to where it ends.

    stretches: in order.
    fault: what is wrong with a route fixed by hand; empty where nothing is.
    turns: where it enters and where it leaves pathways or a shaft, in the building, x then y, m; empty for a
        run straight to where it ends.
    """

    stretches: tuple[Stretch, ...]
    fault: str = ""
    turns: tuple[tuple[float, float], ...] = ()

    @property
    def length_m(self) -> float:
        """Return the length of all stretches together, m."""
        return sum(stretch.length_m for stretch in self.stretches)

    @property
    def text(self) -> str:
        """Return the route in words, stretch by stretch."""
        walked = [stretch.name for stretch in self.stretches if stretch.length_m > 0]
        return ", ".join(walked or [stretch.name for stretch in self.stretches])

    @property
    def pathways(self) -> tuple[str, ...]:
        """Return the tags of the pathways it takes, in order."""
        return tuple(dict.fromkeys(stretch.pathway for stretch in self.stretches if stretch.pathway))

    @property
    def outside_m(self) -> float:
        """Return how much of it lies outside pathways, m."""
        return sum(
            stretch.length_m for stretch in self.stretches if not stretch.pathway and not stretch.in_rack
        )
