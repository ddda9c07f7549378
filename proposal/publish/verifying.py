"""Whether issued revisions are as they were issued.

Every file is compared with its digest in the manifest of its record, each manifest with its digest in the
record that follows it, and the records with what is published. That finds accidents. It does not find
forgery: who can write to the project can write the digests anew.
"""

import json
import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Literal

from proposal.document.readers import READERS
from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.issued import MANIFEST
from proposal.publish.issued_schedules import expected_latest, latest_is_as_written
from proposal.publish.manifest import digest_of
from proposal.publish.merge_conflicts import refuse_conflicts
from proposal.publish.program_folders import (
    FILE,
    FOLDER,
    ISSUED,
    PUBLISHED,
    OwnFolders,
    OwnPath,
    own_folders,
    regular_content,
)
from proposal.publish.project_lock import undisturbed
from proposal.publish.published_folder import VERSIONS_LIST, surrounding_paths
from proposal.publish.published_list import PUBLISHED_LIST, Published, files_published, published_list
from proposal.publish.record import Record, files_below, in_order, read_record
from proposal.publish.record_order import record_folders
from proposal.publish.record_placement import expected_surroundings
from proposal.publish.revision_names import LATEST, is_revision_name
from proposal.quantities.messages import printable, wanted_one_of

How = Literal["changed", "added", "lost"]


@dataclass(frozen=True, slots=True, order=True)
class Alteration:
    """One file, or one folder where its name ends in a slash, that is not as it was issued.

    path: relative to the project folder.
    said: why, where the path does not tell it.
    """

    path: str
    how: How
    said: str = ""

    def __str__(self) -> str:
        """Return the line a person reads."""
        why = f" ({self.said})" if self.said else ""
        return f"{self.how}: {printable(self.path)}{why}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified:
    """What was found.

    records: names of the records that were looked at.
    alterations: in order of their paths.
    published: whether there is a published folder; git has none.
    """

    records: tuple[str, ...]
    alterations: tuple[Alteration, ...]
    published: bool

    @property
    def remedies(self) -> tuple[str, ...]:
        """What to do about the alterations, a line for each kind of them."""
        latest = f"{ISSUED}/{LATEST}/"
        follows = [
            one
            for one in self.alterations
            if one.path.startswith(latest) or (one.path.startswith(f"{PUBLISHED}/") and one.how != "added")
        ]
        strays = [one for one in self.alterations if one.how == "added" and one not in follows]
        records = [one for one in self.alterations if one not in follows and one not in strays]
        told = []
        if records:
            told.append("a record is never written again: take it from git, or from a copy of the project")
        if follows:
            told.append("published/ and issued/latest/ are made again from the records by --repair")
        if strays:
            told.append("what was added nothing issued: move it elsewhere")
        return tuple(told)


def verified(folder: Path, revision: str | None) -> Verified:
    """Return what of a project's issued revisions is not as it was issued; nothing is written.

    folder: the project folder.
    revision: the one to look at; None for all.
    Raises InputError where there is no such project or revision, or git left a conflict in `issued/`, and
    BuildError where another run is writing.
    """
    refuse_no_project(folder)
    own = own_folders(folder)
    with undisturbed(own.build):
        strange = frozenset(_strange(own))
        if ISSUED not in strange:
            refuse_conflicts(folder)
        return _verified(folder, own, strange, revision)


def _verified(folder: Path, own: OwnFolders, strange: frozenset[str], revision: str | None) -> Verified:
    listed = published_list(own.published)
    there = () if ISSUED in strange else record_folders(folder)
    names = [one.name for one in there]
    records, found = _readable([one for one in there if not _within(f"{ISSUED}/{one.name}", strange)])
    lost = () if ISSUED in strange else lost_records(own, names, records)
    found |= {Alteration(f"{ISSUED}/{name}/", "lost") for name in lost}
    found |= {Alteration(path, "changed") for path in strange}
    for record in records:
        found |= set(_changed_record(record))
    found |= set(_broken_chain(records))
    published = PUBLISHED not in strange and own.published.kind() == FOLDER
    if published:
        found |= set(_all_published(folder, records, listed or {}, strange))
        if listed is None and not all(one.manifest.published for one in records):
            found.add(Alteration(f"{PUBLISHED}/{PUBLISHED_LIST}", _how(own.published / PUBLISHED_LIST)))
        if not strange:
            found |= set(_around(own.published, records, names, lost))
    found |= set(_latest(own, records, lost, strange))
    found |= set(_strays(own, strange))
    if revision is not None:
        refuse_unknown(revision, [*names, *lost])
        names, found = [revision], {one for one in found if _is_of(one, revision)}
    return Verified(records=tuple(names), alterations=tuple(sorted(found)), published=published)


