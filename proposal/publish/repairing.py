"""What is missing or altered in the derived folders, made again from the records."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from proposal.document.readers import READERS
from proposal.errors import BuildError, InputError, Place, Problem
from proposal.publish.cache import Cache
from proposal.publish.editions_from_record import remade
from proposal.publish.files import remove
from proposal.publish.issued_schedules import expected_latest, latest_is_as_written, write_latest
from proposal.publish.merge_conflicts import refuse_record_conflicts
from proposal.publish.program_folders import ISSUED, OwnFolders, own_folders, regular_content
from proposal.publish.project_lock import exclusive
from proposal.publish.published_list import Published, files_published, published_list
from proposal.publish.record import Record, files_below, in_order, read_record
from proposal.publish.record_order import record_folders
from proposal.publish.record_placement import (
    PART,
    clean_up,
    place_artifacts,
    refuse_strange,
    write_surroundings,
)
from proposal.publish.revision_names import LATEST
from proposal.publish.stop_signals import uninterrupted
from proposal.publish.verifying import (
    lost_records,
    published_of,
    record_is_whole,
    refuse_no_project,
    refuse_unknown,
)


def repair(folder: Path, revision: str | None, progress: Callable[[str], None]) -> tuple[str, ...]:
    """Make again what is missing or altered in the derived folders; return what was made again, in words.

    progress: told in a few words what is being done.
    folder: the project folder.
    revision: the one to look at; None for all.
    No record is written; what an ended run left beside them is taken away. A record that was altered is
    passed over; where one is lost, the pages that lead between revisions are left as they are. What versions
    other than those of the issue make says so on every page.
    Raises InputError where something strange, such as a link, lies in the project's own folders, or git left
    a conflict in a record, and BuildError where what the same versions make again is not what was published.
    """
    refuse_no_project(folder)
    names = [one.name for one in record_folders(folder)]
    if revision is not None:
        refuse_unknown(revision, names)
    own = own_folders(folder)
    refuse_strange(own)
    refuse_record_conflicts(folder)
    made: list[str] = []
    with exclusive(own.build):
        clean_up(own)
        records = _readable(folder)
        for record in records:
            name = record.manifest.revision
            if revision in (None, name) and record_is_whole(record) and _is_altered(folder, own, record):
                progress(f"revision {name}")
                _made_again(own, record, _followed(record, records), progress)
                made.append(f"revision {name}: published again from its record")
        if not lost_records(own, names, records):
            last = records[-1] if records else None
            if last is not None and record_is_whole(last) and _repaired_latest(own, last):
                made.append(f"{ISSUED}/{LATEST}: written again from revision {last.manifest.revision}")
            with uninterrupted():
                write_surroundings(own, records)
    return tuple(made)


def _readable(folder: Path) -> list[Record]:
    """Return the records whose manifest is as it was issued, in the order of issue."""
    found: list[Record] = []
    for one in record_folders(folder):
        with suppress(InputError):
            found.append(read_record(one))
    return in_order(found)


def _is_altered(folder: Path, own: OwnFolders, record: Record) -> bool:
    files = files_published(record.manifest, published_list(own.published) or {})
    return files is None or any(
        True for reader in READERS for _ in published_of(folder, record.manifest.revision, files, reader)
    )


def _followed(record: Record, records: Sequence[Record]) -> Record | None:
    """Return the record that one is compared with on its pages: the last of those that it follows."""
    parents = record.manifest.parents
    found = [one for one in records if one.manifest.revision in parents]
    lost = sorted(set(parents) - {one.manifest.revision for one in found})
    if lost:
        message = f"wanted the record that {record.name} follows, as it was issued; found none"
        raise InputError([Problem(Place(f"{ISSUED}/{lost[0]}"), "", message)])
    return found[-1] if found else None


def _made_again(
    own: OwnFolders, record: Record, before: Record | None, progress: Callable[[str], None]
) -> None:
    part = own.published / PART
    listed = (published_list(own.published) or {}).get(record.manifest.revision)
    try:
        made = remade(record, before, part, Cache(own.build / "cache"), progress)
        if listed is not None and listed.digest == made.digest:
            _refuse_others(record, listed, made)
            made = replace(made, commit=listed.commit, clean=listed.clean)
        with uninterrupted():
            place_artifacts(own.published, record.manifest.revision, made)
    except BaseException:
        with suppress(OSError, InputError):
            remove(part)
        raise


def _refuse_others(record: Record, listed: Published, made: Published) -> None:
    """Raise BuildError where the same versions made other bytes than before."""
    differing = sorted(
        path for path in {*made.files, *listed.files} if made.files.get(path) != listed.files.get(path)
    )
    if differing and made.versions == listed.versions:
        raise BuildError(
            f"{record.name}: {len(differing)} files, such as {differing[0]}, would differ from those "
            "published, which the same versions made"
        )


def _repaired_latest(own: OwnFolders, record: Record) -> bool:
    """Make the schedules of the last record again where they are not so; say whether they were not."""
    if latest_is_as_written(own, record.manifest):
        return False
    expected = expected_latest(record)
    place = own.issued / LATEST
    there = {path: regular_content(file) for path, file in files_below(place.path).items()}
    if there == expected:
        return False
    with uninterrupted():
        if expected:
            write_latest(own, expected)
        else:
            remove(place)
    return True
