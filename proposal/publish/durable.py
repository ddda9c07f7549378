"""Files that are on the disk before anything is said to be done."""

import os
from pathlib import Path


def write_all(files: dict[str, bytes], folder: Path) -> None:
    """Write files below a folder, by their path within it."""
    for path, content in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)


def settle(folder: Path) -> None:
    """Wait until the disk holds everything below a folder, as far as the system can say.

    Afterwards the folder can be renamed, and is whole whenever the power fails.
    """
    for path in sorted(folder.rglob("*"), reverse=True):
        _settle_one(path)
    _settle_one(folder)


def settle_folder(folder: Path) -> None:
    """Wait until the disk holds the names in a folder."""
    _settle_one(folder)


def _settle_one(path: Path) -> None:
    if path.is_dir() and os.name != "posix":
        return  # other systems do not open folders
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
