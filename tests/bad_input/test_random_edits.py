"""Random edits of good projects: each ends in results or in messages, never in a traceback.

A longer run: `PROPOSAL_RANDOM_EDITS=20000 python -m pytest tests/bad_input/test_random_edits.py`.
"""

import os
import re
from collections.abc import Callable, Mapping
from pathlib import Path

from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.pipeline import compute
from tests.bad_input.projects import GOOD
from tests.bad_input.random_edits import edited

ROOT = Path(__file__).parents[2]
SMALL: Mapping[str, bytes] = {file: text.encode() for file, text in GOOD.items()}
LARGE: Mapping[str, bytes] = {
    path.relative_to(ROOT / "tests/projects/us_customary").as_posix(): path.read_bytes()
    for path in sorted((ROOT / "tests/projects/us_customary").rglob("*"))
    if path.suffix in (".yaml", ".csv", ".md")
}
EDITS = int(os.environ.get("PROPOSAL_RANDOM_EDITS", "240"))
MESSAGE = re.compile(r"wanted .+; found .+")


def _is_good(folder: Path, seed: int, files: Mapping[str, bytes], then: Callable[[Project], object]) -> bool:
    """Load a project with random edits, say whether it is still good, and repair it again."""
    changed = edited(seed, files)
    for file, data in changed.items():
        (folder / file).write_bytes(data)
    try:
        then(load_project(folder))
    except InputError as error:
        for problem in error.problems:
            line = str(problem)
            assert line.isprintable(), (seed, line)
            assert MESSAGE.search(line), (seed, line)
        return False
    except Exception as error:
        raise AssertionError(f"edit {seed} of {sorted(changed)}: {error!r}") from error
    finally:
        for file in changed:
            (folder / file).write_bytes(files[file])
    return True


def _project(folder: Path, files: Mapping[str, bytes]) -> Path:
    for file, data in files.items():
        (folder / file).parent.mkdir(parents=True, exist_ok=True)
        (folder / file).write_bytes(data)
    load_project(folder)
    return folder


def test_random_edits_of_a_small_project_end_in_results_or_messages(tmp_path: Path) -> None:
    folder = _project(tmp_path, SMALL)
    good = sum(_is_good(folder, seed, SMALL, compute) for seed in range(EDITS))
    # Edits that break nothing, or everything, would test nothing.
    assert 0.1 < good / EDITS < 0.5


def _load_only(project: Project) -> None:
    """Do nothing with a project: loading it is what is tested."""


def test_random_edits_of_a_large_project_end_in_a_project_or_messages(tmp_path: Path) -> None:
    folder = _project(tmp_path, LARGE)
    own = {file: data for file, data in LARGE.items() if not file.startswith("library/")}
    good = sum(_is_good(folder, seed, own, _load_only) for seed in range(EDITS // 6))
    assert 0.1 < good / (EDITS // 6) < 0.5


def test_random_edits_of_a_library_end_in_a_project_or_messages(tmp_path: Path) -> None:
    folder = _project(tmp_path, LARGE)
    library = {file: data for file, data in LARGE.items() if file.startswith("library/")}
    good = sum(_is_good(folder, seed, library, _load_only) for seed in range(EDITS // 30))
    assert 0.1 < good / (EDITS // 30) < 0.7
