"""Whether issued revisions are as they were issued, and what is published of them made again."""

import shutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from proposal.document.readers import READERS
from proposal.errors import BuildError, InputError, Place, Problem
from proposal.model.issued import MANIFEST
from proposal.model.messages import printable, wanted_one_of
from proposal.publish.artifacts import versions
from proposal.publish.cache import Cache
from proposal.publish.issuing import remade
from proposal.publish.manifest import Manifest, digest_of
from proposal.publish.placing import (
    PART,
    clean_up,
    expected_surroundings,
    place_artifacts,
    write_surroundings,
)
from proposal.publish.record import ISSUED, PUBLISHED, Record, files_below, read_record, record_folders
from proposal.publish.swap import exclusive

How = Literal["changed", "added", "lost"]


@dataclass(frozen=True, slots=True, order=True)
class Alteration:
    """One file, or one folder where its name ends in a slash, that is not as it was issued.

    path: relative to the project folder.
    """

    path: str
    how: How

    def __str__(self) -> str:
        """Return the line a person reads."""
        return f"{self.how}: {printable(self.path)}"


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


def verified(folder: Path, revision: str | None) -> Verified:
    """Return what of a project's issued revisions is not as it was issued.

    folder: the project folder.
    revision: the one to look at; None for all.
    Raises InputError where there is no such project or revision.
    """
    folders = _chosen(folder, revision)
    records, found = _readable(folders)
    for record in records:
        found |= set(_changed_files(record.name, record.folder, _whole(record)))
    if revision is None:
        found |= set(_broken_chain(folder, records))
    published = (folder / PUBLISHED).is_dir()
    if published:
        for record in records:
            found |= set(_published_of(folder, record.manifest))
        if revision is None:
            found |= set(_around(folder, records))
    return Verified(
        records=tuple(one.name for one in folders),
        alterations=tuple(sorted(found)),
        published=published,
    )


def repair(folder: Path, revision: str | None, progress: Callable[[str], None]) -> tuple[str, ...]:
    """Make again what is missing or altered in the published folder; return the revisions made again.

    folder: the project folder.
    revision: the one to look at; None for all.
    Nothing in `issued/` is written; a record that was altered is passed over.
    Raises BuildError where what is made again is not what was issued: other versions make other bytes.
    """
    folders = _chosen(folder, revision)
    made: list[str] = []
    with exclusive(folder / "build"):
        clean_up(folder)
        found, _ = _readable(record_folders(folder))
        records = sorted(found, key=lambda one: one.manifest.sequence)
        for record in records:
            whole = not list(_changed_files(record.name, record.folder, _whole(record)))
            if record.folder in folders and whole and list(_published_of(folder, record.manifest)):
                progress(f"revision {record.manifest.revision}")
                _made_again(folder, record, _followed(record, records), progress)
                made.append(record.manifest.revision)
        write_surroundings(folder, records)
    return tuple(made)


def _followed(record: Record, records: Sequence[Record]) -> Record | None:
    """Return the record that one follows and is compared with on its pages."""
    previous = record.manifest.previous
    if not previous:
        return None
    for one in records:
        if one.manifest.revision == previous:
            return one
    message = f"wanted the record that {record.name} follows, as it was issued; found none"
    raise InputError([Problem(Place(f"{ISSUED}/{previous}"), "", message)])


def _made_again(folder: Path, record: Record, before: Record | None, progress: Callable[[str], None]) -> None:
    part = folder / PUBLISHED / PART
    try:
        made = remade(record, before, part, Cache(folder / "build" / "cache"), progress)
        manifest = record.manifest
        differing = sorted(
            path
            for path in {*made.digests, *manifest.published}
            if made.digests.get(path) != manifest.published.get(path)
        )
        if differing:
            raise BuildError(
                f"{record.name}: {len(differing)} files, such as {differing[0]}, would differ from those "
                f"issued, which were made with {_differences(manifest.versions, versions())}"
            )
        place_artifacts(folder / PUBLISHED, manifest.revision)
    except BaseException:
        shutil.rmtree(part, ignore_errors=True)
        raise


