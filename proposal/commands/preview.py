"""Show the proposal while its files are edited: `proposal preview`."""

import gc
from typing import Annotated, Any

import typer

from proposal.commands.arguments import EditionOption, Jobs, LibraryFolder, ProjectFolder, ReaderName
from proposal.commands.computing import library_folders, read_and_compute
from proposal.errors import InputError, Problem
from proposal.running import say


def preview(
    folder: ProjectFolder,
    edition: EditionOption = ReaderName.client,
    port: Annotated[
        int,
        typer.Option(
            "--port", metavar="PORT", min=0, max=65535, help="Port to serve on; 0 takes a free one."
        ),
    ] = 8000,
    library: LibraryFolder = None,
    jobs: Jobs = None,
) -> None:
    """Show the proposal while its files are written.

    It is served on this machine alone and built again whenever a file of the project, of the shared data or
    of the library changes, the page that is looked at first. While the input is broken the last good pages
    stay and say what is wrong.
    """
    from proposal.document.readers import READERS
    from proposal.model.folder_files import read_folder
    from proposal.publish.preview import serve
    from proposal.publish.processors import limited_to
    from proposal.publish.proposal_preview import ProposalPreview
    from proposal.resources import resource

    def read() -> tuple[Any, Any]:
        gc.unfreeze()  # what was computed before is collected
        return read_and_compute(folder, library)

    def told(problem: str) -> None:
        say(problem or "built", stream="stderr" if problem else "stdout")

    if not folder.is_dir():
        problems: list[Problem] = []
        read_folder(folder, problems)
        raise InputError(problems)
    watched = [folder, resource("shared"), resource("templates"), *library_folders(library)]
    reader = next(reader for reader in READERS if reader == edition.value)
    with limited_to(jobs):
        serve(
            watched,
            ProposalPreview(folder, library, reader, read).rebuild,
            lambda: folder / "build" / edition.value / "site",
            port=port,
            ready=lambda address: say(f"Serving {address} (stop with Ctrl+C)"),
            changed=told,
        )
