"""Values as cells show them."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest

from proposal.document.headings import Words
from proposal.document.quantities import Quantity
from proposal.document.schedule import ALL, HOUSE, Shows
from proposal.document.values import Values, cell_text, field_text, spelled
from tests.sample_document import words


def how() -> Values:
    return Values("metric", "en_GB", "EUR", Words(words("en_GB")))


def test_nought_is_shown_unless_its_cell_is_to_stay_empty() -> None:
    shown, empty = Shows("tax", HOUSE, "money"), Shows("tax", HOUSE, "money", zero=False)
    assert cell_text(Decimal("0.00"), shown, how()) == "€0.00"
    assert cell_text(Decimal("0.00"), empty, how()) == ""
    assert cell_text(Decimal("0.10"), empty, how()) == "€0.10"


TABLE: Mapping[str, str] = {
    "values.order": "order",
    "values.event.order": "the order is placed",
    "values.the_same": "the same",
    "values.on_request": "on request",
}
HERE = Values("metric", "en_GB", "EUR", Words(TABLE))


@pytest.mark.parametrize(
    ("value", "quantity", "text"),
    [
        (Decimal("100"), "difference", "+€100.00"),
        (Decimal("-0.5"), "difference", "−€0.50"),
        (Decimal(0), "difference", "the same"),
        (Decimal("0.2"), "added share", "+20 %"),
        (Decimal("-0.15"), "added share", "−15 %"),
        (7, "whole dB", "7 dB"),
        (1, "working days", "1 working day"),
        (4, "working days", "4 working days"),
        (Decimal("0.0295841"), "exchange rate", "0.0295841"),
    ],
)
def test_a_value_is_written_as_what_it_is(value: Any, quantity: Quantity, text: str) -> None:
    assert field_text(value, (quantity,), HERE) == text


@pytest.mark.parametrize(
    ("value", "quantities", "text"),
    [
        ((("Night", Decimal("1.25")),), ("text", "ratio"), "Night × 1.25"),
        ((("B001", 2), ("B101", 1)), ("tag", "count"), "2 × B001, B101"),
        ((("305 m box", 1),), ("text", "count"), "1 × 305 m box"),
        (
            (("Cable installer", 3, Decimal(5)), ("Installer", 2, Decimal(12))),
            ("text", "count", "hours"),
            "3 × Cable installer, 5.00 h; 2 × Installer, 12.00 h",
        ),
    ],
)
def test_groups_are_told_apart(value: Any, quantities: tuple[Quantity, ...], text: str) -> None:
    assert field_text(value, quantities, HERE) == text


def test_a_code_is_spelled_by_the_set_of_its_field_before_that_of_all() -> None:
    own, common = Shows("name", ALL, "word", words="event"), Shows("name", ALL, "word")
    assert cell_text("order", own, HERE) == "The order is placed"
    assert cell_text("order", common, HERE) == "Order"
    assert cell_text("delivery", own, HERE) == "Delivery"
    assert spelled(("order", "delivery"), own, HERE.words) == ("the order is placed", "delivery")


def test_a_unit_of_days_and_of_rates_stands_in_the_heading() -> None:
    assert HERE.unit(Shows("late_by", ALL, "working days")) == "working days"
    assert cell_text(4, Shows("late_by", ALL, "working days"), HERE) == "4"
    assert HERE.unit(Shows("one_of_it", ALL, "exchange rate")) == "EUR"
    assert cell_text(7, Shows("margin", ALL, "whole dB"), HERE) == "7"


def test_a_price_that_is_missing_is_told_in_words() -> None:
    assert cell_text(None, Shows("price", ALL, "money", empty="on_request"), HERE) == "on request"
