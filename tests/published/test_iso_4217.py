"""Currencies and their minor units as the list of ISO 4217 published on 2026-01-01 has them (table A.1)."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.quantities.currencies import MINOR_UNITS, minor_units, smallest_unit

pytestmark = pytest.mark.published

with (Path(__file__).parent / "iso_4217.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = {row["currency"]: row["minor units"] for row in csv.DictReader(file)}
FUNDS_AND_UNITS_OF_ACCOUNT = {"BOV", "CHE", "CHW", "CLF", "COU", "MXV", "USN", "UYI", "UYW", "XAD"}
"""Codes of the list that nobody pays in: they follow an index or a basket."""


def test_every_currency_that_is_paid_in_has_its_published_minor_units() -> None:
    paid = {code: int(places) for code, places in PUBLISHED.items() if places != "N.A."}
    assert {
        code: places for code, places in paid.items() if code not in FUNDS_AND_UNITS_OF_ACCOUNT
    } == MINOR_UNITS


@pytest.mark.parametrize(("currency", "step"), [("EUR", "0.01"), ("JPY", "1"), ("KWD", "0.001")])
def test_the_smallest_unit_has_the_places_of_the_currency(currency: str, step: str) -> None:
    assert str(smallest_unit(currency)) == step
    assert minor_units(currency) == int(PUBLISHED[currency])


def test_the_list_is_whole() -> None:
    assert len(PUBLISHED) == 178
    assert Decimal(len(MINOR_UNITS)) == 178 - 13 - len(FUNDS_AND_UNITS_OF_ACCOUNT)
