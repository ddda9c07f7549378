"""A project folder and the equipment libraries, read from disk into a checked project."""

import os
import stat
from collections.abc import Iterator, Mapping
from importlib.util import find_spec
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.model import tree as trees
from proposal.model.assumptions import assumptions_and_questions
from proposal.model.checks import wrong_tags, wrong_values
from proposal.model.complaints import problems_of
from proposal.model.folder import (
    FOLDERS,
    READ_FOLDERS,
    REQUIRED_FILES,
    TOP_FILES,
    TYPES,
    ProjectTree,
    project_tree,
    unexpected,
)
from proposal.model.libraries import LibraryFile, resolved_library
from proposal.model.messages import shown, wanted_one_of
from proposal.model.pictures import wrong_picture
from proposal.model.project import Fixed, Project
from proposal.model.references import dangling
from proposal.model.rooms import Room, RoomType
from proposal.model.text_files import LARGEST_FILE
from proposal.model.yaml_tree import read_yaml
from proposal.resources import resource

_NOTHING: Mapping[str, Any] = {}
_NO_LAYOUT = RoomType.model_construct(**_NOTHING)
_Model = TypeVar("_Model", bound=BaseModel)

SHARED_LIBRARY = ("equipment", "materials")
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
    return checked(written, _library_files(written, library, problems), problems)


def read_folder(folder: Path, problems: list[Problem]) -> dict[str, bytes] | None:
    """Return the content of every file of a project folder by its path, or None where it is no folder.

    problems: missing, unknown and unreadable files are added here, and links that lead out of the folder.
    """
    if not folder.is_dir():
        found = "a file" if folder.exists() else "nothing"
        problems.append(Problem(Place(shown(str(folder))), "", f"wanted a project folder; found {found}"))
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
        for entry in _entries(folder / name, name, problems):
            path = f"{name}/{entry.name}" if name else entry.name
            if entry.name.startswith(".") or entry.name.endswith("~"):
                continue
            target = Path(os.path.realpath(entry.path))
            is_folder = target.is_dir()
            if message := unexpected(path, is_folder):
                problems.append(Problem(Place(shown(path)), "", message))
            elif not target.is_relative_to(root):
                if name or entry.name in (*TOP_FILES, *FOLDERS):
                    message = "wanted something inside the project folder; found a link that leads out of it"
                    problems.append(Problem(Place(path), "", message))
            elif not is_folder:
                found.append(path)
    if len(found) > MOST_FILES:
        message = f"wanted at most {MOST_FILES} files in a project folder; found {len(found)}"
        problems.append(Problem(Place(shown(str(folder))), "", message))
    return sorted(found[:MOST_FILES])


def _entries(folder: Path, name: str, problems: list[Problem]) -> list[os.DirEntry[str]]:
    """Return what lies in a folder, nothing where there is no such folder."""
    if name and not folder.is_dir():
        return []
    try:
        with os.scandir(folder) as entries:
            return sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        problems.append(Problem(Place(name or shown(str(folder))), "", _unreadable("folder", error)))
        return []


def _content(path: Path, name: str, limit: int, problems: list[Problem]) -> bytes | None:
    """Return what a file holds, or None after adding why it cannot be read."""
    try:
        # Opening a pipe would wait for its other end for ever.
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            problems.append(Problem(Place(shown(name)), "", "wanted a file; found something else"))
        elif kind.st_size > limit:
            found = f"{kind.st_size / 1e6:.1f} MB"
            message = f"wanted at most {limit // 1_000_000} MB; found {found}"
            problems.append(Problem(Place(shown(name)), "", message))
        else:
            return path.read_bytes()
    except OSError as error:
        problems.append(Problem(Place(shown(name)), "", _unreadable("file", error)))
    return None


def _unreadable(what: str, error: OSError) -> str:
    return f"wanted a {what} that can be read; found an obstacle: {error.strerror or 'unknown'}"


def _library_files(written: ProjectTree, company: Path | None, problems: list[Problem]) -> list[LibraryFile]:
    """Return the files of the three layers, lowest layer first."""
    found = [
        LibraryFile("shared", content)
        for folder in ("equipment", "materials")
        for content in _library_folder(resource("shared") / folder, f"shared/{folder}", problems)
    ]
    named = os.environ.get(LIBRARY_VARIABLE)
    if company is None and named:
        company = Path(named)
    if company is not None:
        shown_as = shown(str(company))
        if company.is_dir():
            contents = _library_folder(company, shown_as, problems)
            if not contents:
                message = "wanted a folder with library files (.yaml); found none in it"
                problems.append(Problem(Place(shown_as), "", message))
            found += [LibraryFile("company", content) for content in contents]
        else:
            what = "a file" if company.exists() else "nothing"
            message = f"wanted a folder with library files (.yaml); found {what}"
            problems.append(Problem(Place(shown_as), "", message))
    found += [LibraryFile("project", content) for content in written.library.values()]
    return found


