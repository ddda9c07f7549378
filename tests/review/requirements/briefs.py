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


INTRODUCTION = "introduction"
"""The clause of what stands above the first point."""


def sentences_of(brief: str) -> list[str]:
    """Return its sentences, without the numbers and the headings of its points."""
    body = brief.partition("Everything here is invented.* ")[2]
    assert body
    said = re.split(r"(?<=[.?!]) (?=[A-Z0-9])", re.sub(r"(?<= )[0-9]{1,2}\. (?=[A-Z])", "", body))
    return [one for one in said if len(one.split()) > 4]


def answered_point_by_point(brief: str, asked: Iterable[Requirement]) -> None:
    """Assert that requirements are the points of a brief in the client's words, no sentence left out."""
    requirements = list(asked)
    assert {one.clause for one in requirements} == {INTRODUCTION, *points_of(brief)}
    texts = [" ".join(one.text.split()) for one in requirements]
    for text in texts:
        assert text in brief
    assert [one for one in sentences_of(brief) if not any(one in text for text in texts)] == []
