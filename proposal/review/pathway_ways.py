"""A rule about pathways whose way is not known: which walls they pass is to be agreed."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.pathways.known_ways import goes_straight
from proposal.model.outlines import corners_in_building
from proposal.model.project import Project
from proposal.quantities.wall_openings import Passing, wall_openings
from proposal.review.finding import Finding, Rule
from proposal.standards.sources import COMMON_PRACTICE


def unknown_ways(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each new pathway that leads through walls by a way that nobody says.

    It is longer than the straight line between its nodes, so that it does not pass walls where that does.
    """
    building = project.building
    for one in design.pathways:
        pathway = building.pathways[one.tag]
        first, last = (building.nodes[node] for node in pathway.between)
        if (
            not one.cables
            or pathway.existing
            or first.storey != last.storey
            or goes_straight(project, one.tag)
        ):
            continue
        storey = first.storey
        rooms = {
            tag: corners_in_building(room) for tag, room in project.rooms.items() if room.storey == storey
        }
        walls = {tag: wall.along for tag, wall in building.radio.walls.items() if wall.storey == storey}
        if wall_openings(rooms, walls, [Passing(one.tag, (first.at, last.at), None)]):
            yield Finding(
                rule="pathway-way-unknown",
                severity="warning",
                where=one.tag,
                place=project.place("building", "pathways", one.tag, "length"),
                message=f"{one.tag} is longer than the straight line from {pathway.between[0]} to "
                f"{pathway.between[1]}, and walls lie between them: where it passes these is not known, so "
                "that no openings are listed for it.",
                source=COMMON_PRACTICE,
                remedy=f"Write a node into building.yaml where {one.tag} turns, with a pathway on each side "
                "of it; the openings follow from these.",
            )


PATHWAY_WAY_RULES: tuple[Rule, ...] = (unknown_ways,)
