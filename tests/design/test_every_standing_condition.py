"""Every condition of the standing wording, true and false: each line is printed here and not there.

Of the designs some are as their files say, some do what others usually do, and one holds nothing.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import get_args

import pytest

from proposal.design.design import Design
from proposal.design.equipment.our_duties import BOXES, LINE_VOLTAGE
from proposal.design.pathways.penetrations import FIRE_STOPPING
from proposal.design.standing_conditions import facts
from proposal.document.making.scope_and_exclusions import standing_parts
from proposal.model.price.commercial import Surcharge
from proposal.model.wording.wording import DutyChange, DutyLine, Fact, StandingLine
from tests.design.making import EXAMPLE, PROJECTS, changed
from tests.whole_projects import whole_computed

NAMES = ("minimal", "two_rooms", "municipal", "university", "hospital")


def whole(folder: Path) -> Design:
    return whole_computed(folder).design


def doing(
    made: Design, *, rows: Iterable[str] = (), covers: Iterable[str] = (), pathways: bool = False
) -> Design:
    """Return a design of whose site work we do more.

    rows: of the matrix of duties that are ours.  covers: what a sum of the price pays for.
    pathways: whether the listed pathways are ours to furnish, none of them there already.
    """
    project = made.project
    duties = {row: DutyChange(furnish="AV", install="AV") for row in rows}
    project = changed(project, "brief.responsibilities.rows", duties)
    project = changed(project, "brief.rules.takeoff.price_pathways", pathways)
    paid = {
        one: Surcharge.model_validate({"name": one, "amount": "900 EUR", "covers": [one]}) for one in covers
    }
    project = changed(project, "brief.price.surcharges", paid)
    return replace(made, project=project)


@cache
def nothing() -> Design:
    """Return a design of nothing: no device, no subnet."""
    made = whole(PROJECTS / "minimal")
    project = made.project
    brief = project.brief.model_copy(update={"subnets": {}})
    project = project.model_copy(update={"brief": brief})
    return replace(made, project=project, devices=(), penetrations=())


def designs() -> Iterator[Design]:
    yield from (whole(PROJECTS / name) for name in NAMES)
    yield whole(EXAMPLE)
    example = whole(EXAMPLE)
    yield doing(example, rows=(LINE_VOLTAGE, FIRE_STOPPING, BOXES[True]), covers=("lifts",), pathways=True)
    yield doing(example, rows=(BOXES[False],), covers=("storage",))
    yield doing(example, covers=("waste", "permits"), pathways=True)
    yield replace(example, project=changed(example.project, "building.fire_alarm_contact", False))
    yield nothing()


@pytest.mark.parametrize("fact", [one for one in get_args(Fact) if one != "always"])
def test_a_fact_holds_somewhere_and_not_everywhere(fact: Fact) -> None:
    assert {fact in facts(made) for made in designs()} == {True, False}


@cache
def printed() -> tuple[frozenset[str], ...]:
    """Return what each design prints of the standing wording: texts of lines, and rows of duties."""
    found = []
    for made in designs():
        parts = standing_parts(made, Decimal(1000))
        rows = {row.about for row in parts["responsibilities"]}
        found.append(
            frozenset(
                {
                    *parts["scope"],
                    *parts["exclusions"],
                    *parts["standing_assumptions"],
                    *parts["handover"],
                    *parts["security"],
                    *rows,
                }
            )
        )
    return tuple(found)


def conditional() -> Iterator[tuple[str, StandingLine | DutyLine]]:
    """Yield every line of the standing wording that is printed under a condition, by its name."""
    standing = whole(PROJECTS / "minimal").project.standing
    lines = standing.defaults
    for held in (lines.scope, lines.exclusions, lines.assumptions, lines.handover, lines.security):
        yield from ((one.text, one) for one in held.values())
    yield from standing.responsibilities.rows.items()


def test_every_line_with_a_condition_is_printed_somewhere_and_left_out_elsewhere() -> None:
    lines = [said for said, one in conditional() if (one.when and "always" not in one.when) or one.unless]
    assert len(lines) > 40
    everywhere = [said for said in lines if all(said in one for one in printed())]
    nowhere = [said for said in lines if not any(said in one for one in printed())]
    assert (everywhere, nowhere) == ([], [])
