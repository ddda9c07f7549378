"""Formulas of a spreadsheet as text: rounding as the program rounds, sums by criteria, rules of prices."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from proposal.quantities.rounding import step_of

_GUARD = 6
"""Places beyond those of an amount that binary numbers still hold: what they lost is rounded off there."""


def rounded(formula: str, places: int | str) -> str:
    """Return a formula rounded half up, away from zero.

    formula: without `=`.
    places: how many, or a formula of that.
    A binary number may lie below the half that it stands for; rounded a few places further on first, it is
    that half again.
    """
    guard = places + _GUARD if isinstance(places, int) else f"{places}+{_GUARD}"
    return f"ROUND(ROUND({formula},{guard}),{places})"


def rounded_up(formula: str) -> str:
    """Return a formula rounded up to a whole number, away from zero; noise of binary numbers is left out."""
    return f"ROUNDUP(ROUND({formula},9),0)"


def number(value: Decimal | int | float) -> str:
    """Return a number as a formula writes it.

    value: the number, without exponent in the text.
    """
    return f"{Decimal(str(value)):f}"


def criterion(wanted: object) -> str:
    """Return the criterion of a cell that holds exactly a text.

    wanted: the text; None for an empty cell.
    """
    text = "" if wanted is None else str(wanted)
    for sign in "~*?":
        text = text.replace(sign, f"~{sign}")
    return '"=' + text.replace('"', '""') + '"'


def sum_where(summed: str, *where: tuple[str, object]) -> str:
    """Return the sum of a range where others hold texts.

    summed: range.  where: other ranges of the same size, each with what its cells hold.
    """
    return "SUMIFS(" + ",".join([summed, *(f"{cells},{criterion(text)}" for cells, text in where)]) + ")"


def added(formulas: Iterable[str]) -> str:
    """Return the sum of some formulas; 0 of none."""
    return "+".join(formulas) or "0"


def multiplied(formulas: Sequence[str]) -> str:
    """Return the product of some formulas; 1 of none."""
    return "*".join(f"({one})" for one in formulas) or "1"


def by_rule(sort: str, value: str, cost: str, listed: str, places: int | str) -> str:
    """Return the price that a rule makes of a cost or a list price, rounded.

    sort: margin, markup or discount; empty where it is passed on at cost.
    value, cost, listed: formulas of the share of the rule, the cost and the list price of one.
    places: decimal places of the price, or a formula of that.
    """
    of = {
        "margin": f"({cost})/(1-{value})",
        "markup": f"({cost})*(1+{value})",
        "discount": f"({listed})*(1-{value})",
        "": cost,
    }
    return rounded(of[sort], places)


def unit_places(cost: str, places: int) -> str:
    """Return the formula of how many places a unit price has: finer for pieces and metres that cost little.

    cost: formula of what one costs.  places: of amounts.
    """
    least = number(100 * step_of(places))
    return f"IF(AND(ABS({cost})<{least},ABS(ROUND({cost},{places})-{cost})>1E-9),{places + 2},{places})"


def runs(places: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Yield places as runs: the first, and the one behind the last.

    places: of rows, in their order.
    """
    first = None
    for place, following in zip(places, [*places[1:], -1], strict=True):
        first = place if first is None else first
        if following != place + 1:
            yield first, place + 1
            first = None
