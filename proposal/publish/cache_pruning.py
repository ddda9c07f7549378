"""Delete from a cache what no build has used for long, or what is too much, the longest unused first.

When something was last used is counted in builds, never by the clock: the same builds keep the same.
"""

import json
import re
from collections.abc import Collection
from contextlib import suppress

from proposal.errors import InputError
from proposal.publish.files import remove, remove_empty, replace
from proposal.publish.program_folders import FOLDER, OwnPath

MOST_BYTES = 512 * 1024 * 1024
MOST_BUILDS = 200
"""After how many builds that did not use it something is deleted."""
_LEDGER = "used.json"
_FOLDER, _KEY = re.compile(r"[0-9a-f]{2}"), re.compile(r"[0-9a-f]{64}")


def prune(
    folder: OwnPath, used: Collection[str], most_bytes: int = MOST_BYTES, most_builds: int = MOST_BUILDS
) -> None:
    """Count one more build, and delete what is unused for too long, or too much.

    folder: of the cache. Only files in it that are named as those of a cache are counted and deleted.
    used: keys of what the build has used.
    most_bytes: how much may stay [B].
    most_builds: after how many builds something unused goes.
    A folder that cannot be read or written to stays as it is.
    """
    with suppress(OSError, InputError):
        build, last = _read(folder)
        build += 1
        sizes = {
            name: size
            for inner in folder.names()
            if _FOLDER.fullmatch(inner) and (folder / inner).kind() == FOLDER
            for name, size in (folder / inner).sizes().items()
            if _KEY.fullmatch(name) and name.startswith(inner)
        }
        last = {key: build if key in used else min(last.get(key, build), build) for key in sizes}
        left = sum(sizes.values())
        for key in sorted(sizes, key=lambda key: (last[key], key)):
            if left <= most_bytes and build - last[key] < most_builds:
                break
            remove(folder / key[:2] / key)
            left -= sizes[key]
            del last[key]
        for inner in {key[:2] for key in sizes}:
            remove_empty(folder / inner)
        told = json.dumps({"build": build, "used": dict(sorted(last.items()))}).encode("ascii")
        replace(folder / _LEDGER, told, folder / f".{_LEDGER}")


def _read(folder: OwnPath) -> tuple[int, dict[str, int]]:
    """Return the number of the last build, and of the last one that used each entry, by its key."""
    try:
        held = json.loads((folder / _LEDGER).read() or b"{}")
        return int(held["build"]), {str(key): int(number) for key, number in held["used"].items()}
    except (ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError):
        return 0, {}
