"""A build keeps its ratio to the bare site builder, cold and with a word changed, in processor time."""

import shutil
import sys
from pathlib import Path

import pytest

from benchmarks.editing import room_type_word
from tests.test_performance import PROGRAM, ROOT, seconds

MKDOCS = Path(sys.executable).with_name("mkdocs")
# A quarter more than was measured (4.05 and 3.03 times), with one room and one alternate.
MOST_COLD, MOST_WORD = 5.05, 3.8
MORE = """\
name: More spares
description: Ready.
changes:
  room_types: {meeting: {spare_microphones: {boundary: 2}}}
"""


def test_a_build_takes_as_many_times_the_bare_site_builder_as_it_did(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_MKDOCS_2_WARNING", "1")
    project = shutil.copytree(ROOT / "tests" / "projects" / "minimal", tmp_path / "minimal")
    word = room_type_word(project)
    (project / "alternates").mkdir()
    more = MORE.replace("meeting:", f"{word.file.stem}:")
    (project / "alternates" / "more.yaml").write_text(more, "utf-8")
    build: list[str | Path] = [PROGRAM, "build", project, "--edition", "client"]
    settings = project / "build" / "client" / "mkdocs.yml"
    cold: list[float] = []
    changed: list[float] = []
    bare: list[float] = []
    found = MOST_COLD, MOST_WORD
    for turn in range(3):
        shutil.rmtree(project / "build", ignore_errors=True)
        cold.append(seconds(build))
        word.change(project, f"Changed{'abc'[turn]}")
        changed.append(seconds(build))
        bare.append(seconds([MKDOCS, "build", "-q", "-f", settings, "-d", tmp_path / "bare"]))
        found = min(cold) / min(bare), min(changed) / min(bare)
        if found[0] <= MOST_COLD and found[1] <= MOST_WORD:
            break
    assert found[0] <= MOST_COLD, f"a cold build takes {found[0]:.2f} times the bare site builder"
    assert found[1] <= MOST_WORD, f"with a word changed it takes {found[1]:.2f} times the bare site builder"
