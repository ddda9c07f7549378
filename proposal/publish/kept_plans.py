"""Plans of carriers and slots that are kept from one build to the next: another word plans none again."""

import hashlib
from contextlib import AbstractContextManager
from pathlib import Path

from proposal.publish.cache import Cache
from proposal.publish.program_folders import own_folders
from proposal.publish.program_version import program


class _Plans:
    """Plans in the cache of a project, under the key of what they follow from and of the program."""

    def __init__(self, cache: Cache) -> None:
        self._cache = cache

    def found(self, key: str) -> bytes | None:
        """Return what is kept under a key, None where nothing is."""
        return self._cache.found(_key(key))

    def keep(self, key: str, content: bytes) -> None:
        """Keep a plan under a key."""
        self._cache.keep(_key(key), content)


def radio_plans_kept(folder: Path) -> AbstractContextManager[None]:
    """Take plans from the cache of a project, and keep those that are made there, until the block ends.

    folder: the project folder.
    """
    from proposal.design.radio.slot_plans_once import plans_kept

    return plans_kept(_Plans(Cache(own_folders(folder).build / "cache")))


def _key(key: str) -> str:
    return hashlib.sha256(f"radio plan {key} {program()}".encode("ascii")).hexdigest()
