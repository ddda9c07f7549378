"""A run of `issue` or `build` that ends anywhere damages nothing, and the next one succeeds.

It fails, is killed, or is told to stop. At more operations:
`PROPOSAL_LONG_TESTS=10 python -m pytest tests/publish/test_interruptions.py`.
"""

import os
import shutil
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from proposal.errors import BuildError, ProposalError, Stopped
from proposal.publish.program_folders import own_folders
from proposal.publish.project_lock import exclusive
from proposal.publish.stop_signals import stoppable
from tests.long_form import cases
from tests.publish import interrupted, kills
from tests.publish.interrupted import WATCH, contents

KILLED_ISSUES, KILLED_BUILDS = cases(3), cases(2)
FAILED_ISSUES, FAILED_BUILDS = cases(2), cases(2)
STOPPED_ISSUES, STOPPED_REPAIRS = cases(2), cases(2)


pytestmark = pytest.mark.usefixtures("quick")


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project whose revision A is issued and of which a site is built."""
    project = Path(shutil.copytree(interrupted.MINIMAL, tmp_path_factory.mktemp("first") / "project"))
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        interrupted.issue_revision(project, "A")
        interrupted.build_draft(project)
    return project


def failure(project: Path, at: int, run: Callable[[Path], None]) -> bool:
    """Let one file operation of a run fail, and say whether the run did; it says why, whatever it is.

    A folder that cannot be made, but is there, is no failure.
    """
    try:
        with WATCH.over(project, at, interrupted.fail):
            run(project)
    except (OSError, ProposalError) as error:
        said = str(error)
    else:
        return False
    assert "No space left on device" in said, at
    return True


def test_issues_that_are_killed_leave_no_revision_or_a_whole_one(tmp_path: Path) -> None:
    ends = kills.kill_issues(tmp_path, KILLED_ISSUES)
    assert len(set(ends)) == KILLED_ISSUES


def test_builds_that_are_killed_leave_the_old_site_or_the_new_one(tmp_path: Path) -> None:
    ends = kills.kill_builds(tmp_path, KILLED_BUILDS)
    assert len(set(ends)) == KILLED_BUILDS


def test_issues_that_fail_leave_no_revision_or_a_whole_one(first: Path, tmp_path: Path) -> None:
    before = contents(first, "issued", "published")
    trial = Path(shutil.copytree(first, tmp_path / "counted"))
    with WATCH.over(trial, 0, interrupted.fail):
        interrupted.issue_revision(trial, "B")
    committing = next(n for n, one in enumerate(WATCH.operations, 1) if one == "os.rename /issued/.part")
    # The operations around the moment that counts, each, and others evenly over all.
    near = range(committing - 1, committing + 2)
    ends = set()
    for at in sorted({*near, *kills.spread(WATCH.seen, FAILED_ISSUES)}):
        trial = Path(shutil.copytree(first, tmp_path / f"failed {at}"))
        failed = failure(trial, at, kills.issue_b)
        interrupted.check_ended(trial, before)
        assert interrupted.records(trial) == (["A"] if failed and at <= committing else ["A", "B"]), at
        ends.add(failed)
        interrupted.check_next_run(trial)
        shutil.rmtree(trial)
    assert True in ends


def test_builds_that_fail_leave_the_old_site_or_the_new_one(first: Path, tmp_path: Path) -> None:
    project = Path(shutil.copytree(first, tmp_path / "changed"))
    brief = project / "project.yaml"
    brief.write_text(brief.read_text("utf-8").replace("One meeting room", "Another meeting room"), "utf-8")
    old, issued = kills.site_of(project), contents(project, "issued", "published")
    trial = Path(shutil.copytree(project, tmp_path / "counted"))
    with WATCH.over(trial, 0, interrupted.fail):
        interrupted.build_draft(trial)
    new = kills.site_of(trial)
    assert new != old
    for at in kills.spread(WATCH.seen, FAILED_BUILDS):
        trial = Path(shutil.copytree(project, tmp_path / f"failed {at}"))
        failure(trial, at, interrupted.build_draft)
        waiting = (trial / "build" / "client" / ".next").exists()
        assert waiting or kills.site_of(trial) in (old, new), at
        interrupted.build_draft(trial)
        assert kills.site_of(trial) == new, at
        assert contents(trial, "issued", "published") == issued
        shutil.rmtree(trial)


def test_a_build_touches_neither_records_nor_what_is_published(first: Path, tmp_path: Path) -> None:
    project = Path(shutil.copytree(first, tmp_path / "project"))
    with WATCH.over(project, 0, interrupted.fail):
        interrupted.build_draft(project)
    assert WATCH.operations
    assert [one for one in WATCH.operations if "/issued" in one or "/published" in one] == []
    assert all("/build/" in one or one.endswith("/build") for one in WATCH.operations if " /" in one)


def test_a_watched_issue_would_be_seen_to_touch_them(first: Path, tmp_path: Path) -> None:
    project = Path(shutil.copytree(first, tmp_path / "project"))
    with WATCH.over(project, 0, interrupted.fail):
        interrupted.issue_revision(project, "B")
    assert "os.rename /issued/.part" in WATCH.operations
    assert [one for one in WATCH.operations if "/published/client/B" in one or "/published/.part" in one]


def test_two_runs_on_one_project_are_refused(first: Path, tmp_path: Path) -> None:
    project = Path(shutil.copytree(first, tmp_path / "project"))
    before = contents(project, "issued", "published")
    with exclusive(own_folders(project).build):
        with pytest.raises(BuildError, match="another run"):
            interrupted.issue_revision(project, "B")
        with pytest.raises(BuildError, match="another run"):
            interrupted.repair(project, None, lambda _: None)
    assert contents(project, "issued", "published") == before


def told_to_stop(project: Path, at: int, run: Callable[[Path], None]) -> Stopped:
    """Tell a run to stop at one of its file operations, and return how it did."""

    def ask() -> None:
        os.kill(os.getpid(), signal.SIGTERM)

    try:
        with stoppable(), WATCH.over(project, at, ask):
            run(project)
    except Stopped as stop:
        return stop
    raise AssertionError(f"not stopped at operation {at}")


def test_issues_that_are_told_to_stop_leave_nothing_or_all(first: Path, tmp_path: Path) -> None:
    """Before the revision is put in place there is no trace of it; from then on it is finished and told."""
    before = contents(first, "issued", "published")
    trial = Path(shutil.copytree(first, tmp_path / "counted"))
    with WATCH.over(trial, 0, interrupted.fail):
        interrupted.issue_revision(trial, "B")
    committing = next(n for n, one in enumerate(WATCH.operations, 1) if one == "os.rename /issued/.part")
    ends = []
    for at in sorted({committing - 1, committing, committing + 1, *kills.spread(WATCH.seen, STOPPED_ISSUES)}):
        trial = Path(shutil.copytree(first, tmp_path / f"stopped {at}"))
        stop = told_to_stop(trial, at, kills.issue_b)
        if interrupted.records(trial) == ["A"]:
            assert stop.done == ""
            assert contents(trial, "issued", "published") == before, at
        else:
            assert stop.done == "revision B is issued"
            assert interrupted.records(trial) == ["A", "B"]
            assert interrupted.altered(trial) == [], at
        ends.append(stop.done)
        with exclusive(own_folders(trial).build):
            pass
        shutil.rmtree(trial)
    assert ends == sorted(ends)
    assert len(set(ends)) == 2


def repair(project: Path) -> None:
    interrupted.repair(project, None, lambda _: None)


def test_repairs_that_are_told_to_stop_leave_whole_editions(first: Path, tmp_path: Path) -> None:
    project = Path(shutil.copytree(first, tmp_path / "lost"))
    whole = contents(project, "published")
    shutil.rmtree(project / "published")
    trial = Path(shutil.copytree(project, tmp_path / "counted"))
    with WATCH.over(trial, 0, interrupted.fail):
        repair(trial)
    for at in kills.spread(WATCH.seen, STOPPED_REPAIRS):
        trial = Path(shutil.copytree(project, tmp_path / f"stopped {at}"))
        told_to_stop(trial, at, repair)
        left = contents(trial, "published")
        assert not [path for path in left if "/.part" in path], at
        editions = {path.split("/")[1] for path in left if "/A/" in path}
        assert editions in (set(), set(interrupted.EDITIONS)), at
        assert {path: whole[path] for path in left} == left, at
        repair(trial)
        assert contents(trial, "published") == whole, at
        shutil.rmtree(trial)
