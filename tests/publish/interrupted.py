"""Runs of `issue` and `build` that end at a file operation of one's choice, and what must hold afterwards.

File operations are seen by an audit hook, so that none is forgotten: every file opened for writing, every
folder made, every rename and removal, wherever in the program or its libraries, by a path or by a name in a
folder that is open. The site builder itself is
replaced by one that writes a short page for each, as its own work lies in one place among the others.
"""

import errno
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Any

import pytest

from proposal.document.making.document import document_of
from proposal.document.readers import Reader
from proposal.document.whole_proposal import Proposal
from proposal.editions import Edition, edition_of
from proposal.model.loading import load_source
from proposal.pipeline import Computed, compute
from proposal.publish import (
    editions_from_record,
    issuing,
    proposal_site,
    published_editions,
    site,
    site_processes,
)
from proposal.publish.cache import Cache
from proposal.publish.issuing import IssueRequest, issue
from proposal.publish.program_folders import ISSUED, PUBLISHED
from proposal.publish.record import files_below
from proposal.publish.repairing import repair
from proposal.publish.site import SiteSource
from proposal.publish.verifying import verified
from tests.publish.sample_site import DRAWING, sample_site

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
# Each with the place of the open folder among its arguments, in which its first one is a name.
_EVENTS = {
    "os.mkdir": 2,
    "os.rename": 2,
    "os.remove": 1,
    "os.rmdir": 1,
    "os.chmod": 2,
    "os.truncate": None,
    "os.link": 2,
    "os.symlink": 2,
}


class Watch:
    """Counts the file operations below a folder, and at one of them does something."""

    def __init__(self) -> None:
        self.below: str | None = None
        self.seen = 0
        self.at = 0
        self.act: Callable[[], None] = lambda: None
        self.operations: list[str] = []
        sys.addaudithook(self._hook)

    def _hook(self, event: str, arguments: tuple[Any, ...]) -> None:
        if self.below is None:
            return
        if event == "open":
            if not (isinstance(arguments[2], int) and arguments[2] & _WRITING):
                return
        elif event not in _EVENTS:
            return
        path = arguments[0]
        if isinstance(path, int) and event == "open":
            return  # a file that is open, of which its own opening was seen
        named = os.fsdecode(path) if isinstance(path, str | bytes | os.PathLike) else ""
        folder = _EVENTS.get(event)
        if folder is not None and arguments[folder] not in (None, -1):
            named = f"{os.readlink(f'/proc/self/fd/{arguments[folder]}')}/{named}"
        # What is opened in a folder is told without it.
        if named.startswith("/") and not named.startswith(self.below):
            return
        self.seen += 1
        self.operations.append(f"{event} {named.removeprefix(self.below)}")
        if self.at in (self.seen, EACH):
            self.act()

    @contextmanager
    def over(self, folder: Path, at: int, act: Callable[[], None]) -> Iterator[None]:
        """Watch what happens below a folder, and act at one operation, counted from 1."""
        self.seen, self.at, self.act, self.operations = 0, at, act, []
        self.below = str(folder)
        try:
            yield
        finally:
            self.below = None

    def each(self, folder: Path, act: Callable[[], None]) -> AbstractContextManager[None]:
        """Watch what happens below a folder, and act at every operation."""
        return self.over(folder, EACH, act)


EACH = -1
WATCH = Watch()


def fail() -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def quick_site(config: Path, *_: object) -> list[str]:
    """Write a short page for each of a site, in place of the site builder."""
    made = config.parent / "site"
    shutil.copytree(config.parent / "markdown", made)
    for page in sorted(made.rglob("*.md")):
        page.with_suffix(".html").write_text(f"<pre>{page.read_text('utf-8')}</pre>", "utf-8")
        page.unlink()
    return []


def make_quick(patch: pytest.MonkeyPatch) -> None:
    """Replace what takes long by what writes less: sites, pages, drawings.

    What is read, computed, kept, put in place and swapped is the program's own.
    """
    patch.setattr(site, "_run_mkdocs", quick_site)
    make_small(patch)


