"""What rows are called where changes are told."""

import pytest

from proposal.differences.subjects import name_of
from proposal.document.headings import Words
from proposal.document.values import Values
from tests.sample_document import words

TITLES = {"chamber": "Chamber"}


def values(locale: str) -> Values:
    return Values("metric", locale, "EUR", Words(words(locale)))


@pytest.mark.parametrize(
    ("key", "name"),
    [
        (("AP1-gooseneck", "AP1", "radio", "", ""), "AP1-gooseneck to AP1, radio"),
        (("NET", "BO1", "networked audio", "return audio", ""), "NET to BO1, networked audio, return audio"),
        (("AP1", "NET", "network", "", "AP1/N1"), "AP1 to NET, network, AP1/N1"),
    ],
)
def test_a_signal_is_called_by_its_ends_and_what_it_carries(key: tuple[str, ...], name: str) -> None:
    path = ("room_sheets", ("chamber",), "flow_edges", key)
    assert name_of(path, TITLES, values("en_IE")) == f"kind of room Chamber, signal {name}"


@pytest.mark.parametrize(
    ("locale", "name"),
    [("en_IE", "cash flow 2 June 2031, Materials"), ("en_US", "cash flow June 2, 2031, Materials")],
)
def test_a_row_of_a_day_is_called_by_its_date_in_words(locale: str, name: str) -> None:
    assert name_of(("cash_flow", ("2031-06-02", "Materials")), TITLES, values(locale)) == name


def test_of_two_rows_of_one_name_the_second_says_so() -> None:
    assert (
        name_of(("cash_flow", ("None", "Materials", "#2")), TITLES, values("en_IE"))
        == "cash flow Materials, #2"
    )
