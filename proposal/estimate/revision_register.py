"""The register that a revision leaves to the next: every number of design and estimate, and all before."""

from collections.abc import Mapping

from proposal.design.number_register import design_numbers, joined, radio_numbers
from proposal.estimate.drawing_list import Sources, kept_sheets
from proposal.estimate.takeoff.reel_orders import reel_numbers
from proposal.model.project import Numbered


def register(sources: Sources) -> Mapping[str, Numbered]:
    """Return every number that a project has given, by identity: those of this design, and retired ones.

    sources: the project with the numbers of issued revisions, and what follows from it.
    """
    given = design_numbers(sources.design) | radio_numbers(sources.design)
    given |= {sheet.identity: Numbered(number=sheet.number) for sheet in kept_sheets(sources)}
    given |= dict(reel_numbers(sources.estimate.reels))
    return joined(sources.project.issued, given)
