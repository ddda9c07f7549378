"""Broken projects are refused with a message that says where and what, and never with a traceback."""

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
