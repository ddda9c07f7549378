"""What computes and shows: our own code, and what is installed beside it."""

import hashlib
import os
import platform
import sys
from functools import lru_cache
from importlib.metadata import version

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
    package = os.path.dirname(os.path.dirname(os.path.realpath(__file__)))
    paths = [
        os.path.join(place, name)
        for place, _, names in os.walk(package)
        for name in names
        if name.endswith(".py")
    ]
    told = hashlib.sha256()
    for path in sorted(paths):
        told.update(path.removeprefix(package).replace(os.sep, "/").encode("utf-8") + b"\0")
        with open(path, "rb", buffering=0) as source:
            told.update(source.read() + b"\0")
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
