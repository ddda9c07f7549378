"""A company's library that still writes a key of earlier days is told that it is gone, and what to do."""

import shutil
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.reading.removed_keys import REMOVED
from tests.declared.reads import called, declared

ROOT = Path(__file__).resolve().parent.parent.parent.parent
MINIMAL = ROOT / "tests" / "projects" / "minimal"


def told(tmp_path: Path, library: str) -> list[str]:
    project = tmp_path / "project"
    shutil.copytree(MINIMAL, project)
    company = tmp_path / "company"
    company.mkdir()
    (company / "ours.yaml").write_text(library, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load_project(project, library=company)
    return [str(problem) for problem in caught.value.problems]


def test_a_removed_key_is_told_with_its_place_and_what_to_do(tmp_path: Path) -> None:
    library = "source: editable default\nmicrophones:\n  MICROPHONE:\n    radio: {antennas: 2}\n"
    code = sorted(load_project(MINIMAL).library.microphones)[0]
    (problem,) = told(tmp_path, library.replace("MICROPHONE", code))
    assert "ours.yaml:4:13: " in problem
    assert problem.endswith(
        "wanted no antennas any more, nothing was ever computed from it: remove it; found antennas"
    )


def test_a_key_that_all_cables_had_is_known_with_each_kind_of_cable(tmp_path: Path) -> None:
    library = load_project(MINIMAL).library
    lines = ["source: editable default"]
    for field in ("cables", "loudspeaker_cables", "audio_cables", "fibre_cables"):
        code = sorted(getattr(library, field))[0]
        lines += [f"{field}:", f"  {code}: {{coldest_installation: 0 °C}}"]
    problems = told(tmp_path, "\n".join(lines) + "\n")
    assert len(problems) == 4
    assert all("wanted no coldest_installation any more" in one for one in problems)


def test_a_misspelt_key_is_told_as_before(tmp_path: Path) -> None:
    code = sorted(load_project(MINIMAL).library.connectors)[0]
    (problem,) = told(tmp_path, f"source: editable default\nconnectors:\n  {code}: {{insertion: 750}}\n")
    assert "any more" not in problem
    assert "wanted one of" in problem


def test_what_is_removed_is_no_field_any_more() -> None:
    assert {*REMOVED} & {*declared()} == set()
    classes = {called(owner) for owner in declared().values()}
    assert {model for model, _ in REMOVED} <= classes
