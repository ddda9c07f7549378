"""Where a file that a user names may be written: not where a project, a library or git keeps its own files.

Names are compared without regard to capitals, as some systems take `Rooms.csv` for `rooms.csv`; and places as
they really are, whatever links lead to them.
"""

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.model.folder import FOLDERS, TOP_FILES, unexpected
from proposal.publish.files import unfit_outputs, write_outputs
from proposal.quantities.messages import printable
from proposal.resources import company_library, resource

_SCHEMA = "schema"  # a project's copies of the schemas, which `schema --write` writes
_MARK = "project.yaml"  # makes a folder a project
_LIBRARY_ENDING = ".yaml"


def write_user_files(
    files: Mapping[Path, bytes], projects: Iterable[Path] = (), library: Path | None = None
) -> None:
    """Write files that a user names.

    projects: folders of the projects that the files are made from.
    library: folder of a company's own library, as the call names it.
    Raises InputError with every file that may not be written, and OSError where one cannot be.
    """
    wrong = misplaced(files, tuple(projects), library)
    problems = {problem.place: problem for problem in (*unfit_outputs(files), *wrong)}.values()
    if problems:
        raise InputError(problems)
    write_outputs(files)


def misplaced(
    paths: Iterable[Path], projects: Sequence[Path] = (), library: Path | None = None
) -> list[Problem]:
    """Return a problem for each path that belongs to git, a project or a library.

    projects: folders of projects whose inputs the paths may be, wherever these lie.
    library: folder of a company's own library, as the call names it.
    """
    return [
        Problem(Place(printable(str(path))), "", f"wanted a place of its own; found {found}")
        for path in paths
        if (found := _owner(path, projects, library))
    ]


def _owner(path: Path, projects: Iterable[Path], library: Path | None) -> str:
    """Return to what else a path belongs, empty where to nothing."""
    real = Path(os.path.realpath(path.parent), path.name)
    if any(part.casefold() == ".git" for part in real.parts):
        return "the folder in which git keeps a repository"
    around = [one for one in real.parents if (one / _MARK).exists()]
    for project in around:
        if not _may_hold(real.relative_to(project)):
            inside = printable(real.relative_to(project).as_posix())
            return f"{inside} of the project {printable(project.name)}"
    if real.name.casefold().endswith(_LIBRARY_ENDING) and any(
        real.parent == Path(os.path.realpath(one)) for one in _library_folders(library)
    ):
        return "a file of a library"
    if _is_one_of(real, (one for project in (*around, *projects) for one in _inputs(project))):
        return "an input of the project under another name"
    return ""


def _may_hold(inside: Path) -> bool:
    """Say whether a project folder may hold a file that is not its own at a path inside it."""
    first, is_folder = inside.parts[0].casefold(), len(inside.parts) > 1
    if is_folder and first == _SCHEMA:
        return True
    return first not in {*FOLDERS, *TOP_FILES} and unexpected(first, is_folder) is None


def _library_folders(library: Path | None) -> Iterator[Path]:
    from proposal.model.loading import LABOUR
    from proposal.publish.record_inputs import SHARED_FOLDERS

    company = company_library(library)
    if company is not None:
        yield from (company, company / LABOUR)
    yield from (resource("shared") / name for name in SHARED_FOLDERS)


def _inputs(project: Path) -> Iterator[Path]:
    yield from (project / name for name in TOP_FILES)
    for name, endings in FOLDERS.items():
        if endings:
            with suppress(OSError):
                yield from (project / name).iterdir()


def _is_one_of(path: Path, others: Iterable[Path]) -> bool:
    """Say whether a path names one of the files that others name."""
    try:
        found = path.stat()
    except OSError:
        return False
    for other in others:
        with suppress(OSError):
            if os.path.samestat(found, other.stat()):
                return True
    return False
