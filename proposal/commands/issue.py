"""Issue a revision: `proposal issue`."""

from collections.abc import Sequence
from typing import Annotated, Any

import typer

from proposal.commands.arguments import Jobs, LibraryFolder, ProjectFolder, given_text
from proposal.commands.printing import number_clashes, print_clashes, print_findings, progress
from proposal.running import DESIGN_ERRORS, say


def issue(
    folder: ProjectFolder,
    revision: Annotated[
        str | None,
        typer.Option(
            "--revision",
            metavar="NAME",
            parser=given_text,
            help="Revision to issue; by default the one in project.yaml.",
        ),
    ] = None,
    purpose: Annotated[
        str | None,
        typer.Option(
            "--purpose",
            metavar="TEXT",
            parser=given_text,
            help="Purpose of the issue; by default as project.yaml says.",
        ),
    ] = None,
    with_errors: Annotated[
        str | None,
        typer.Option(
            "--with-errors",
            metavar="REASON",
            parser=given_text,
            help="Issue it although error findings stand; the reason is printed on the cover.",
        ),
    ] = None,
    keep: Annotated[
        bool,
        typer.Option("--keep", help="Keep what the client is sent in the record too, as one archive."),
    ] = False,
    library: LibraryFolder = None,
    jobs: Jobs = None,
) -> None:
    """Issue a revision: freeze its record and publish its editions.

    The record goes into PROJECT/issued/NAME, to be kept in git and never changed, and its schedules into
    PROJECT/issued/latest. The sites and files of all editions go into PROJECT/published, beside those of
    earlier revisions: an edition a folder, which can be handed over as it is. Exit status 1 where an error
    finding stands that nobody accepted; nothing is issued then, unless --with-errors gives a reason.
    """
    from proposal.errors import DesignError
    from proposal.publish.issuing import IssueRequest
    from proposal.publish.issuing import issue as issue_revision
    from proposal.publish.processors import limited_to

    given = {"identity": revision, "purpose": purpose}
    named = {key: value for key, value in given.items() if value is not None}
    request = IssueRequest(named=named, library=library, with_errors=(with_errors or "").strip(), keep=keep)
    clashes = number_clashes(folder)
    judged: list[Any] = []
    try:
        with progress() as tell, limited_to(jobs):
            record = issue_revision(folder, request, tell, lambda *found: judged.append(found))
    except DesignError as error:
        _print_judged(*judged[0])
        say(f"{error}; accept them in project.yaml, or give a reason with --with-errors", stream="stderr")
        raise typer.Exit(DESIGN_ERRORS) from None
    print_clashes(clashes)
    _print_judged(*judged[0])
    say(f"Revision {record.manifest.revision} is issued: {record.folder.resolve()}")
    say(f"Digest of the record: {record.manifest.digest}")
    say(f"Open {(folder / 'published' / 'index.html').resolve()}")


def _print_judged(computed: Any, of_the_price: Sequence[Any], not_offered: Sequence[str]) -> None:
    """Print a line for each alternate that the client is not offered, then the findings."""
    for line in not_offered:
        say(line)
    print_findings(computed, of_the_price)
