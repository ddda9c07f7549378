"""Which assumptions move the price most: each is tried lower and higher, and everything is computed again.

The rule: quantities, ratios, shares, hours and rates are varied by a fifth of themselves, shares to the whole
at most; whole numbers by one; yes and no by each other. Values go through the project's untyped tree, so that
all checks of the input hold for them; what they refuse is not possible. Labour is no part of the tree: its
hours are varied phase by phase and its rates trade by trade, in the resolved labour data.
"""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Literal

from proposal.document.headings import Words
from proposal.document.making.composed_texts import words_of
from proposal.document.making.findings import Numbers, dotted, subject_of
from proposal.document.making.price_again import PriceAgain
from proposal.document.rows.alternates import Sensitivity, VariedRow
from proposal.errors import InputError
from proposal.field_classes import dataclass
from proposal.model.labour.labour import PHASES, Labour, Task, Trade
from proposal.model.project import Assumption, Path, Project, Question
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded, step_of
from proposal.quantities.units import KINDS

Side = Literal["lower", "upper"]
SIDES: tuple[Side, ...] = ("lower", "upper")
SHARE = 0.2
"""By what share of itself a quantity is varied."""
_HOURS, _RATES = ("labour", "hours"), ("labour", "rates")
_SMALLEST_HOURS = step_of(6)


@dataclass(frozen=True, slots=True)
class Case:
    """Something assumed that is tried otherwise.

    path: where the value would stand in the tree; for labour, what of it is scaled.
    row: what it is, with both values; no prices yet.
    """

    path: Path
    row: VariedRow

    def value(self, side: Side) -> float | bool | None:
        """Return the value tried on one side, or None where there is none."""
        return self.row.lower if side == "lower" else self.row.upper


# What a review says, what a switch does when it is short, how the plan is tried, how ports are numbered
# without a panel: none of it moves a price.
_UNPRICED: tuple[Path, ...] = (
    ("project", "rules", "review"),
    ("project", "rules", "priorities"),
    ("project", "rules", "radio", "interference_shift"),
    ("project", "rules", "cabling", "panel_ports"),
)


def cases_of(project: Project) -> tuple[Case, ...]:
    """Return everything that can be tried, in order of assumptions, questions, hours and rates."""
    numbers, words = Numbers.of(project), words_of(project)
    found: list[Case] = []
    points: Sequence[Assumption | Question] = (*project.assumptions, *project.questions)
    for one in points:
        values = _around(one.value, one.kind)
        if values is None or any(isinstance(key, int) for key in one.path) or _is_unpriced(one.path):
            continue
        path = dotted(one.path)
        known = numbers.questions if isinstance(one, Question) else numbers.assumptions
        lower, upper = values
        row = VariedRow(
            number=known[path],
            title=one.title,
            subject=subject_of(project, one.path, words),
            kind=one.kind,
            value=float(one.value) if isinstance(one.value, Decimal) else one.value,
            lower=lower,
            upper=upper,
        )
        found.append(Case(one.path, row))
    return (*found, *_of_labour(project.labour, words))


def _is_unpriced(path: Path) -> bool:
    return any(path[: len(part)] == part for part in _UNPRICED)


def _around(value: object, kind: str) -> tuple[float | bool | None, float | bool | None] | None:
    """Return the lower and the upper value to try, or None where there is no figure to vary."""
    if isinstance(value, bool):
        return None, not value
    if isinstance(value, int):
        return float(value - 1), float(value + 1)
    if not isinstance(value, float | Decimal) or not value:
        return None
    lower, upper = sorted(round(float(value) * factor, 12) for factor in (1 - SHARE, 1 + SHARE))
    if kind == "fraction":
        upper = min(upper, 1.0)
    return lower, None if upper == float(value) else upper


def _of_labour(labour: Labour, words: Words) -> Iterator[Case]:
    phases = {task.phase for task in labour.tasks.values()}
    for phase in PHASES:
        if phase in phases:
            yield _factor((*_HOURS, phase), words.text("sensitivity.hours"), phase.capitalize())
    for key, trade in labour.trades.items():
        yield _factor((*_RATES, key), words.text("sensitivity.rate"), trade.name)