def make_small(patch: pytest.MonkeyPatch) -> None:
    """Replace the pages and drawings of every edition by a few."""
    patch.setattr(proposal_site, "made_proposal", quick_proposal)
    patch.setattr(issuing, "made_proposal", quick_proposal)
    patch.setattr(proposal_site, "proposal_editions", quick_editions)
    patch.setattr(editions_from_record, "proposal_editions", quick_editions)
    patch.setattr(site_processes, "edition_source", quick_source)
    patch.setattr(published_editions, "edition_source", quick_source)
    patch.setattr(published_editions, "downloads", lambda edition: {f"schedules-{edition.reader}.zip": b"PK"})


def quick_proposal(source: Any, computed: Computed, *_: Any, **__: Any) -> Proposal:
    return Proposal(document=document_of(computed))


def quick_editions(proposal: Proposal, readers: Any, *_: Any) -> dict[Reader, Edition]:
    return {reader: edition_of(proposal.document, reader) for reader in readers}


def quick_source(edition: Edition, images: Any, cache: Cache, *_: Any, **__: Any) -> SiteSource:
    cover = edition.document.cover
    drawing = cache.get_or(f"drawn for the {edition.reader}", lambda: DRAWING)
    page = f"# {cover.name}\n\nRevision {cover.revision.identity} for the {edition.reader}.\n"
    return sample_site(
        pages={"index.md": page, "rooms/a.md": page, f"only-{cover.revision.identity}.md": page},
        files={"drawings/R-01.svg": drawing},
        logo=None,
        nav=(
            ("Proposal", "index.md"),
            ("Room", "rooms/a.md"),
            ("Other", f"only-{cover.revision.identity}.md"),
        ),
        revision=cover.revision.identity,
        draft=cover.draft,
        purpose=cover.revision.purpose,
        date=cover.revision.date,
    )


def issue_revision(project: Path, revision: str) -> None:
    issue(project, IssueRequest(named={"identity": revision}), lambda _: None, lambda *_: None)


def build_draft(project: Path) -> None:
    from proposal.publish.proposal_site import build_proposal

    source = load_source(project)
    build_proposal(source, compute(source.base), project, ("client",), lambda _: None)


def contents(project: Path, *folders: str) -> dict[str, bytes]:
    """Return every file of some folders of a project by its path."""
    return {
        f"{folder}/{path}": file.read_bytes()
        for folder in folders
        for path, file in files_below(project / folder).items()
    }


def records(project: Path) -> list[str]:
    folders = (path.name for path in (project / ISSUED).iterdir() if not path.name.startswith("."))
    return sorted(name for name in folders if name != "latest")


def altered(project: Path) -> list[str]:
    return [str(one) for one in verified(project, None).alterations]


def check_ended(project: Path, before: dict[str, bytes]) -> None:
    """Assert that an ended issue of revision B left either no B or a whole one, and A as it was.

    before: every file of the records and published sites of A.
    """
    now = contents(project, ISSUED, PUBLISHED)
    for path, content in before.items():
        if path.startswith((f"{ISSUED}/A/", *(f"{PUBLISHED}/{one}/A/" for one in EDITIONS))):
            assert now.get(path) == content, path
    assert records(project) in (["A"], ["A", "B"])
    # What follows from a record is written after it, and again by the next run.
    derived = (f"{ISSUED}/.part", f"{ISSUED}/latest")
    wrong = [
        one for one in altered(project) if f" {ISSUED}/" in one and not any(map(one.__contains__, derived))
    ]
    assert wrong == []


def check_next_run(project: Path) -> None:
    """Assert that the next run succeeds and leaves everything as it should be."""
    if records(project) == ["A"]:
        issue_revision(project, "B")
    else:
        repair(project, None, lambda _: None)
    assert records(project) == ["A", "B"]
    assert altered(project) == [], altered(project)
    assert not [path for path in contents(project, ISSUED, PUBLISHED) if "/.part" in path]
    assert not (project / PUBLISHED / ".placing").exists()


EDITIONS = ("client", "reviewer", "estimator", "installer")
