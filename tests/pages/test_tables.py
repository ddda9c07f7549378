"""Tables hold every cell, name their columns and rows, and refuse rows that do not fit."""

import pytest
from hypothesis import given, settings

from proposal.pages.markdown import plain
from proposal.pages.tables import Cell, Column, table
from tests.pages.hostile_text import Page, rendered, typed


@pytest.mark.independent
@settings(max_examples=80, deadline=None)
@given(typed, typed)
def test_fields_in_a_table_stay_in_their_cells(value: str, caption: str) -> None:
    page = rendered(f"before\n\n{table(caption, ['A', value], [[value, Cell(value, value)]])}\n\nafter\n")
    assert page.tags == [
        "p",
        "div",
        "table",
        "caption",
        "thead",
        "tr",
        "th",
        "th",
        "tbody",
        "tr",
        "th",
        "td",
        "p",
    ]
    for tag, attributes in page.elements:
        assert set(attributes) <= {"class", "tabindex", "role", "aria-label", "scope", "data-sort"}, tag
    # Cells stand without a space between them in the words of a page.
    shown = plain(value)
    expected = f"before{plain(caption)}A{shown}{shown}{shown}after"
    assert "".join(page.words.split()) == "".join(expected.split())


def test_a_row_is_found_by_the_identity_of_its_cable() -> None:
    page = Page(table("Cables", ["Cable"], [["B101-AP1/N1/ER1-RK1"]], row_ids=["B101-AP1/N1/ER1-RK1"]))
    assert ("tr", {"id": "B101-AP1_N1_ER1-RK1"}) in page.elements


def test_a_table_names_columns_rows_and_itself() -> None:
    page = Page(
        table(
            "Lengths",
            ["Tag", Column("Length", numeric=True, unit="ft")],
            [["A-1", Cell("7 ft", 2.1)]],
            totals=[["Sum", 7]],
        )
    )
    assert (
        "div",
        {"class": "table-scroll", "tabindex": "0", "role": "region", "aria-label": "Lengths"},
    ) in page.elements
    assert ("th", {"scope": "row", "class": "tag"}) in page.elements
    assert ("td", {"class": "num", "data-sort": "2.1"}) in page.elements
    assert ("th", {"scope": "col", "class": "num", "data-sort-method": "number"}) in page.elements
    assert page.tags[-3:] == ["tr", "th", "td"]
    assert "tfoot" in page.tags


def test_totals_stand_above_many_rows_and_below_few() -> None:
    def tags(rows: int) -> list[str]:
        return Page(table("Lengths", ["Tag"], [["A"]] * rows, totals=[["Sum"]])).tags

    assert tags(12).index("tfoot") > tags(12).index("tbody")
    many = Page(table("Lengths", ["Tag"], [["A"]] * 13, totals=[["Sum"]]))
    assert [of for tag, of in many.elements if tag == "tbody"] == [{"class": "totals"}, {}]
    assert "tfoot" not in many.tags


def test_a_table_refuses_rows_that_do_not_fit() -> None:
    with pytest.raises(ValueError, match="has 2 columns, a row has 1 cells"):
        table("A", ["B", "C"], [["d"]])
    with pytest.raises(ValueError, match="more rows than row ids"):
        table("A", ["B"], [["c"], ["d"]], row_ids=["c"])
    with pytest.raises(ValueError, match="more row ids than rows"):
        table("A", ["B"], [["c"]], row_ids=["c", "d"])
