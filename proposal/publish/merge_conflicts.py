"""Merge conflicts that git left in `issued/`: reported before anything there is read or made again."""

from collections.abc import Iterator
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.model.git_conflicts import conflict_in, record_conflict
from proposal.model.issued import MANIFEST, REGISTER
from proposal.publish.program_folders import ISSUED, regular_content
from proposal.publish.record import files_below
from proposal.publish.record_contents import name_of
from proposal.publish.record_order import record_folders
from proposal.publish.revision_names import LATEST
from proposal.quantities.messages import printable


def refuse_record_conflicts(folder: Path) -> None:
    """Raise InputError where git left a conflict in a record of a project; folder: the project folder."""
    _refuse(_of_records(folder))


def refuse_conflicts(folder: Path) -> None:
    """Raise InputError where git left one in a record or in the schedules; folder: the project folder."""
    _refuse((*_of_records(folder), *_of_schedules(folder)))


def _refuse(found: Iterator[Problem] | tuple[Problem, ...]) -> None:
    problems = list(found)
    if problems:
        raise InputError(problems)


def _of_records(folder: Path) -> Iterator[Problem]:
    for record in record_folders(folder):
        if record.is_symlink():
            continue
        for file in (MANIFEST, REGISTER):
            problem = record_conflict(_text(record / file), name_of(record, file))
            if problem is not None:
                yield problem


def _of_schedules(folder: Path) -> Iterator[Problem]:
    for path, file in files_below(folder / ISSUED / LATEST).items():
        found = conflict_in(_text(file))
        if found is not None:
            message = (
                "wanted a schedule of the revision issued last; found a conflict of git: take neither side, "
                "proposal verify PROJECT --repair writes it again"
            )
            yield Problem(Place(printable(f"{ISSUED}/{LATEST}/{path}"), found.line, 1), "", message)


def _text(file: Path) -> str:
    """Return what a file holds as text; nothing of what is no file or cannot be read, which others tell."""
    try:
        return (regular_content(file) or b"").decode("utf-8", "replace")
    except OSError:
        return ""
