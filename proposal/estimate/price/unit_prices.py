"""Unit prices for later changes: one more device, a metre of cable, its two ends, an hour of a trade.

What is charged is stated in the project: data of its own, never computed, so that whoever lays it beside the
proposal's own figures learns nothing of them. What the rules would make of it is computed for the house, to
compare. Where the project is written in US customary units, cable is priced by the foot.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Literal

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import unit_cost
from proposal.estimate.labour.labour_line import tasks_of_one
from proposal.estimate.labour.labour_lines import HOURS_A_METRE
from proposal.estimate.price.markup_and_margin import NOTHING
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.takeoff.lines import exact
from proposal.field_classes import dataclass
from proposal.model.labour.labour import Task
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded

Sort = Literal["device", "metre of cable", "foot of cable", "ends of a cable", "hour"]
CHANGES: Mapping[Sort, str] = {
    "device": "devices",
    "metre of cable": "cables",
    "foot of cable": "cables",
    "ends of a cable": "ends",
    "hour": "hours",
}
"""Where the project states what each sort of change is charged for."""
FOOT_M = Decimal("0.3048")


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPrice:
    """What one more of something is charged for, before tax, and what it comes to in ordinary conditions.

    to: what it is: a device, a metre or a foot of cable, the two ends of a cable, or an hour.
    item: model code, or key of the trade.
    tasks: that its hours are of, by name, each with how often it is done: both ends are two.
    hours: h, all trades together.
    supply, work: price of the thing and of its hours by the proposal's own rules; computed: both.
    stated: what the project says it is charged for; None where it says nothing.
    """

    to: Sort
    item: str
    tasks: tuple[tuple[str, int], ...]
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
        done = tasks_of_one(pricing.labour, entry)
        supply = NOTHING
        if entry.furnished_by == "contractor":
            listed = pricing.list_price(entry)
            supply = pricing.one(entry, "equipment", unit_cost(pricing.project, entry), listed)[0]
        found.append(_unit_price(pricing, "device", model, supply, [_Done(one) for one in done]))
    signals = {cable.model: cable.signal for cable in design.cables if cable.model}
    by_foot = pricing.project.brief.units == "us_customary"
    length_m = FOOT_M if by_foot else Decimal(1)
    for model, signal in sorted(signals.items()):
        entry = library.entry(model)
        pulled, ends = _work_on_cable(pricing, signal, length_m)
        supply = pricing.priced(entry, "materials", unit_cost(pricing.project, entry) * length_m)
        sort: Sort = "foot of cable" if by_foot else "metre of cable"
        found.append(_unit_price(pricing, sort, model, supply, pulled))
        found.append(_unit_price(pricing, "ends of a cable", model, NOTHING, ends))
    for trade in pricing.labour.trades:
        found.append(_of_hours(pricing, "hour", trade, NOTHING, {trade: Decimal(1)}))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Done:
    """A task and how often it is done; length_m: of what grows with it."""

    task: Task
    count: int = 1
    length_m: Decimal = Decimal(0)

    @property
    def hours(self) -> Decimal:
        """What it takes, h."""
        assert self.task.hours is not None
        if self.task.length is not None:
            return rounded(self.task.hours * self.length_m / exact(self.task.length), HOURS_A_METRE)
        return self.task.hours * self.count


def _work_on_cable(pricing: Pricing, signal: str, length_m: Decimal) -> tuple[list[_Done], list[_Done]]:
    """Return what is done to so much cable, and to both its ends."""
    pulled: list[_Done] = []
    ends: list[_Done] = []
    for task in pricing.labour.tasks.values():
        if task.to not in ("cable", "cable end") or task.hours is None:
            continue
        if task.signals and signal not in task.signals:
            continue
        if task.length is not None:
            pulled.append(_Done(task, length_m=length_m))
        else:
            ends.append(_Done(task, 2 if task.to == "cable end" else 1))
    return pulled, ends


def _unit_price(pricing: Pricing, to: Sort, item: str, supply: Decimal, work: Sequence[_Done]) -> UnitPrice:
    hours: dict[str, Decimal] = {}
    for one in work:
        hours[one.task.trade] = hours.get(one.task.trade, NOTHING) + one.hours
    return _of_hours(pricing, to, item, supply, hours, tuple((one.task.name, one.count) for one in work))


def _of_hours(
    pricing: Pricing,
    to: Sort,
    item: str,
    supply: Decimal,
    hours: Mapping[str, Decimal],
    tasks: tuple[tuple[str, int], ...] = (),
) -> UnitPrice:
    work = sum(
        (rounded(each * pricing.rates(trade)[1], pricing.step) for trade, each in hours.items()), NOTHING
    )
    stated = _stated(pricing, to).get(item)
    return UnitPrice(
        to=to,
        item=item,
        tasks=tasks,
        hours=sum(hours.values(), NOTHING),
        supply=supply,
        work=work,
        computed=supply + work,
        stated=None if stated is None else pricing.amount(stated),
    )


def _stated(pricing: Pricing, to: Sort) -> Mapping[str, Money]:
    """Return the prices that the project states for one sort of change, by item."""
    found: Mapping[str, Money] = getattr(pricing.price.changes, CHANGES[to])
    return found
