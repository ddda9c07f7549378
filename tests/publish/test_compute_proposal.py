"""Whole proposals are kept under all they follow from, and made again where what was kept is spoilt."""

import re
import shutil
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from proposal.document.kept_document import restored, restored_proposal, stored, stored_offer
from proposal.document.making import proposal as making
from proposal.document.making.sensitivity import cases_of
from proposal.document.whole_proposal import Proposal
from proposal.errors import PartError
from proposal.model.loading import load_source
from proposal.model.project import Project
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from proposal.publish import compute_proposal, price_processes
from proposal.publish.cache import Cache
from proposal.publish.price_processes import prices_of
from proposal.publish.program_folders import OwnPath
from tests.long_form import LONG

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
    monkeypatch.setattr(
        compute_proposal, "cases_of", lambda project: cases_of(project)[:: 11 if LONG else 25]
    )


def made(folder: Path, cache: Path) -> Proposal:
    source = load_source(folder)
    return compute_proposal.whole_proposal(
        source,
        compute(source.base),
        Cache(OwnPath(cache.parent) / cache.name),
        lambda _: None,
        sensitivity=True,
        finished=lambda document: document,
    )


def test_a_proposal_that_is_kept_is_the_proposal_again(folder: Path, tmp_path: Path) -> None:
    proposal = made(folder, tmp_path / "cache")
    assert [one.row.key for one in proposal.alternates] == ["more"]
    assert len(proposal.combinations) == 2
    assert proposal.sensitivity is not None
    base = stored(proposal.document)
    kept = restored_proposal(base, stored_offer(proposal), restored(base))
    assert kept.combinations == proposal.combinations
    assert kept.sensitivity == proposal.sensitivity
    assert kept.alternates[0].row == proposal.alternates[0].row
    assert stored(kept.alternates[0].document) == stored(proposal.alternates[0].document)
    with pytest.raises(ValueError, match="found something else"):
        restored_proposal(base, b"[]", kept.document)
    with pytest.raises(ValueError, match=r"found a fault at combinations.0.price"):
        restored_proposal(base, b'{"combinations":[{"price":"much"}]}', kept.document)


def without_computing(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: Any) -> Any:
        raise AssertionError("computed once more")

    for name in ("alternate_document", "combined_and_why", "price_of"):
        monkeypatch.setattr(compute_proposal, name, refuse)


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


def test_another_printed_text_computes_no_alternate_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room_type = next((folder / "room_types").glob("*.yaml"))
    for file in (folder / "project.yaml", room_type):
        file.write_text(file.read_text().rstrip("\n") + "\ninternal_note: Ask\n")
    first = made(folder, tmp_path / "cache")
    for file in (folder / "project.yaml", room_type):
        written = file.read_text().replace("internal_note: Ask", "internal_note: Answered")
        file.write_text(re.sub(r"(?m)^use: .*", "use: Nobody meets.", written))
    without_computing(monkeypatch)
    warm = made(folder, tmp_path / "cache")
    monkeypatch.undo()
    cold = made(folder, tmp_path / "another cache")
    assert warm.alternates == cold.alternates
    document = warm.alternates[0].document
    assert document.room_sheets[0].use == "Nobody meets." != first.alternates[0].document.room_sheets[0].use
    assert document.cover.internal_note == document.room_sheets[0].internal_note == "Answered"