def _factor(path: Path, title: str, subject: str) -> Case:
    row = VariedRow(title=title, subject=subject, kind="factor", value=1.0, lower=1 - SHARE, upper=1 + SHARE)
    return Case(path, row)


def price_of(
    source: ProjectSource, base: Computed, case: Case, side: Side, again: PriceAgain | None = None
) -> Decimal | str:
    """Return the price before tax with one value tried, or why it cannot be.

    base: the base, computed; labour changes nothing of its design.
    again: computes of the base again what reads the value; None where everything is to be computed.
    """
    value = case.value(side)
    if value is None:
        return ""
    try:
        if case.path[:2] in (_HOURS, _RATES):
            labour = scaled(base.project.labour, case.path, Decimal(repr(value)))
            project = base.project.model_copy(update={"labour": labour})
            whole = Computed(project=project, design=base.design)
            return whole.whole_price if again is None else again.price(project)
        project = source.varied(case.path, in_a_file(value, case.row.kind))
        return compute(project).whole_price if again is None else again.price(project)
    except InputError as error:
        return error.problems[0].message


def in_a_file(value: float | bool, kind: str) -> str:
    """Return a value as a file of the project would have it.

    value: in SI units.
    kind: kind of quantity; empty for a plain number. What is only told with a unit is written as one too.
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if kind == "fraction":
        return f"{value * 100:.12g} %"
    return f"{value:.12g} {KINDS[kind].unit}" if kind in KINDS else f"{value:.12g}"


def scaled(labour: Labour, path: Path, factor: Decimal) -> Labour:
    """Return labour data with the hours of a phase, or the rate of a trade, multiplied.

    factor: what they are multiplied by.
    path: `labour`, `hours`, the phase; or `labour`, `rates`, the key of the trade.
    Shares of other hours are multiplied as hours are.
    """
    name = str(path[2])
    if path[:2] == _RATES:
        rate = _rated(labour.trades[name], factor)
        return labour.model_copy(update={"trades": {**labour.trades, name: rate}})
    tasks = {key: _longer(task, name, factor) for key, task in labour.tasks.items()}
    return labour.model_copy(update={"tasks": tasks})


def _rated(trade: Trade, factor: Decimal) -> Trade:
    selling = trade.selling
    return trade.model_copy(
        update={
            "cost": Money(trade.cost.amount * factor, trade.cost.currency),
            "selling": None if selling is None else Money(selling.amount * factor, selling.currency),
        }
    )


def _longer(task: Task, phase: str, factor: Decimal) -> Task:
    if task.phase != phase:
        return task
    changes: dict[str, Decimal | float] = {}
    for name in ("hours", "further_hours"):
        hours = getattr(task, name)
        if hours is not None:
            changes[name] = rounded(hours * factor, _SMALLEST_HOURS)
    if task.share is not None:
        changes["share"] = min(1.0, float(Decimal(repr(task.share)) * factor))
    return task.model_copy(update=changes)


def sensitivity_of(price: Decimal, tried: Iterable[tuple[Case, Decimal | str, Decimal | str]]) -> Sensitivity:
    """Return what moves the price, the largest movement first.

    price: before tax, of the base.
    tried: each case with its prices, or with why they cannot be; an empty text where nothing was tried.
    """
    rows: list[VariedRow] = []
    fixed: list[VariedRow] = []
    for case, lower, upper in tried:
        row = case.row.model_copy(
            update={
                "lower_price": lower if isinstance(lower, Decimal) else None,
                "upper_price": upper if isinstance(upper, Decimal) else None,
                "lower_problem": lower if isinstance(lower, str) else "",
                "upper_problem": upper if isinstance(upper, str) else "",
            }
        )
        (fixed if row.lower_price is None and row.upper_price is None else rows).append(row)
    rows.sort(key=lambda row: -_movement(row, price))  # equal movements stay in their order
    return Sensitivity(price=price, rows=tuple(rows), fixed=tuple(fixed))


def _movement(row: VariedRow, price: Decimal) -> Decimal:
    prices = (row.lower_price, row.upper_price)
    return max(abs(one - price) for one in prices if one is not None)
