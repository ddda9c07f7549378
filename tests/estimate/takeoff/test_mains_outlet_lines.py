"""Outlets and circuits of the mains: bought and set up by us where the matrix of duties gives them to us."""

from collections import Counter
from decimal import Decimal

import pytest

from proposal.document.making.document import document_of
from proposal.model.project import Project
from proposal.model.wording.wording import DutyChange
from proposal.pipeline import Computed, compute
from tests.design.making import PROJECTS, changed, project_of

ROW = "Line-voltage power and outlets"
USES = ("mains outlet", "mains circuit")


def furnished(furnish: str, install: str) -> Project:
    duty = DutyChange(furnish=furnish, install=install)
    return changed(project_of(PROJECTS / "minimal"), "brief.responsibilities.rows", {ROW: duty})


def bought(computed: Computed) -> dict[tuple[str, str], Decimal]:
    entries = computed.project.library.consumables
    return {
        (line.room, entries[line.model].use): line.quantity
        for line in computed.estimate.lines
        if line.model in entries and entries[line.model].use in USES
    }


def hours(computed: Computed) -> dict[tuple[str, str], Decimal]:
    found: Counter[tuple[str, str]] = Counter()
    for line in computed.labour.lines:
        if line.task in ("set a mains outlet", "lay a mains circuit"):
            found[line.room, line.task] += line.units  # type: ignore[assignment]
    return dict(found)  # type: ignore[arg-type]


@pytest.mark.pinned
def test_ours_are_counted_by_outlet_and_by_circuit() -> None:
    # In the room the breakout and the charger, in the rack one power strip; a circuit each place.
    computed = compute(furnished("AV", "AV"))
    assert bought(computed) == {
        ("B001", "mains outlet"): 2,
        ("B001", "mains circuit"): 1,
        ("ER1", "mains outlet"): 1,
        ("ER1", "mains circuit"): 1,
    }
    assert hours(computed) == {
        ("B001", "set a mains outlet"): 2,
        ("B001", "lay a mains circuit"): 1,
        ("ER1", "set a mains outlet"): 1,
        ("ER1", "lay a mains circuit"): 1,
    }
    document = document_of(computed)
    assert {row.scope for row in document.mains_outlets} == {"audio-visual contractor"}
    assert any("outlets and circuits of the mains" in text for text in document.scope)
    assert not any(text.startswith("Line voltage, its outlets") for text in document.exclusions)


def test_what_others_furnish_or_install_is_not_ours() -> None:
    others = compute(project_of(PROJECTS / "minimal"))
    assert (bought(others), hours(others)) == ({}, {})
    assert {row.scope for row in document_of(others).mains_outlets} == {"electrical contractor"}
    material = compute(furnished("AV", "EC"))
    assert bought(material) != {}
    assert hours(material) == {}
    work = compute(furnished("EC", "EC, AV"))
    assert bought(work) == {}
    assert hours(work) != {}
