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


NEVER_MADE_FROM = "What is shown knows an edition, never what it was made from BROKEN"
FORBIDDEN = (
    ("pages/cover.py", "from proposal.pipeline import Computed", NEVER_MADE_FROM),
    ("drawings/plan/layout.py", "import proposal.document.making.document", NEVER_MADE_FROM),
    ("exports/document_json.py", "import proposal.pages.cover", "Imports run upward only BROKEN"),
    ("design/sizing.py", "from proposal.review import findings", "Imports run upward only BROKEN"),
    (
        "standards/tia568.py",
        "import proposal.errors",
        "Standards know nothing of ours but each other BROKEN",
    ),
    ("design/power.py", "import os", "touches no files, clocks, processes or networks BROKEN"),
)
"""Module, a line that it may not have, and the contract that the line breaks."""


def copy_of_the_program(folder: Path) -> Path:
    shutil.copytree(ROOT / "proposal", folder / "proposal", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder / "proposal"


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What is said of a program in which every forbidden import stands."""
    folder = tmp_path_factory.mktemp("broken")
    program = copy_of_the_program(folder)
    for module, line, _ in FORBIDDEN:
        with (program / module).open("a", encoding="utf-8") as file:
            file.write(f"\n{line}\n")
    done = contract(folder)
    assert done.returncode == 1, done.stdout + done.stderr
    return " ".join(done.stdout.split())


@pytest.mark.parametrize(("module", "line", "breaks"), FORBIDDEN, ids=lambda value: str(value)[:40])
def test_a_forbidden_import_breaks_the_contract(module: str, line: str, breaks: str, broken: str) -> None:
    assert breaks in broken
    importer = "proposal." + module.removesuffix(".py").replace("/", ".")
    imported = line.split()[1]
    assert re.search(rf"{re.escape(importer)} -> {re.escape(imported)}\b", broken), broken


def test_a_module_that_the_contract_does_not_place_breaks_it(tmp_path: Path) -> None:
    (copy_of_the_program(tmp_path) / "new_subject.py").write_text("\n", "utf-8")
    done = contract(tmp_path)
    assert done.returncode == 1, done.stdout + done.stderr
    assert "new_subject" in done.stdout
