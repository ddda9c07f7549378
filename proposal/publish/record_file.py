"""The one file of a record that holds all that need not be read in a diff: `record.zip`.

It is written in a fixed order with fixed times, so that the same content gives the same bytes. It is read as
what anybody may have put there: names, kinds, counts and sizes are looked at before anything is unpacked.
"""

import io
import re
import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import PurePosixPath

from proposal.errors import InputError, Place, Problem
from proposal.publish.archive import archive
from proposal.quantities.messages import printable, shown

RECORD_FILE = "record.zip"
LARGEST_UNPACKED = 500_000_000
MOST_MEMBERS = 5_000
_PART = re.compile(r"[^\x00-\x1f\x7f/\\]+")
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_ENCRYPTED = 0x1
_FAULTS = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    OSError,
    ValueError,
    NotImplementedError,
    RuntimeError,
    LookupError,
)
"""What reading an archive that was damaged can raise."""


def packed(files: Mapping[str, bytes]) -> bytes:
    """Return the file that holds a record's files; the same bytes for the same files.

    files: content by path.
    """
    return archive(files)


def unpacked(data: bytes, file: str) -> dict[str, bytes]:
    """Return all files that a record's file holds, by path.

    data: of the file.  file: as a project names it, for messages.
    Raises InputError where it is not what this program writes.
    """
    with _opened(data, file) as (held, members):
        return {one.filename: held.read(one) for one in members.values()}


def member(data: bytes, name: str, file: str) -> bytes | None:
    """Return one of the files that a record's file holds, None where it does not hold it.

    data: of the file.  name: path within it.  file: as a project names it, for messages.
    Raises InputError where it is not what this program writes.
    """
    with _opened(data, file) as (held, members):
        return held.read(members[name]) if name in members else None


@contextmanager
def _opened(data: bytes, file: str) -> Iterator[tuple[zipfile.ZipFile, Mapping[str, zipfile.ZipInfo]]]:
    """Give an archive of which every member was looked at, with its members by name."""
    place = Place(file)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as held:
            members = held.infolist()
            if wrong := next(_wrong(members), ""):
                raise InputError([Problem(place, "", wrong)])
            yield held, {one.filename: one for one in members}
    except _FAULTS as error:
        message = f"wanted the archive of a record; found a fault: {printable(str(error)) or 'its end'}"
        raise InputError([Problem(place, "", message)]) from error


def _wrong(members: Sequence[zipfile.ZipInfo]) -> Iterator[str]:
    """Yield what is wrong with the members of an archive, by what it says of them."""
    seen: set[str] = set()
    total = 0
    for one in members:
        # What was cut off at a character that ends names on some systems is told apart from the rest.
        if one.filename != one.orig_filename or not is_member_name(one.filename):
            yield f"wanted paths within a record; found {shown(one.orig_filename)}"
        kind = stat.S_IFMT(one.external_attr >> 16)
        if kind not in (0, stat.S_IFREG) or one.is_dir():
            yield f"wanted files alone in the archive of a record; found another thing, {shown(one.filename)}"
        if one.flag_bits & _ENCRYPTED or one.compress_type not in _METHODS:
            yield f"wanted files that can be unpacked by all; found {shown(one.filename)}"
        seen.add(one.filename)
        total += one.file_size
        if len(seen) > MOST_MEMBERS:
            yield f"wanted at most {MOST_MEMBERS} files in the archive of a record; found more"
        if total > LARGEST_UNPACKED:
            yield f"wanted at most {LARGEST_UNPACKED // 1_000_000} MB in the archive of a record; found more"
    if len(seen) < len(members):
        yield "wanted every file of a record once; found one twice"


def is_member_name(name: str) -> bool:
    """Say whether a name leads to a file inside a record, on every system."""
    parts = name.split("/")
    return (
        name == str(PurePosixPath(name))
        and all(_PART.fullmatch(part) and part not in (".", "..") for part in parts)
        and ":" not in parts[0]
    )
