"""Write the starter project."""

import shutil
import tempfile
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.resources import resource


def new_project(folder: Path) -> None:
    """Write the starter project into a folder that does not exist yet, whole or not at all.

    Raises InputError where something is there already.
    """
    if folder.exists() or folder.is_symlink():
        raise InputError(
            [Problem(Place(str(folder)), "", "wanted a folder that does not exist yet, found one")]
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}."))
    try:
        shutil.copytree(resource("shared") / "starter", beside, dirs_exist_ok=True)
        beside.chmod(0o755)
        beside.rename(folder)
    except OSError:
        shutil.rmtree(beside, ignore_errors=True)
        raise
