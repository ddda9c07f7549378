"""The commands: parse, call, print."""

import contextlib
import gc
import os
import shlex
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from proposal import __version__
from proposal.errors import InputError, Problem
from proposal.running import DESIGN_ERRORS, GOOD, CommandError, run, say

ALTERED = 1  # of `verify`: a file is not as it was issued


class Commands(TyperGroup):
    """The commands, whose exceptions all reach whoever runs them."""

    def invoke(self, ctx: Any) -> Any:
        """Run a command; the library would end the program in silence for some of its exceptions."""
        try:
            return super().invoke(ctx)
        except (EOFError, OSError) as error:
            raise CommandError from error


app = typer.Typer(
    name="proposal",
    cls=Commands,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="From a client's brief to a complete proposal for wireless conference-microphone systems.\n\n"
    "A project is a folder of YAML, CSV and Markdown files. Exit status: 0 good; 1 the design has error "
    "findings that nobody accepted; 2 the input or the call is wrong and nothing was written; 3 the program "
    "itself failed, and says which file holds the details. A signal that stops it adds its number to 128.",
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


class ComparisonFormat(StrEnum):
    """How a comparison is written."""

    text = "text"
    markdown = "markdown"
    json = "json"


class ExportFormat(StrEnum):
    """A file made from an edition."""

    json = "json"
    csv = "csv"
    xlsx = "xlsx"
    ics = "ics"


def _path(text: str) -> Path:
    """Return a path as it was named; an empty one would be the folder where the program was called."""
    if not text.strip():
        raise typer.BadParameter("wanted a path; found an empty text")
    return Path(text)


def _text(text: str) -> str:
    """Return what is printed later on; an empty text may be a variable that is not set."""
    if not text.strip():
        raise typer.BadParameter("wanted a text; found an empty one")
    if any("\ud800" <= letter <= "\udfff" for letter in text):
        raise typer.BadParameter("wanted text in UTF-8; found other bytes")
    return text


ProjectFolder = Annotated[Path, typer.Argument(metavar="PROJECT", parser=_path, help="The project folder.")]
READER, READERS_TO_CHOOSE = "READER", "client, reviewer, estimator or installer"
EditionOption = Annotated[
    ReaderName, typer.Option("--edition", metavar=READER, help=f"Whose edition: {READERS_TO_CHOOSE}.")
]
LibraryFolder = Annotated[
    Path | None,
    typer.Option(
        "--library",
        metavar="FOLDER",
        parser=_path,
        help="A company's own equipment library; left out, what PROPOSAL_LIBRARY names, if anything.",
    ),
]


@app.callback(invoke_without_command=True)
def program(
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """Take the options that belong to no command."""
    if version:
        say(__version__)
        raise typer.Exit(GOOD)


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", parser=_path, help="Where to write it.")],
) -> None:
    """Write a small starter project that builds.

    FOLDER must not exist yet.
    """
    from proposal.publish.starter import new_project

    new_project(folder)
    say(f"{folder} is ready: edit its files, then run  proposal build {shlex.quote(str(folder))}")


@app.command()
def check(
    folder: ProjectFolder,
    price: Annotated[
        bool,
        typer.Option(
            "--price",
            help="Compute the price too, with every combination of alternates, and say what is wrong with it "
            "and what a client could work out of all prices together.",
        ),
    ] = False,
    library: LibraryFolder = None,
) -> None:
    """Read a project, compute its design and print the findings.

    A finding is printed as file:line:column, severity, rule, where, and what would fix it. Findings of the
    price, which are for the house alone, take longer: --price prints them too, as build and issue always do.
    Nothing is written. Exit status 1 where an error finding stands that nobody accepted.
    """
    from proposal.review.finding import open_errors

    source, computed = _read(folder, library)
    of_the_price = _findings_of_the_price(folder, source, computed) if price else ()
    _print_clashes(_number_clashes(folder))
    _print_findings(computed, of_the_price)
    raise typer.Exit(DESIGN_ERRORS if open_errors((*computed.findings, *of_the_price)) else GOOD)


def _findings_of_the_price(folder: Path, source: Any, computed: Any) -> tuple[Any, ...]:
    """Return what is to be said to the house of the price, its alternates and all prices issued."""
    from proposal.document.making.proposal import combinations_of, combined
    from proposal.publish.received_prices import received_before

    others = list(received_before(folder))
    with _progress() as tell:
        for chosen in combinations_of(source.open)[1:]:
            tell(f"price of {len(chosen)} alternates together")
            together = combined(source, chosen).received
            others += [] if together is None else [together]
    return tuple(computed.house_findings(computed.disclosed(others)))


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
    revision: Annotated[
        str | None,
        typer.Option(
            "--revision",
            metavar="NAME",
            parser=_text,
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
    with _progress() as tell:
        tell("reading the project")
        if revision is None:
            source, computed = _read(folder, library)
            mark = NO_MARK
        else:
            source, computed = _read(folder, library, {"identity": revision})
            mark = Mark(draft=True)
            _refuse_issued(folder, computed.project)
        earlier = last_issue(folder, library)
        built = build_proposal(source, computed, folder, readers, tell, mark, earlier)
        of_the_price = house_findings_of(source, computed, folder, tell, earlier)
    _print_findings(computed, of_the_price)
    for reader, page in built.items():
        say(f"{reader} edition: {page.resolve()}")
    say(f"Open {built[readers[0]].resolve()}")
    raise typer.Exit(DESIGN_ERRORS if computed.errors else GOOD)


@app.command()
def issue(
    folder: ProjectFolder,
    revision: Annotated[
        str | None,
        typer.Option(
            "--revision",
            metavar="NAME",
            parser=_text,
            help="Revision to issue; left out, the one of project.yaml.",
        ),
    ] = None,
    purpose: Annotated[
        str | None,
        typer.Option(
            "--purpose",
            metavar="TEXT",
            parser=_text,
            help="What it is issued for; left out, as project.yaml says.",
        ),
    ] = None,
    with_errors: Annotated[
        str | None,
        typer.Option(
            "--with-errors",
            metavar="REASON",
            parser=_text,
            help="Issue it although error findings stand; the reason is printed on the cover.",
        ),
    ] = None,
    keep: Annotated[
        bool,
        typer.Option("--keep", help="Keep what the client is sent in the record too, as one archive."),
    ] = False,
    library: LibraryFolder = None,
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

    given = {"identity": revision, "purpose": purpose}
    named = {key: value for key, value in given.items() if value is not None}
    wish = IssueRequest(named=named, library=library, with_errors=(with_errors or "").strip(), keep=keep)
    clashes = _number_clashes(folder)
    judged: list[Any] = []
    try:
        with _progress() as tell:
            record = issue_revision(folder, wish, tell, lambda *found: judged.append(found))
    except DesignError as error:
        _print_findings(*judged[0])
        say(f"{error}; accept them in project.yaml, or give a reason with --with-errors", stream="stderr")
        raise typer.Exit(DESIGN_ERRORS) from None
    _print_clashes(clashes)
    _print_findings(*judged[0])
    say(f"Revision {record.manifest.revision} is issued: {record.folder.resolve()}")
    say(f"Digest of the record: {record.manifest.digest}")
    say(f"Open {(folder / 'published' / 'index.html').resolve()}")


@app.command()
def verify(
    folder: ProjectFolder,
    revision: Annotated[
        str | None, typer.Argument(metavar="REVISION", help="The revision to look at; left out, all of them.")
    ] = None,
    repair: Annotated[
        bool,
        typer.Option(
            "--repair",
            help="Make missing or altered files in PROJECT/published and PROJECT/issued/latest again from "
            "the records.",
        ),
    ] = False,
    expect: Annotated[
        str | None,
        typer.Option(
            "--expect",
            metavar="DIGEST",
            parser=_text,
            help="Hold the record of the revision, or of the last one, against the digest on its cover.",
        ),
    ] = None,
) -> None:
    """Find what is no longer as it was issued.

    Every file in PROJECT/issued and PROJECT/published that was changed, added or lost is named. Exit status
    1 where there is one. A project without PROJECT/published, as git hands it out, is not altered by that.

    This finds accidents, not forgery: who can write to the project can write its digests anew. A digest from
    elsewhere, such as the cover that the client was sent, tells with --expect whether the record still holds
    the inputs, library, numbers and proposal of then. Nothing is written without --repair, and no record
    ever.
    """
    from proposal.publish.expecting import held_against
    from proposal.publish.repairing import repair as repair_published
    from proposal.publish.verifying import verified

    held = None if expect is None else held_against(folder, revision, expect)
    if repair:
        with _progress() as tell:
            for done in repair_published(folder, revision, tell):
                say(done)
    found = verified(folder, revision)
    for alteration in found.alterations:
        say(str(alteration))
    if not found.records:
        say("no revision is issued yet")
    elif not found.published:
        say("published/ is not here; --repair makes it from the records")
    count = _counted(len(found.records), "issued revision")
    say(f"{count}, {_counted(len(found.alterations), 'file')} not as issued")
    if held is not None:
        say(str(held))
    elif found.records:
        say("accidents are found, not forgery: who can write to the project can write its digests anew")
    raise typer.Exit(ALTERED if found.alterations or (held is not None and not held.agrees) else GOOD)


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
    from proposal.publish.earlier import last_issue
    from proposal.publish.preview import serve
    from proposal.publish.proposal_site import build_proposal
    from proposal.resources import resource

    def rebuild() -> None:
        readers = tuple(reader for reader in READERS if reader == edition.value)
        source, computed = _read(folder, library)
        earlier = last_issue(folder, library)
        # What moves the price takes far longer than a page may while its file is written.
        build_proposal(source, computed, folder, readers, lambda _: None, earlier=earlier, sensitivity=False)
        gc.unfreeze()  # the next time it is computed anew, and this can go

    def told(problem: str) -> None:
        say(problem or "built", stream="stderr" if problem else "stdout")

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
        ready=lambda address: say(f"Serving {address} (stop with Ctrl+C)"),
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
            "--write",
            metavar="FOLDER",
            parser=_path,
            help="Write the schemas of all kinds into a folder instead.",
        ),
    ] = None,
) -> None:
    """Print the JSON Schema of a kind of file.

    KIND is project, building, room_type, room, rooms_csv, fixed, alternate or library for what people
    write, or document for what `export` prints.
    """
    from proposal.exports.document_json import document_schema
    from proposal.model.schema import schema_text, schemas
    from proposal.publish.outputs import write_user_files

    known: dict[str, dict[str, Any]] = {**schemas(), "document": document_schema()}
    if write is None:
        say(schema_text(known[kind.value]), ended=True)
        return
    files = {write / f"{name}.schema.json": schema_text(one).encode("utf-8") for name, one in known.items()}
    write_user_files(files)
    say(f"{len(known)} schemas written to {write}")


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
            parser=_path,
            help="Where to write: a file, or for csv a folder; left out, json is printed. Files are new or "
            "replace regular ones; a project's own are refused.",
        ),
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Export an edition as JSON, CSV files, a workbook or a calendar file.

    json is the computed document, csv a file for each schedule, xlsx all schedules in one workbook, ics the
    programme for calendar programs.
    `proposal schema document` describes the document, whose numbers are in SI units. Schedules are in the
    project's units.
    """
    from proposal.document.making.document import document_of
    from proposal.document.readers import READERS
    from proposal.editions import edition_of
    from proposal.publish.export_files import exported
    from proposal.publish.outputs import write_user_files

    if output is None and export_format is not ExportFormat.json:
        message = f"wanted --output with where to write {export_format.value}; found none"
        raise typer.BadParameter(message, param_hint="--output")
    reader = next(reader for reader in READERS if reader == edition.value)
    files = exported(edition_of(document_of(_computed(folder, library)), reader), export_format.value)
    if output is None:
        say(files[""].decode("utf-8"), ended=True)
        return
    named = {output / name if name else output: content for name, content in files.items()}
    write_user_files(named, projects=[folder], library=library)


@app.command()
def compare(
    folder: ProjectFolder,
    before: Annotated[
        str,
        typer.Argument(
            metavar="BEFORE",
            help="The earlier state: an issued revision, a folder, a commit, tag or branch, or . for now.",
        ),
    ],
    after: Annotated[
        str, typer.Argument(metavar="AFTER", help="The later state; left out, the present one.")
    ] = ".",
    edition: EditionOption = ReaderName.reviewer,
    comparison_format: Annotated[
        ComparisonFormat,
        typer.Option("--format", metavar="FORMAT", help="How to write it: text, markdown or json."),
    ] = ComparisonFormat.text,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            metavar="FILE",
            parser=_path,
            help="Where to write it: a new file, or a regular one to replace, and none of a project's own; "
            "left out, it is printed.",
        ),
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Tell what changed between two states of a project: totals first, then every row.

    A state is an issued revision of the project, `.` for the project as it is now, the path of another
    project folder, or a commit, tag or branch of the git repository that the project lies in; work tree and
    index stay as they are. Where a name could stand for several, write `revision:B`, `folder:B` or `git:B`.
    """
    from proposal.document.readers import READERS
    from proposal.exports.comparison import comparison_json, comparison_markdown, comparison_text
    from proposal.publish.outputs import write_user_files
    from proposal.publish.states import compared

    reader = next(reader for reader in READERS if reader == edition.value)
    changes = compared(folder, before, after, reader, library)
    written = {
        ComparisonFormat.text: comparison_text,
        ComparisonFormat.markdown: comparison_markdown,
        ComparisonFormat.json: comparison_json,
    }[comparison_format](changes, reader)
    if output is None:
        say(written, ended=True)
    else:
        write_user_files({output: written.encode("utf-8")}, projects=[folder], library=library)


