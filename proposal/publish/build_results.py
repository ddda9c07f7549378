"""How a build ended: what it printed and its exit status, kept under the key of all that it read.

A build whose key is known, and whose sites lie where it put them, byte for byte, need not be done again: it
would make the same and say the same.
"""

import json
import os
from collections.abc import Sequence
from pathlib import Path

from proposal.field_classes import dataclass
from proposal.publish.build_inputs import BuildInputs, build_inputs, files_digest
from proposal.publish.cache import Cache
from proposal.publish.folder_replacement import swapped_in, unfinished
from proposal.publish.program_folders import FILE, OwnPath, own_folders, refuse_in_the_way
from proposal.publish.project_lock import undisturbed

_MADE = ("markdown", "mkdocs.yml", "site")
_FRONT_PAGE = "index.html"


@dataclass(frozen=True, slots=True)
class Ending:
    """How a build ended.

    lines: what it printed of its findings.  status: its exit status.
    """

    lines: tuple[str, ...]
    status: int


class KnownBuild:
    """One call of `build`: what is known of how it ends, and what is to be kept of it."""

    def __init__(
        self,
        folder: Path,
        library: Path | None,
        readers: Sequence[str],
        revision: str | None,
        *,
        paper: bool = False,
    ) -> None:
        """Look at all that the build is going to read.

        folder: the project folder.
        library: folder of a company's own library, as the call names it.
        readers: whose editions.
        revision: what the call names it; None for what the project says.
        paper: whether each edition is made as one PDF, too.
        """
        options = ["" if revision is None else f"revision {revision}", "with a PDF" if paper else ""]
        self._call = (folder, library, [*readers, *options])
        self._readers = tuple(readers)
        self._before = build_inputs(*self._call) if os.path.isdir(folder) else None
        self._placed: str | None = None

    def ending(self) -> Ending | None:
        """Return how the build ends, None where it has to be done.

        Raises what the build would raise of what lies in the way, or of another run that is at work.
        """
        if self._before is None:
            return None
        build = self._build()
        kept = _kept(Cache(build / "cache"), self._before)
        if kept is None:
            return None
        ending, placed = kept
        refuse_in_the_way([build, *(place for one in self._readers for place in swapped_in(build / one))])
        with undisturbed(build):
            return ending if placed == self._files() else None

    def placed(self) -> None:
        """Note the sites as the build has just put them; called while no other run can write."""
        self._placed = self._files() if self._before is not None else None

    def keep(self, ending: Ending) -> None:
        """Keep how the build ended, unless something that it read has changed meanwhile."""
        if (
            self._before is not None
            and self._placed is not None
            and build_inputs(*self._call) == self._before
        ):
            held = {"lines": ending.lines, "status": ending.status, "placed": self._placed}
            Cache(self._build() / "cache").keep(self._before.key, json.dumps(held).encode("ascii"))

    def _build(self) -> OwnPath:
        return own_folders(self._call[0]).build

    def _files(self) -> str | None:
        """Return SHA-256 of everything that the build places, None where something is unusual."""
        build = self._build()
        if any(unfinished(place) for place in (build, *(build / one for one in self._readers))):
            return None
        if (build / _FRONT_PAGE).kind() != FILE:
            return None
        made = [(build / one / name).path for one in self._readers for name in _MADE]
        return files_digest([(build / _FRONT_PAGE).path, *made])


def _kept(cache: Cache, inputs: BuildInputs) -> tuple[Ending, str] | None:
    """Return an ending that is kept, with the digest of what was placed; None where none can be read."""
    content = cache.found(inputs.key)
    try:
        held = json.loads(content or b"null")
        lines, status, placed = held["lines"], held["status"], held["placed"]
        return Ending(tuple(str(line) for line in lines), int(status)), str(placed)
    except (ValueError, LookupError, TypeError):
        return None
