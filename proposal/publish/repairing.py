"""What is missing or altered in the published folder, made again from the records."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from proposal.document.readers import READERS
from proposal.errors import BuildError, InputError, Place, Problem
from proposal.publish.artifacts import versions
from proposal.publish.cache import Cache
from proposal.publish.files import remove
from proposal.publish.issuing import remade
from proposal.publish.locking import exclusive
from proposal.publish.own_paths import ISSUED, OwnFolders, own_folders
from proposal.publish.placing import PART, clean_up, place_artifacts, refuse_strange, write_surroundings
from proposal.publish.record import Record, read_record
from proposal.publish.record_order import record_folders
from proposal.publish.stopping import uninterrupted
from proposal.publish.verifying import (
    lost_records,
    published_of,
    record_is_whole,
    refuse_no_project,
    refuse_unknown,
)


def repair(folder: Path, revision: str | None, progress: Callable[[str], None]) -> tuple[str, ...]:
    """Make again what is missing or altered in the published folder; return the revisions made again.

    folder: the project folder.
    revision: the one to look at; None for all.
    Nothing in `issued/` is written but what an ended run left there, which is taken away. A record that was
    altered is passed over; where one is lost, the pages that lead between revisions are left as they are.
    Raises InputError where something strange, such as a link, lies in the project's own folders, and
    BuildError where what is made again is not what was issued: other versions make other bytes.
    """
    refuse_no_project(folder)
    names = [one.name for one in record_folders(folder)]
    if revision is not None:
        refuse_unknown(revision, names)
    own = own_folders(folder)
    refuse_strange(own)
    made: list[str] = []
    with exclusive(own.build):
        clean_up(own)
        records = _readable(folder)
        for record in records:
            name = record.manifest.revision
            if revision in (None, name) and record_is_whole(record) and _is_altered(folder, record):
                progress(f"revision {name}")
                _made_again(own, record, _followed(record, records), progress)
                made.append(name)
        if not lost_records(own, names, records):
            with uninterrupted():
                write_surroundings(own, records)
    return tuple(made)


def _readable(folder: Path) -> list[Record]:
    """Return the records whose manifest is as it was issued, in the order of issue."""
    found: list[Record] = []
    for one in record_folders(folder):
        with suppress(InputError):
            found.append(read_record(one))
    return sorted(found, key=lambda one: one.manifest.sequence)


def _is_altered(folder: Path, record: Record) -> bool:
    return any(True for reader in READERS for _ in published_of(folder, record.manifest, reader))


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


def _made_again(
    own: OwnFolders, record: Record, before: Record | None, progress: Callable[[str], None]
) -> None:
    part = own.published / PART
    try:
        made = remade(record, before, part, Cache(own.build / "cache"), progress)
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
        with uninterrupted():
            place_artifacts(own.published, manifest.revision)
    except BaseException:
        with suppress(OSError, InputError):
            remove(part)
        raise


def _differences(then: Mapping[str, str], now: Mapping[str, str]) -> str:
    """Return in words which versions made a revision and are not here."""
    other = [
        f"{name} {then.get(name, 'unknown')} (here {now.get(name, 'none')})"
        for name in sorted({*then, *now})
        if then.get(name) != now.get(name)
    ]
    return ", ".join(other) or f"another state of this program than this one, proposal {now['proposal']}"
