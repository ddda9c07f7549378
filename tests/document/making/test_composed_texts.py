"""Texts that are composed of words and names come from the table of words, each of them."""

import ast
import re
from pathlib import Path

import pytest

import proposal
from proposal.differences import consequences
from proposal.document.headings import Words
from proposal.document.making.cash import cash_rows
from proposal.document.making.composed_texts import words_of
from proposal.document.making.document import document_of
from proposal.document.making.sensitivity import cases_of
from proposal.model.loading import load_project, standing_wording
from proposal.model.project import Project
from proposal.pipeline import compute

ROOT = Path(__file__).resolve().parents[3]
TEXTS = standing_wording().words.texts
CALL = re.compile(r'\.text\(\s*f?"([^"]+)"|"(subject\.\w+)"')


def renamed(project: Project) -> Project:
    """Return a project whose place has other words: all composed texts begin with their keys."""
    texts = {key: f"<{key}> {text}" for key, text in TEXTS.items()}
    words = project.standing.words.model_copy(update={"texts": texts})
    return project.model_copy(update={"standing": project.standing.model_copy(update={"words": words})})


def test_a_part_that_looks_like_another_is_put_in_as_it_is() -> None:
    words = Words({"texts.both": "{first} and {second}, {unknown}"})
    assert words.text("both", first="{second}", second="{0}") == "{second} and {0}, {unknown}"


def test_a_text_that_the_table_does_not_hold_is_an_error() -> None:
    with pytest.raises(KeyError, match=r"texts\.nothing"):
        Words({}).text("nothing")


def test_the_table_holds_every_text_that_is_asked_for_and_no_other() -> None:
    asked = {
        key
        for path in Path(proposal.__file__).parent.rglob("*.py")
        for found in CALL.findall(path.read_text("utf-8"))
        for key in found
        if key
    }
    families = {key.partition("{")[0] for key in asked if "{" in key}
    assert families == {"assumed.", "cash.", "disclosure.", "radio_case.", "region.", "total."}
    used = {key for key in TEXTS if key in asked or any(key.startswith(family) for family in families)}
    used |= {key for key in TEXTS if key.startswith("offer.")}  # by the detail that the client is told
    assert used == set(TEXTS)
    assert {key for key in asked if "{" not in key} <= set(TEXTS)


def totals_named() -> set[str]:
    """Return the codes of all totals that a comparison makes, as its module names them."""
    tree = ast.parse((ROOT / "proposal/differences/consequences.py").read_text("utf-8"))
    return {
        ast.literal_eval(call.args[1])
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "_Total"
    }


def test_every_total_of_a_comparison_has_its_word() -> None:
    assert {f"total.{name}" for name in totals_named()} == {key for key in TEXTS if key.startswith("total.")}


def test_rows_of_the_example_say_what_the_table_says() -> None:
    project = load_project(ROOT / "example_project")
    computed = compute(renamed(project))
    document = document_of(computed)
    said = document.model_dump_json() + repr(cash_rows(computed, document.payments))
    said += repr([case.row for case in cases_of(computed.project)])
    told = {key for key in TEXTS if f"<{key}> " in said}
    assert told >= {
        "cash.equipment",
        "cash.materials",
        "cash.tax_passed_on",
        "cash.travel",
        "cash.work",
        "channel.spare",
        "disclosure.margin",
        "region.europe",
        "sensitivity.hours",
        "sensitivity.rate",
        "subject.project",
    }
    for one in consequences(document, document):
        assert one.title.startswith(f"<total.{one.name}> ")


def test_the_words_of_a_project_are_those_of_its_locale() -> None:
    project = load_project(ROOT / "example_project")
    assert words_of(project).text("cash.work", phase="rough-in") == "Work: rough-in"
