"""A project as a commit holds it: the same files, nothing touched, nothing hostile let through."""

import hashlib
import os
import subprocess
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.publish.git_commits import commit_of, write_commit
from proposal.publish.program_folders import OwnPath

WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")


def git(folder: Path, *arguments: str, given: bytes | None = None) -> str:
    done = subprocess.run(["git", *WHO, *arguments], cwd=folder, input=given, capture_output=True, check=True)
    return done.stdout.decode().strip()


def write(folder: Path, files: dict[str, bytes]) -> None:
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)


FILES = {
    "job/project.yaml": b"name: One\n",
    "job/building.yaml": b"storeys: {}\n",
    "job/rooms.csv": b"tag\n",
    "job/room_types/hall.yaml": b"name: Hall\n",
    "job/wording/scope.md": b"Words.\n",
    "job/library/prices.yaml": b"mounts: {}\n",
    "job/library/labour/ours.yaml": b"tasks: {}\n",
    "job/README.txt": b"not read",
    "job/build/site/index.html": b"built",
    "job/issued/A/manifest.json": b'{"layout": 2, "date": "2031-01-01", "parents": {}}',
    "job/issued/A/register.json": b"{}",
    "job/issued/A/record.zip": b"large",
    "other/project.yaml": b"another",
}


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    folder = tmp_path / "repository"
    folder.mkdir()
    git(folder, "init", "-q", "-b", "main")
    write(folder, FILES)
    git(folder, "add", "-A")
    git(folder, "commit", "-qm", "one")
    git(folder, "tag", "first")
    write(folder, {"job/project.yaml": b"name: Two\n"})
    git(folder, "commit", "-qam", "two")
    write(folder, {"job/project.yaml": b"name: Not committed\n"})
    return folder


