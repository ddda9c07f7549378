"""Write the starter project."""

import os
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.publish.files import write_new_folder
from proposal.publish.output_paths import misplaced
from proposal.publish.program_folders import kind_of
from proposal.publish.record import files_below
from proposal.quantities.messages import printable
from proposal.resources import resource


def new_project(folder: Path) -> None:
    """Write the starter project into a folder that does not exist yet, whole or not at all.

    Raises InputError where something is there already, or a project may not lie there, and OSError, which
    names the folder, where it cannot be written.
    """
    if os.path.lexists(folder):
        found = kind_of(os.lstat(folder))
        beside = folder / "proposal" if found == "a folder" else folder.with_name("proposal")
        instead = printable(str(beside))
        _refuse(folder, f"wanted a folder that does not exist yet, such as {instead}; found {found}")
    if not folder.name.isprintable():
        _refuse(folder, "wanted a name of printable characters; found others")
    problems = misplaced([folder / "project.yaml"])
    if problems:
        raise InputError(problems)
    starter = resource("shared") / "starter"
    write_new_folder(folder, {path: file.read_bytes() for path, file in files_below(starter).items()})


def _refuse(folder: Path, message: str) -> None:
    raise InputError([Problem(Place(printable(str(folder))), "", message)])