def _computed(folder: Path, library: Path | None) -> Any:
    """Return everything computed from a project folder."""
    return _read(folder, library)[1]


def _read(folder: Path, library: Path | None, named: Mapping[str, str] | None = None) -> tuple[Any, Any]:
    """Return what makes a project with its alternates, and everything computed from its base.

    named: fields of the revision that the call names otherwise than project.yaml.
    """
    # Models and rows are many and stay: to search them for cycles again and again is a tenth of `check`.
    gc.disable()
    try:
        from proposal.model.loading import load_source
        from proposal.pipeline import compute

        source = load_source(folder, library=library, named=named or {})
        computed = compute(source.base)
        len(computed.findings)  # found while nothing is searched; every command tells of them
        return source, computed
    finally:
        gc.freeze()  # what was read and computed stays to the end: it is not searched later either
        gc.enable()


def _refuse_issued(folder: Path, project: Any) -> None:
    """Raise InputError where a revision is issued already: it is not built as a draft."""
    from proposal.publish.issuing import refuse_revision

    refuse_revision(folder, project)


def _library_folders(library: Path | None) -> list[Path]:
    from proposal.model.loading import LIBRARY_VARIABLE

    named = library or (Path(os.environ[LIBRARY_VARIABLE]) if os.environ.get(LIBRARY_VARIABLE) else None)
    return [named] if named else []


def _print_findings(computed: Any, of_the_price: Sequence[Any]) -> None:
    """Print a line for each finding and one that counts them.

    of_the_price: findings for the house alone.
    """
    from proposal.review.finding import finding_line, in_order

    found = in_order((*computed.findings, *of_the_price))
    for finding in found:
        say(finding_line(finding, computed.project.brief.units))
    still = [finding.severity for finding in found if finding.accepted is None]
    counts = [_counted(still.count(severity), severity) for severity in ("error", "warning", "note")]
    say(f"{', '.join(counts)}, {len(found) - len(still)} accepted")


def _number_clashes(folder: Path) -> Sequence[Any]:
    """Return the numbers that give way since branches that both issued were merged."""
    from proposal.model.loading import number_clashes

    return number_clashes(folder)


def _print_clashes(clashes: Sequence[Any]) -> None:
    for clash in clashes:
        say(f"issued: note: {clash}")


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


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
    """Run the commands as the program does."""
    run(app)
