"""What recurs each year: our charges, electricity, and what to set aside for batteries."""

from decimal import Decimal

import pytest

from proposal.document.rows.mains import EnergyRow
from proposal.document.rows.pack_life import PackLifeRow
from proposal.document.rows.price import YearlyRow
from proposal.document.rows.standby import StandbySupplyRow
from proposal.document.rows.yearly_costs import yearly_costs

pytestmark = pytest.mark.independent


def pack(packs: int, years: float | None, price: str | None) -> PackLifeRow:
    return PackLifeRow(
        kind="hall", form="handheld", pack="8 Wh", run_time_h=10.0, packs=packs, cycles_a_year=100.0,
        cycles=600, lasts_years=years, years=5, replaced=0, changed_by="the user",
        list_price=None if price is None else Decimal(price), amount=None,
    )  # fmt: skip


def place(tag: str, energy_wh: float, cost: str) -> EnergyRow:
    return EnergyRow(
        place=tag, in_use_h=1.0, idle_h=1.0, rest_w=1.0, idle_w=1.0, typical_w=1.0, yearly_wh=energy_wh,
        yearly_cost=Decimal(cost), price_per_kwh=Decimal("0.285"), heat_w=1.0, hourly_heat_btu=3.4,
        hourly_air_m3=0.3,
    )  # fmt: skip


def test_batteries_are_set_aside_for_by_the_years_that_each_lasts() -> None:
    """4 packs of 45.00 that last 6 years are 30.00 a year, 2 of 60.00 that last 8 are 15.00; one rests."""
    rows = yearly_costs(
        (), (), (pack(4, 6.0, "45.00"), pack(2, 8.0, "60.00"), pack(1, None, None)), "EUR", "en_IE"
    )
    assert [(row.short, row.amount) for row in rows] == [("batteries", Decimal("45.00"))]
    packs, lasting = "6 battery packs of the microphones in use", "each lasting about 6 to 8 years"
    assert rows[0].rests_on == f"{packs}, at list price before tax, {lasting}"
    # Nobody can promise 38 years of a battery: its charges are told, and that age comes first.
    (seldom,) = yearly_costs((), (), (pack(1, 38.0, "38.00"),), "EUR", "en_IE")
    assert seldom.rests_on.endswith(
        "about 38 years by their charges; age may end those sooner that are seldom charged"
    )


def test_where_a_price_is_not_known_no_sum_is_told() -> None:
    ours = YearlyRow(item="MX9", description="Mixer", quantity=2, unit_price=None, price=None)
    rows = yearly_costs((ours,), (), (pack(4, 6.0, None),), "EUR", "en_IE")
    assert [(row.short, row.amount) for row in rows] == [("licence and support", None), ("batteries", None)]


def test_electricity_tells_the_energy_of_a_year_and_what_a_kilowatt_hour_costs() -> None:
    """2,500.4 and 1,000.3 kWh are 3,500.7 kWh; at 0.285 that is 997.6995; 712.61 and 285.09 are 997.70."""
    first, second = place("A1", 2_500_400.0, "712.61"), place("A2", 1_000_300.0, "285.09")
    (row,) = yearly_costs((), (first, second), (), "EUR", "en_IE")
    assert row.amount == Decimal("997.70")
    assert row.rests_on.startswith("3,500.7 kWh at €0.285 each, the price before tax that you gave us")
    (joined,) = yearly_costs((), (first, second), (), "EUR", "en_IE", with_owners=True)
    assert "your own equipment is in it" in joined.rests_on
    assert "your own equipment" not in row.rests_on


def test_batteries_of_standby_supplies_are_set_aside_for_by_their_months() -> None:
    """260.00 every 19 months are 164.21 a year, 390.00 every 24 are 195.00; without a price no sum."""

    def supply(tag: str, months: int, price: str | None) -> StandbySupplyRow:
        return StandbySupplyRow(
            tag=tag, rack="ER1-RK1", packs=0, verdict="holds", asked_min=5, lasts_min=6, new_min=9,
            full_min=5, typical_w=1, full_w=1, allowed_w=1, full_va=1, allowed_va=1, outlets_used=1,
            outlets=6, own_w=1, recharge_h=5, battery_months=months, feeds=(),
            battery_price=None if price is None else Decimal(price),
        )  # fmt: skip

    first, second = supply("ER1-UP1", 19, "260.00"), supply("ER2-UP1", 24, "390.00")
    (row,) = yearly_costs((), (), (), "EUR", "en_IE", supplies=(first, second))
    assert row.amount == Decimal("359.21")
    assert "2 standby supplies, new batteries at list price before tax every 19 and 24 months" in row.rests_on
    (asked,) = yearly_costs((), (), (), "EUR", "en_IE", supplies=(first, supply("ER2-UP1", 24, None)))
    assert asked.amount is None
