"""The benchmarks run on a small project and print every figure."""

import re
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from benchmarks import builds, checking, growth
from benchmarks.__main__ import PARTS, main
from benchmarks.editing import fresh_copy, room_type_word
from benchmarks.figures import LIBRARIES
from benchmarks.measuring import Command, Taken, run
from tests.long_form import LONG

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
SMALL = ["--project", str(MINIMAL), "--editions", "client", "--rounds", "1", "--checks", "1"]
SMALL += ["--saves", "1", "--rooms", "1", "--pages", "1", "--steps", "1"]

# Growth with pages builds once more what the other parts build.
SHORT = [part for part in PARTS if LONG or part != "pages"]

MOST_TIMES_THE_IMPORTS = 0.72
"""A quarter more than was measured (0.57) of a small project, from saving to the page served."""
ROUNDS = 4

SECONDS = r"\d+(\.\d+)?"
ALONE = {"processor, s": SECONDS, "elapsed, s": SECONDS}
COMPARED = dict.fromkeys(ALONE, rf"{SECONDS} / {SECONDS} = \d+\.\d\d")
FIGURES = {
    **dict.fromkeys(
        ("date", "Python", *LIBRARIES, "cores", "load at the start", "rounds of builds"), r".*\d.*"
    ),
    "commit": r"[0-9a-f]{7,40}\+?|no commit",
    "check: packages loaded": r".*\bpydantic\b.*\byaml",
    **{
        f"{name}: {kind}": shape
        for name in (
            "check / bare imports",
            "build of all editions, cold / mkdocs",
            "build of all editions, unchanged / mkdocs",
            "build of all editions, one word changed / mkdocs",
            "build of the client edition, cold / mkdocs",
            "build of the client edition, unchanged / mkdocs",
            "client edition, 1 room types, build cold / mkdocs",
        )
        for kind, shape in COMPARED.items()
    },
    **{
        f"{name}: {kind}": shape
        for name in (
            "preview, from saving to the page served",
            "preview, from saving to rest",
            "check, 1 rooms",
        )
        for kind, shape in ALONE.items()
    },
    "check, 1 rooms: peak memory, MiB": r"\d+",
    "client edition, 1 room types: pages": r"\d+",
    **{
        f"{what}: {exponent}": "–"
        for what in (
            "check against rooms, processor",
            "check against rooms, peak memory",
            "build against pages, processor",
            "mkdocs against pages, processor",
        )
        for exponent in ("exponent", "exponent of the last step")
    },
    **{
        f"radio, {kind}, 1 rooms: neighbours, plan, processor, s": (
            rf"{SECONDS}, {SECONDS} \(4 links, planned\)"
        )
        for kind in ("impossible", "plannable", "easy")
    },
    **{
        f"radio, {kind}: exponents of neighbours, plan": r"–, – \(1 sizes planned\)"
        for kind in ("impossible", "plannable", "easy")
    },
    **{
        f"cabling, 1 rooms: {step}, processor, s": rf"{SECONDS} \(\d+ cables\)"
        for step in ("routes", "take-off and reels")
    },
    **{f"cabling: exponent of {step}": r"– \(n log n has –\)" for step in ("routes", "take-off and reels")},
}


@pytest.fixture
def repeated_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a command run once where the same is measured several times, as with a word changed or nothing.

    What is looked at is which figures there are; `tests/test_build_ratios.py` builds with a word changed.
    """
    taken: dict[tuple[str, ...], Taken] = {}

    def run_once(command: Command, statuses: Sequence[int] = (0,)) -> Taken:
        words = tuple(map(str, command))
        if words not in taken:
            taken[words] = run(command, statuses)
        return taken[words]

    for module in (builds, checking, growth):
        monkeypatch.setattr(module, "run", run_once)


@pytest.mark.usefixtures("repeated_once")
def test_every_part_prints_its_figures(capsys: pytest.CaptureFixture[str]) -> None:
    status = main([*SMALL, *SHORT])
    printed = capsys.readouterr()
    assert (status, printed.err) == (0, "")
    found = dict(line.rsplit(": ", 1) for line in printed.out.splitlines())
    of_pages = re.compile(r"client edition, 1 room types|(build|mkdocs) against pages")
    assert sorted(found) == sorted(name for name in FIGURES if LONG or not of_pages.match(name))
    assert {name: value for name, value in found.items() if not re.fullmatch(FIGURES[name], value)} == {}
    ratios = [served_against_imports(found)]
    # Whatever else the machine does only adds to a run.
    while min(ratios) > MOST_TIMES_THE_IMPORTS and len(ratios) < ROUNDS:
        assert main([*SMALL, "check", "preview"]) == 0
        printed = capsys.readouterr()
        ratios.append(served_against_imports(dict(one.rsplit(": ", 1) for one in printed.out.splitlines())))
    assert min(ratios) <= MOST_TIMES_THE_IMPORTS, f"the preview takes {min(ratios):.2f} times the imports"


def served_against_imports(found: Mapping[str, str]) -> float:
    """Return the processor time from saving to the page served against that of the bare imports."""
    imports_s = found["check / bare imports: processor, s"].partition("/ ")[2].partition(" =")[0]
    return float(found["preview, from saving to the page served: processor, s"]) / float(imports_s)


def test_a_project_that_cannot_be_built_ends_the_benchmarks_with_what_was_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = fresh_copy(MINIMAL, tmp_path / "broken")
    (broken / "rooms.csv").write_text("tag,name\n", "utf-8")
    assert main([*SMALL, "--project", str(broken), "check"]) == 1
    assert "ended with status 2" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [["everything"], ["--rounds", "0"], ["--rooms", "25,many"], ["--editions", "owner"], ["--project", "/"]],
)
def test_a_wrong_choice_is_refused(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 2
    assert "error: argument" in capsys.readouterr().err


def test_a_fresh_copy_holds_nothing_that_was_built_and_takes_new_words(tmp_path: Path) -> None:
    project = tmp_path / "project"
    shutil.copytree(MINIMAL, project)
    (project / "build" / "cache").mkdir(parents=True)
    copy = fresh_copy(project, tmp_path / "copy")
    assert not (copy / "build").exists()

    word = room_type_word(project)
    word.change(copy, "Changedaa")
    use = "use: Changedaa people talk round a table."
    assert word.page == "/rooms/meeting.html"
    assert use in (copy / word.file).read_text("utf-8")
    assert use not in (project / word.file).read_text("utf-8")


def test_the_parts_are_those_that_are_described() -> None:
    import benchmarks

    assert re.findall(r"^- `(\w+)`", benchmarks.__doc__ or "", re.MULTILINE)[:5] == list(PARTS)[:5]
    assert "- `radio` and `cabling`" in (benchmarks.__doc__ or "")
