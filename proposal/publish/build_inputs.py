"""All that a build reads, as one key: where it is the same, so is everything that the build makes and says.

Read are the project folder without what the program itself writes there, a company's library, the data, the
templates and the settings that ship with the program, the program and all that is installed beside it, and
what of the environment has a say. Whatever is unusual, a link or another graph program, has no key.
"""

import hashlib
import json
import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice
from pathlib import Path
from typing import NamedTuple

from proposal.field_classes import dataclass
from proposal.publish.program_folders import BUILD, FILE, FOLDER, ISSUED, PUBLISHED, kind_of
from proposal.publish.program_version import code, installation
from proposal.resources import company_library, resource

_SHIPPED = ("shared", "templates", "mkdocs.yml")
_TELLING = ("LANG", "LC_", "MKDOCS", "PROPOSAL_", "PYTHON", "SOURCE_DATE_EPOCH", "TZ")
"""How the names of variables begin that can change what a build makes or says."""
_FOREIGN = ("PROPOSAL_DOT",)
"""Variables that name other programs, of which nobody knows when they change."""
_MOST_FILES = 20_000


@dataclass(frozen=True, slots=True)
class BuildInputs:
    """What a build reads.

    key: SHA-256 of it.
    times: when the files were written: whether one was written while others were read.
    """

    key: str
    times: str


class _UnusualError(Exception):
    """Something is there of which a key would not tell enough."""


class _Found(NamedTuple):
    """A file or a folder.

    name: of it, with its place.  content: SHA-256 of a file.  written: when a file was.
    """

    name: str
    content: str = ""
    written: str = ""


def build_inputs(folder: Path, library: Path | None, options: Sequence[str]) -> BuildInputs | None:
    """Return what a build of a project reads, None where something is unusual.

    folder: the project folder.
    library: folder of a company's own library, as the call names it.
    options: what else the call names.
    """
    if any(os.environ.get(name) for name in _FOREIGN):
        return None
    company = company_library(library)
    places = [(name, resource(name)) for name in _SHIPPED]
    if company is not None:
        places.append(("company", company))
    try:
        found = [one for name, place in places for one in _below(place, name)]
        found += _below(folder, "project", _is_of_the_project)
        told = [
            [os.path.realpath(folder), *options],
            [[name, str(place)] for name, place in places],
            [code(), *installation()],
            [pair for pair in sorted(os.environ.items()) if pair[0].startswith(_TELLING)],
            [[one.name, one.content] for one in found],
        ]
    except (_UnusualError, OSError):
        return None
    return BuildInputs(_digest(told), _digest([one.written for one in found]))


def files_digest(places: Iterable[Path]) -> str | None:
    """Return SHA-256 of some files and folders with all in them, None where something is unusual."""
    try:
        return _digest([[one.name, one.content] for place in places for one in _below(place, place.name)])
    except (_UnusualError, OSError):
        return None


def _digest(told: object) -> str:
    return hashlib.sha256(json.dumps(told).encode("ascii")).hexdigest()


def _below(top: Path, name: str, counts: Callable[[str], bool] = lambda _: True) -> list[_Found]:
    """Return a file, or a folder and what is in it; the place itself may be led to by links.

    counts: whether something in the folder does, by its path there.
    """
    found = list(islice(_walked(os.path.realpath(top), "", counts), _MOST_FILES + 1))
    if len(found) > _MOST_FILES:
        raise _UnusualError
    return [one._replace(name=f"{name}/{one.name}") for one in found]


def _walked(place: str, name: str, counts: Callable[[str], bool]) -> Iterator[_Found]:
    status = os.stat(place, follow_symlinks=False)
    kind = kind_of(status)
    if kind == FILE:
        content = hashlib.sha256(Path(place).read_bytes()).hexdigest()
        yield _Found(name, content, f"{status.st_ino} {status.st_mtime_ns} {status.st_ctime_ns}")
    elif kind == FOLDER:
        yield _Found(f"{name}/")
        for entry in sorted(os.listdir(place)):
            inner = f"{name}/{entry}" if name else entry
            if counts(inner):
                yield from _walked(os.path.join(place, entry), inner, counts)
    else:
        raise _UnusualError


def _is_of_the_project(path: str) -> bool:
    """Say whether a build may read a file or folder of a project.

    path: within the project folder.
    """
    names = path.split("/")
    if names[-1].startswith("."):
        return names[0] == ISSUED  # in a record everything counts
    return path not in (BUILD, PUBLISHED)
