"""What computes and shows: our own code, and what is installed beside it."""

import hashlib
import os
import platform
import sys
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

_COMPUTING = ("highspy", "networkx", "numpy", "pydantic", "shapely")


@lru_cache(maxsize=1)
def program() -> str:
    """Return SHA-256 of our own code, with the versions of the libraries that compute with it."""
    told = hashlib.sha256(code().encode("ascii"))
    for library in _COMPUTING:
        told.update(f"{library} {version(library)}\0".encode())
    return told.hexdigest()


def code() -> str:
    """Return SHA-256 of our own code as it lies on the disk."""
    package = Path(__file__).resolve().parent.parent
    told = hashlib.sha256()
    for path in sorted(package.rglob("*.py")):
        told.update(path.relative_to(package).as_posix().encode("utf-8") + b"\0" + path.read_bytes() + b"\0")
    return told.hexdigest()


def installation() -> list[str]:
    """Return what tells one installation from another: interpreter, machine, each package's version."""
    packages = {
        name
        for place in sys.path
        if os.path.isdir(place)
        for name in os.listdir(place)
        if name.endswith((".dist-info", ".egg-info"))
    }
    return [sys.version, str(sys.flags), platform.platform(), sys.executable, *sys.path, *sorted(packages)]
