"""A project folder and the equipment libraries, read from disk into a checked project."""

import os
import stat
from importlib.util import find_spec
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.model.checking import checked
from proposal.model.entry import Layer
from proposal.model.folder import (
    FOLDERS,
    READ_FOLDERS,
    REQUIRED_FILES,
    TOP_FILES,
    ProjectTree,
    project_tree,
    unexpected,
)
from proposal.model.libraries import LibraryFile
from proposal.model.messages import printable
from proposal.model.pictures import wrong_picture
from proposal.model.project import Project
from proposal.model.radio import RadioLosses
from proposal.model.radio_files import read_radio_losses
from proposal.model.standing import Standing
from proposal.model.standing_files import read_standing
from proposal.model.text_files import LARGEST_FILE
from proposal.resources import resource

SHARED_LIBRARY = ("equipment", "materials")
LABOUR = "labour"
LIBRARY_VARIABLE = "PROPOSAL_LIBRARY"
LARGEST_IMAGE = 20_000_000
MOST_FILES = 2_000


def load_project(folder: Path, *, library: Path | None = None) -> Project:
    """Return the project that a folder holds, checked.

    folder: the project folder.
    library: folder of a company's own equipment library; left out, the one that the environment variable
        PROPOSAL_LIBRARY names, if any.
    Raises InputError with every problem of every file.
    """
    problems: list[Problem] = []
    files = read_folder(folder, problems)
    if files is None:
        raise InputError(problems)
    written = project_tree(files, problems)
    libraries = _library_files(written, library, problems)
    labour = _labour_files(library, problems)
    return checked(written, libraries, labour, problems, _is_locale, standing_wording(), radio_losses())


def standing_wording() -> Standing:
    """Return the cautions, scope, exclusions and duties of the shared wording."""
    problems: list[Problem] = []
    files: dict[str, bytes] = {}
    for name in Standing.model_fields:
        file = f"shared/wording/{name}.yaml"
        data = _content(resource("shared") / "wording" / f"{name}.yaml", file, LARGEST_FILE, problems)
        if data is not None:
            files[file] = data
    if problems:
        raise InputError(problems)
    return read_standing(tuple(files.items()))


def radio_losses() -> RadioLosses:
    """Return the shared table of what radio loses at walls and floors."""
    problems: list[Problem] = []
    file = "shared/radio/walls.yaml"
    data = _content(resource("shared") / "radio" / "walls.yaml", file, LARGEST_FILE, problems)
    if data is None:
        raise InputError(problems)
    return read_radio_losses(file, data)


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
            data = _content(folder / path, path, limit, problems)
            if data is not None:
                files[path] = data
    noted = {problem.place.file for problem in problems}
    problems += [
        Problem(Place(name), "", "wanted this file; found none")
        for name in REQUIRED_FILES
        if name not in files and name not in noted
    ]
    if not any(path.startswith("room_types/") for path in (*files, *noted)):
        message = "wanted at least one room type, such as room_types/meeting_room.yaml; found none"
        problems.append(Problem(Place("room_types"), "", message))
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
        for entry in _entries(folder / name, name, problems):
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


def _entries(folder: Path, name: str, problems: list[Problem]) -> list[os.DirEntry[str]]:
    """Return what lies in a folder, nothing where there is no such folder."""
    if name and not folder.is_dir():
        return []
    try:
        with os.scandir(folder) as entries:
            return sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        problems.append(Problem(Place(name or printable(str(folder))), "", _unreadable("folder", error)))
        return []


def _content(path: Path, name: str, limit: int, problems: list[Problem]) -> bytes | None:
    """Return what a file holds, or None after adding why it cannot be read."""
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


def _library_files(written: ProjectTree, company: Path | None, problems: list[Problem]) -> list[LibraryFile]:
    """Return the files of the three layers, lowest layer first."""
    found: list[LibraryFile] = []
    for name in SHARED_LIBRARY:
        found += _library_folder("shared", resource("shared") / name, f"shared/{name}", problems)
    company = _company_folder(company)
    if company is not None:
        shown_as = printable(str(company))
        files = _library_folder("company", company, shown_as, problems) if company.is_dir() else []
        if not files and not (company / LABOUR).is_dir():
            what = "none in it" if company.is_dir() else "a file" if company.exists() else "nothing"
            message = f"wanted a folder with library files (.yaml); found {what}"
            problems.append(Problem(Place(shown_as), "", message))
        found += files
    return found + [LibraryFile("project", name, data) for name, data in written.library.items()]


def _company_folder(named: Path | None) -> Path | None:
    """Return the folder of a company's own library: as named, else as the environment names it."""
    variable = os.environ.get(LIBRARY_VARIABLE)
    return named if named is not None or not variable else Path(variable)


def _labour_files(company: Path | None, problems: list[Problem]) -> list[LibraryFile]:
    """Return the files of the labour data: the shared ones, then those in a company's `labour/`."""
    found = _library_folder("shared", resource("shared") / LABOUR, f"shared/{LABOUR}", problems)
    company = _company_folder(company)
    if company is not None and (company / LABOUR).is_dir():
        name = f"{printable(str(company))}/{LABOUR}"
        found += _library_folder("company", company / LABOUR, name, problems)
    return found


def _library_folder(layer: Layer, folder: Path, name: str, problems: list[Problem]) -> list[LibraryFile]:
    files: list[LibraryFile] = []
    for entry in _entries(folder, name, problems):
        if entry.name.endswith(".yaml") and not entry.name.startswith("."):
            path = f"{name}/{printable(entry.name)}"
            data = _content(Path(entry.path), path, LARGEST_FILE, problems)
            if data is not None:
                files.append(LibraryFile(layer, path, data))
    return files


def _is_locale(locale: str) -> bool:
    """Say whether Babel has data for a locale, without importing it."""
    babel = find_spec("babel")
    if babel is None or babel.origin is None:
        return True
    data = Path(babel.origin).parent / "locale-data"
    language, _, country = locale.partition("_")
    # Where a language has two scripts, its data is filed by script: zh_Hant_TW for zh_TW.
    names = (f"{locale}.dat", f"{language}_*_{country}.dat")
    return any(any(data.glob(name)) for name in names)
