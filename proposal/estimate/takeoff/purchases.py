"""What is bought for the take-off: whole pieces, packs and reels, rounded up once for the project.

A room shows its need, never wholes. What an order costs goes to the rooms by need, in the smallest unit of
the currency, by largest remainder; so does what it sells for. Conduit and tray are bought in whole sticks.
Devices are whole in every room, and spoilage is priced by the metre alone: neither is part of this.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.design.equipment.unit_costs import unit_cost
from proposal.estimate.takeoff.lines import TakeoffLine, amount_of, exact
from proposal.estimate.takeoff.reel_orders import ReelOrder
from proposal.estimate.takeoff.systems import EQUIPMENT_SECTIONS
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Conduit, Tray
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded, rounded_up, shared_out

NOTHING, ONE = Decimal(0), Decimal(1)
PACK, METRE, SPARE, STICK = "pack", "m", ", spare", "stick"
OrderKey = tuple[str, str]
"""Section and model of a line: what is ordered together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """So many of one thing that are bought.

    section, model: of the lines of the take-off that it is for.
    unit: what is needed, each or m.
    sold_as: each, pack, stick, the name of a reel, or that with `, spare`.
    pieces: what one of these holds, in `unit`.
    need: what all lines need together with waste, in `unit`.
    bought: how many of these, a whole number.
    unit_cost, cost: of one and of all, in the project's currency.
    """

    section: str
    model: str
    unit: str
    sold_as: str
    pieces: Decimal
    need: Decimal
    bought: Decimal
    unit_cost: Decimal
    cost: Decimal

    @property
    def key(self) -> OrderKey:
        """Return what it is ordered together with."""
        return self.section, self.model


def order_key(line: TakeoffLine) -> OrderKey | None:
    """Return what a line is ordered together with; None for devices and for what is priced by the metre."""
    by_metre = line.unit == METRE and line.section not in ("reels", "pathways")
    alone = line.section in EQUIPMENT_SECTIONS or by_metre
    return None if alone else (line.section, line.model)


def purchases(
    project: Project, lines: Sequence[TakeoffLine], reels: Sequence[ReelOrder]
) -> tuple[Purchase, ...]:
    """Return what is bought in wholes for the lines of a take-off, in their order.

    lines: with the need of each room.  reels: the reels of each type of cable.
    """
    of_reels = {order.model: order for order in reels}
    found: list[Purchase] = []
    for (section, model), members in ordered_together(lines).items():
        first = lines[members[0]]
        need = sum((lines[n].priced for n in members), NOTHING)
        if section == "reels":
            found += _reels(project, of_reels[model])
            continue
        entry = project.library.entry(model)
        sold_as, pieces, each = first.unit, ONE, first.unit_cost
        if entry.unit == "pack":
            sold_as, pieces = PACK, Decimal(entry.pack_quantity)
            each = unit_cost(project, entry) if first.unit_cost else each
        elif isinstance(entry, Conduit | Tray):
            sold_as, pieces = STICK, exact(entry.stick)
            each = pieces * each
        bought = rounded_up(need / pieces, ONE)
        found.append(
            Purchase(
                section=section,
                model=model,
                unit=first.unit,
                sold_as=sold_as,
                pieces=pieces,
                need=need,
                bought=bought,
                unit_cost=each,
                cost=amount_of(project, bought, each),
            )
        )
    return tuple(found)


def ordered_together(lines: Sequence[TakeoffLine]) -> Mapping[OrderKey, Sequence[int]]:
    """Return the places of the lines that are ordered together, in their order."""
    together: dict[OrderKey, list[int]] = {}
    for n, line in enumerate(lines):
        key = order_key(line)
        if key is not None:
            together.setdefault(key, []).append(n)
    return together


def _reels(project: Project, order: ReelOrder) -> list[Purchase]:
    """Return the reels of each length that the plan of a cable uses, and its spare."""
    stocks = {stock.name: stock for stock in order.stocks}
    furnished = project.library.entry(order.model).furnished_by == "contractor"
    wanted = [(name, name, count) for name, count in order.plan.counts]
    if order.spare:
        wanted.append((order.spare.name, f"{order.spare.name}{SPARE}", 1))
    found = []
    for name, sold_as, count in wanted:
        each = stocks[name].cost if furnished else NOTHING
        cuts = (cut.length_m for reel in order.plan.reels if reel.stock == sold_as for cut in reel.cuts)
        found.append(
            Purchase(
                section="reels",
                model=order.model,
                unit=METRE,
                sold_as=sold_as,
                pieces=exact(stocks[name].length_m),
                need=sum(cuts, NOTHING),
                bought=Decimal(count),
                unit_cost=each,
                cost=amount_of(project, Decimal(count), each),
            )
        )
    return found


def with_shares(
    project: Project, lines: Sequence[TakeoffLine], bought: Sequence[Purchase]
) -> tuple[TakeoffLine, ...]:
    """Return the lines of a take-off with what each takes of the cost of what is bought for it.

    lines: with the need of each room; bought: what is bought for them.
    """
    step = smallest_unit(project.brief.currency)
    found = [replace(line, wholes=rounded(NOTHING, step)) for line in lines]
    costs: dict[OrderKey, Decimal] = {}
    for one in bought:
        costs[one.key] = costs.get(one.key, NOTHING) + one.cost
    for key, members in ordered_together(lines).items():
        parts = shared_out(costs[key], [lines[n].priced for n in members], step)
        for n, part in zip(members, parts, strict=True):
            by_need = amount_of(project, lines[n].priced, lines[n].unit_cost)
            found[n] = replace(lines[n], cost=part, wholes=part - by_need)
    return tuple(found)
