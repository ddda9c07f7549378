"""Lists of facts show what a row declares: headings, units, marks and links; the rest is left out."""

import html
from typing import Annotated, ClassVar

import pytest

from proposal.document.schedule import ALL, HOUSE, Row, Schedule, Shows, composed
from proposal.editions import edition_of
from proposal.pages.fact_list import (
    Fact,
    fact_list,
    fact_of_part,
    facts_of,
    facts_of_groups,
    facts_to_come,
    headed_facts_of_groups,
    leading_to,
    marked,
)
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from tests.sample_document import sample_document


class Person(Row):
    """A part of a row."""

    schedule: ClassVar = Schedule("person", subject="terms")

    name: Annotated[str, Shows("name", ALL)] = "Ann <b>"


class Sample(Row):
    """A row with what facts show."""

    schedule: ClassVar = Schedule("sample", subject="rooms")

    length_m: Annotated[float, Shows("length", ALL, "length")] = 7.5
    at: Annotated[tuple[float, float], Shows("position", ALL, "coordinates")] = (1.5, 2.0)
    severity: Annotated[str, Shows("severity", ALL, "verdict")] = "error"
    note: Annotated[str, Shows("note", ALL)] = ""
    kept: Annotated[str, Shows("internal_note", HOUSE)] = "ours"
    drawn: Annotated[str, Shows("label", ALL, drawn=True)] = "on drawings alone"
    client: Annotated[Person, Shows("client", ALL, "rows")] = Person()
    finishes: Annotated[tuple[tuple[str, str], ...], Shows("finish", ALL, ("text", "text"))] = (
        ("walls", "plaster"),
        ("floor", "carpet"),
    )
    sessions: Annotated[
        tuple[tuple[str, int, int], ...], Shows("session", ALL, ("text", "time of day", "time of day"))
    ] = (("morning", 540, 750),)

    @composed(Shows("values", ALL, ("text", "figure", "unit", "text"), together=True))
    def terms(self) -> tuple[tuple[str, tuple[float, ...], str, str], ...]:
        """Several figures of one unit."""
        return (("a_1 … a_2 =", (0.5, 2.0), "W", "(power)"),)


def here(reader: str = "estimator") -> PageContext:
    edition = edition_of(sample_document(), "client" if reader == "client" else "estimator")
    return PageContext("index.md", edition, {})


def test_a_unit_stands_behind_the_value() -> None:
    assert facts_of(here(), Sample(), "length_m", "at") == (
        Fact("Length", "7.5 m", "length_m"),
        Fact("Position", "1.5 m, 2 m", "at"),
    )


def test_a_verdict_is_a_mark() -> None:
    (fact,) = facts_of(here(), Sample(), "severity")
    assert 'class="status bad"' in str(fact.value)


def test_what_is_empty_or_another_reader_s_or_drawn_is_left_out() -> None:
    assert facts_of(here("client"), Sample(), "kept", "drawn") == ()
    assert fact_of_part(here("client"), Sample(), "kept", "name") == ()
    assert "<dt>" not in fact_list("All", facts_of(here(), Sample(), "note"))
    assert fact_list("All", [Fact("Seats", 0)]).count("<dt>") == 1


def test_a_fact_that_no_row_has_is_refused() -> None:
    with pytest.raises(KeyError):
        facts_of(here(), Sample(), "nothing")


def test_a_part_is_told_under_the_heading_of_the_field_that_holds_it() -> None:
    assert fact_of_part(here(), Sample(), "client", "name") == (Fact("Client", "Ann <b>", "client"),)


def test_each_group_of_a_field_is_a_fact() -> None:
    assert facts_of_groups(here(), Sample(), "finishes") == (
        Fact("walls", "plaster", "finishes"),
        Fact("floor", "carpet", "finishes"),
    )
    assert headed_facts_of_groups(here(), Sample(), "sessions") == (
        Fact("Session, morning", "09:00 to 12:30", "sessions"),
    )


def test_several_figures_have_their_unit_once() -> None:
    (fact,) = facts_of(here(), Sample(), "terms")
    assert fact.value == "a_1 … a_2 = 0.5, 2 W (power)"


def test_a_list_escapes_what_people_wrote() -> None:
    shown = fact_list("All <i>", fact_of_part(here(), Sample(), "client", "name"))
    assert "<b>" not in shown
    assert "<i>" not in shown
    assert "Ann <b>" in html.unescape(shown)


def test_a_fact_leads_to_the_page_where_it_stands_in_full() -> None:
    (fact,) = leading_to(here(), "price.md", [Fact("Length", "7 m"), Fact("Note", None)])
    assert fact.value == '<a href="price.html">7 m</a>'


def test_facts_are_marked_by_the_name_of_their_field() -> None:
    (fact,) = marked([Fact("Errors", 2, "errors")], {"errors": "bad"})
    assert 'class="status bad"' in str(fact.value)
    assert str(fact.value).endswith("2</span>")


def test_what_a_script_fills_stands_empty_under_declared_headings() -> None:
    shown = facts_to_come(here(), Sample, {"length": "length_m", "not": "note"})
    assert '<div data-part="length"><dt>Length</dt><dd></dd></div>' in shown
    assert '<div data-part="not" hidden><dt>Note</dt><dd></dd></div>' in shown
    assert isinstance(shown, Html)
