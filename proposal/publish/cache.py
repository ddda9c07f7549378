"""A cache of rendered files, so that a drawing that has not changed is not drawn again."""

import dataclasses
import datetime
import hashlib
import json
import os
from collections.abc import Callable, Iterable, Mapping
from collections.abc import Set as AbstractSet
from contextlib import suppress
from decimal import Decimal
from enum import Enum
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

from proposal.errors import InputError
from proposal.publish.cache_pruning import prune
from proposal.publish.files import replace
from proposal.publish.graph_program import engine_version
from proposal.publish.program_folders import OwnPath

_LIBRARIES = ("graphviz", "matplotlib")
_USED: dict[OwnPath, set[str]] = {}
"""What this process has used of each folder since it was last pruned."""


class Cache:
    """A folder of rendered files, each under the key of all that it was made from."""

    def __init__(self, folder: OwnPath) -> None:
        """Use a folder, which is made when something is first kept."""
        self.folder = folder
        self._used = _USED.setdefault(folder, set())

    def get_or(self, key: str, make: Callable[[], bytes]) -> bytes:
        """Return what is kept under a key, or make it and keep it.

        An entry that is not what was written is made again. A folder that cannot be written to costs
        time, never the result.
        """
        content = self.found(key)
        if content is None:
            content = make()
            self.keep(key, content)
        return content

    def found(self, key: str) -> bytes | None:
        """Return what is kept, None where nothing is, or where it is not what was written.

        key: as it was kept under.
        """
        content = _read(self._path(key))
        if content is not None:
            self._used.add(key)
        return content

    def keep(self, key: str, content: bytes) -> None:
        """Keep something; a folder that cannot be written to keeps nothing.

        key: of all that the content was made from.
        """
        self._used.add(key)
        _write(self._path(key), content)

    def used(self) -> frozenset[str]:
        """Return the keys of what this process has used since the cache was last pruned."""
        return frozenset(self._used)

    def add_used(self, keys: Iterable[str]) -> None:
        """Note what another process has used.

        keys: of it.
        """
        self._used.update(keys)

    def prune(self) -> None:
        """Delete what no build has used for long; what this process has used since the last pruning stays.

        Called once a build, while no other run builds there.
        """
        prune(self.folder, self._used)
        self._used.clear()

    def _path(self, key: str) -> OwnPath:
        return self.folder / f"{key[:2]}/{key}"


def drawing_key(kind: str, spec: object) -> str:
    """Return the key of a drawing: SHA-256 of its kind, its spec and the versions of all that draws it.

    spec: a frozen dataclass of plain values; equal specs have one key.
    Raises TypeError for a value that has no canonical form.
    """
    form = json.dumps([kind, _drawers(), canonical(spec)], ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(form.encode("utf-8")).hexdigest()


def key_within(key: str, part: str) -> str:
    """Return the key of something that follows from what has a key, told apart by a name.

    key: of all that it follows from.  part: the name.
    """
    return hashlib.sha256(f"{key} {part}".encode()).hexdigest()


def canonical(value: object) -> object:
    """Return a value as lists, texts and numbers of JSON, the same for equal values in any run.

    Each kind is named, so that 1, "1" and True never stand for one another.
    Raises TypeError for what has no such form.
    """
    if value is None or isinstance(value, bool | str):
        return value
    if isinstance(value, Enum):
        return ["enum", type(value).__name__, value.name]
    if isinstance(value, int | float | Decimal):
        return ["number", type(value).__name__, repr(value)]
    if isinstance(value, bytes):
        return ["bytes", value.hex()]
    if isinstance(value, datetime.date | datetime.time):
        return ["date", value.isoformat()]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = [[field.name, canonical(getattr(value, field.name))] for field in dataclasses.fields(value)]
        return ["value", type(value).__name__, fields]
    if isinstance(value, Mapping):
        pairs = [[canonical(key), canonical(item)] for key, item in value.items()]
        return ["mapping", sorted(pairs, key=json.dumps)]
    if isinstance(value, AbstractSet):
        return ["set", sorted((canonical(item) for item in value), key=json.dumps)]
    if isinstance(value, list | tuple):
        return ["list", [canonical(item) for item in value]]
    raise TypeError(f"a drawing's spec holds a {type(value).__name__}, which has no canonical form")


@lru_cache(maxsize=1)
def _drawers() -> list[str]:
    """Return the versions of the libraries and the digest of our own code that draws."""
    package = Path(__file__).resolve().parent.parent
    code = hashlib.sha256()
    for path in sorted([*(package / "drawings").rglob("*.py"), package / "publish" / "graph_program.py"]):
        name = path.relative_to(package).as_posix()
        code.update(name.encode("utf-8") + b"\0" + path.read_bytes() + b"\0")
    return [
        f"proposal {code.hexdigest()}",
        engine_version(),
        *(f"{library} {version(library)}" for library in _LIBRARIES),
    ]


def _read(path: OwnPath) -> bytes | None:
    try:
        kept = path.read()
    except (OSError, InputError):
        return None
    digest, _, content = (kept or b"").partition(b"\n")
    return content if digest == _digest(content) else None


def _write(path: OwnPath, content: bytes) -> None:
    # Two runs may keep the same thing at the same time.
    staged = path.above / f".{os.urandom(8).hex()}"
    with suppress(OSError, InputError):
        replace(path, _digest(content) + b"\n" + content, staged)


def _digest(content: bytes) -> bytes:
    return hashlib.sha256(content).hexdigest().encode("ascii")
