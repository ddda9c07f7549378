"""Decimal numbers rounded to steps, and totals shared out in steps: no other module rounds them.

A half is rounded away from zero, so that a credit is the charge it takes back with its sign turned.
"""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

_ENOUGH = Context(prec=60)
HUNDREDTH = Decimal("0.01")
"""Step of hours."""


def step_of(places: int) -> Decimal:
    """Return the step of numbers with so many decimal places: 1, 0.1, 0.01 and so on."""
    return Decimal(1).scaleb(-places)


def places_in(number: Decimal) -> int:
    """Return how many decimal places a number needs to be written exactly: 0 for 12.00, 3 for 0.125."""
    exponent = number.normalize(_ENOUGH).as_tuple().exponent
    assert isinstance(exponent, int)
    return max(-exponent, 0)


def rounded(amount: Decimal | Fraction, step: Decimal) -> Decimal:
    """Return an amount rounded half up (away from zero) to a multiple of a step; never a negative zero.

    step: 1, 0.1, 0.01 and so on; the result is written with its places.
    """
    # Asked so since a class of numbers takes long to say what belongs to it.
    if not isinstance(amount, Decimal):
        # A half is a half here: no digit is lost on the way.
        steps = abs(amount) / Fraction(step) + Fraction(1, 2)
        whole = steps.numerator // steps.denominator
        amount = Decimal(whole if amount >= 0 else -whole) * step
    result = amount.quantize(step, ROUND_HALF_UP, _ENOUGH)
    return result if result else abs(result)


def rounded_to_figures(amount: Decimal, figures: int) -> Decimal:
    """Return an amount rounded half up to so many figures, and never finer than a whole: 3,301.73 as 3,300.

    figures: how many of the first ones are kept.
    """
    finest = Decimal(1).scaleb(max(amount.adjusted() + 1 - figures, 0)) if amount else Decimal(1)
    return rounded(amount / finest, Decimal(1)) * finest


def rounded_up(amount: Decimal, step: Decimal) -> Decimal:
    """Return the least multiple of a step that is no smaller than an amount.

    step: 1, 0.1, 0.01 and so on.
    """
    return amount.quantize(step, ROUND_CEILING, _ENOUGH)


def _exponent(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)
    return exponent


def shared_out(total: Decimal, weights: Sequence[Decimal], step: Decimal) -> tuple[Decimal, ...]:
    """Return a part of a total for each weight, in proportion, that add up to the total.

    The method of the largest remainder: each part is first rounded toward zero; the steps left go one each
    to the largest remainders, and of equal remainders to the first.
    total: a multiple of `step`, below 0 too; weights: none below 0, at least one; all alike where they are
        all 0.
    Raises ValueError for other weights, and for a total between steps.
    """
    if not weights or min(weights) < 0:
        raise ValueError("wanted at least one weight and none below 0")
    # Whole numbers in proportion to the weights: nothing is lost, and they are soon divided.
    finest = min(0, *(_exponent(weight) for weight in weights))
    shares = [int(weight.scaleb(-finest, _ENOUGH)) for weight in weights]
    whole = sum(shares)
    if not whole:
        shares, whole = [1] * len(shares), len(shares)
    steps = Fraction(total) / Fraction(step)
    if steps.denominator != 1:
        raise ValueError(f"wanted a total in steps of {step}; found {total}")
    sign, count = (-1 if steps < 0 else 1), abs(int(steps))
    divided = [divmod(count * share, whole) for share in shares]
    parts = [part for part, _ in divided]
    remainders = [remainder for _, remainder in divided]
    by_remainder = sorted(range(len(parts)), key=remainders.__getitem__, reverse=True)  # equal ones in order
    for n in by_remainder[: count - sum(parts)]:
        parts[n] += 1
    return tuple(sign * part * step for part in parts)  # whole steps: nothing is left to round