def _differences(then: Mapping[str, str], now: Mapping[str, str]) -> str:
    """Return in words which versions made a revision and are not here."""
    other = [
        f"{name} {then.get(name, 'unknown')} (here {now.get(name, 'none')})"
        for name in sorted({*then, *now})
        if then.get(name) != now.get(name)
    ]
    return ", ".join(other) or f"another state of this program than this one, proposal {now['proposal']}"


def _chosen(folder: Path, revision: str | None) -> tuple[Path, ...]:
    """Return the folders of the records to look at."""
    if not folder.is_dir():
        found = "a file" if folder.exists() else "nothing"
        message = f"wanted a project folder; found {found}"
        raise InputError([Problem(Place(printable(str(folder))), "", message)])
    folders = record_folders(folder)
    if revision is None:
        return folders
    chosen = tuple(one for one in folders if one.name == revision)
    if not chosen:
        message = wanted_one_of(revision, [one.name for one in folders], "an issued revision")
        raise InputError([Problem(Place(ISSUED), "", message)])
    return chosen


def _readable(folders: Sequence[Path]) -> tuple[list[Record], set[Alteration]]:
    """Return the records whose manifest is as it was issued, and the manifests that are not."""
    records: list[Record] = []
    wrong: set[Alteration] = set()
    for one in folders:
        try:
            records.append(read_record(one))
        except InputError:
            there = (one / MANIFEST).is_file()
            wrong.add(Alteration(f"{ISSUED}/{one.name}/{MANIFEST}", "changed" if there else "lost"))
    return records, wrong


def _whole(record: Record) -> dict[str, str]:
    manifest = digest_of((record.folder / MANIFEST).read_bytes())
    return {**record.manifest.record, MANIFEST: manifest}


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
        elif there[path].is_symlink() or digest_of(there[path].read_bytes()) != wanted[path]:
            yield Alteration(f"{name}/{path}", "changed")


def _broken_chain(folder: Path, records: Sequence[Record]) -> Iterator[Alteration]:
    """Yield the records that a later one follows and that are gone, or another than it followed."""
    for record in records:
        previous = record.manifest.previous
        if not previous:
            continue
        manifest = folder / ISSUED / previous / MANIFEST
        if not manifest.parent.is_dir():
            yield Alteration(f"{ISSUED}/{previous}/", "lost")
        elif manifest.is_file() and digest_of(manifest.read_bytes()) != record.manifest.previous_digest:
            yield Alteration(f"{ISSUED}/{previous}/{MANIFEST}", "changed")


def _published_of(folder: Path, manifest: Manifest) -> Iterator[Alteration]:
    for reader in READERS:
        start = f"{reader}/{manifest.revision}/"
        wanted = {
            path.removeprefix(start): digest
            for path, digest in manifest.published.items()
            if path.startswith(start)
        }
        name = f"{PUBLISHED}/{start}".rstrip("/")
        yield from _changed_files(name, folder / name, wanted)


def _around(folder: Path, records: Sequence[Record]) -> Iterator[Alteration]:
    """Yield what is wrong with the files that lead between revisions, and what lies there besides."""
    wanted = expected_surroundings(folder, sorted(records, key=lambda one: one.manifest.sequence))
    known = tuple(f"{reader}/{one.name}/" for reader in READERS for one in record_folders(folder))
    there = files_below(folder / PUBLISHED)
    for path in sorted({*wanted, *there}):
        if path not in there:
            yield Alteration(f"{PUBLISHED}/{path}", "lost")
        elif path in wanted:
            if there[path].is_symlink() or there[path].read_bytes() != wanted[path]:
                yield Alteration(f"{PUBLISHED}/{path}", "changed")
        elif not path.startswith(known):
            yield Alteration(f"{PUBLISHED}/{path}", "added")