def test_each_choice_is_computed_once(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    computed: list[Project] = []

    def counted(project: Project) -> Computed:
        computed.append(project)
        return compute(project)

    monkeypatch.setattr(making, "compute", counted)
    assert len(made(folder, tmp_path / "cache").combinations) == 2
    assert len(computed) == 1  # the alternate, for its document and its price; the base is known


def test_another_word_computes_no_case_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = made(folder, tmp_path / "cache")
    brief = folder / "project.yaml"
    brief.write_text(brief.read_text().replace("site: Example Hall", "site: A hall of another name"))

    def refuse(*_: Any) -> Any:
        raise AssertionError("computed once more")

    monkeypatch.setattr(compute_proposal, "price_of", refuse)
    second = made(folder, tmp_path / "cache")
    assert second.document.cover.site == "A hall of another name"
    assert second.sensitivity == first.sensitivity
    brief.write_text(brief.read_text() + "rules: {cabling: {rack_slack: 4 m}}\n")
    with pytest.raises(AssertionError, match="once more"):
        made(folder, tmp_path / "cache")


def test_another_word_computes_no_combination_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copy(folder / "alternates" / "more.yaml", folder / "alternates" / "most.yaml")
    most = folder / "alternates" / "most.yaml"
    most.write_text(
        most.read_text().replace("More spares", "Most spares").replace("boundary: 2", "boundary: 3")
    )
    first = made(folder, tmp_path / "cache")
    # Both say how many spares there are, so they exclude each other: why is told with names and places.
    assert [one.price is None for one in first.combinations] == [False, False, False, True]
    most.write_text("# A line more moves every place.\n" + most.read_text().replace("Most spares", "Enough"))
    asked: list[tuple[str, ...]] = []

    def noted(source: ProjectSource, chosen: tuple[str, ...], computing: making.Computing) -> making.Combined:
        asked.append(chosen)
        return making.combined_and_why(source, chosen, computing)

    monkeypatch.setattr(compute_proposal, "combined_and_why", noted)
    warm = made(folder, tmp_path / "cache")
    assert asked == [("more", "most")]
    assert stored_offer(warm) == stored_offer(made(folder, tmp_path / "another cache"))
    source = load_source(folder)
    together = compute_proposal.all_combined(
        source, Cache(OwnPath(tmp_path) / "cache"), lambda _: None, making.computed_with
    )
    assert [one.received.label for one in together if one.received] == [
        "the whole price", "More spares", "Enough",
    ]  # fmt: skip
    most.write_text(most.read_text().replace("boundary: 3", "boundary: 4"))
    asked.clear()
    made(folder, tmp_path / "cache")
    assert ("most",) in asked


def test_another_program_computes_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made(folder, tmp_path / "cache")
    monkeypatch.setattr(compute_proposal, "program", lambda: "another")
    without_computing(monkeypatch)
    with pytest.raises(AssertionError, match="once more"):
        made(folder, tmp_path / "cache")


def test_what_is_spoilt_in_the_cache_is_made_again(folder: Path, tmp_path: Path) -> None:
    first = made(folder, tmp_path / "cache")
    kept = [path for path in (tmp_path / "cache").rglob("*") if path.is_file()]
    assert first.sensitivity is not None
    prices = [(row.lower_price, row.upper_price) for row in first.sensitivity.rows]
    # An alternate, two combinations, what moves the price, and each price of it.
    assert len(kept) == 4 + sum(price is not None for both in prices for price in both)
    for path in kept:
        path.write_bytes(path.read_bytes()[:-9] + b"nonsense\n")
    assert made(folder, tmp_path / "cache") == first


def test_two_processes_give_the_same(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    alone = made(folder, tmp_path / "alone")
    monkeypatch.setattr(compute_proposal, "LONGEST_ALONE_S", -1.0)
    monkeypatch.setattr(compute_proposal, "FEWEST_TIMED", 1)
    monkeypatch.setattr(compute_proposal, "processors", lambda: 2)
    assert made(folder, tmp_path / "shared") == alone


@pytest.mark.parametrize("gone", ["never there", "at once", "later"])
def test_processes_that_are_gone_are_done_without(
    gone: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    alone = made(folder, tmp_path / "alone")
    monkeypatch.setattr(compute_proposal, "LONGEST_ALONE_S", -1.0)
    monkeypatch.setattr(compute_proposal, "FEWEST_TIMED", 1)
    monkeypatch.setattr(compute_proposal, "processors", lambda: 2)
    if gone == "never there":
        monkeypatch.setattr(sys, "executable", str(tmp_path / "no interpreter"))
    elif gone == "at once":
        monkeypatch.setattr(price_processes, "_BEGIN", "")
    else:
        answer = price_processes._Pricer.answer

        def killed(pricer: price_processes._Pricer, question: object) -> Any:
            if isinstance(question, int) and question > 2:
                pricer.process.kill()
            return answer(pricer, question)

        monkeypatch.setattr(price_processes._Pricer, "answer", killed)
    assert made(folder, tmp_path / "shared") == alone


def test_a_failure_in_another_process_is_told_with_its_traceback(folder: Path) -> None:
    wrong: Any = (None, "lower")
    with pytest.raises(PartError) as failure, prices_of(load_source(folder), [wrong], 2, None) as found:
        next(found)
    said = str(failure.value)
    assert said.startswith("Traceback (most recent call last):")
    assert "in price_of" in said
    assert said.splitlines()[-1].startswith("AttributeError: ")


def test_no_process_outlives_the_prices(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[price_processes._Pricer] = []

    class Noted(price_processes._Pricer):
        def __init__(self, here: Callable[[int], price_processes.Price] | None) -> None:
            super().__init__(here)
            begun.append(self)

    monkeypatch.setattr(price_processes, "_Pricer", Noted)
    source = load_source(folder)
    task = (cases_of(source.base)[0], "lower")

    def fail() -> None:
        with prices_of(source, [task] * 9, 2, None) as found:
            assert next(found)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert [one.process.returncode for one in begun] == [-signal.SIGKILL, -signal.SIGKILL]
