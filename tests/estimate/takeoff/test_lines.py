"""What the equipment of a design takes and costs, counted by hand from its devices."""

import datetime
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

import pytest

from proposal.design.equipment.unit_costs import in_currency, unit_cost
from proposal.estimate.takeoff.lines import amount_of
from proposal.estimate.takeoff_and_reels import device_costs
from proposal.model.design_rules import ExchangeRate
from proposal.model.project import Project
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from tests.design.making import EXAMPLE, changed, minimal, project_of

NONE = Decimal(0)

pytestmark = pytest.mark.independent


def test_one_meeting_room_takes_what_it_takes() -> None:
    counts: Counter[str] = Counter()
    for line in compute(minimal()).estimate.equipment:
        counts[line.kind] += line.quantity
    # Two microphones and a spare one; the breakout's own switch is patched to one of the building's.
    assert counts["microphone"] == 3
    assert counts["access_point"] == 1
    assert counts["breakout"] == 1
    # A strip with a cord, a cable manager, blank panels for half of the eight units, and an earthing kit;
    # in the room a cord each for the breakout and the charger.
    assert counts["rack_part"] == 10
    assert sum(counts.values()) == len(compute(minimal()).design.entries) + 10


def parts_of_racks(computed: Computed) -> Iterator[str]:
    """Yield the model of every part bought for racks: without tags, closing, earthing; and of all cords."""
    for rack in computed.design.racks:
        yield from (one.cord for one in rack.layout.plugged if one.cord)
        for slot in rack.layout.slots:
            if slot.item.name not in computed.design.every_entry and slot.item.entry.kind == "rack_part":
                yield slot.item.entry.model
        for part, units in rack.closing:
            yield from (part.model for _ in units)
        assert rack.earthing is not None
        yield rack.earthing.model
    for circuit in computed.design.circuits:
        yield from (outlet.cord for outlet in circuit.outlets if outlet.cord)


def test_costs_add_to_the_cent() -> None:
    project = project_of(EXAMPLE)
    computed = compute(project)
    by_hand = sum((unit_cost(project, entry) for entry in computed.design.entries.values()), Decimal(0))
    by_hand += sum(
        (
            unit_cost(project, project.library.entry(code))
            for room in project.rooms.values()
            for position in room.layout.microphones.values()
            for code in position.accessories
        ),
        Decimal(0),
    )
    by_hand += sum(
        (
            2 * unit_cost(project, project.library.entry(link.module))
            for link in computed.design.switch_links
            if link.module
        ),
        Decimal(0),
    )
    by_hand += sum((unit_cost(project, project.library.entry(one)) for one in parts_of_racks(computed)), NONE)
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


def converted_by(currency: str, other: str, rate: str) -> Project:
    """Return one meeting room in a currency, with an exchange rate of another."""
    one = ExchangeRate(rate=Decimal(rate), date=datetime.date(2031, 5, 30), source="invented")
    return changed(changed(minimal(), "brief.currency", currency), "brief.terms.exchange", {other: one})


@pytest.mark.parametrize(
    ("currency", "rate", "quantity", "cost", "amount"),
    [
        # 1000 m at 0.45 USD: a rounded 0.41 a metre would make 410.00.
        ("EUR", "0.9137", "1000", "0.45", "411.17"),  # 411.165
        ("EUR", "1.10", "1", "0.05", "0.06"),  # 0.055 lies halfway between two cents
        ("JPY", "163.27", "7", "380.01", "434310"),  # 2660.07 · 163.27 = 434 309.6289
        ("KWD", "0.3075", "3", "1.11", "1.024"),  # 1.023975
        ("KWD", "0.3075", "-3", "1.11", "-1.024"),
    ],
)
def test_an_amount_is_converted_once_for_its_line(
    currency: str, rate: str, quantity: str, cost: str, amount: str
) -> None:
    """Exact products by hand in the comments."""
    project = converted_by(currency, "USD", rate)
    each = in_currency(project, Money(amount=Decimal(cost), currency="USD"))
    assert str(amount_of(project, Decimal(quantity), each)) == amount
    assert in_currency(project, Money(amount=Decimal(cost), currency=currency)) == Decimal(cost)


def test_devices_and_models_cost_what_the_take_off_costs_where_one_is_finer_than_an_amount() -> None:
    """In yen at 163.27 no access point costs whole yen; the views add to the same yen all the same."""
    project = converted_by("JPY", "EUR", "163.27")
    computed = compute(project)
    lines = [line for line in computed.estimate.lines if line.section == "equipment"]
    assert any(line.unit_cost % 1 for line in lines)
    total = sum(line.cost for line in lines)
    parts = sum(line.cost for line in computed.estimate.lines if line.section == "accessories")
    assert total + parts == computed.estimate.equipment_cost
    assert total == sum(device_costs(project, computed.estimate.lines).values())
    assert all(line.cost % 1 == 0 for line in computed.estimate.lines)


def test_what_the_owner_furnishes_costs_us_nothing() -> None:
    project = minimal()
    points = {
        code: entry.model_copy(update={"furnished_by": "owner"})
        for code, entry in project.library.access_points.items()
    }
    computed = compute(changed(project, "library.access_points", points))
    (line,) = [one for one in computed.estimate.equipment if one.kind == "access_point"]
    assert (line.quantity, line.cost) == (1, 0)
    priced = [one.cost for one in computed.price.lines if one.group in ("equipment", "materials")]
    assert computed.estimate.materials_cost == sum(priced)
