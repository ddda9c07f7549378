"""The commands: parse, call, print."""

import contextlib
import gc
import os
import shlex
import sys
from collections.abc import Callable, Iterator
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any, Literal

import typer

from proposal import __version__
from proposal.errors import InputError, Problem, ProposalError

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
    alternate = "alternate"
    library = "library"
    document = "document"


class ExportFormat(StrEnum):
    """A file made from an edition."""

    json = "json"
    csv = "csv"
    xlsx = "xlsx"
    ics = "ics"


ProjectFolder = Annotated[Path, typer.Argument(metavar="PROJECT", help="The project folder.")]
READER, READERS_TO_CHOOSE = "READER", "client, reviewer, estimator or installer"
EditionOption = Annotated[
    ReaderName, typer.Option("--edition", metavar=READER, help=f"Whose edition: {READERS_TO_CHOOSE}.")
]
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
        _say(__version__)
        raise typer.Exit(GOOD)


@app.command()
def new(folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Where to write it.")]) -> None:
    """Write a small starter project that builds.

    FOLDER must not exist yet.
    """
    from proposal.publish.starter import new_project

    new_project(folder)
    _say(f"{folder} is ready: edit its files, then run  proposal build {shlex.quote(str(folder))}")


@app.command()
def check(folder: ProjectFolder, library: LibraryFolder = None) -> None:
    """Read a project, compute it and print the findings.

    A finding is printed as file:line:column, severity, rule, where, and what would fix it. Nothing is
    written. Exit status 1 where an error finding stands that nobody accepted.
    """
    computed = _computed(folder, library)
    _print_findings(computed)
    raise typer.Exit(DESIGN_ERRORS if computed.errors else GOOD)


@app.command()
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
    library: LibraryFolder = None,
) -> None:
    """Build the browsable proposal and print the page to open.

    The sites go into PROJECT/build, an edition a folder. Exit status 1 where an error finding stands that
    nobody accepted; the sites are built all the same and show it.
    """
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
        _say(f"{reader} edition: {page.resolve()}")
    _say(f"Open {built[readers[0]].resolve()}")
    raise typer.Exit(DESIGN_ERRORS if computed.errors else GOOD)


@app.command()
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
) -> None:
    """Show the proposal while its files are written.

    It is served on this machine alone and built again whenever a file of the project, of the shared data or
    of the library changes. While the input is broken the last good pages stay and say what is wrong.
    """
    from proposal.document.readers import READERS
    from proposal.model.loading import read_folder
    from proposal.publish.preview import serve
    from proposal.publish.proposal_site import build_proposal
    from proposal.resources import resource

    def rebuild() -> None:
        readers = tuple(reader for reader in READERS if reader == edition.value)
        build_proposal(_computed(folder, library), folder, readers, lambda _: None)

    def told(problem: str) -> None:
        _say(problem or "built", stream="stderr" if problem else "stdout")

    if not folder.is_dir():
        problems: list[Problem] = []
        read_folder(folder, problems)
        raise InputError(problems)
    watched = [folder, resource("shared"), resource("templates"), *_library_folders(library)]
    serve(
        watched,
        rebuild,
        lambda: folder / "build" / edition.value / "site",
        port=port,
        ready=lambda address: _say(f"Serving {address} (stop with Ctrl+C)"),
        changed=told,
    )


@app.command()
def schema(
    kind: Annotated[
        SchemaKind, typer.Argument(metavar="KIND", help="Kind of file to describe.")
    ] = SchemaKind.project,
    write: Annotated[
        Path | None,
        typer.Option(
            "--write", metavar="FOLDER", help="Write the schemas of all kinds into a folder instead."
        ),
    ] = None,
) -> None:
    """Print the JSON Schema of a kind of file.

    KIND is project, building, room_type, room, rooms_csv, fixed, alternate or library for what people
    write, or document for what `export` prints.
    """
    from proposal.exports.document_json import document_schema
    from proposal.model.schema import schema_text, schemas
    from proposal.publish.files import write_file

    known: dict[str, dict[str, Any]] = {**schemas(), "document": document_schema()}
    if write is None:
        _say(schema_text(known[kind.value]), ended=True)
        return
    for name, content in known.items():
        write_file(write / f"{name}.schema.json", schema_text(content).encode("utf-8"))
    _say(f"{len(known)} schemas written to {write}")


