"""The client's brief of a project of the tests, as its page has it."""

import re
from collections.abc import Iterable
from pathlib import Path

from proposal.model.requirements.requirements import Requirement


def brief_of(folder: Path) -> str:
    """Return the text of a brief on one line, without marks of emphasis."""
    return " ".join((folder / "brief.md").read_text("utf-8").replace("**", "").split())


def points_of(brief: str) -> set[str]:
    """Return the numbers of its points."""
    return set(re.findall(r"(?<= )([0-9]{1,2})\. [A-Z]", brief))


def answered_point_by_point(brief: str, asked: Iterable[Requirement]) -> None:
    """Assert that requirements are the points of a brief, each in the client's own words."""
    requirements = list(asked)
    assert {one.clause for one in requirements} == points_of(brief)
    for one in requirements:
        assert " ".join(one.text.split()) in brief
