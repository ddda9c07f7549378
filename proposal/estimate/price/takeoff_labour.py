"""Labour beside the take-off: whose hours each line of devices or cables takes.

Only work done to devices and cables is a take-off line's. Work on rooms, kinds of room, sheets and the
project as a whole belongs to no line, and stands with the labour alone. What the hours cost is shared out of
the price's own amounts, so that both add to the same totals.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.estimate.labour.labour_line import LabourLine
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.takeoff.lines import TakeoffLine
from proposal.field_classes import dataclass
from proposal.quantities.rounding import HUNDREDTH, shared_out

NOTHING = Decimal(0)


@dataclass(slots=True)
class LineLabour:
    """The labour of one line of the take-off.

    trades: keys of those who work on it, with the hours charged for each, h.
    base_hours: before conditions, groups and repetition, h.
    cost: of the hours charged.
    """

    trades: dict[str, Decimal]
    base_hours: Decimal = NOTHING
    cost: Decimal = NOTHING

    @property
    def hours(self) -> Decimal:
        """Return the hours charged, h."""
        return sum(self.trades.values(), NOTHING)


def labour_costs(
    priced: Sequence[PriceLine], labour: Sequence[LabourLine], step: Decimal
) -> tuple[Decimal, ...]:
    """Return what the hours of each line of labour cost: its part of the line of the price that holds them.

    priced: lines of the price; step: smallest unit of the currency.
    """
    sharing: dict[tuple[str, ...], list[int]] = {}
    for n, work in enumerate(labour):
        sharing.setdefault((work.room, work.system, work.phase, work.trade), []).append(n)
    found = [NOTHING] * len(labour)
    for line in priced:
        members = sharing.get((line.room, line.system, line.phase, line.item), ())
        if line.group == "labour" and line.kind == "hours" and members:
            parts = shared_out(line.cost, [labour[n].charged_hours for n in members], step)
            for n, part in zip(members, parts, strict=True):
                found[n] = part
    return tuple(found)


def takeoff_labour(
    lines: Sequence[TakeoffLine],
    labour: Sequence[LabourLine],
    costs: Sequence[Decimal],
    lengths_m: Mapping[str, Decimal],
    step: Decimal,
) -> Mapping[int, LineLabour]:
    """Return the labour of lines of the take-off by their place in it; those without any are left out.

    labour: its lines, with the hours charged; what one counts in several lines is shared out among them, in
    proportion to their lengths or numbers, by largest remainder.
    costs: of the lines of labour, in their order; step: smallest unit of the currency.
    lengths_m: of every cable by its identity.
    """
    line_of = {
        cause: n
        for n, line in enumerate(lines)
        if line.section in ("equipment", "cable")
        for cause in line.causes
    }
    found: dict[int, LineLabour] = {}
    for work, cost in zip(labour, costs, strict=True):
        if not all(cause in line_of for cause in work.causes):
            continue
        weights: dict[int, Decimal] = {}
        for cause in work.causes:
            weight = lengths_m[cause] if work.unit == "m" else Decimal(1)
            weights[line_of[cause]] = weights.get(line_of[cause], NOTHING) + weight
        hours = shared_out(work.charged_hours, list(weights.values()), HUNDREDTH)
        spent = shared_out(cost, hours, step)
        whole = sum(weights.values(), NOTHING)
        for (place, weight), part, paid in zip(weights.items(), hours, spent, strict=True):
            one = found.setdefault(place, LineLabour({}))
            one.trades[work.trade] = one.trades.get(work.trade, NOTHING) + part
            one.cost += paid
            one.base_hours += work.units * work.hours_a_unit * weight / whole
    return found