def _library_folder(folder: Path, name: str, problems: list[Problem]) -> list[trees.Mapping]:
    contents: list[trees.Mapping] = []
    for entry in _entries(folder, name, problems):
        if entry.name.endswith(".yaml") and not entry.name.startswith("."):
            path = f"{name}/{entry.name}"
            data = _content(Path(entry.path), path, LARGEST_FILE, problems)
            content = read_yaml(data, path, problems) if data is not None else None
            if content is not None:
                contents.append(content)
    return contents


def checked(written: ProjectTree, libraries: list[LibraryFile], problems: list[Problem]) -> Project:
    """Return the project that an untyped tree says, or raise InputError with everything that is wrong.

    written: what the folder says.
    libraries: library files, lowest layer first.
    problems: what was wrong with the files already.
    """
    library, codes = resolved_library(libraries, problems)
    tops = _validated(written, problems)
    plain: Mapping[str, Any] = trees.plain(written.tree)
    for reference in dangling(plain, codes):
        # A name may stand in a file that could not be read.
        if reference.known or not written.broken:
            message = wanted_one_of(reference.found, reference.known, reference.wanted)
            is_key = reference.found == reference.path[-1]
            problems.append(_problem(written.tree, reference.path, message, key=is_key))
    for path, message in wrong_tags(plain):
        problems.append(_problem(written.tree, path, message, key=True))
    for path, message in wrong_values(tops, tuple(written.images), _is_locale):
        problems.append(_problem(written.tree, path, message, key=False))
    if not tops["rooms"] and ("rooms",) not in written.broken:
        problems.append(Problem(Place("rooms.csv"), "", "wanted at least one room; found none"))
    if problems or library is None:
        raise InputError(problems)
    assumptions, questions = assumptions_and_questions(tops, written.unknown)
    return Project(
        brief=tops["project"],
        building=tops["building"],
        room_types=tops["room_types"],
        rooms=tops["rooms"],
        fixed=tops["fixed"],
        wording=written.wording,
        images=written.images,
        library=library,
        assumptions=assumptions,
        questions=questions,
        places=dict(trees.places(written.tree)) | dict(written.unknown),
    )


def _validated(written: ProjectTree, problems: list[Problem]) -> dict[str, Any]:
    """Return what of the project is good, by first key, adding what is wrong with the rest."""
    tops: dict[str, Any] = {"fixed": Fixed()}
    for name in ("project", "building", "fixed"):
        node = written.tree.get(name)
        if node is not None and (name,) not in written.broken:
            part = _valid(TYPES[name], node, (name,), written, problems)
            if part is not None:
                tops[name] = part
    room_types: dict[str, RoomType] = {}
    for name, node in _entries_of(written.tree, "room_types"):
        if ("room_types", name) not in written.broken:
            layout = _valid(RoomType, node, ("room_types", name), written, problems)
            if layout is not None:
                room_types[name] = layout
    rooms: dict[str, Room] = {}
    for tag, node in _entries_of(written.tree, "rooms"):
        given: dict[str, Any] = {}
        if trees.step(node, "layout") is None:
            type_name = trees.step(node, "type")
            found = room_types.get(type_name.value) if isinstance(type_name, trees.Text) else None
            # Rooms share their type's layout; one that failed has been complained about where it stands.
            given["layout"] = found or _NO_LAYOUT
        room = _valid(Room, node, ("rooms", tag), written, problems, given)
        if room is not None:
            rooms[tag] = room
    return {**tops, "room_types": room_types, "rooms": rooms}


def _valid(
    model: type[_Model],
    node: trees.Node,
    path: trees.Path,
    written: ProjectTree,
    problems: list[Problem],
    given: Mapping[str, Any] | None = None,
) -> _Model | None:
    """Return a validated part of the project, or None after adding what is wrong with it."""
    try:
        return model.model_validate({**trees.plain(node), **(given or {})})
    except ValidationError as error:
        problems += problems_of(error, model, node, written.unknown, field_name, path)
        return None


def _entries_of(tree: trees.Mapping, name: str) -> Iterator[tuple[str, trees.Node]]:
    node = tree.get(name)
    if isinstance(node, trees.Mapping):
        for key, (_, inner) in node.entries.items():
            yield key, inner


def _problem(tree: trees.Mapping, path: trees.Path, message: str, *, key: bool) -> Problem:
    place = trees.place_of(tree, path, key=key)
    return Problem(place, field_name(path, place), message)


def field_name(path: trees.Path, place: Place) -> str:
    """Return a field's dotted name as its own file has it, entries of lists counted from 1."""
    if path[:1] == ("rooms",):
        inside = path[3:] if path[2:3] == ("layout",) else path[2:]
    else:
        inside = path[2:] if path[:1] == ("room_types",) else path[1:]
    return shown_path(inside) if inside else ""


def shown_path(path: trees.Path) -> str:
    """Return a path as text, entries of lists counted from 1."""
    return shown(".".join(str(part + 1) if isinstance(part, int) else part for part in path))


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
