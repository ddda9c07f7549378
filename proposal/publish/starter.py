"""Write the starter project."""

import shutil
import tempfile
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.resources import resource


def new_project(folder: Path) -> None:
    """Write the starter project into a folder that does not exist yet, whole or not at all.

    Raises InputError where something is there already, and OSError, which names the folder, where it
    cannot be written.
    """
    if folder.exists() or folder.is_symlink():
        found = "a folder" if folder.is_dir() else "a file"
        problem = Problem(Place(str(folder)), "", f"wanted a folder that does not exist yet; found {found}")
        raise InputError([problem])
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}."))
        try:
            shutil.copytree(resource("shared") / "starter", beside, dirs_exist_ok=True)
            beside.chmod(0o755)
            beside.rename(folder)
        except OSError:
            shutil.rmtree(beside, ignore_errors=True)
            raise
    except OSError as error:
        # The system would name the temporary folder.
        raise OSError(error.errno, error.strerror or str(error), str(folder)) from error
