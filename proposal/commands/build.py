"""Build the sites of a project: `proposal build`."""

from pathlib import Path
from typing import Annotated, Any

import typer

from proposal.commands.arguments import (
    READER,
    READERS_TO_CHOOSE,
    LibraryFolder,
    ProjectFolder,
    ReaderName,
    given_text,
)
from proposal.commands.computing import read_and_compute
from proposal.commands.printing import print_findings, progress
from proposal.running import DESIGN_ERRORS, GOOD, say


def build(
    folder: ProjectFolder,
    edition: Annotated[
        list[ReaderName] | None,
        typer.Option(
            "--edition",
            metavar=READER,
            help=f"Whose edition: {READERS_TO_CHOOSE}; repeat for several; left out, all four.",
        ),
    ] = None,
    revision: Annotated[
        str | None,
        typer.Option(
            "--revision",
            metavar="NAME",
            parser=given_text,
            help="Build it as a draft of this revision, which is not issued yet, and say so everywhere.",
        ),
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Build the browsable proposal and print the page to open.

    The sites go into PROJECT/build, an edition a folder. Exit status 1 where an error finding stands that
    nobody accepted; the sites are built all the same and show it. With --revision every page and every
    drawing is marked as a draft; nothing in PROJECT/issued or PROJECT/published is touched.
    """
    from proposal.document.readers import READERS
    from proposal.publish.earlier import last_issue
    from proposal.publish.proposal_site import NO_MARK, Mark, build_proposal, house_findings_of

    wanted = {one.value for one in edition or ReaderName}
    readers = tuple(reader for reader in READERS if reader in wanted)
    with progress() as tell:
        tell("reading the project")
        if revision is None:
            source, computed = read_and_compute(folder, library)
            mark = NO_MARK
        else:
            source, computed = read_and_compute(folder, library, {"identity": revision})
            mark = Mark(draft=True)
            _refuse_issued(folder, computed.project)
        earlier = last_issue(folder, library)
        built = build_proposal(source, computed, folder, readers, tell, mark, earlier)
        of_the_price = house_findings_of(source, computed, folder, tell, earlier)
    print_findings(computed, of_the_price)
    for reader, page in built.items():
        say(f"{reader} edition: {page.resolve()}")
    say(f"Open {built[readers[0]].resolve()}")
    raise typer.Exit(DESIGN_ERRORS if computed.errors else GOOD)


def _refuse_issued(folder: Path, project: Any) -> None:
    """Raise InputError where a revision is issued already: it is not built as a draft."""
    from proposal.publish.issuing import refuse_revision

    refuse_revision(folder, project)
