"""Build the sites of a project: `proposal build`."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated, Any

import typer

from proposal.commands.arguments import (
    READER,
    READERS_TO_CHOOSE,
    Jobs,
    LibraryFolder,
    ProjectFolder,
    ReaderName,
    given_text,
)
from proposal.commands.computing import read_and_compute
from proposal.commands.printing import lines_of_clashes, lines_of_findings, number_clashes, progress
from proposal.running import DESIGN_ERRORS, GOOD, say


def build(
    folder: ProjectFolder,
    edition: Annotated[
        list[ReaderName] | None,
        typer.Option(
            "--edition",
            metavar=READER,
            help=f"Whose edition: {READERS_TO_CHOOSE}; repeat for several; all four by default.",
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
    pdf: Annotated[
        bool, typer.Option("--pdf", help="Make each edition as one PDF, too; its cover leads to it.")
    ] = False,
    packed: Annotated[
        bool,
        typer.Option("--archive", help="Pack each site as a ZIP archive, to send."),
    ] = False,
    library: LibraryFolder = None,
    jobs: Jobs = None,
) -> None:
    """Build the browsable proposal and print the page to open.

    The sites go into PROJECT/build, an edition a folder. Exit status 1 where an error finding stands that
    nobody accepted; the sites are built all the same and show it. With --revision every page and every
    drawing is marked as a draft; nothing in PROJECT/issued or PROJECT/published is touched.
    """
    from proposal.publish.build_results import KnownBuild
    from proposal.publish.processors import limited_to

    readers = [one.value for one in ReaderName if one in (edition or ReaderName)]
    with progress() as tell, limited_to(jobs):
        tell("looking at what has changed")
        known = KnownBuild(folder, library, readers, revision, paper=pdf)
        ending = known.ending() or _built(folder, library, readers, revision, known, tell, paper=pdf)
    for line in ending.lines:
        say(line)
    pages = {reader: (folder / "build" / reader / "site" / "index.html").resolve() for reader in readers}
    for reader, page in pages.items():
        say(f"{reader} edition: {page}")
    if packed:
        from proposal.document.readers import READERS
        from proposal.publish.site_archive import pack_sites

        for reader, archive in pack_sites(folder, [one for one in READERS if one in readers]).items():
            say(f"{reader} edition to send: {archive.resolve()}")
    say(f"Open {pages[readers[0]]}")
    raise typer.Exit(ending.status)


def _built(
    folder: Path,
    library: Path | None,
    readers: Sequence[str],
    revision: str | None,
    known: Any,
    tell: Callable[[str], None],
    *,
    paper: bool,
) -> Any:
    """Build the sites of a project and return how that ended, which is kept.

    folder, library, revision: as the call names them.  readers: whose editions.
    known: what is known of this call.
    tell: told in a few words what is being done.
    paper: whether each edition is made as one PDF, too.
    """
    from proposal.document.readers import READERS
    from proposal.publish.build_results import Ending
    from proposal.publish.earlier_issue import last_issue
    from proposal.publish.kept_plans import radio_plans_kept
    from proposal.publish.proposal_site import (
        NO_MARK,
        Mark,
        build_proposal,
        house_findings_of,
        not_offered_of,
    )

    with radio_plans_kept(folder):
        tell("reading the project")
        if revision is None:
            source, computed = read_and_compute(folder, library)
            mark = NO_MARK
        else:
            source, computed = read_and_compute(folder, library, {"identity": revision})
            mark = Mark(draft=True)
            _refuse_issued(folder, computed.project)
        earlier = last_issue(folder, library)
        wanted = tuple(reader for reader in READERS if reader in readers)
        build_proposal(
            source, computed, folder, wanted, tell, mark, earlier, paper=paper, placed=known.placed
        )
        of_the_price = house_findings_of(source, computed, folder, tell, earlier)
        lines = (
            *lines_of_clashes(number_clashes(folder)),
            *not_offered_of(source, computed, folder, tell),
            *lines_of_findings(computed, of_the_price),
        )
        ending = Ending(lines, DESIGN_ERRORS if computed.errors else GOOD)
    known.keep(ending)
    return ending


def _refuse_issued(folder: Path, project: Any) -> None:
    """Raise InputError where a revision is issued already: it is not built as a draft."""
    from proposal.publish.issuing import refuse_revision

    refuse_revision(folder, project)
