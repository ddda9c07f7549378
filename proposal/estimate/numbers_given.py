"""The register that a revision leaves to the next: every number of design and estimate, and all before."""

from collections.abc import Iterator, Mapping

from proposal.design.design import Design
from proposal.design.register import design_numbers, joined, radio_numbers
from proposal.estimate.takeoff.reel_orders import reel_numbers
from proposal.estimate.takeoff_and_reels import Estimate
from proposal.model.project import Numbered, Project


def register(project: Project, design: Design, estimate: Estimate) -> Mapping[str, Numbered]:
    """Return every number that a project has given, by identity: those of this design, and retired ones.

    project: with the numbers of issued revisions.
    design, estimate: what follows from it.
    """
    given = design_numbers(design) | radio_numbers(design)
    given |= {identity: Numbered(number=number) for identity, number in _sheets(design, estimate)}
    given |= dict(reel_numbers(estimate.reels))
    return joined(project.issued, given)


def _sheets(design: Design, estimate: Estimate) -> Iterator[tuple[str, str]]:
    """Yield the identity of every drawing sheet and its number."""
    from proposal.design.radio_sheets import level_maps, radio_sheets

    for sheet in (*design.sheets, *radio_sheets(design, level_maps(design)), *estimate.sheets):
        yield sheet.identity, sheet.number
