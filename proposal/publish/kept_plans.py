"""Plans of carriers and slots that are kept from one build to the next: another word plans none again."""

import hashlib
from contextlib import AbstractContextManager, suppress
from functools import cached_property
from pathlib import Path

from proposal.publish.cache import Cache
from proposal.publish.program_folders import own_folders
from proposal.publish.program_version import program


class _Plans:
    """Plans in the cache of a project, under the key of what they follow from and of the program.

    The folder is looked at when a plan is first asked for, and so after the project was found to be good.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    @cached_property
    def _cache(self) -> Cache:
        return Cache(own_folders(self._folder).build / "cache")

    def found(self, key: str) -> bytes | None:
        """Return what is kept under a key, None where nothing is or where it cannot be read."""
        try:
            return self._cache.found(_key(key))
        except OSError:
            return None

    def keep(self, key: str, content: bytes) -> None:
        """Keep a plan under a key, where that can be done: the next build plans again where not."""
        with suppress(OSError):
            self._cache.keep(_key(key), content)


def radio_plans_kept(folder: Path) -> AbstractContextManager[None]:
    """Take plans from the cache of a project, and keep those that are made there, until the block ends.

    folder: the project folder.
    """
    from proposal.design.radio.slot_plans_once import plans_kept

    return plans_kept(_Plans(folder))


def _key(key: str) -> str:
    return hashlib.sha256(f"radio plan {key} {program()}".encode("ascii")).hexdigest()
