"""Sums that lines share by the largest remainder, as formulas that give the program's own parts.

Each part is first rounded toward zero; the steps that are left go one each to the largest remainders, and of
equal remainders to the first. The whole steps, the remainders and the parts stand in columns of their own, so
that they can be followed. Remainders are compared to a millionth of a step: two that differ by less count as
equal, which could move one step from one line to another, and never changes a sum.
"""

from collections.abc import Sequence
from decimal import Decimal

from proposal.exports.workbook.formulas import number
from proposal.exports.workbook.linked_sheet import FIRST_ROW, LinkedSheet
from proposal.field_classes import dataclass
from proposal.quantities import formatting
from proposal.quantities.rounding import rounded, step_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """A sum and the lines that share it.

    rows: places of the lines.  weights: of each, as a formula; weighed: their values.
    total: formula of the sum; amount: its value.
    """

    rows: Sequence[int]
    weights: Sequence[str]
    weighed: Sequence[float]
    total: str
    amount: float


def shared_out(sheet: LinkedSheet, heading: str, shared: Sequence[Shared], places: int) -> dict[int, str]:
    """Add columns with the shares of some sums, and return where the part of each line stands.

    heading: what is shared.  places: decimal places of a step.
    The first columns hold a sum a row: its size, the weight of all its lines, the steps that are left, and
    the least remainder that gets one of them. The others hold what is each line's.
    """
    if not shared:
        return {}
    columns = _Columns(sheet, heading, len(sheet))
    lines = [_lines_of(one, places) for one in shared]
    group, weight = columns.of("which sum"), columns.of("in proportion to")
    for n, one in enumerate(shared):
        for row, formula, value in zip(one.rows, one.weights, one.weighed, strict=True):
            group.put(row, n + 1)
            weight.put(row, value, formula)
    of_group, of_weight = group.added(), weight.added()
    steps, whole = columns.of("sum, in smallest units"), columns.of("sum of proportions")
    for n, (one, line) in enumerate(zip(shared, lines, strict=True)):
        steps.put(n, line.steps, f"ROUND(({one.total})*{number(10**places)},0)")
        whole.put(n, sum(one.weighed), f"SUMIFS({of_weight.all},{of_group.all},{n + 1})")
    of_steps, of_whole = steps.added(), whole.added()
    exact, rest = columns.of("exact, in smallest units"), columns.of("remainder")
    for n, (one, line) in enumerate(zip(shared, lines, strict=True)):
        for row, share in zip(one.rows, line.exact, strict=True):
            exact.put(
                row,
                float(share),
                _exact(f"ABS({of_steps.at(n)})", of_weight.at(row), of_whole.at(n), len(one.rows)),
            )
    of_exact = exact.added()
    for one, line in zip(shared, lines, strict=True):
        for row, share in zip(one.rows, line.exact, strict=True):
            left = share - int(share)
            formula = f"ROUND({of_exact.at(row)}-INT({of_exact.at(row)}),6)+1-ROW()*1E-11"
            rest.put(row, float(left) + 1 - (FIRST_ROW + row + 1) * 1e-11, formula)
    of_rest = rest.added()
    over, least = columns.of("steps left"), columns.of("least remainder that gets one")
    for n, line in enumerate(lines):
        mine = f"({of_group.all}={n + 1})"
        over.put(n, line.left, f"ABS({of_steps.at(n)})-SUMPRODUCT({mine}*INT({of_exact.all}))")
    of_over = over.added()
    for n, (one, line) in enumerate(zip(shared, lines, strict=True)):
        ranked = sorted((rest.values[row] for row in one.rows), reverse=True)
        value = ranked[line.left - 1] if line.left else 2
        largest = f"SUMPRODUCT(LARGE(({of_group.all}={n + 1})*{of_rest.all},{of_over.at(n)}))"
        least.put(n, value, f"IF({of_over.at(n)}<1,2,{largest})")
    of_least, part_of = least.added(), columns.of("part")
    for n, (one, line) in enumerate(zip(shared, lines, strict=True)):
        for row, value in zip(one.rows, line.parts, strict=True):
            count = f"INT({of_exact.at(row)})+IF({of_rest.at(row)}>={of_least.at(n)},1,0)"
            part_of.put(row, value, f"ROUND(SIGN({of_steps.at(n)})*({count})/{number(10**places)},{places})")
    of_part = part_of.added()
    return {row: of_part.at(row) for one in shared for row in one.rows}


def _exact(steps: str, weight: str, whole: str, size: int) -> str:
    """Return the formula of the exact share of a line, to a millionth of a step.

    Whole steps and the rest are computed apart: a program that rounds by fifteen digits would else lose the
    last digits of large sums.
    """
    product = f"{steps}*{weight}"
    steps_whole = f"INT({product}/{whole}+1E-9)"
    share = f"{steps_whole}+ROUND(({product}-{steps_whole}*{whole})/{whole},6)"
    return f"IF({whole}=0,ROUND({steps}/{size},6),{share})"


@dataclass(frozen=True, slots=True)
class _Added:
    """A column of workings where it stands."""

    sheet: LinkedSheet
    place: int

    @property
    def all(self) -> str:
        """Return the reference of all its cells."""
        return self.sheet.all_at(self.place)

    def at(self, row: int) -> str:
        """Return the reference of one of its cells."""
        return self.sheet.at(row, self.place)


class _Column:
    """A column of workings being filled."""

    def __init__(self, sheet: LinkedSheet, heading: str, size: int) -> None:
        self._sheet, self._heading = sheet, heading
        self.values, self._formulas = [0.0] * size, [""] * size

    def put(self, row: int, value: float, formula: str = "") -> None:
        """Fill one cell."""
        self.values[row], self._formulas[row] = float(value), formula

    def added(self) -> _Added:
        """Add it to the sheet."""
        return _Added(self._sheet, self._sheet.working(self._heading, self.values, self._formulas))


@dataclass(frozen=True, slots=True)
class _Columns:
    """The columns of one share-out."""

    sheet: LinkedSheet
    heading: str
    size: int

    def of(self, what: str) -> _Column:
        """Return a new column."""
        return _Column(self.sheet, f"{self.heading}: {what}", self.size)


@dataclass(frozen=True, slots=True)
class _Lines:
    """A sum in smallest units, the exact share of each line, the steps that are left, and the parts."""

    steps: int
    exact: tuple[Decimal, ...]
    left: int
    parts: tuple[float, ...]


def _lines_of(one: Shared, places: int) -> _Lines:
    """Return what the formulas of a sum give, by exact arithmetic."""
    weights = [Decimal(repr(weight)) for weight in one.weighed]
    whole = sum(weights, Decimal(0))
    if not whole:
        weights, whole = [Decimal(1)] * len(weights), Decimal(len(weights))
    steps = int(rounded(Decimal(repr(one.amount)) / step_of(places), Decimal(1)))
    count = abs(steps)
    exact = tuple(formatting.rounded(count * weight / whole, 6) for weight in weights)
    floors = [int(share) for share in exact]
    left = count - sum(floors)
    order = sorted(range(len(floors)), key=lambda n: (floors[n] - exact[n], n))
    for n in order[:left]:
        floors[n] += 1
    sign = -1 if steps < 0 else 1
    return _Lines(steps, exact, left, tuple(float(Decimal(sign * n).scaleb(-places)) for n in floors))
