"""Inputs of the price tell in words what they are of, and there is none that moves nothing."""

from pathlib import Path

import pytest

from tests.whole_projects import whole_document

PROJECT = Path(__file__).resolve().parents[2] / "projects" / "us_customary"


def test_no_two_inputs_are_called_the_same() -> None:
    called = [(row.what, row.subject, row.holds_for) for row in whole_document(PROJECT).price_inputs]
    assert [one for one in called if called.count(one) > 1] == []
    assert not {"rest", "rule"} & {subject for _, subject, _ in called}


@pytest.mark.independent
def test_what_others_furnish_has_no_supplier_and_no_input() -> None:
    document = whole_document(PROJECT)
    keys = {row.key for row in document.price_inputs}
    others = [row for row in document.purchases if row.furnished_by == "others"]
    assert {row.section for row in others} == {"pathways"}
    for row in others:
        assert (row.supplier, row.list_price, row.unit_price) == ("", None, None), row.item
        assert not row.cost
        assert f"library.{row.item}.cost" not in keys
    ours = [row for row in document.purchases if row.furnished_by == "contractor"]
    assert all(row.supplier and row.cost for row in ours)