def _how(path: OwnPath) -> How:
    return "changed" if os.path.lexists(path.path) else "lost"


def _all_published(
    folder: Path, records: Sequence[Record], listed: Mapping[str, Published], strange: frozenset[str]
) -> Iterator[Alteration]:
    """Yield what of all revisions is not published as it was, where it is known how that was."""
    for record in records:
        revision = record.manifest.revision
        files = files_published(record.manifest, listed)
        if files is None and listed:
            yield Alteration(f"{PUBLISHED}/{PUBLISHED_LIST}", "changed")
        for reader in READERS:
            if files is not None and not _within(f"{PUBLISHED}/{reader}/{revision}", strange):
                yield from published_of(folder, revision, files, reader)


def _latest(
    own: OwnFolders, records: Sequence[Record], lost: Sequence[str], strange: frozenset[str]
) -> Iterator[Alteration]:
    """Yield what of the schedules of the last record is not as it follows from that."""
    place = f"{ISSUED}/{LATEST}"
    if not records or lost or _within(place, strange) or (own.issued / LATEST).kind() == FILE:
        return
    if latest_is_as_written(own, records[-1].manifest):
        return
    try:
        expected = expected_latest(records[-1])
    except InputError:
        return  # what is wrong with the record is said of it
    yield from _changed_files(
        place, own.issued.path / LATEST, {path: digest_of(data) for path, data in expected.items()}
    )


def refuse_no_project(folder: Path) -> None:
    """Raise InputError where there is no project folder."""
    if not folder.is_dir():
        found = "a file" if folder.exists() else "nothing"
        message = f"wanted a project folder; found {found}"
        raise InputError([Problem(Place(printable(str(folder))), "", message)])


def refuse_unknown(revision: str, known: Sequence[str]) -> None:
    """Raise InputError where a revision is none of those known."""
    if revision not in known:
        message = wanted_one_of(revision, known, "an issued revision")
        raise InputError([Problem(Place(ISSUED), "", message)])


def _is_of(alteration: Alteration, revision: str) -> bool:
    """Say whether an alteration is one of a revision, or of a folder that all revisions lie in."""
    own = (f"{ISSUED}/{revision}", *(f"{PUBLISHED}/{reader}/{revision}" for reader in READERS))
    shared = (ISSUED, PUBLISHED, *(f"{PUBLISHED}/{reader}" for reader in READERS))
    return alteration.path in (*own, *shared) or alteration.path.startswith(tuple(f"{one}/" for one in own))


def _strange(own: OwnFolders) -> Iterator[str]:
    """Yield what is neither file nor folder in the first two levels, and files where a folder has to be."""
    found: set[str] = set()
    for folder in (own.issued, own.published, *(own.published / reader for reader in READERS)):
        if _within("/".join(folder.parts), found):
            continue
        try:
            inside = [folder / name for name in folder.names()]
        except InputError:
            found.add("/".join(folder.parts))
            continue
        for one in inside:
            try:
                one.kind()
            except InputError:
                found.add("/".join(one.parts))
    yield from found


def _within(path: str, places: frozenset[str] | set[str]) -> bool:
    return any(path == place or path.startswith(f"{place}/") for place in places)


def _readable(folders: Sequence[Path]) -> tuple[list[Record], set[Alteration]]:
    """Return the records whose manifest is as it was issued, in the order of issue, and other manifests."""
    records: list[Record] = []
    wrong: set[Alteration] = set()
    for one in folders:
        try:
            records.append(read_record(one))
        except InputError as error:
            name = f"{ISSUED}/{one.name}"
            if error.problems[0].place.file == name:  # the whole folder, which was renamed
                wrong.add(Alteration(f"{name}/", "changed", error.problems[0].message))
                continue
            there = os.path.lexists(one / MANIFEST)
            wrong.add(Alteration(f"{name}/{MANIFEST}", "changed" if there else "lost"))
    return in_order(records), wrong


def lost_records(own: OwnFolders, names: Sequence[str], records: Sequence[Record]) -> tuple[str, ...]:
    """Return the revisions of which a later record or the published folder knows, and that have no record.

    names: of the records that there are.  records: those that can be read.
    """
    known = {parent for one in records for parent in one.manifest.parents}
    known.update(published_list(own.published) or ())
    for reader in READERS:
        known.update(_listed(own.published / reader / VERSIONS_LIST))
    return tuple(sorted(known - set(names)))


