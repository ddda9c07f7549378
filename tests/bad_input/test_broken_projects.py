"""Broken projects are refused with a message that says where and what, and never with a traceback."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.bad_input.cases import CASES, SEVERAL
from tests.bad_input.projects import Edits, messages_of, write_project


def test_the_project_that_is_broken_below_is_good(tmp_path: Path) -> None:
    assert messages_of(write_project(tmp_path / "project")) == []


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "messages"), CASES.values(), ids=CASES.keys())
def test_a_broken_project_says_exactly_what_is_wrong(
    edits: Edits, messages: list[str], tmp_path: Path
) -> None:
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == messages


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "messages"), SEVERAL.values(), ids=SEVERAL.keys())
def test_all_faults_of_all_files_are_told_at_once(edits: Edits, messages: list[str], tmp_path: Path) -> None:
    assert messages_of(write_project(tmp_path / "project", edits=edits)) == messages


def test_there_are_enough_broken_projects() -> None:
    assert len(CASES) >= 40
    in_several_files = [
        messages
        for _, messages in SEVERAL.values()
        if len({message.partition(":")[0] for message in messages}) > 1
    ]
    assert len(in_several_files) >= 5


def forms_wanted() -> Iterator[str]:
    """Yield what each refusal of what people write says that it wants, as the source has it."""
    root = Path(__file__).parents[2] / "proposal"
    for path in (*(root / "model").rglob("*.py"), *(root / "quantities").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func) == "refusal":
                wanted = node.args[0]
                if isinstance(wanted, ast.Constant | ast.JoinedStr):
                    yield ast.unparse(wanted)


def test_every_refusal_gives_a_short_example_of_what_is_wanted() -> None:
    """`_such_as(kind)` is that of a quantity; code that is quoted is an example, too."""
    found = list(forms_wanted())
    assert len(found) > 60
    assert [one for one in found if not any(mark in one for mark in ("such as", "such_as", "`"))] == []
