"""Whole proposals are kept under all they follow from, and made again where what was kept is spoilt."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from proposal.document.proposal_rows import Proposal
from proposal.document.sensitivity import cases_of
from proposal.model.loading import load_source
from proposal.pipeline import compute
from proposal.publish import proposing
from proposal.publish.cache import Cache
from proposal.publish.own_paths import OwnPath

ROOT = Path(__file__).resolve().parents[2]
MINIMAL = ROOT / "tests" / "projects" / "minimal"
MORE = """\
name: More spares
description: Ready.
changes:
  room_types: {meeting: {spare_microphones: {boundary: 2}}}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(MINIMAL, tmp_path / "project")
    room_type = next((tmp_path / "project" / "room_types").glob("*.yaml")).stem
    (tmp_path / "project" / "alternates").mkdir()
    (tmp_path / "project" / "alternates" / "more.yaml").write_text(MORE.replace("meeting:", f"{room_type}:"))
    return tmp_path / "project"


@pytest.fixture(autouse=True)
def few_cases(monkeypatch: pytest.MonkeyPatch) -> None:
    """Vary a few assumptions only: what is looked at here is the same for all."""
    monkeypatch.setattr(proposing, "cases_of", lambda project: cases_of(project)[::11])


def made(folder: Path, cache: Path) -> Proposal:
    source = load_source(folder)
    return proposing.whole_proposal(
        source,
        compute(source.base),
        Cache(OwnPath(cache.parent) / cache.name),
        lambda _: None,
        sensitivity=True,
        finished=lambda document: document,
    )


def without_computing(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: Any) -> Any:
        raise AssertionError("computed once more")

    for name in ("alternate_document", "combination", "price_of"):
        monkeypatch.setattr(proposing, name, refuse)


def test_a_second_build_computes_nothing_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = made(folder, tmp_path / "cache")
    without_computing(monkeypatch)
    assert made(folder, tmp_path / "cache") == first
    assert len(first.combinations) == 2
    assert first.sensitivity is not None
    assert first.sensitivity.rows


@pytest.mark.parametrize("file", ["project.yaml", "alternates/more.yaml"])
def test_another_input_is_computed(
    file: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made(folder, tmp_path / "cache")
    with (folder / file).open("a") as text:
        text.write("internal_note: changed\n")
    without_computing(monkeypatch)
    with pytest.raises(AssertionError, match="once more"):
        made(folder, tmp_path / "cache")


def test_another_program_computes_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made(folder, tmp_path / "cache")
    monkeypatch.setattr(proposing, "program", lambda: "another")
    without_computing(monkeypatch)
    with pytest.raises(AssertionError, match="once more"):
        made(folder, tmp_path / "cache")


def test_what_is_spoilt_in_the_cache_is_made_again(folder: Path, tmp_path: Path) -> None:
    first = made(folder, tmp_path / "cache")
    kept = [path for path in (tmp_path / "cache").rglob("*") if path.is_file()]
    assert len(kept) == 4  # an alternate, two combinations, what moves the price
    for path in kept:
        path.write_bytes(path.read_bytes()[:-9] + b"nonsense\n")
    assert made(folder, tmp_path / "cache") == first


def test_two_processes_give_the_same(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    alone = made(folder, tmp_path / "alone")
    monkeypatch.setattr(proposing, "LONGEST_ALONE_S", -1.0)
    monkeypatch.setattr(proposing, "FEWEST_TIMED", 1)
    monkeypatch.setattr(proposing.os, "cpu_count", lambda: 2)
    assert made(folder, tmp_path / "shared") == alone


def test_processes_that_cannot_be_had_are_done_without(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    alone = made(folder, tmp_path / "alone")
    monkeypatch.setattr(proposing, "LONGEST_ALONE_S", -1.0)
    monkeypatch.setattr(proposing, "FEWEST_TIMED", 1)
    monkeypatch.setattr(proposing.os, "cpu_count", lambda: 2)

    def broken(*_: Any, **__: Any) -> Any:
        raise proposing.BrokenProcessPool

    monkeypatch.setattr(proposing.ProcessPoolExecutor, "map", broken)
    assert made(folder, tmp_path / "shared") == alone
