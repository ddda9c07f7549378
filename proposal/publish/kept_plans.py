"""Plans of carriers and slots kept from one build to the next, so that a changed word needs no new plan."""

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cached_property
from pathlib import Path

from proposal.publish.cache import Cache
from proposal.publish.program_folders import own_folders
from proposal.publish.program_version import program


class _Plans:
    """Plans in the cache of a project, under the key of what they follow from and of the program.

    The folder is looked at when a plan is first asked for, and so after the project was found to be good.
    Plans that are made are written when all is done: what fails leaves nothing behind.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._made: dict[str, bytes] = {}

    @cached_property
    def _cache(self) -> Cache:
        return Cache(own_folders(self._folder).build / "cache")

    def found(self, key: str) -> bytes | None:
        """Return what is kept under a key, None where nothing is or where it cannot be read."""
        try:
            return self._made.get(key) or self._cache.found(_key(key))
        except OSError:
            return None

    def keep(self, key: str, content: bytes) -> None:
        """Keep a plan under a key."""
        self._made[key] = content

    def write(self) -> None:
        """Write what was made, where that can be done: the next build plans again where not."""
        with suppress(OSError):
            for key, content in self._made.items():
                self._cache.keep(_key(key), content)


@contextmanager
def radio_plans_kept(folder: Path) -> Iterator[None]:
    """Take plans from a project's cache, and add new ones to it when the block ends without an error.

    folder: the project folder.
    """
    from proposal.design.radio.slot_plans_once import plans_kept

    plans = _Plans(folder)
    with plans_kept(plans):
        yield
    plans.write()


def _key(key: str) -> str:
    return hashlib.sha256(f"radio plan {key} {program()}".encode("ascii")).hexdigest()
