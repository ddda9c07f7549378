"""The route of a cable: stretches along pathways, and runs outside them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight part of a cable route.

    name: what it is, in words.
    length_m: its length, m.
    pathway: tag of the pathway, empty for a run outside them.
    space: tag of the space it lies in, empty where none is described.
    to: tag of the node it reaches, empty where it ends between nodes.
    vertical: whether it goes straight up or down.
    """

    name: str
    length_m: float
    pathway: str = ""
    space: str = ""
    to: str = ""
    vertical: bool = False


def right_angled(name: str, along_m: float, rise_m: float) -> tuple[Stretch, Stretch]:
    """Return a right-angled run as its two stretches: straight up or down, and along x and y.

    along_m: length along x and y together, m.
    rise_m: length up or down, m.
    name: where it leads.
    """
    return (
        Stretch(f"up or down to {name}", rise_m, vertical=True),
        Stretch(f"along x and y to {name}", along_m),
    )


@dataclass(frozen=True, slots=True)
class CableRoute:
    """The route of a cable, from the device to where it ends.

    stretches: in order.
    fault: what is wrong with a way fixed by hand; empty where nothing is.
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
        return sum(stretch.length_m for stretch in self.stretches if not stretch.pathway)
