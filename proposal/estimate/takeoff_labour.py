"""Labour beside the take-off: whose hours each line of devices or cables takes.

Only work done to devices and cables is a take-off line's. Work on rooms, kinds of room, sheets and the
project as a whole belongs to no line, and stands with the labour alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from proposal.estimate.labour_lines import LabourLine
from proposal.estimate.lines import TakeoffLine
from proposal.model.rounding import HUNDREDTH, shared_out

NOTHING = Decimal(0)


@dataclass(slots=True)
class LineLabour:
    """The labour of one line of the take-off.

    trades: keys of those who work on it, with the hours charged for each, h.
    base_hours: before conditions, groups and repetition, h.
    """

    trades: dict[str, Decimal]
    base_hours: Decimal = NOTHING

    @property
    def hours(self) -> Decimal:
        """Return the hours charged, h."""
        return sum(self.trades.values(), NOTHING)


def takeoff_labour(
    lines: Sequence[TakeoffLine], labour: Sequence[LabourLine], lengths_m: Mapping[str, Decimal]
) -> Mapping[int, LineLabour]:
    """Return the labour of lines of the take-off by their place in it; those without any are left out.

    labour: its lines, with the hours charged; what one counts in several lines is shared out among them, in
    proportion to their lengths or numbers, by largest remainder.
    lengths_m: of every cable by its identity.
    """
    line_of = {
        cause: n
        for n, line in enumerate(lines)
        if line.section in ("equipment", "cable")
        for cause in line.causes
    }
    found: dict[int, LineLabour] = {}
    for work in labour:
        if not all(cause in line_of for cause in work.causes):
            continue
        weights: dict[int, Decimal] = {}
        for cause in work.causes:
            weight = lengths_m[cause] if work.unit == "m" else Decimal(1)
            weights[line_of[cause]] = weights.get(line_of[cause], NOTHING) + weight
        hours = shared_out(work.charged_hours, list(weights.values()), HUNDREDTH)
        whole = sum(weights.values(), NOTHING)
        for (place, weight), part in zip(weights.items(), hours, strict=True):
            one = found.setdefault(place, LineLabour({}))
            one.trades[work.trade] = one.trades.get(work.trade, NOTHING) + part
            one.base_hours += work.units * work.hours_a_unit * weight / whole
    return found
