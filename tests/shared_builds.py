"""What takes long to make is made once a run, by whichever process needs it first, and only read by all."""

import fcntl
import hashlib
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest


def made_once(temporary: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """Return the folder of a name, made by this process or by another of the same run.

    make: fills the folder, which is there and empty. Others wait meanwhile.
    """
    run = temporary.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        run = run.parent  # each process has a folder of its own in that of the run
    folder, done = run / name, run / f"{name}.done"
    with (run / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not done.exists():
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
            make(folder)
            done.touch()
    return folder


def keep_what_is_made(patch: pytest.MonkeyPatch, folder: Path) -> None:
    """Let every cache of builds find in a folder what another build has made under the same key.

    A key names all that a drawing or a figure follows from, the program among it; what a build finds here it
    keeps and uses as what it has made itself.
    """
    from proposal.publish.cache import Cache

    alone = Cache.get_or

    def get_or(cache: Cache, key: str, make: Callable[[], bytes]) -> bytes:
        kept = folder / hashlib.sha256(key.encode()).hexdigest()

        def made() -> bytes:
            if kept.exists():
                return kept.read_bytes()
            content = make()
            staged = folder / os.urandom(8).hex()
            staged.write_bytes(content)
            staged.replace(kept)
            return content

        return alone(cache, key, made)

    patch.setattr(Cache, "get_or", get_or)


def vary_little(patch: pytest.MonkeyPatch) -> None:
    """Let builds vary a few assumptions to find what moves the price, which is the same for all of them."""
    from proposal.publish import compute_proposal

    every = compute_proposal.cases_of
    patch.setattr(compute_proposal, "cases_of", lambda project: every(project)[::20])


def typeset_nothing(patch: pytest.MonkeyPatch) -> None:
    """Let the PDFs of builds hold what they would be set from, which is half the work of an issue.

    What is the same, or names a place or an hour, is seen in that as well; `tests/paper/` reads real ones.
    """
    from proposal.publish import paper_file

    patch.setattr(paper_file, "_typeset", lambda _template, data, _date: data.encode("utf-8"))
