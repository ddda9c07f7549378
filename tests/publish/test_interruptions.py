"""A run of `issue` or `build` that fails or is killed anywhere damages nothing, and the next one succeeds."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from proposal.errors import BuildError, ProposalError
from proposal.publish.locking import exclusive
from proposal.publish.own_paths import own_folders
from tests.publish import interrupted, kills
from tests.publish.interrupted import WATCH, contents

KILLED_ISSUES, KILLED_BUILDS = 14, 6
FAILED_ISSUES, FAILED_BUILDS = 10, 8


@pytest.fixture(autouse=True)
def quick() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        yield


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
    near = range(committing - 2, committing + 3)
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
