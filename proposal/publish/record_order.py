"""Which records a project has, and in what order; only what gives the order is read."""

from pathlib import Path

from proposal.errors import InputError, Problem
from proposal.model.issued import MANIFEST, Issue, ends_of, layout_of, order_of, read_issue, read_object
from proposal.publish.program_folders import ISSUED
from proposal.publish.revision_names import is_revision_name


def record_folders(project: Path) -> tuple[Path, ...]:
    """Return the folders of a project's issued records, by name; what has no revision's name is none."""
    issued = project / ISSUED
    if not issued.is_dir():
        return ()
    return tuple(sorted(path for path in issued.iterdir() if path.is_dir() and is_revision_name(path.name)))


def last_record_folders(folder: Path) -> tuple[Path, ...]:
    """Return the folders of the records that no other follows, in the order of issue.

    folder: the project folder.
    Raises InputError where the order of the records is not clear.
    """
    problems: list[Problem] = []
    issues: dict[str, Issue] = {}
    for one in record_folders(folder):
        issue = read_issue(_manifest(one), f"{ISSUED}/{one.name}/{MANIFEST}", problems)
        if issue is not None:
            issues[one.name] = issue
    ends = () if problems else ends_of(issues, order_of(issues, problems))
    if problems:
        raise InputError(problems)
    return tuple(folder / ISSUED / end for end in ends)


def layout_in(record: Path) -> int:
    """Return how a record is laid out.

    record: its folder.
    Raises InputError where its manifest does not say so.
    """
    problems: list[Problem] = []
    file = f"{ISSUED}/{record.name}/{MANIFEST}"
    data = _manifest(record)
    found = read_object(data, file, problems)
    layout = None if found is None else layout_of(found)
    if layout is None:
        read_issue(data, file, problems := [])
        raise InputError(problems)
    return layout


def _manifest(record: Path) -> bytes:
    manifest = record / MANIFEST
    return manifest.read_bytes() if manifest.is_file() else b""
