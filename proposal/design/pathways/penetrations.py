"""Openings through rated walls and floors: one for each crossing of a pathway, closed once cables are in."""

from collections.abc import Iterator, Sequence
from typing import Literal

from proposal.design.equipment.our_duties import is_ours
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.pathways.sleeves import Sleeve, sizes_sold, sleeves_of
from proposal.field_classes import dataclass
from proposal.model.pathways.pathways import Pathway, Rated
from proposal.model.project import Project

FIRE_STOPPING = "Fire-stopping"
"""The row of the matrix of duties."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Penetration:
    """One crossing of a rated wall or floor by a pathway that cables lie in.

    tag: of the pathway and a number along it, such as R01-F1 or T11-W2.
    pathway: its tag.  crosses: what it crosses.
    storey: tag of the storey where it is closed: of the upper one for a floor.
    kind, size: of the pathway: trade size, or width and depth, m, of a tray; empty where none is known.
    cables: identities of the cables that pass.
    fire_rating: of the wall or floor, as it is stated; empty where it is not.
    sleeves: to set there; none where the pathway itself passes, as tubing or tray.
    """

    tag: str
    pathway: str
    crosses: Rated
    storey: str
    kind: str
    size: str
    width_m: float | None
    depth_m: float | None
    cables: tuple[str, ...]
    fire_rating: str = ""
    sleeves: tuple[Sleeve, ...] = ()

    @property
    def closed(self) -> Literal["round the cables", "in the sleeve", "in and round the sleeves"]:
        """Return how it is closed: in tubing the space that is left, else all round the cables or sleeves."""
        if self.kind in ("sleeve", "conduit"):
            return "in the sleeve"
        return "in and round the sleeves" if self.sleeves else "round the cables"


def penetrations(project: Project, pathways: Sequence[PathwayDesign]) -> tuple[Penetration, ...]:
    """Return every opening, in order of pathways and along each.

    pathways: of the design, with what lies in them; one without cables makes no opening to close.
    """
    found = (one for pathway in pathways if pathway.cables for one in _of_pathway(project, pathway))
    return tuple(sorted(found, key=lambda one: natural(one.tag)))


def _of_pathway(project: Project, design: PathwayDesign) -> Iterator[Penetration]:
    pathway = project.building.pathways[design.tag]
    storeys = _floors_crossed(project, pathway)
    first = project.building.nodes[pathway.between[0]].storey
    crossed: list[tuple[Rated, str]] = [("wall", first)] * pathway.rated_walls
    crossed += [("floor", storey) for storey in storeys if _rated(project, pathway)]
    counts = {"wall": 0, "floor": 0}
    for crosses, storey in crossed:
        counts[crosses] += 1
        yield Penetration(
            tag=f"{design.tag}-{crosses[0].upper()}{counts[crosses]}",
            pathway=design.tag,
            crosses=crosses,
            storey=storey,
            kind=design.kind,
            size=design.size if design.kind != "hooks" else "",
            width_m=design.width_m,
            depth_m=design.depth_m,
            cables=tuple(cable.identity for cable in design.cables),
            fire_rating=pathway.wall_fire_rating
            if crosses == "wall"
            else project.building.storeys[storey].floor_fire_rating,
            sleeves=sleeves_of(design, sizes_sold(project)),
        )


def _rated(project: Project, pathway: Pathway) -> bool:
    """Return whether the floors that a pathway crosses are rated: as it says, else as the rules do."""
    if pathway.rated_floors is not None:
        return pathway.rated_floors
    return project.brief.rules.pathways.rated_floors


def _floors_crossed(project: Project, pathway: Pathway) -> list[str]:
    """Return the storeys whose floors lie between the ends of a pathway, the lowest first."""
    storeys = project.building.storeys
    ends = [project.building.nodes[tag].storey for tag in pathway.between]
    low, high = sorted(storeys[tag].height for tag in ends)
    crossed = [tag for tag, one in storeys.items() if low < one.height <= high]
    return sorted(crossed, key=lambda tag: (storeys[tag].height, tag))


def furnishes_fire_stopping(project: Project) -> bool:
    """Return whether fire-stopping is in our scope: the matrix of duties says who furnishes it."""
    return is_ours(project, FIRE_STOPPING, "furnish")
