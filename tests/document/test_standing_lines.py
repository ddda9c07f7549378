"""Scope, exclusions and duties follow from what a design contains, and from what the project says of them."""

from decimal import Decimal

import pytest

from proposal.design.standing_conditions import facts
from proposal.design.whole_design import design
from proposal.document.making.scope_and_exclusions import duty_rows, lines, standing_parts
from proposal.model.loading import load_project
from proposal.model.wording.wording import DutyChange, DutyLine, Fact, LineChange, StandingLine
from tests.design.making import EXAMPLE, PROJECTS, project_of

NO_PRICE = Decimal(0)
LINES = {
    "racks": StandingLine(text="Racks.", when=("racks",)),
    "sound": StandingLine(text="Sound.", when=("loudspeakers", "amplifiers")),
    "test": StandingLine(text="Tests."),
}
ROWS = {
    "Racks": DutyLine(furnish="AV", install="AV", when=("racks",)),
    "Permits": DutyLine(furnish="GC"),
}


@pytest.mark.parametrize(
    ("held", "printed"),
    [
        ((), ("Tests.",)),
        (("racks",), ("Racks.", "Tests.")),
        (("amplifiers",), ("Sound.", "Tests.")),
        (("loudspeakers", "racks"), ("Racks.", "Sound.", "Tests.")),
    ],
)
def test_a_line_is_printed_where_one_of_its_facts_holds(
    held: tuple[Fact, ...], printed: tuple[str, ...]
) -> None:
    assert lines(LINES, {}, held) == printed


def test_a_project_changes_adds_and_leaves_out_lines() -> None:
    changes = {
        "test": LineChange(left_out=True),
        "racks": LineChange(text="Racks of our own."),
        "flags": LineChange(text="Flags."),
        "lamps": LineChange(text="Lamps.", when=("loudspeakers",)),
    }
    assert lines(LINES, changes, ("racks",)) == ("Racks of our own.", "Flags.")
    # A changed line keeps its condition unless it is given another.
    assert lines(LINES, changes, ()) == ("Flags.",)
    assert lines(LINES, {"racks": LineChange(when=("always",))}, ("always",)) == ("Racks.", "Tests.")


def test_a_project_changes_adds_and_leaves_out_duties() -> None:
    changes = {
        "Racks": DutyChange(install="EC", test="EC,AV", furnish=""),
        "Permits": DutyChange(left_out=True),
        "Blinds": DutyChange(furnish="GC"),
    }
    rows = duty_rows(ROWS, changes, ("racks",))
    assert [row.about for row in rows] == ["Racks", "Blinds"]
    assert dict(rows[0].duties) == {
        "furnish": "",
        "install": "EC",
        "terminate": "",
        "configure": "",
        "test": "EC, AV",
        "maintain": "",
    }
    assert [row.about for row in duty_rows(ROWS, changes, ())] == ["Blinds"]


def test_a_project_without_loudspeakers_has_no_line_about_them() -> None:
    made = design(project_of(PROJECTS / "minimal"))
    assert "loudspeakers" not in facts(made)
    parts = standing_parts(made, NO_PRICE)
    said = [row.about for row in parts["responsibilities"]] + [*parts["scope"], *parts["exclusions"]]
    assert said
    assert not [line for line in said if "oudspeaker" in line or "mplifier" in line]
    assert any("Conduit" in line for line in said)


def test_the_example_says_what_it_changes() -> None:
    parts = standing_parts(design(load_project(EXAMPLE)), NO_PRICE)
    rows = {row.about: dict(row.duties) for row in parts["responsibilities"]}
    assert "Demolition, and removal of what is replaced" not in rows
    assert rows["Access panels"] == {
        "furnish": "GC", "install": "GC", "terminate": "", "configure": "", "test": "AV", "maintain": "FM",
    }  # fmt: skip
    assert rows["Interpreters' consoles and booths"]["test"] == "IN, AV"
    assert ("IN", "The interpreters' agency") in parts["parties"]
    assert any("oudspeaker" in about for about in rows)
    assert rows["Standby power for racks"] == {
        "furnish": "AV", "install": "AV", "terminate": "", "configure": "AV", "test": "AV", "maintain": "FM",
    }  # fmt: skip
    assert "Signs for assistive listening" not in rows


def test_only_parties_with_a_duty_are_named() -> None:
    parts = standing_parts(design(project_of(PROJECTS / "minimal")), NO_PRICE)
    named = {
        letters for row in parts["responsibilities"] for _, who in row.duties for letters in who.split(", ")
    }
    assert {letters for letters, _ in parts["parties"]} == named - {""}
