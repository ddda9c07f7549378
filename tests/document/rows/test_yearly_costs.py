"""What recurs each year: our charges, electricity, and what to set aside for batteries."""

from decimal import Decimal

import pytest

from proposal.document.rows.pack_life import PackLifeRow
from proposal.document.rows.price import YearlyRow
from proposal.document.rows.yearly_costs import yearly_costs

pytestmark = pytest.mark.independent


def pack(packs: int, years: float | None, price: str | None) -> PackLifeRow:
    return PackLifeRow(
        kind="hall", form="handheld", pack="8 Wh", run_time_h=10.0, packs=packs, cycles_a_year=100.0,
        cycles=600, lasts_years=years, years=5, replaced=0, changed_by="the user",
        list_price=None if price is None else Decimal(price), amount=None,
    )  # fmt: skip


def test_batteries_are_set_aside_for_by_the_years_that_each_lasts() -> None:
    """4 packs of 45.00 that last 6 years are 30.00 a year, 2 of 60.00 that last 8 are 15.00; one rests."""
    rows = yearly_costs((), (), (pack(4, 6.0, "45.00"), pack(2, 8.0, "60.00"), pack(1, None, None)), "EUR")
    assert [(row.short, row.amount) for row in rows] == [("batteries", Decimal("45.00"))]
    assert rows[0].rests_on == "6 battery packs at list price, each lasting about 6 to 8 years"


def test_where_a_price_is_not_known_no_sum_is_told() -> None:
    ours = YearlyRow(item="MX9", description="Mixer", quantity=2, unit_price=None, price=None)
    rows = yearly_costs((ours,), (), (pack(4, 6.0, None),), "EUR")
    assert [(row.short, row.amount) for row in rows] == [("licence and support", None), ("batteries", None)]
