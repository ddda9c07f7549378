"""What a client can work out, as the house reads it."""

import pytest

from proposal.document.making.disclosure import all_disclosure_parts
from tests.review.test_disclosure import GOODS, WORK, own_rates, state


@pytest.mark.independent
def test_hours_are_told_in_hours_and_shares_in_per_cent() -> None:
    """Of 1,500.00, 480.00 are margin, 32 %; 10 h may be 10 / 1.6 to 10 · 1.6."""
    one = own_rates()
    vars(one)["received"] = state("", GOODS, WORK)
    try:
        rows = {row.about: row for row in all_disclosure_parts(one, ())["disclosure"]}
    finally:
        vars(one).pop("received")
    hours = rows["all hours"]
    assert (hours.value, hours.low, hours.high, hours.unit) == (10.0, 6.25, 16.0, "h")
    margin = rows["margin of the whole price"]
    assert (margin.value, margin.unit) == (32.0, "%")
