"""Compare two states of a project: `proposal compare`."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from proposal.commands.arguments import EditionOption, LibraryFolder, ProjectFolder, ReaderName, given_path
from proposal.commands.printing import number_clashes, print_clashes
from proposal.running import say


class ComparisonFormat(StrEnum):
    """How a comparison is written."""

    text = "text"
    markdown = "markdown"
    json = "json"


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
        str, typer.Argument(metavar="AFTER", help="The later state; by default the present one.")
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
            parser=given_path,
            help="Where to write it: a new file, or a regular one to replace, and none of a project's own; "
            "by default it is printed.",
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
    from proposal.publish.compared_states import PRESENT, compared
    from proposal.publish.kept_plans import radio_plans_kept
    from proposal.publish.output_paths import write_user_files

    reader = next(reader for reader in READERS if reader == edition.value)
    with radio_plans_kept(folder):
        changes = compared(folder, before, after, reader, library)
    written = {
        ComparisonFormat.text: comparison_text,
        ComparisonFormat.markdown: comparison_markdown,
        ComparisonFormat.json: comparison_json,
    }[comparison_format](changes, reader)
    if PRESENT in (before, after):
        print_clashes(number_clashes(folder), stream="stderr")  # what is compared may go to another program
    if output is None:
        say(written, ended=True)
    else:
        write_user_files({output: written.encode("utf-8")}, projects=[folder], library=library)
