"""The files of a record of any layout, read as untrusted input."""

import json
import os
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.model.issued import LAYOUT, MANIFEST, REGISTER
from proposal.model.loading import LARGEST_RECORD_FILE
from proposal.publish.program_folders import ISSUED, regular_content
from proposal.publish.record_file import LARGEST_UNPACKED, MOST_MEMBERS, RECORD_FILE, member, unpacked
from proposal.publish.record_layouts import PACKED_SINCE, Held, in_layout
from proposal.quantities.messages import printable

_MOST_FILES_OF_1 = 20 * MOST_MEMBERS


def contents(folder: Path, layout: int, without: Collection[str] = ()) -> dict[str, bytes]:
    """Return every file of a record but the manifest, in the layout of this program.

    folder: where it lies.  layout: how it is laid out there.
    without: files that nobody asks for, by their paths: to bring them into this layout takes long.
    Raises InputError where one cannot be read.
    """
    files = {path: held for path, held in digested(folder, layout).items() if path not in without}
    return _in_layout_of_now(folder, max(layout, PACKED_SINCE), files)


def digested(folder: Path, layout: int) -> dict[str, bytes]:
    """Return the files whose digest is that of the record: as they were packed, not as they are read now.

    The parameters are those of `contents`. Raises InputError as it does.
    A record from before there were archives counts as packed by the first program that packed them.
    """
    if layout >= PACKED_SINCE:
        files = unpacked(in_folder(folder, RECORD_FILE, _ARCHIVE), name_of(folder, RECORD_FILE))
        return files | {REGISTER: in_folder(folder, REGISTER, "the register of an issued record")}
    files = dict(_files_below(folder))
    try:
        manifest = json.loads(files.pop(MANIFEST, b""))
        return dict(in_layout(Held(manifest, files), PACKED_SINCE).files)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as error:
        message = "wanted the manifest as it was issued; found one that was altered"
        raise InputError([Problem(Place(name_of(folder, MANIFEST)), "", message)]) from error


_ARCHIVE = "the archive of an issued record"


def _in_layout_of_now(folder: Path, layout: int, files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return files of a record that is packed in some layout, as this program lays them out."""
    try:
        return dict(in_layout(Held({"layout": layout}, files)).files)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as error:
        message = "wanted the figures of a revision as they were issued; found some that were altered"
        raise InputError([Problem(Place(name_of(folder, RECORD_FILE)), "", message)]) from error


def content(folder: Path, layout: int, path: str) -> bytes | None:
    """Return one file of a record, None where it does not hold it; the other parameters are as above.

    layout: number of the layout of the record.
    path: of the file in the record.
    """
    if layout >= PACKED_SINCE:
        found = member(in_folder(folder, RECORD_FILE, _ARCHIVE), path, name_of(folder, RECORD_FILE))
        if found is None or layout == LAYOUT:
            return found
        return _in_layout_of_now(folder, layout, {path: found})[path]
    return contents(folder, layout).get(path)


def in_folder(folder: Path, file: str, what: str) -> bytes:
    """Return what a file in a record's folder holds.

    what: it is, for messages.
    Raises InputError where it is not there, or is no file that can be read.
    """
    try:
        size = os.lstat(folder / file).st_size
        data = regular_content(folder / file) if size <= LARGEST_RECORD_FILE else b""
        found = "something that is no file"
    except FileNotFoundError:
        size, data, found = 0, None, "none"
    except OSError as error:
        size, data, found = 0, None, error.strerror or "none"
    if size > LARGEST_RECORD_FILE:
        data, found = None, f"more than {LARGEST_RECORD_FILE // 1_000_000} MB"
    if data is None:
        raise InputError([Problem(Place(name_of(folder, file)), "", f"wanted {what}; found {found}")])
    return data


def name_of(folder: Path, file: str) -> str:
    """Return a file of a record as a project names it."""
    return printable(f"{ISSUED}/{folder.name}/{file}")


def _files_below(folder: Path) -> Iterator[tuple[str, bytes]]:
    """Yield the files of a record that is no archive; links are left out."""
    total = 0
    count = 0
    for here, folders, names in os.walk(folder, followlinks=False):
        folders.sort()
        for name in sorted(names):
            path = (Path(here) / name).relative_to(folder).as_posix()
            total += os.lstat(folder / path).st_size
            count += 1
            if total > LARGEST_UNPACKED or count > _MOST_FILES_OF_1:
                message = f"wanted at most {LARGEST_UNPACKED // 1_000_000} MB in a record; found more"
                raise InputError([Problem(Place(name_of(folder, "")), "", message)])
            data = regular_content(folder / path)
            if data is not None:
                yield path, data
