"""Sites that several processes make are those that one makes, and no process outlives them."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from proposal.document.making.document import document_of
from proposal.document.readers import READERS
from proposal.editions import edition_of
from proposal.errors import BuildError, PartError
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish import shared_work, site_processes
from proposal.publish.cache import Cache
from proposal.publish.processors import limited_to, processors
from proposal.publish.program_folders import OwnPath, own_folders
from proposal.publish.shared_work import BEGIN, Workers
from proposal.publish.site import SiteSource, write_site
from proposal.publish.site_processes import made_sources, place_sites
from proposal.publish.worker_processes import Answering, LostWorkerError, WorkerProcess
from tests.publish.sample_site import sample_site

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
NO_SITE: Any = None
TITLES = {reader: reader for reader in READERS}
NAMES = ("client", "reviewer", "estimator", "installer")


@pytest.fixture(autouse=True)
def begun(monkeypatch: pytest.MonkeyPatch) -> list[WorkerProcess]:
    """Share out even the least work, and note the processes that are begun."""
    found: list[WorkerProcess] = []

    class Noted(WorkerProcess):
        def __init__(self, begin: str, answering: Answering | None = None) -> None:
            super().__init__(begin, answering)
            found.append(self)

    monkeypatch.setattr(site_processes, "SITES_ALONE_S", -1.0)
    monkeypatch.setattr(site_processes, "PAGES_ALONE_S", -1.0)
    monkeypatch.setattr(shared_work, "WorkerProcess", Noted)
    return found


def sources(build: OwnPath) -> dict[OwnPath, SiteSource]:
    """Return four sites that differ in a page each."""
    sample = sample_site()
    cover = sample.pages["index.md"]
    return {
        build / name: replace(sample, pages={**sample.pages, "index.md": f"{cover}\n\nfor the {name}\n"})
        for name in NAMES
    }


def placed(
    folder: Path, jobs: int, change: Callable[[dict[OwnPath, SiteSource]], object] = len
) -> dict[str, bytes]:
    """Return all files of the sites as some processes make them."""
    folder.mkdir()
    build = own_folders(folder).build
    made = sources(build)
    change(made)
    with limited_to(jobs), Workers() as workers:
        place_sites(
            made, Cache(build / "cache"), lambda _: None, {one: one.parts[-1] for one in made}, workers
        )
    return {
        path.relative_to(build.path).as_posix(): path.read_bytes()
        for name in NAMES
        for path in sorted((build / name).path.rglob("*"))
        if path.is_file()
    }


def test_any_number_of_processes_makes_the_same_bytes(tmp_path: Path, begun: list[WorkerProcess]) -> None:
    alone = placed(tmp_path / "one", 1)
    assert begun == []
    assert all(f"{name}/site/index.html" in alone for name in NAMES)
    for jobs, others in ((2, 1), (4, 2)):
        assert placed(tmp_path / f"of {jobs}", jobs) == alone
        assert len(begun) == others
        assert all(one.process.returncode is not None for one in begun)
        del begun[:]


def test_what_a_killed_process_does_not_make_is_made_here(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    alone = placed(tmp_path / "one", 1)
    answer = WorkerProcess.answer

    def killed(worker: WorkerProcess, question: object) -> Any:
        worker.process.kill()
        return answer(worker, question)

    monkeypatch.setattr(WorkerProcess, "answer", killed)
    assert placed(tmp_path / "two", 2) == alone


def test_what_is_wrong_is_said_as_one_process_says_it(tmp_path: Path, begun: list[WorkerProcess]) -> None:
    said = []
    for jobs in (1, 2):

        def spoil(made: dict[OwnPath, SiteSource]) -> None:
            longest = next(folder for folder in made if folder.parts[-1] == "reviewer")
            made[longest] = replace(made[longest], language="en", nav=(("None", "none.md"),))

        with pytest.raises(BuildError) as error:
            placed(tmp_path / str(jobs), jobs, spoil)
        said.append(str(error.value))
        assert not list((tmp_path / str(jobs) / "build").glob("*/.part"))
    assert said[0] == said[1] == "the contents name a page that is missing: none.md"
    assert all(one.process.returncode is not None for one in begun)


def test_a_failure_in_another_process_is_told_with_its_reason() -> None:
    worker = WorkerProcess(BEGIN)
    try:
        with pytest.raises(PartError, match="has no attribute 'pages'"):
            worker.answer(partial(write_site, NO_SITE, OwnPath(Path("/none"))))
    finally:
        worker.end()
    with pytest.raises((LostWorkerError, ValueError)):
        worker.answer(None)


def test_as_many_processes_are_used_as_was_said() -> None:
    usual = processors()
    assert usual >= 1
    with limited_to(7):
        assert processors() == 7
        with limited_to(None):
            assert processors() == 7
    assert processors() == usual


def test_pages_and_drawings_made_by_others_are_those_made_here(
    tmp_path: Path, begun: list[WorkerProcess]
) -> None:
    computed = compute(load_project(MINIMAL))
    document = document_of(computed)
    editions = {reader: edition_of(document, reader) for reader in READERS}
    found = []
    for jobs in (1, 2):
        project = tmp_path / str(jobs)
        project.mkdir()
        cache = Cache(own_folders(project).build / "cache")
        said: list[str] = []
        with limited_to(jobs), Workers() as workers:
            found.append(made_sources(editions, {}, cache, said.append, TITLES, (), workers))
        assert len(begun) == jobs - 1
        assert list(found[-1]) == list(READERS)
    assert found[0] == found[1]
    # What the other process has drawn is kept and counted as used too.
    assert cache.used() == {path.name for path in cache.folder.path.glob("*/*")}
    assert all(one.process.returncode is not None for one in begun)
