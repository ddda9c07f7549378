"""Issued records as folders: which there are, what each holds, and how one is read."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from proposal.document.document import Document
from proposal.document.kept_document import restored, restored_proposal
from proposal.document.whole_proposal import Proposal
from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.issued import LAYOUT, MANIFEST, Issue, ends_of, order_of
from proposal.model.loading import standing_wording
from proposal.model.reading.yaml_tree import unknowns_in
from proposal.publish.manifest import Manifest, read_manifest
from proposal.publish.program_folders import ISSUED
from proposal.publish.record_contents import contents, digested, in_folder
from proposal.publish.record_layouts import DOCUMENT, PROPOSAL, record_digest
from proposal.publish.record_order import record_folders
from proposal.quantities.messages import printable, shown

INPUTS, LIBRARY = "inputs", "library"


@dataclass(frozen=True, slots=True)
class Record:
    """An issued record.

    folder: where it lies.  manifest: what it says of itself.  layout: how it is laid out there.
    """

    folder: Path
    manifest: Manifest
    layout: int = LAYOUT

    @property
    def name(self) -> str:
        """The record as a project names it, such as `issued/B`."""
        return f"{ISSUED}/{self.folder.name}"

    def contents(self) -> Mapping[str, bytes]:
        """Return every file of the record but the manifest, in the layout of this program.

        Raises InputError where one cannot be read.
        """
        return contents(self.folder, self.layout)

    def digest(self) -> str:
        """Return the digest of the record, of its files as they were issued.

        Raises InputError where one cannot be read.
        """
        return record_digest(digested(self.folder, self.layout))


def records_of(project: Path) -> tuple[Record, ...]:
    """Return a project's issued records in the order of issue.

    Raises InputError where a manifest cannot be read, or their order is not clear.
    """
    problems: list[Problem] = []
    records: dict[str, Record] = {}
    for folder in record_folders(project):
        try:
            records[folder.name] = read_record(folder)
        except InputError as error:
            problems += error.problems
    order = () if problems else order_of(_issues(records.values()), problems)
    if problems:
        raise InputError(problems)
    return tuple(records[name] for name in order)


def ends_of_records(records: Sequence[Record]) -> tuple[Record, ...]:
    """Return the records that no other follows.

    records: all, in the order of issue.
    """
    names = ends_of(_issues(records), [one.folder.name for one in records])
    return tuple(one for one in records if one.folder.name in names)


def in_order(records: Sequence[Record]) -> list[Record]:
    """Return records in the order of issue, as far as it is clear where some of them are lost."""
    there = {one.folder.name for one in records}
    issues = {
        name: Issue(tuple(parent for parent in issue.parents if parent in there), issue.date)
        for name, issue in _issues(records).items()
    }
    order = order_of(issues, []) or sorted(issues)
    return sorted(records, key=lambda one: order.index(one.folder.name))


def _issues(records: Iterable[Record]) -> dict[str, Issue]:
    return {one.folder.name: Issue(tuple(sorted(one.manifest.parents)), one.manifest.date) for one in records}


def read_record(folder: Path) -> Record:
    """Return the record that lies in a folder; raises InputError where its manifest is missing or altered."""
    name = f"{ISSUED}/{printable(folder.name)}"
    manifest, layout = read_manifest(in_folder(folder, MANIFEST, "the manifest of an issued record"), name)
    if manifest.revision != folder.name:
        message = f"wanted the folder {manifest.revision}, as it was issued; found {printable(folder.name)}"
        raise InputError([Problem(Place(name), "", message)])
    return Record(folder, manifest, layout)


def document_in(held: Mapping[str, bytes], name: str) -> Document:
    """Return the document of the base that a record holds.

    held: its contents.  name: of the record, for messages.
    Raises InputError where it cannot be read.
    """
    try:
        return _with_keys(_with_words(restored(_needed(held, DOCUMENT))), files_in(held, INPUTS))
    except (ValueError, RecursionError) as error:
        raise _refusal(name, DOCUMENT, error) from error


def proposal_in(held: Mapping[str, bytes], name: str) -> Proposal:
    """Return the whole proposal that a record holds; the parameters are those of `document_in`.

    name: of the record, for messages.
    """
    base = document_in(held, name)  # so that what is wrong with it is told of its own file
    try:
        found = restored_proposal(_needed(held, DOCUMENT), _needed(held, PROPOSAL), base)
    except (ValueError, RecursionError) as error:
        raise _refusal(name, PROPOSAL, error) from error
    alternates = tuple(
        one.model_copy(update={"document": _with_words(one.document)}) for one in found.alternates
    )
    return found.model_copy(update={"alternates": alternates})


def _with_words(document: Document) -> Document:
    """Return a document that has words for what was named after it was issued too; it keeps its own."""
    words = {**_present_words(document.cover.locale), **document.words}
    return document if words == document.words else document.model_copy(update={"words": words})


def _with_keys(document: Document, inputs: Mapping[str, bytes]) -> Document:
    """Return a document whose questions are known by where they stand, as today's are.

    Records of earlier programs tell the file, line and column of an `unknown` alone, which is looked up.
    inputs: files of the project, by their paths.
    """
    written = {name: data for name, data in inputs.items() if name.endswith(".yaml")}
    paths: dict[str, str] = {}
    rows = []
    for row in document.questions:
        file = row.place.partition(":")[0]
        if row.key == row.title and file in written:
            start = file.removesuffix(".yaml").split("/")
            paths |= {
                place: ".".join((*start, *path))
                for place, path in unknowns_in(written.pop(file), file).items()
            }
        rows.append(row.model_copy(update={"key": paths[row.place]}) if row.place in paths else row)
    return document.model_copy(update={"questions": tuple(rows)}) if paths else document


@lru_cache(maxsize=4)
def _present_words(locale: str) -> Mapping[str, str]:
    return standing_wording().words.of_locale(locale)


def _needed(held: Mapping[str, bytes], path: str) -> bytes:
    if path not in held:
        raise ValueError("wanted the document of an issued revision; found none")
    return held[path]


def _refusal(name: str, path: str, error: Exception) -> InputError:
    said = str(error)
    message = printable(said) if said.startswith("wanted") else shown(said)
    return InputError([Problem(Place(f"{name}/{path}"), "", message)])


def files_in(held: Mapping[str, bytes], folder: str) -> dict[str, bytes]:
    """Return the files of a record in one of its folders, by their paths in that folder.

    held: the record's contents.  folder: `inputs`, `library`.
    """
    start = f"{folder}/"
    return {path.removeprefix(start): data for path, data in held.items() if path.startswith(start)}


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
