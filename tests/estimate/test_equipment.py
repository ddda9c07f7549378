"""What the equipment of a design takes and costs, counted by hand from its devices."""

from decimal import Decimal

import pytest

from proposal.design.prices import in_currency, unit_cost
from proposal.model.money import Money
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, PROJECTS, changed, minimal, project_of

pytestmark = pytest.mark.independent


def test_one_meeting_room_takes_what_it_takes() -> None:
    counts = {(line.kind, line.model): line.quantity for line in compute(minimal()).estimate.equipment}
    # Two microphones and a spare one; the breakout's own switch is patched to one of the building's.
    assert counts["microphone", "AQ-MB-C"] == 3
    assert counts["access_point", "AQ-AP2"] == 1
    assert counts["breakout", "AQ-BO4-SW"] == 1
    assert sum(counts.values()) == len(compute(minimal()).design.entries)


def test_costs_add_to_the_cent() -> None:
    project = project_of(EXAMPLE)
    computed = compute(project)
    by_hand = sum((unit_cost(project, entry) for entry in computed.design.entries.values()), Decimal(0))
    assert computed.estimate.equipment_cost == by_hand
    for line in computed.estimate.equipment:
        assert line.cost == line.unit_cost * line.quantity
        assert line.quantity == sum(count for _, count in line.rooms)


def test_rooms_keep_their_share() -> None:
    computed = compute(project_of(EXAMPLE))
    line = next(line for line in computed.estimate.equipment if line.kind == "access_point")
    counted = {
        room: sum(one.room == room and one.model == line.model for one in computed.design.devices)
        for room, _ in line.rooms
    }
    assert dict(line.rooms) == counted


@pytest.mark.parametrize(
    ("amount", "rate", "cents"),
    [
        ("10.00", "1.10", "11.00"),
        ("0.05", "1.10", "0.06"),
        ("0.04", "1.125", "0.05"),
        ("0.45", "1.10", "0.50"),
    ],
)
def test_other_currencies_are_rounded_half_up_to_the_cent(amount: str, rate: str, cents: str) -> None:
    # 0.05·1.1 = 0.055, 0.04·1.125 = 0.045 and 0.45·1.1 = 0.495 lie halfway between two cents.
    project = project_of(PROJECTS / "us_customary")
    exchange = project.brief.terms.exchange["EUR"].model_copy(update={"rate": Decimal(rate)})
    project = changed(project, "brief.terms.exchange", {"EUR": exchange})
    assert in_currency(project, Money(amount=Decimal(amount), currency="EUR")) == Decimal(cents)
    assert in_currency(project, Money(amount=Decimal(amount), currency="USD")) == Decimal(amount)
