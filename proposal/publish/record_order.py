"""Which records a project has, and which of them was issued last; nothing of them is read but their order."""

from pathlib import Path

from proposal.errors import InputError, Problem
from proposal.model.issued import MANIFEST, last_record, read_sequence
from proposal.publish.own_paths import ISSUED
from proposal.publish.revision_names import is_revision_name


def record_folders(project: Path) -> tuple[Path, ...]:
    """Return the folders of a project's issued records, by name; what has no revision's name is none."""
    issued = project / ISSUED
    if not issued.is_dir():
        return ()
    return tuple(sorted(path for path in issued.iterdir() if path.is_dir() and is_revision_name(path.name)))


def last_record_folder(folder: Path) -> Path | None:
    """Return the folder of the record that was issued last, None where nothing is issued.

    folder: the project folder.
    Raises InputError where the order of the records is not clear.
    """
    problems: list[Problem] = []
    sequences: dict[str, int] = {}
    for one in record_folders(folder):
        manifest = one / MANIFEST
        data = manifest.read_bytes() if manifest.is_file() else b""
        sequence = read_sequence(data, f"{ISSUED}/{one.name}/{MANIFEST}", problems)
        if sequence is not None:
            sequences[one.name] = sequence
    last = last_record(sequences, problems)
    if problems:
        raise InputError(problems)
    return None if last is None else folder / ISSUED / last
