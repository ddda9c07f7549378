"""Write an edition as data: `proposal export`."""

from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer

from proposal.commands.arguments import EditionOption, LibraryFolder, ProjectFolder, ReaderName, given_path
from proposal.commands.computing import read_and_compute
from proposal.commands.printing import progress
from proposal.running import say


class ExportFormat(StrEnum):
    """A file made from an edition."""

    json = "json"
    csv = "csv"
    xlsx = "xlsx"
    ics = "ics"
    quotes = "quotes"


class JobName(StrEnum):
    """What is done with schedules."""

    check = "check"
    pull = "pull"
    terminate = "terminate"
    test = "test"
    price = "price"


def export(
    folder: ProjectFolder,
    export_format: Annotated[
        ExportFormat,
        typer.Option("--format", metavar="FORMAT", help="json, csv, xlsx, ics or quotes."),
    ] = ExportFormat.json,
    edition: EditionOption = ReaderName.client,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            metavar="PATH",
            parser=given_path,
            help="Where to write: a file, or for csv and quotes a folder; by default json is printed. Files "
            "are new or replace regular ones; a project's own are refused.",
        ),
    ] = None,
    job: Annotated[
        JobName | None,
        typer.Option(
            "--view",
            metavar="JOB",
            help="Of csv, the columns for one job alone: check, pull, terminate, test or price.",
        ),
    ] = None,
    answers: Annotated[
        Path | None,
        typer.Option(
            "--answers",
            metavar="FOLDER",
            parser=given_path,
            help="Of the estimator's workbook: a folder of answered requests for quotes, to stand beside "
            "each other there.",
        ),
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Export an edition as JSON, CSV files, a workbook or a calendar file.

    json is the computed document, csv a file for each schedule, xlsx all schedules in one workbook, ics the
    programme for calendar programs, quotes for each supplier what is to be bought there, as a CSV file and a
    workbook without prices of ours, for the supplier to fill in (--edition estimator).
    `proposal schema document` describes the document, whose numbers are in SI units. Schedules are in the
    project's units.
    """
    from proposal.document.making.document import document_of
    from proposal.document.readers import READERS
    from proposal.document.schedule import JOBS
    from proposal.editions import edition_of
    from proposal.imports.told_lines import told_charges
    from proposal.publish.answered_quotes import answered_quotes
    from proposal.publish.export_files import exported
    from proposal.publish.output_paths import write_user_files

    if output is None and export_format is not ExportFormat.json:
        message = f"wanted --output with where to write {export_format.value}; found none"
        raise typer.BadParameter(message, param_hint="--output")
    if export_format is ExportFormat.quotes and edition is not ReaderName.estimator:
        message = f"wanted --edition estimator for quotes; found {edition.value}"
        raise typer.BadParameter(message, param_hint="--edition")
    if job is not None and export_format is not ExportFormat.csv:
        message = f"wanted --format csv for the columns of a job; found {export_format.value}"
        raise typer.BadParameter(message, param_hint="--view")
    if job is not None and edition is ReaderName.client:
        message = "wanted --edition reviewer, estimator or installer for the columns of a job; found client"
        raise typer.BadParameter(message, param_hint="--view")
    is_book = export_format is ExportFormat.xlsx and edition is ReaderName.estimator
    if answers is not None and not is_book:
        message = "wanted --format xlsx --edition estimator for answered requests; found another"
        raise typer.BadParameter(message, param_hint="--answers")
    view = None if job is None else next(one for one in JOBS if one == job.value)
    reader = next(reader for reader in READERS if reader == edition.value)
    source, computed = read_and_compute(folder, library)
    seen = edition_of(document_of(computed, (reader,)), reader)
    if is_book:
        names = tuple((key, one.name) for key, one in source.base.alternates.items())
        seen = replace(seen, combinations=_combinations(source, computed), alternate_names=names)
    found = None if answers is None else answered_quotes(answers, computed.project, seen.document.cover)
    files = exported(seen, export_format.value, view, () if found is None else found.quotes)
    if output is None:
        say(files[""].decode("utf-8"), ended=True)
        return
    named = {output / name if name else output: content for name, content in files.items()}
    write_user_files(named, projects=[folder], library=library)
    for line in told_charges(() if found is None else found.charges):
        say(line)


def _combinations(source: Any, computed: Any) -> tuple[Any, ...]:
    """Return what every combination of alternates comes to, for the recap of the workbook."""
    from proposal.document.making.proposal import combinations_of, combined, each_once, with_reasons

    rows, computing = [], each_once(computed)
    with progress() as tell:
        for chosen in combinations_of(source.priced) if source.priced else ():
            tell(f"price of {len(chosen)} alternates together")
            rows.append(combined(source, chosen, computing).row)
    return tuple(with_reasons(rows))