def _listed(versions: OwnPath) -> Iterator[str]:
    """Yield the revisions that a published list names; none where it cannot be read."""
    try:
        listed = json.loads(versions.read() or b"[]")
    except (InputError, ValueError, RecursionError):
        return
    for one in listed if isinstance(listed, list) else []:
        name = one.get("version") if isinstance(one, dict) else None
        if isinstance(name, str) and is_revision_name(name):
            yield name


def _whole(record: Record) -> dict[str, str]:
    manifest = digest_of((record.folder / MANIFEST).read_bytes())
    return {**record.manifest.record, MANIFEST: manifest}


def record_is_whole(record: Record) -> bool:
    """Say whether every file of a record is as it was issued."""
    return not list(_changed_record(record))


def _changed_record(record: Record) -> Iterator[Alteration]:
    """Yield what of a record is not as it was issued."""
    changed = list(_changed_files(record.name, record.folder, _whole(record)))
    yield from changed
    if not changed and record.manifest.digest:
        try:
            same = record.digest() == record.manifest.digest
        except InputError:
            same = False
        if not same:
            yield Alteration(f"{record.name}/{MANIFEST}", "changed")


def _changed_files(name: str, folder: Path, wanted: Mapping[str, str]) -> Iterator[Alteration]:
    """Yield the files of a folder that are not as they were issued; name: as the project names the folder."""
    there = files_below(folder)
    if not there and wanted:
        yield Alteration(f"{name}/", "lost")
        return
    for path in sorted({*wanted, *there}):
        if path not in there:
            yield Alteration(f"{name}/{path}", "lost")
        elif path not in wanted:
            yield Alteration(f"{name}/{path}", "added")
        else:
            content = regular_content(there[path])
            if content is None or digest_of(content) != wanted[path]:
                yield Alteration(f"{name}/{path}", "changed")


def _broken_chain(records: Sequence[Record]) -> Iterator[Alteration]:
    """Yield the manifests that are not those which the records after them followed."""
    by_name = {one.manifest.revision: one for one in records}
    for record in records:
        for parent, digest in record.manifest.parents.items():
            before = by_name.get(parent)
            if before is not None and _whole(before)[MANIFEST] != digest:
                yield Alteration(f"{before.name}/{MANIFEST}", "changed")


def published_of(folder: Path, revision: str, files: Mapping[str, str], reader: str) -> Iterator[Alteration]:
    """Yield what of an edition of a revision is not published as it was.

    reader: whose edition.
    folder: the project folder.  files: digest of all that is published of it, by path.
    """
    start = f"{reader}/{revision}/"
    wanted = {path.removeprefix(start): digest for path, digest in files.items() if path.startswith(start)}
    name = f"{PUBLISHED}/{start}".rstrip("/")
    yield from _changed_files(name, folder / name, wanted)


def _around(
    published: OwnPath, records: Sequence[Record], names: Sequence[str], lost: Sequence[str]
) -> Iterator[Alteration]:
    """Yield what is wrong with the files that lead between revisions, and what lies there besides.

    names: of all records.  lost: revisions whose record is lost; what such files said of them is not known,
    nor what they hold where the list of what is published cannot be read.
    """
    listed = published_list(published) is not None or all(one.manifest.published for one in records)
    known_all = listed and not lost
    wanted = expected_surroundings(published, records) if known_all else {}
    not_known = frozenset() if known_all else surrounding_paths()
    known = tuple(f"{reader}/{name}/" for reader in READERS for name in (*names, *lost))
    there = files_below(published.path)
    for path in sorted({*wanted, *there}):
        if path not in there:
            yield Alteration(f"{PUBLISHED}/{path}", "lost")
        elif path in wanted:
            if regular_content(there[path]) != wanted[path]:
                yield Alteration(f"{PUBLISHED}/{path}", "changed")
        elif path != PUBLISHED_LIST and path not in not_known and not path.startswith(known):
            yield Alteration(f"{PUBLISHED}/{_stray(path)}", "added")


def _stray(path: str) -> str:
    """Return a file that nothing issued, or the folder of its own that it lies in."""
    first, *more = path.split("/")
    if first not in READERS:
        return f"{first}/" if more else path
    return f"{first}/{more[0]}/" if len(more) > 1 and more[0] != LATEST else path


def _strays(own: OwnFolders, strange: frozenset[str]) -> Iterator[Alteration]:
    """Yield what lies among the records and is none."""
    if ISSUED in strange:
        return
    for name in own.issued.names():
        path = f"{ISSUED}/{name}"
        if path in strange:
            continue
        is_folder = (own.issued / name).kind() == FOLDER
        if not is_folder or (not is_revision_name(name) and name != LATEST):
            yield Alteration(f"{path}/" if is_folder else path, "added")