def written(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def state(folder: Path) -> str:
    """Return a digest of work tree, index and everything else of a repository."""
    told = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        told.update(str(path).encode())
        if path.is_file():
            told.update(path.read_bytes() + str(path.stat().st_mtime_ns).encode())
    return told.hexdigest()


def at(repository: Path, name: str, tmp_path: Path) -> dict[str, bytes]:
    commit = commit_of(repository / "job", name)
    assert commit is not None
    into = tmp_path / f"into-{len(list(tmp_path.iterdir()))}"
    into.mkdir()
    write_commit(repository / "job", commit, name, OwnPath(into))
    return written(into)


def test_a_commit_gives_the_files_that_a_project_is_read_from(repository: Path, tmp_path: Path) -> None:
    found = at(repository, "first", tmp_path)
    assert found == {
        "project.yaml": b"name: One\n",
        "building.yaml": b"storeys: {}\n",
        "rooms.csv": b"tag\n",
        "room_types/hall.yaml": b"name: Hall\n",
        "wording/scope.md": b"Words.\n",
        "library/prices.yaml": b"mounts: {}\n",
        "library/labour/ours.yaml": b"tasks: {}\n",
        "README.txt": b"",  # judged by its name alone
        "issued/A/manifest.json": b'{"layout": 2, "date": "2031-01-01", "parents": {}}',
        "issued/A/register.json": b"{}",
    }


def test_tags_branches_and_shortened_commits_are_known(repository: Path, tmp_path: Path) -> None:
    head = git(repository, "rev-parse", "HEAD")
    for name in ("main", "HEAD", head, head[:9], "first~0", "HEAD~1"):
        project = b"name: One\n" if name in ("first~0", "HEAD~1") else b"name: Two\n"
        assert at(repository, name, tmp_path)["project.yaml"] == project


@pytest.mark.parametrize(
    "name", ["", "nothing", "--help", "-h", "HEAD:job", "main..first", "a\0b", "@{u}", "HEAD^{tree}"]
)
def test_what_names_no_commit_is_none(repository: Path, name: str) -> None:
    assert commit_of(repository / "job", name) is None


def test_outside_a_repository_there_is_no_commit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    assert commit_of(tmp_path, "HEAD") is None
    assert commit_of(tmp_path / "missing", "HEAD") is None
    monkeypatch.setenv("PATH", "")
    assert commit_of(tmp_path, "HEAD") is None


def test_work_tree_index_and_repository_stay_as_they_are(repository: Path, tmp_path: Path) -> None:
    before = state(repository)
    at(repository, "first", tmp_path)
    at(repository, "main", tmp_path)
    assert state(repository) == before


def test_it_works_inside_a_hook_of_another_folder(
    repository: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GIT_DIR", ".git")
    monkeypatch.setenv("GIT_INDEX_FILE", str(tmp_path / "no-index"))
    assert at(repository, "first", tmp_path)["project.yaml"] == b"name: One\n"


def test_a_program_that_the_repository_names_is_not_run(repository: Path, tmp_path: Path) -> None:
    trap = tmp_path / "trap.sh"
    trap.write_text(f"#!/bin/sh\ntouch {tmp_path / 'sprung'}\n")
    trap.chmod(0o755)
    git(repository, "config", "core.fsmonitor", str(trap))
    git(repository, "config", "filter.x.smudge", str(trap))
    git(repository, "config", "core.pager", str(trap))
    write(repository, {".gitattributes": b"* filter=x\n"})
    at(repository, "first", tmp_path)
    assert not (tmp_path / "sprung").exists()


def refused(repository: Path, tree: str, tmp_path: Path) -> str:
    """Return what is said of a commit with a tree for its project folder."""
    top = git(repository, "mktree", given=f"040000 tree {tree}\tjob\n".encode())
    commit = git(repository, "commit-tree", top, "-m", "hostile")
    into = tmp_path / "into"
    into.mkdir()
    with pytest.raises(InputError) as refusal:
        write_commit(repository / "job", commit, "hostile", OwnPath(into))
    assert written(into) == {}
    return str(refusal.value)


def blob(repository: Path, content: bytes) -> str:
    return git(repository, "hash-object", "-w", "--stdin", given=content)


def test_links_are_refused(repository: Path, tmp_path: Path) -> None:
    target = blob(repository, b"/etc/passwd")
    tree = git(repository, "mktree", given=f"120000 blob {target}\tproject.yaml\n".encode())
    assert "project.yaml: wanted a file; found a link" in refused(repository, tree, tmp_path)


def test_names_that_lead_elsewhere_are_not_followed(repository: Path, tmp_path: Path) -> None:
    content = blob(repository, b"x")
    inside = git(repository, "mktree", given=f"100644 blob {content}\ta\\b.yaml\n".encode())
    tree = git(repository, "mktree", given=f"040000 tree {inside}\troom_types\n".encode())
    assert "wanted a name of printable characters" in refused(repository, tree, tmp_path)


def test_dots_are_passed_over(repository: Path, tmp_path: Path) -> None:
    content = blob(repository, b"x")
    raw = b"100644 ..\0" + bytes.fromhex(content) + b"100644 project.yaml\0" + bytes.fromhex(content)
    tree = git(repository, "hash-object", "-t", "tree", "-w", "--stdin", "--literally", given=raw)
    top = git(repository, "mktree", given=f"040000 tree {tree}\tjob\n".encode())
    commit = git(repository, "commit-tree", top, "-m", "hostile")
    into = tmp_path / "into"
    into.mkdir()
    write_commit(repository / "job", commit, "hostile", OwnPath(into))
    assert written(into) == {"project.yaml": b"x"}
    assert sorted(os.listdir(tmp_path)) == ["into", "repository"]


def test_a_file_that_is_too_large_is_refused_before_it_is_read(repository: Path, tmp_path: Path) -> None:
    content = blob(repository, b"#" * 5_000_001)
    tree = git(repository, "mktree", given=f"100644 blob {content}\tproject.yaml\n".encode())
    assert "project.yaml: wanted at most 5 MB; found 5.0 MB" in refused(repository, tree, tmp_path)


def test_too_many_files_are_refused(repository: Path, tmp_path: Path) -> None:
    content = blob(repository, b"x")
    many = "".join(f"100644 blob {content}\tt{n}.yaml\n" for n in range(2001))
    inside = git(repository, "mktree", given=many.encode())
    tree = git(repository, "mktree", given=f"040000 tree {inside}\troom_types\n".encode())
    assert "wanted at most 2000 files" in refused(repository, tree, tmp_path)


def test_a_commit_without_the_folder_is_refused(repository: Path, tmp_path: Path) -> None:
    git(repository, "rm", "-rqf", "job")
    git(repository, "commit", "-qm", "gone")
    (repository / "job").mkdir(exist_ok=True)
    commit = commit_of(repository / "job", "HEAD")
    assert commit is not None
    into = tmp_path / "into"
    into.mkdir()
    with pytest.raises(InputError, match="wanted a commit that holds job"):
        write_commit(repository / "job", commit, "HEAD", OwnPath(into))
