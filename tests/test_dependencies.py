"""What is installed is used, what is used is declared, and the versions that made the example are kept."""

import ast
import json
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.metadata import packages_distributions, requires
from pathlib import Path

import pytest

from tests.write_constraints import CONSTRAINTS, installed, name_of

ROOT = Path(__file__).resolve().parent.parent
DECLARED = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
PROGRAM = DECLARED["project"]["dependencies"]
TESTS = DECLARED["project"]["optional-dependencies"]["test"]

# What is used by other means than an import: the file that uses it, and the words that do.
USED_OTHERWISE: Mapping[str, tuple[str, str]] = {
    "graphviz-pure": ("proposal/publish/graph_program.py", '_PROGRAM = "graphviz-pure"'),
    "mkdocs-material": ("mkdocs.yml", "name: material"),
    "hatchling": ("tests/test_packaging.py", '"-m", "hatchling", "build"'),
    "import-linter": (".ci/run", "lint-imports"),
    "mypy": (".ci/run", "mypy --strict"),
    "pdfua": ("tests/paper/test_paper_edition.py", 'import_module("pdfua")'),
    "pytest-xdist": ("pyproject.toml", "--dist worksteal"),
    "ruff": (".ci/run", "ruff check"),
    "types-pyyaml": ("proposal/model/reading/yaml_tree.py", "import yaml"),
}


def imported(*folders: str) -> dict[str, str]:
    """Return the top modules of others that are imported, with a file that does."""
    found: dict[str, str] = {}
    for folder in folders:
        for path in sorted((ROOT / folder).rglob("*.py")):
            for module in _modules(ast.parse(path.read_text("utf-8"))):
                top = module.partition(".")[0]
                if top not in sys.stdlib_module_names and top not in (
                    "proposal",
                    "tests",
                    "docs",
                    "benchmarks",
                ):
                    found.setdefault(top, path.relative_to(ROOT).as_posix())
    return found


def _modules(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            yield node.module


distributions = cache(packages_distributions)


def distributions_of(module: str) -> set[str]:
    return {name_of(each) for each in distributions().get(module, ())}


def test_the_program_imports_only_what_it_declares() -> None:
    declared = {name_of(each) for each in PROGRAM}
    others = {
        module: file
        for module, file in imported("proposal").items()
        if not distributions_of(module) & declared
    }
    assert others == {}


def test_tests_import_only_what_they_declare() -> None:
    declared = {name_of(each) for each in (*PROGRAM, *TESTS)}
    others = {
        module: file
        for module, file in imported("tests", "benchmarks", "docs").items()
        if not distributions_of(module) & declared and not (ROOT / file).with_name(f"{module}.py").exists()
    }
    assert others == {}


@pytest.mark.parametrize(
    ("requirements", "folders"), [(PROGRAM, ("proposal",)), (TESTS, ("tests", "benchmarks", "docs"))]
)
def test_everything_that_is_declared_is_used(requirements: list[str], folders: tuple[str, ...]) -> None:
    used = {each for module in imported(*folders) for each in distributions_of(module)}
    unused = {name_of(each) for each in requirements} - used
    for name in unused & set(USED_OTHERWISE):
        file, words = USED_OTHERWISE[name]
        assert words in (ROOT / file).read_text("utf-8"), name
    assert unused - set(USED_OTHERWISE) == set()


def test_everything_that_is_declared_has_a_lowest_and_a_highest_version() -> None:
    for each in (*PROGRAM, *TESTS, *DECLARED["build-system"]["requires"]):
        assert re.fullmatch(r"[A-Za-z0-9-]+>=[0-9.]+,<[0-9]+", each), each


def constraints() -> dict[str, str]:
    lines = CONSTRAINTS.read_text("utf-8").splitlines()
    return dict(line.split("==") for line in lines if line and not line.startswith("#"))


def test_the_constraints_are_the_versions_that_made_the_issued_example() -> None:
    kept = constraints()
    records = sorted((ROOT / "example_project" / "issued").glob("*/manifest.json"))
    manifest = max((json.loads(path.read_bytes()) for path in records), key=lambda one: one["date"])
    made_with = manifest["versions"]
    libraries = {name: made_with[name] for name in made_with if name in {name_of(each) for each in PROGRAM}}
    assert len(libraries) > 10
    again = "issue the example anew? then: .venv/bin/python tests/write_constraints.py"
    assert {name: kept.get(name) for name in libraries} == libraries, again
    assert f"Python {made_with['python']}" in CONSTRAINTS.read_text("utf-8"), again


def test_the_constraints_name_all_that_the_program_installs() -> None:
    kept = constraints()
    assert {name_of(each) for each in PROGRAM} <= set(kept)
    here = {name for name in kept if installed([name]) == {name: kept[name]}}
    for name in here:
        assert set(installed(requires(name) or ())) <= set(kept), name
    for name, number in kept.items():
        assert re.fullmatch(r"[a-z0-9-]+==[0-9a-z.]+", f"{name}=={number}")


# Folders of tests that the lowest versions do not meet, and why.
WITHOUT_THE_LOWEST: Mapping[str, str] = {
    "benchmarks": "buildings of any size, timed",
    "browser": "whole sites, looked at",
    "declared": "which fields our own modules read",
    "mutations": "the tests themselves are tried",
    "projects": "projects, no tests",
}


def test_the_lowest_versions_meet_every_folder_of_tests() -> None:
    run = (ROOT / ".ci" / "run").read_text("utf-8").partition("the lowest versions")[2].partition("say ")[0]
    named = set(re.findall(r" tests/(\w+)", run))
    folders = {path.name for path in (ROOT / "tests").iterdir() if any(path.rglob("*.py"))} | {"projects"}
    assert named - {path.stem for path in (ROOT / "tests").glob("*.py")} <= folders
    assert folders - named == set(WITHOUT_THE_LOWEST)
