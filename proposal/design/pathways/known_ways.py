"""Which pathways go straight from node to node, so that it is known where they pass walls."""

import math

from proposal.design.pathways.pathway_graph import node_position
from proposal.model.project import Project

_STRAIGHT_M = 0.01
"""What a written length may be longer than the straight line, by rounding, m."""


def goes_straight(project: Project, tag: str) -> bool:
    """Return whether a pathway is no longer than the straight line between its nodes, or says where it drops.

    tag: of the pathway.  Of a longer one nobody says by which way it goes.
    """
    pathway = project.building.pathways[tag]
    if pathway.length is None or pathway.drops_at is not None:
        return True
    return (
        pathway.length <= math.dist(*(node_position(project, node) for node in pathway.between)) + _STRAIGHT_M
    )


def makes_openings(project: Project, tag: str) -> bool:
    """Return whether a pathway asks for openings at known places: it is new, and goes straight.

    tag: of the pathway.
    """
    return not project.building.pathways[tag].existing and goes_straight(project, tag)
