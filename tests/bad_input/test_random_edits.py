"""Two thousand random edits of good projects: each gives a project or messages, never a traceback."""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from tests.bad_input.projects import GOOD
from tests.bad_input.random_edits import edited

ROOT = Path(__file__).parents[2]
SMALL: Mapping[str, bytes] = {file: text.encode() for file, text in GOOD.items()}
LARGE: Mapping[str, bytes] = {
    path.relative_to(ROOT / "tests/projects/us_customary").as_posix(): path.read_bytes()
    for path in sorted((ROOT / "tests/projects/us_customary").rglob("*"))
    if path.suffix in (".yaml", ".csv", ".md")
}
MESSAGE = re.compile(r"wanted .+; found .+")


def _load(folder: Path, seed: int, files: Mapping[str, bytes]) -> bool:
    """Load a project with random edits, say whether it is still good, and mend it again."""
    changed = edited(seed, files)
    for file, data in changed.items():
        (folder / file).write_bytes(data)
    try:
        load_project(folder)
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


@pytest.mark.parametrize(
    ("files", "seeds"), [(SMALL, range(1700)), (LARGE, range(300))], ids=["small", "large"]
)
def test_random_edits_end_in_a_project_or_in_messages(
    files: Mapping[str, bytes], seeds: range, tmp_path: Path
) -> None:
    for file, data in files.items():
        (tmp_path / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / file).write_bytes(data)
    load_project(tmp_path)
    good = sum(_load(tmp_path, seed, files) for seed in seeds)
    # Edits that break nothing, or everything, would test nothing.
    assert 0.05 < good / len(seeds) < 0.6
