"""The files of a project folder and of libraries: which are read, and why one cannot be."""

import os
import stat
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library_files import LibraryFile
from proposal.model.folder import (
    FOLDERS,
    NO_ROOM_TYPE,
    READ_FOLDERS,
    REQUIRED_FILES,
    TOP_FILES,
    unexpected,
)
from proposal.model.pictures.picture import wrong_picture
from proposal.model.reading.text_files import LARGEST_FILE
from proposal.quantities.messages import printable

LARGEST_IMAGE = 20_000_000
MOST_FILES = 2_000


def read_folder(folder: Path, problems: list[Problem]) -> dict[str, bytes] | None:
    """Return the content of every file of a project folder by its path, or None where it is no folder.

    problems: missing, unknown and unreadable files are added here, and links that lead out of the folder.
    """
    if not folder.is_dir():
        found = "a file" if folder.exists() else "nothing"
        problems.append(Problem(Place(printable(str(folder))), "", f"wanted a project folder; found {found}"))
        return None
    files: dict[str, bytes] = {}
    for path in _paths(folder, problems):
        if "/" in path or path in TOP_FILES:
            limit = LARGEST_IMAGE if path.startswith("images/") else LARGEST_FILE
            data = file_content(folder / path, path, limit, problems)
            if data is not None:
                files[path] = data
    noted = {problem.place.file for problem in problems}
    problems += [
        Problem(Place(name), "", "wanted this file; found none")
        for name in REQUIRED_FILES
        if name not in files and name not in noted
    ]
    if not any(path.startswith("room_types/") for path in (*files, *noted)):
        problems.append(Problem(Place("room_types"), "", NO_ROOM_TYPE))
    for path, data in files.items():
        if path.startswith("images/"):
            wrong_picture(path, data, problems)
    return files


def _paths(folder: Path, problems: list[Problem]) -> list[str]:
    """Return the paths of the files to read, relative to the folder, in order."""
    root = Path(os.path.realpath(folder))
    found: list[str] = []
    for name in ("", *READ_FOLDERS):
        if not Path(os.path.realpath(folder / name)).is_relative_to(root):
            # Said once, of the link itself.
            continue
        for entry in folder_entries(folder / name, name, problems):
            path = f"{name}/{entry.name}" if name else entry.name
            if entry.name.startswith(".") or entry.name.endswith("~"):
                continue
            target = Path(os.path.realpath(entry.path))
            if message := _out_of_place(path, target, root):
                problems.append(Problem(Place(printable(path)), "", message))
            elif not target.is_dir():
                found.append(path)
    if len(found) > MOST_FILES:
        message = f"wanted at most {MOST_FILES} files in a project folder; found {len(found)}"
        raise InputError([Problem(Place(printable(str(folder))), "", message)])
    return sorted(found)


def _out_of_place(path: str, target: Path, root: Path) -> str | None:
    """Return what is wrong with something that lies in a project folder, or None.

    path: relative to the folder.
    target: where it really lies; elsewhere for a link.
    root: where the folder really lies.
    """
    if message := unexpected(path, target.is_dir()):
        return message
    if "/" not in path and path not in (*TOP_FILES, *FOLDERS):
        return None
    if not path.isprintable():
        return "wanted a name of printable characters; found another"
    if not target.is_relative_to(root):
        return "wanted something inside the project folder; found a link that leads out of it"
    return None


def folder_entries(folder: Path, name: str, problems: list[Problem]) -> list[os.DirEntry[str]]:
    """Return what lies in a folder, in order of names; nothing where there is no such folder.

    name: of the folder in messages.
    problems: a folder that cannot be read is added here.
    """
    if name and not folder.is_dir():
        return []
    try:
        with os.scandir(folder) as entries:
            return sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        problems.append(Problem(Place(name or printable(str(folder))), "", _unreadable("folder", error)))
        return []


def file_content(path: Path, name: str, limit: int, problems: list[Problem]) -> bytes | None:
    """Return what a file holds, or None after adding why it cannot be read.

    name: of the file in messages.
    limit: largest size that is read, bytes.
    problems: where the reason is added.
    """
    try:
        # Opening a pipe would wait for its other end for ever.
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            problems.append(Problem(Place(printable(name)), "", "wanted a file; found something else"))
        elif kind.st_size > limit:
            found = f"{kind.st_size / 1e6:.1f} MB"
            message = f"wanted at most {limit // 1_000_000} MB; found {found}"
            problems.append(Problem(Place(printable(name)), "", message))
        else:
            return path.read_bytes()
    except OSError as error:
        problems.append(Problem(Place(printable(name)), "", _unreadable("file", error)))
    return None


def _unreadable(what: str, error: OSError) -> str:
    return f"wanted a {what} that can be read; found an obstacle: {error.strerror or 'unknown'}"


def library_folder(layer: Layer, folder: Path, name: str, problems: list[Problem]) -> list[LibraryFile]:
    """Return the library files of a folder, in order of their names; none where there is no such folder.

    layer: of the library, for all of them.
    name: of the folder in messages.
    problems: files that cannot be read are added here.
    """
    files: list[LibraryFile] = []
    for entry in folder_entries(folder, name, problems):
        if entry.name.endswith(".yaml") and not entry.name.startswith("."):
            path = f"{name}/{printable(entry.name)}"
            data = file_content(Path(entry.path), path, LARGEST_FILE, problems)
            if data is not None:
                files.append(LibraryFile(layer, path, data))
    return files
