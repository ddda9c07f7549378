"""The commands: parse, call, print."""

import contextlib
import os
import sys
from collections.abc import Callable, Iterator
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer

from proposal import __version__
from proposal.errors import BuildError, InputError, Place, Problem, ProposalError

GOOD, DESIGN_ERRORS, WRONG_INPUT = 0, 1, 2

app = typer.Typer(
    name="proposal",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="From a client's brief to a complete proposal for wireless conference-microphone systems.\n\n"
    "A project is a folder of YAML, CSV and Markdown files. Exit status: 0 good; 1 the design has error "
    "findings that nobody accepted; 2 the input or the call is wrong and nothing was written.",
)


class ReaderName(StrEnum):
    """Whose edition."""

    client = "client"
    reviewer = "reviewer"
    estimator = "estimator"
    installer = "installer"


class SchemaKind(StrEnum):
    """What a schema describes."""

    project = "project"
    building = "building"
    room_type = "room_type"
    room = "room"
    rooms_csv = "rooms_csv"
    fixed = "fixed"
    library = "library"
    document = "document"


class ExportFormat(StrEnum):
    """A file made from an edition."""

    json = "json"


ProjectFolder = Annotated[Path, typer.Argument(metavar="PROJECT", help="The project folder.")]
EditionOption = Annotated[ReaderName, typer.Option("--edition", help="Whose edition.")]
LibraryFolder = Annotated[
    Path | None,
    typer.Option(
        "--library",
        metavar="FOLDER",
        help="A company's own equipment library; left out, what PROPOSAL_LIBRARY names, if anything.",
    ),
]


