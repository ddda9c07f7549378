"""Issued records as folders: which there are, what each holds, and how one is read."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from proposal.document.document import Document
from proposal.document.kept_document import restored
from proposal.errors import InputError, Place, Problem
from proposal.model.issued import MANIFEST, last_record
from proposal.publish.manifest import Manifest, read_manifest
from proposal.publish.own_paths import ISSUED, regular_content
from proposal.publish.record_order import record_folders
from proposal.quantities.messages import printable

DOCUMENT = "document.json"


@dataclass(frozen=True, slots=True)
class Record:
    """An issued record.

    folder: where it lies.  manifest: what it says of itself.
    """

    folder: Path
    manifest: Manifest

    @property
    def name(self) -> str:
        """The record as a project names it, such as `issued/B`."""
        return f"{ISSUED}/{self.folder.name}"


def records_of(project: Path) -> tuple[Record, ...]:
    """Return a project's issued records in the order of issue.

    Raises InputError where a manifest cannot be read, or their order is not clear.
    """
    problems: list[Problem] = []
    records: list[Record] = []
    for folder in record_folders(project):
        try:
            records.append(read_record(folder))
        except InputError as error:
            problems += error.problems
    if not problems:
        last_record({one.folder.name: one.manifest.sequence for one in records}, problems)
    if problems:
        raise InputError(problems)
    return tuple(sorted(records, key=lambda one: one.manifest.sequence))


def read_record(folder: Path) -> Record:
    """Return the record that lies in a folder; raises InputError where its manifest is missing or altered."""
    name = f"{ISSUED}/{printable(folder.name)}"
    found = "something that is no file"
    try:
        data = regular_content(folder / MANIFEST)
    except OSError as error:
        data, found = None, error.strerror or "none"
    if data is None:
        message = f"wanted the manifest of an issued record; found {found}"
        raise InputError([Problem(Place(f"{name}/{MANIFEST}"), "", message)])
    manifest = read_manifest(data, name)
    if manifest.revision != folder.name:
        message = f"wanted the folder {manifest.revision}, as it was issued; found {printable(folder.name)}"
        raise InputError([Problem(Place(name), "", message)])
    return Record(folder, manifest)


def document_of_record(record: Record) -> Document:
    """Return the document that a record holds; raises InputError where it cannot be read."""
    file = f"{record.name}/{DOCUMENT}"
    try:
        return restored((record.folder / DOCUMENT).read_bytes())
    except OSError as error:
        message = f"wanted the document of the record; found {error.strerror or 'none'}"
        raise InputError([Problem(Place(file), "", message)]) from error
    except ValueError as error:
        raise InputError([Problem(Place(file), "", str(error))]) from error


def record_before(records: Sequence[Record], revision: str) -> Record | None:
    """Return the record issued just before a revision, or the last one where the revision is not issued.

    records: in the order of issue.
    """
    earlier: Record | None = None
    for one in records:
        if one.manifest.revision == revision:
            return earlier
        earlier = one
    return earlier


def files_below(folder: Path) -> Mapping[str, Path]:
    """Return every file below a folder by its path within it, in order; links count as files."""
    if not folder.is_dir():
        return {}
    found = {
        path.relative_to(folder).as_posix(): path
        for path in folder.rglob("*")
        if path.is_symlink() or not path.is_dir()
    }
    return dict(sorted(found.items()))
