"""A cache lets go of what no build has used for long, the same for the same builds, and of nothing else."""

import hashlib
from pathlib import Path

import pytest

from proposal.publish.cache import Cache
from proposal.publish.cache_pruning import prune
from proposal.publish.program_folders import OwnPath


def key(name: str) -> str:
    return hashlib.sha256(name.encode()).hexdigest()


def kept(folder: Path) -> set[str]:
    return {path.name for path in folder.glob("??/*")}


@pytest.fixture
def folder(tmp_path: Path) -> OwnPath:
    return OwnPath(tmp_path) / "cache"


def test_what_builds_do_not_use_goes_after_so_many_builds(folder: OwnPath) -> None:
    cache = Cache(folder)
    for name in ("used", "unused"):
        cache.keep(key(name), b"content")
    for _ in range(3):
        prune(folder, {key("used")}, most_builds=3)
        assert kept(folder.path) == {key("used"), key("unused")}
    prune(folder, {key("used")}, most_builds=3)
    assert kept(folder.path) == {key("used")}
    assert not (folder.path / key("unused")[:2]).exists()
    assert cache.found(key("used")) == b"content"


def test_what_is_too_much_goes_the_longest_unused_first(folder: OwnPath) -> None:
    cache = Cache(folder)
    names = ["a", "b", "c", "d"]
    for number in range(len(names)):
        cache.keep(key(names[number]), bytes(1000))
        prune(folder, {key(names[number])})
    prune(folder, {key("a")}, most_bytes=2500)  # each takes 1,065 bytes with its digest
    assert kept(folder.path) == {key("a"), key("d")}


def test_the_same_builds_keep_the_same(tmp_path: Path) -> None:
    left = []
    for run in range(2):
        folder = OwnPath(tmp_path) / f"cache{run}"
        for name in sorted("abcdefgh", reverse=bool(run)):
            Cache(folder).keep(key(name), bytes(1000))
        prune(folder, (), most_bytes=4500)
        left.append(kept(folder.path))
    assert left[0] == left[1]
    assert len(left[0]) == 4


def test_nothing_but_entries_of_a_cache_is_deleted(folder: OwnPath, tmp_path: Path) -> None:
    Cache(folder).keep(key("a"), b"content")
    inner = folder.path / key("a")[:2]
    strange = [
        folder.path / "notes.txt",
        inner / "notes.txt",
        inner / (key("a")[:2] + "f" * 61),
        folder.path / "zz" / key("b"),
        inner / ("00" if inner.name != "00" else "11").ljust(64, "0"),
    ]
    for path in strange:
        path.parent.mkdir(exist_ok=True)
        path.write_text("mine")
    outside = tmp_path / "outside" / key("c")
    outside.parent.mkdir()
    outside.write_text("of another project")
    name = next(one for one in ("ab", "cd") if not (folder.path / one).exists())
    (folder.path / name).symlink_to(outside.parent)
    prune(folder, (), most_bytes=0)
    assert [path.exists() for path in strange] == [True] * len(strange)
    assert outside.read_text() == "of another project"


@pytest.mark.parametrize(
    "told", ["", "[]", '{"build": "x"}', '{"build": 1, "used": 2}', '{"build": 1e999}', "\xff"]
)
def test_a_ledger_that_cannot_be_read_begins_anew(told: str, folder: OwnPath) -> None:
    Cache(folder).keep(key("a"), b"content")
    (folder.path / "used.json").write_text(told, "utf-8")
    prune(folder, (), most_builds=2)
    prune(folder, (), most_builds=2)
    assert kept(folder.path) == {key("a")}
    prune(folder, (), most_builds=2)
    assert kept(folder.path) == set()


def test_a_build_keeps_what_it_has_found_or_made(folder: OwnPath) -> None:
    Cache(folder).keep(key("a"), b"content")
    Cache(folder).prune()
    for _ in range(300):
        assert Cache(folder).found(key("a")) == b"content"
        Cache(folder).prune()
    assert kept(folder.path) == {key("a")}
