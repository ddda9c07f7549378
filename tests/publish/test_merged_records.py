"""Two branches of git that both issued are merged; the next issue follows both."""

import json
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from proposal.publish.record import records_of
from tests.calls import Call, caller
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL, altered, contents

WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")
SHARED = ("radio", "cut", "reel")
ROOM = "{tag},{name},meeting,L0,{x} m,1 m\n"


def git(folder: Path, *arguments: str) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(["git", *WHO, *arguments], cwd=folder, check=False, capture_output=True)


def issue_with(folder: Path, revision: str, *rooms: str) -> None:
    with (folder / "rooms.csv").open("a", encoding="utf-8") as schedule:
        schedule.writelines(rooms)
    interrupted.issue_revision(folder, revision)
    git(folder, "add", "-A", ".")
    git(folder, "commit", "-qm", revision)


def register(folder: Path, revision: str) -> dict[str, str]:
    found = json.loads((folder / "issued" / revision / "register.json").read_bytes())
    return {identity: one["number"] for identity, one in found.items() if not one["retired"]}


@pytest.fixture(scope="module")
def merged(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project of which one branch issued B with one more room, the other C with another."""
    folder = Path(shutil.copytree(MINIMAL, tmp_path_factory.mktemp("merged") / "project"))
    (folder / ".gitignore").write_text("build/\n")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GIT_CEILING_DIRECTORIES", str(folder.parent))
        interrupted.make_quick(patch)
        git(folder, "init", "-q", "-b", "trunk")
        issue_with(folder, "A")
        git(folder, "checkout", "-qb", "other")
        issue_with(folder, "C", second := ROOM.format(tag="B003", name="Third Room", x=24))
        git(folder, "checkout", "-q", "trunk")
        issue_with(folder, "B", ROOM.format(tag="B002", name="Second Room", x=12))
        git(folder, "merge", "-q", "other")
        # Records never conflict; what is derived is taken from either, and the inputs are put together.
        conflicts = git(folder, "diff", "--name-only", "--diff-filter=U").stdout.decode().split()
        assert not [
            path for path in conflicts if not path.startswith("issued/latest/") and path != "rooms.csv"
        ]
        git(folder, "checkout", "-q", "--ours", ".")
        with (folder / "rooms.csv").open("a", encoding="utf-8") as schedule:
            schedule.write(second)
        git(folder, "add", "-A", ".")
        git(folder, "commit", "-qm", "merged")
    return folder


@pytest.fixture
def project(merged: Path, tmp_path: Path) -> Iterator[Path]:
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        yield Path(shutil.copytree(merged, tmp_path / "project", symlinks=True))


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    return caller(monkeypatch, capsys)


def test_what_gives_way_is_told_and_the_next_issue_follows_both(call: Call, project: Path) -> None:
    first, second = register(project, "B"), register(project, "C")
    told = [line for line in call("check", project).out.splitlines() if line.startswith("issued: note: ")]
    clashing = {
        identity
        for identity, number in second.items()
        if identity not in first
        and identity.split("/")[0] not in SHARED
        and number in {n for i, n in first.items() if i.split("/")[0] == identity.split("/")[0]}
    }
    assert clashing
    assert {line.split(" gave ")[1].split(" the number ")[0] for line in told} >= clashing
    compared = call("compare", project, "A", ".")
    assert compared.err.splitlines() == told
    assert "issued: note: " not in call("compare", project, "A", "B").err
    built = call("build", project, "--edition", "client")
    assert [line for line in built.out.splitlines() if line.startswith("issued: note: ")] == told
    issued = call("issue", project, "--revision", "D")
    assert issued.status == 0, issued.err
    assert [line for line in issued.out.splitlines() if line.startswith("issued: note: ")] == told
    names = [one.manifest.revision for one in records_of(project)]
    assert names == ["A", "B", "C", "D"]
    assert sorted(records_of(project)[3].manifest.parents) == ["B", "C"]
    now = register(project, "D")
    for identity, number in first.items():
        if identity.split("/")[0] not in SHARED:
            assert now[identity] == number, identity
    given = Counter((i.split("/")[0], n) for i, n in now.items() if i.split("/")[0] not in SHARED)
    assert [number for number, count in given.items() if count > 1] == []
    # Told once: the next issue has one record to follow.
    assert "issued: note: " not in call("check", project).out
    assert altered(project) == []


def test_what_is_derived_is_repaired_from_the_last_in_order(call: Call, project: Path) -> None:
    """A merge keeps the published folder of one branch and the schedules of either: both are made again."""
    assert any("issued/latest/" in one for one in altered(project))
    records = contents(project, "issued/A", "issued/B", "issued/C")
    ended = call("verify", project, "--repair")
    assert (ended.status, ended.err) == (0, "")
    assert "issued/latest: written again from revision C" in ended.out
    assert contents(project, "issued/A", "issued/B", "issued/C") == records
    assert altered(project) == []
    prices = json.loads(records_of(project)[2].contents()["received.json"])
    assert [one["label"] for one in prices] == ["revision A", "revision C"]


def test_the_commit_and_whether_the_tree_was_clean_stand_beside_what_is_published(project: Path) -> None:
    head = git(project, "rev-parse", "HEAD").stdout.decode().strip()
    interrupted.issue_revision(project, "D")
    listed = json.loads((project / "published" / "published.json").read_bytes())
    assert (listed["D"]["commit"], listed["D"]["clean"]) == (head, True)
    assert listed["D"]["digest"] == records_of(project)[3].manifest.digest
    (project / "project.yaml").write_text((project / "project.yaml").read_text("utf-8") + "# more\n", "utf-8")
    interrupted.issue_revision(project, "E")
    listed = json.loads((project / "published" / "published.json").read_bytes())
    assert listed["E"]["clean"] is False
    assert head.encode() not in (project / "issued" / "D" / "manifest.json").read_bytes()
