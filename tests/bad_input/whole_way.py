"""A project folder goes the whole way: check, document, alternates, editions, exports and pages."""

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from proposal.document.making.document import document_of
from proposal.document.making.proposal import alternate_document, combination, combinations_of, proposal_of
from proposal.document.readers import READERS, Reader
from proposal.drawings.kinds import drawing_of
from proposal.editions import Edition, edition_of_proposal
from proposal.model.loading import load_source
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.site_pages import Drawing, pages_of
from proposal.pipeline import compute
from proposal.publish.edition_site import templates
from proposal.publish.export_files import exported
from proposal.review.finding import finding_line

FORMATS = ("json", "csv", "xlsx", "ics")


def whole_way(folder: Path, library: Path, readers: Sequence[Reader] = READERS) -> int:
    """Check a project, compute its document, and show it to some readers; return the number of pages.

    All editions are made; readers are those whose exports and pages are.
    Raises ProposalError where the program refuses it; whatever else is raised is a fault of the program.
    """
    source = load_source(folder, library=library)
    computed = compute(source.base)
    for finding in computed.findings:
        finding_line(finding, computed.project.brief.units)
    document = document_of(computed)
    proposal = proposal_of(
        source,
        document,
        {key: alternate_document(source, key) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.open)],
        None,
    )
    editions = {reader: edition_of_proposal(proposal, reader) for reader in READERS}
    return sum(_shown(editions[reader]) for reader in readers)


def _shown(edition: Edition) -> int:
    """Make every export and every page of an edition; drawings are described and not drawn."""
    for kind in FORMATS:
        exported(edition, kind)
    drawings: dict[str, Drawing] = {}
    for sheet in sheets_of(edition.document):
        drawings[sheet.number] = Drawing(
            number=sheet.number,
            file=f"{sheet.number}.svg",
            title=sheet.title,
            alternative=sheet.title,
            description=drawing_of(edition, sheet).alternative,
            size=None,
        )
    return len(pages_of(edition, drawings, _templates()).pages)


@cache
def _templates() -> dict[str, str]:
    return dict(templates())
