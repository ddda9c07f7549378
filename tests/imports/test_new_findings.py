"""Findings that changed figures bring are told from those that were there before."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest

from proposal.errors import Place
from proposal.imports.new_findings import brings_errors, new_findings, told_findings
from proposal.pipeline import Computed
from proposal.review.finding import Finding, error_at
from proposal.standards.sources import COMMON_PRACTICE

FOUND = error_at("A1", Place("rooms.csv", 2, 1), "too-far", "A1 is 5.5 m off.", "Move it.", COMMON_PRACTICE)


def having(*found: Finding) -> Computed:
    """Return what has findings alone."""
    brief = SimpleNamespace(units=None)
    return cast(Computed, SimpleNamespace(every_finding=found, project=SimpleNamespace(brief=brief)))


@pytest.mark.parametrize(
    ("before", "after", "new"),
    [
        ((), (FOUND,), 1),
        ((FOUND,), (FOUND,), 0),
        ((FOUND,), (replace(FOUND, message="A1 is 6 m off."),), 0),
        ((FOUND,), (FOUND, replace(FOUND, message="A1 is 7 m off.")), 1),
        ((FOUND,), (replace(FOUND, where="A2"),), 1),
        ((replace(FOUND, severity="warning"),), (FOUND,), 1),
        ((), (replace(FOUND, severity="note"),), 0),
        ((), (replace(FOUND, severity="note", rule="price-expires"),), 1),
        ((replace(FOUND, rule="price-zero"),), (replace(FOUND, rule="price-zero", message="7"),), 1),
    ],
)
def test_findings_are_new_that_were_not_there_whatever_number_they_tell(
    before: tuple[Finding, ...], after: tuple[Finding, ...], new: int
) -> None:
    assert len(new_findings(having(*before), having(*after))) == new


def test_errors_count_that_nobody_accepted() -> None:
    accepted: Any = SimpleNamespace(reason="as agreed")
    assert brings_errors((FOUND,))
    assert not brings_errors((replace(FOUND, accepted=accepted), replace(FOUND, severity="warning")))
    assert list(told_findings((), having())) == ["check finds nothing new with these figures"]
