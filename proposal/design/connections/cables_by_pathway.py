"""The cables of a design as they lie in each pathway."""

from collections.abc import Sequence

from proposal.design.connections.cable import Cable as CableOnItsWay
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.pathways.cables_in_pathways import CableInPathway, laid_cable
from proposal.model.project import Project


def laid_by_pathway(project: Project, cables: Sequence[CableOnItsWay]) -> dict[str, list[CableInPathway]]:
    """Return the cables in each pathway by its tag; one without a model has no size and is left out.

    cables: all of the design.
    """
    entries = cable_entries(project)
    laid: dict[str, list[CableInPathway]] = {}
    for cable in cables:
        entry = entries.get(cable.model)
        if entry is not None and cable.route.pathways:
            one = laid_cable(cable.identity, cable.model, cable.signal, entry, cable.source_w)
            for tag in cable.route.pathways:
                laid.setdefault(tag, []).append(one)
    return laid