@app.callback(invoke_without_command=True)
def program(
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """Take the options that belong to no command."""
    if version:
        typer.echo(__version__)
        raise typer.Exit(GOOD)


@app.command()
def new(folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Where to write it.")]) -> None:
    """Write a small starter project that builds; FOLDER must not exist yet."""
    from proposal.publish.starter import new_project

    new_project(folder)
    typer.echo(f"{folder} is ready: edit its files, then run  proposal build {folder}")


@app.command()
def check(folder: ProjectFolder, library: LibraryFolder = None) -> None:
    """Read a project, compute its design and print the findings; write nothing."""
    computed = _computed(folder, library)
    _print_findings(computed)
    raise typer.Exit(DESIGN_ERRORS if computed.errors else GOOD)


@app.command()
def build(
    folder: ProjectFolder,
    edition: Annotated[
        list[ReaderName] | None,
        typer.Option("--edition", help="Whose edition to build; repeat for several; left out, all four."),
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Build the browsable proposal into PROJECT/build and print the page to open."""
    from proposal.document.readers import READERS
    from proposal.publish.proposal_site import build_proposal

    wanted = {one.value for one in edition or ReaderName}
    readers = tuple(reader for reader in READERS if reader in wanted)
    with _progress() as say:
        say("reading the project")
        computed = _computed(folder, library)
        built = build_proposal(computed, folder, readers, say)
    _print_findings(computed)
    for reader, page in built.items():
        typer.echo(f"{reader} edition: {page.resolve()}")
    typer.echo(f"Open {built[readers[0]].resolve()}")
    raise typer.Exit(DESIGN_ERRORS if computed.errors else GOOD)


@app.command()
def preview(
    folder: ProjectFolder,
    edition: Annotated[
        ReaderName, typer.Option("--edition", help="Whose edition to show.")
    ] = ReaderName.client,
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port to serve on; 0 takes a free one.")] = 8000,
    library: LibraryFolder = None,
) -> None:
    """Serve the proposal on this machine and build it again whenever a file changes."""
    from proposal.document.readers import READERS
    from proposal.publish.preview import serve
    from proposal.publish.proposal_site import build_proposal
    from proposal.resources import resource

    def rebuild() -> None:
        readers = tuple(reader for reader in READERS if reader == edition.value)
        build_proposal(_computed(folder, library), folder, readers, lambda _: None)

    def told(problem: str) -> None:
        typer.echo(problem or "built", err=bool(problem))

    if not folder.is_dir():
        raise InputError([Problem(Place(str(folder)), "", "wanted a project folder, found none")])
    watched = [folder, resource("shared"), resource("templates"), *_library_folders(library)]
    serve(
        watched,
        rebuild,
        lambda: folder / "build" / edition.value / "site",
        port=port,
        ready=lambda address: typer.echo(f"Serving {address} — stop with Ctrl+C"),
        changed=told,
    )


@app.command()
def schema(
    kind: Annotated[
        SchemaKind, typer.Argument(metavar="KIND", help="What to describe.")
    ] = SchemaKind.project,
    write: Annotated[
        Path | None,
        typer.Option(
            "--write", metavar="FOLDER", help="Write the schemas of all kinds into a folder instead."
        ),
    ] = None,
) -> None:
    """Print the JSON Schema of a kind of file, or of the exported document.

    KIND is project, building, room_type, room, rooms_csv, fixed, library or document.
    """
    from proposal.exports.document_json import document_schema
    from proposal.model.schema import schema_text, schemas
    from proposal.publish.files import write_file

    known: dict[str, dict[str, Any]] = {**schemas(), "document": document_schema()}
    if write is None:
        typer.echo(schema_text(known[kind.value]), nl=False)
        return
    for name, content in known.items():
        write_file(write / f"{name}.schema.json", schema_text(content).encode("utf-8"))
    typer.echo(f"{len(known)} schemas written to {write}")


@app.command()
def export(
    folder: ProjectFolder,
    export_format: Annotated[
        ExportFormat, typer.Option("--format", help="What to make.")
    ] = ExportFormat.json,
    edition: Annotated[ReaderName, typer.Option("--edition", help="Whose edition.")] = ReaderName.client,
    output: Annotated[
        Path | None, typer.Option("--output", metavar="FILE", help="Write to a file instead of printing.")
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Print an edition of the computed document; `proposal schema document` describes it."""
    from proposal.document.from_computed import document_of
    from proposal.document.readers import READERS
    from proposal.editions import edition_of
    from proposal.exports.document_json import document_json
    from proposal.publish.files import write_file

    reader = next(reader for reader in READERS if reader == edition.value)
    content = document_json(edition_of(document_of(_computed(folder, library)), reader))
    if output is None:
        typer.echo(content.decode("utf-8"), nl=False)
    else:
        write_file(output, content)


def _computed(folder: Path, library: Path | None) -> Any:
    """Return everything computed from a project folder."""
    from proposal.model.loading import load_project
    from proposal.pipeline import compute

    return compute(load_project(folder, library=library))


def _library_folders(library: Path | None) -> list[Path]:
    from proposal.model.loading import LIBRARY_VARIABLE

    named = library or (Path(os.environ[LIBRARY_VARIABLE]) if os.environ.get(LIBRARY_VARIABLE) else None)
    return [named] if named else []


def _print_findings(computed: Any) -> None:
    """Print a line for each finding and one that counts them."""
    from proposal.document.points import finding_count

    for finding in computed.findings:
        typer.echo(finding.line)
    count = finding_count(computed.findings)
    typer.echo(
        f"{count.errors} errors, {count.warnings} warnings, {count.notes} notes, {count.accepted} accepted"
    )


@contextlib.contextmanager
def _progress() -> Iterator[Callable[[str], None]]:
    """Yield a function that shows what is being done: on one line of a terminal, else not at all."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield lambda text: status.update(text)


def main() -> None:
    """Run the commands; whatever goes wrong is said in a line, with exit status 2."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        app()
    except InputError as error:
        for problem in error.problems:
            typer.echo(str(problem), err=True)
        sys.exit(WRONG_INPUT)
    except (BuildError, ProposalError) as error:
        typer.echo(str(error), err=True)
        sys.exit(WRONG_INPUT)
    except BrokenPipeError:
        os._exit(GOOD)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        typer.echo(f"{where}{error.strerror or error}", err=True)
        sys.exit(WRONG_INPUT)
