"""Scope, exclusions and duties follow from what a design contains, and from what the project says of them."""

from dataclasses import replace
from decimal import Decimal

import pytest

from proposal.design.standing_conditions import facts
from proposal.design.whole_design import design
from proposal.document.making.document import document_of
from proposal.document.making.parties import answering
from proposal.document.making.scope_and_exclusions import duty_rows, lines, standing_parts
from proposal.model.loading import load_project
from proposal.model.wording.wording import (
    DutyChange,
    DutyLine,
    Fact,
    LineChange,
    ResponsibilityChanges,
    StandingLine,
)
from tests.design.making import EXAMPLE, PROJECTS, project_of
from tests.whole_projects import whole_computed

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
    rows = duty_rows(ROWS, changes, ("racks",), ("AV", "EC", "GC"))
    assert [row.about for row in rows] == ["Racks", "Blinds"]
    assert dict(rows[0].duties) == {
        "furnish": "",
        "install": "EC",
        "terminate": "",
        "configure": "",
        "test": "EC, AV",
        "maintain": "",
    }
    assert [row.about for row in duty_rows(ROWS, changes, (), ("AV", "GC"))] == ["Blinds"]


def test_what_a_party_would_do_that_the_job_does_not_have_is_the_owners() -> None:
    rows = {"Racks": DutyLine(furnish="GC", install="EC, GC", test="AV, EC")}
    (row,) = duty_rows(rows, {}, (), ("AV", "OW", "EC"))
    assert {duty: who for duty, who in row.duties if who} == {
        "furnish": "OW",
        "install": "EC, OW",
        "test": "AV, EC",
    }


def test_a_client_party_is_the_clients_whatever_it_is_called() -> None:
    """The university has a network team by another name; no line names a general contractor."""
    made = whole_computed(PROJECTS / "university")
    named = {"IT": "The person for computers, in the evenings", "CL": "The caretaker"}
    changes = ResponsibilityChanges.model_validate(
        {
            "parties": named,
            "of_the_client": ["CL"],
            "rows": {"Keys": {"furnish": "CL", "before": "first fix"}},
        }
    )
    brief = made.project.brief.model_copy(update={"responsibilities": changes})
    project = made.project.model_copy(update={"brief": brief})
    document = document_of(replace(made, project=project, design=replace(made.design, project=project)))
    assert {letters for letters, _ in document.parties} == {"AV", "OW", "IT", "CL"}
    who = {row.who: row.is_the_clients for row in document.client_steps}
    assert who["the person for computers, in the evenings"]
    assert who["the caretaker"]
    assert who["you, or whom you engage"]
    assert {
        answering(project, one, {"IT"}) for one in ("your facilities team", "the electrical contractor")
    } == {"you"}
    assert not {"general contractor", "electrical contractor", "your facilities team"} & set(who)


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
    assert (
        rows["Interpreters' booths with the console, which is listed with the owner's equipment too"]["test"]
        == "IN, AV"
    )
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