@app.command()
def export(
    folder: ProjectFolder,
    export_format: Annotated[
        ExportFormat, typer.Option("--format", metavar="FORMAT", help="What to make: json, csv, xlsx or ics.")
    ] = ExportFormat.json,
    edition: EditionOption = ReaderName.client,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            metavar="PATH",
            help="Where to write: a file, or for csv a folder; left out, json is printed.",
        ),
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Export an edition as JSON, CSV files or a workbook.

    json is the computed document, csv a file for each schedule, xlsx all schedules in one workbook, ics the
    programme for calendar programs.
    `proposal schema document` describes the document, whose numbers are in SI units. Schedules are in the
    project's units.
    """
    from proposal.document.from_computed import document_of
    from proposal.document.readers import READERS
    from proposal.editions import edition_of
    from proposal.publish.export_files import exported
    from proposal.publish.files import write_file

    if output is None and export_format is not ExportFormat.json:
        message = f"wanted --output with where to write {export_format.value}; found none"
        raise typer.BadParameter(message, param_hint="--output")
    reader = next(reader for reader in READERS if reader == edition.value)
    files = exported(edition_of(document_of(_computed(folder, library)), reader), export_format.value)
    if output is None:
        _say(files[""].decode("utf-8"), ended=True)
        return
    for name, content in files.items():
        write_file(output / name if name else output, content)


def _computed(folder: Path, library: Path | None) -> Any:
    """Return everything computed from a project folder."""
    # Models and rows are many and stay: to search them for cycles again and again is a tenth of `check`.
    gc.disable()
    try:
        from proposal.model.loading import load_project
        from proposal.pipeline import compute

        computed = compute(load_project(folder, library=library))
        len(computed.findings)  # found while nothing is searched; every command tells of them
        return computed
    finally:
        gc.enable()


def _library_folders(library: Path | None) -> list[Path]:
    from proposal.model.loading import LIBRARY_VARIABLE

    named = library or (Path(os.environ[LIBRARY_VARIABLE]) if os.environ.get(LIBRARY_VARIABLE) else None)
    return [named] if named else []


def _print_findings(computed: Any) -> None:
    """Print a line for each finding and one that counts them."""
    from proposal.review.findings import finding_line

    for finding in computed.findings:
        _say(finding_line(finding, computed.project.brief.units))
    still = [finding.severity for finding in computed.findings if finding.accepted is None]
    counts = [_counted(still.count(severity), severity) for severity in ("error", "warning", "note")]
    _say(f"{', '.join(counts)}, {len(computed.findings) - len(still)} accepted")


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _say(text: str, *, stream: Literal["stdout", "stderr"] = "stdout", ended: bool = False) -> None:
    """Print a text, with a line's end unless it has one.

    Who reads it may have gone, as `head` does; the command then goes on, so that its exit status holds.
    Raises OSError where it cannot be written for another reason.
    """
    target = getattr(sys, stream)
    if target is None:
        return
    try:
        target.write(text if ended else text + "\n")
        target.flush()
    except OSError as error:
        # What is left in the buffer must not fail once more when the program ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), target.fileno())
        if not isinstance(error, BrokenPipeError):
            raise


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
    # Whatever else is installed has no part in how a project is read, nor is it looked for.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        app()
    except ProposalError as error:
        _say(str(error), stream="stderr")
        sys.exit(WRONG_INPUT)
    except OSError as error:
        where = error.filename2 or error.filename
        what = error.strerror or str(error)
        _say(f"{where}: cannot be read or written: {what}" if where else what, stream="stderr")
        sys.exit(WRONG_INPUT)
    finally:
        gc.freeze()  # the program ends: what it holds need not be searched once more
