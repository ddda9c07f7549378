"""The import contract of pyproject.toml holds, and would not if a page reached for the design."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def contract(folder: Path) -> subprocess.CompletedProcess[str]:
    """Check the contract of the checkout in a folder."""
    return subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-logo", "--no-cache"],
        cwd=folder,
        env={"PYTHONPATH": str(folder), "PATH": "/usr/bin:/bin", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_imports_run_upward_only() -> None:
    done = contract(ROOT)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(
    ("module", "line", "broken"),
    [
        (
            "pages/cover.py",
            "from proposal.pipeline import Computed",
            r"never what it was made from BROKEN",
        ),
        (
            "drawings/plan/layout.py",
            "import proposal.document.making.document",
            r"never what it was made from BROKEN",
        ),
        ("exports/document_json.py", "import proposal.pages.cover", r"Imports run upward only BROKEN"),
        ("design/sizing.py", "from proposal.review import findings", r"Imports run upward only BROKEN"),
        (
            "standards/tia568.py",
            "import proposal.errors",
            r"Standards know nothing of ours but each other BROKEN",
        ),
        ("design/power.py", "import os", r"touches no files, clocks, processes or networks BROKEN"),
        ("new_subject.py", "", "new_subject"),
    ],
)
def test_a_forbidden_import_breaks_the_contract(module: str, line: str, broken: str, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "proposal", tmp_path / "proposal", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    with (tmp_path / "proposal" / module).open("a", encoding="utf-8") as file:
        file.write(f"\n{line}\n")
    done = contract(tmp_path)
    assert done.returncode == 1, done.stdout + done.stderr
    assert re.search(broken, " ".join(done.stdout.split())), done.stdout
