"""Unit prices for later changes: one more device, a metre of cable, its two ends, an hour of a trade.

What is charged is stated in the project: data of its own, never computed, so that whoever lays it beside the
proposal's own figures learns nothing of them. What the rules would make of it is computed for the house, to
compare. Where the project is written in US customary units, cable is priced by the foot.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import unit_cost
from proposal.estimate.labour.labour_line import hours_of_one
from proposal.estimate.labour.labour_lines import HOURS_A_METRE
from proposal.estimate.price.markup_and_margin import NOTHING
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.takeoff.lines import exact
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded

Sort = Literal["device", "metre of cable", "foot of cable", "ends of a cable", "hour"]
FOOT_M = Decimal("0.3048")


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPrice:
    """What one more of something is charged for, before tax, and what it comes to in ordinary conditions.

    to: what it is: a device, a metre or a foot of cable, the two ends of a cable, or an hour.
    item: model code, or key of the trade.
    hours: h, all trades together.
    supply, work: price of the thing and of its hours by the proposal's own rules; computed: both.
    stated: what the project says it is charged for; None where it says nothing.
    """

    to: Sort
    item: str
    hours: Decimal
    supply: Decimal
    work: Decimal
    computed: Decimal
    stated: Decimal | None


def unit_prices(pricing: Pricing, design: Design) -> tuple[UnitPrice, ...]:
    """Return the unit prices of every device and cable of a design, and of every trade's hour."""
    found: list[UnitPrice] = []
    library = pricing.project.library
    for model in sorted({device.model for device in design.devices if device.tag in design.entries}):
        entry = library.entry(model)
        hours = hours_of_one(pricing.labour, entry)
        supply = NOTHING
        if entry.furnished_by == "contractor":
            listed = pricing.list_price(entry)
            supply = pricing.one(entry, "equipment", unit_cost(pricing.project, entry), listed)[0]
        found.append(_unit_price(pricing, "device", model, supply, hours))
    signals = {cable.model: cable.signal for cable in design.cables if cable.model}
    by_foot = pricing.project.brief.units == "us_customary"
    length_m = FOOT_M if by_foot else Decimal(1)
    for model, signal in sorted(signals.items()):
        entry = library.entry(model)
        pulled, ends = _hours_of_cable(pricing, signal, length_m)
        supply = pricing.priced(entry, "materials", unit_cost(pricing.project, entry) * length_m)
        sort: Sort = "foot of cable" if by_foot else "metre of cable"
        found.append(_unit_price(pricing, sort, model, supply, pulled))
        found.append(_unit_price(pricing, "ends of a cable", model, NOTHING, ends))
    for trade in pricing.labour.trades:
        found.append(_unit_price(pricing, "hour", trade, NOTHING, {trade: Decimal(1)}))
    return tuple(found)


def _hours_of_cable(
    pricing: Pricing, signal: str, length_m: Decimal
) -> tuple[dict[str, Decimal], dict[str, Decimal]]:
    """Return the hours by trade of so much cable, and of both its ends."""
    pulled: dict[str, Decimal] = {}
    ends: dict[str, Decimal] = {}
    for task in pricing.labour.tasks.values():
        if task.to not in ("cable", "cable end") or task.hours is None:
            continue
        if task.signals and signal not in task.signals:
            continue
        if task.length is not None:
            each = rounded(task.hours * length_m / exact(task.length), HOURS_A_METRE)
            pulled[task.trade] = pulled.get(task.trade, NOTHING) + each
        else:
            each = task.hours * (2 if task.to == "cable end" else 1)
            ends[task.trade] = ends.get(task.trade, NOTHING) + each
    return pulled, ends


def _unit_price(
    pricing: Pricing,
    to: Sort,
    item: str,
    supply: Decimal,
    hours: Mapping[str, Decimal],
) -> UnitPrice:
    work = sum(
        (rounded(each * pricing.rates(trade)[1], pricing.step) for trade, each in hours.items()), NOTHING
    )
    stated = _stated(pricing, to).get(item)
    return UnitPrice(
        to=to,
        item=item,
        hours=sum(hours.values(), NOTHING),
        supply=supply,
        work=work,
        computed=supply + work,
        stated=None if stated is None else pricing.amount(stated),
    )


def _stated(pricing: Pricing, to: Sort) -> Mapping[str, Money]:
    """Return the prices that the project states for one sort of change, by item."""
    changes = pricing.price.changes
    if to == "device":
        return changes.devices
    if to == "hour":
        return changes.hours
    return changes.ends if to == "ends of a cable" else changes.cables
