"""Sharing a total out so that the parts add up to it exactly: the method of the largest remainder."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction


def rounded(amount: Decimal | Fraction, step: Decimal) -> Decimal:
    """Return an amount rounded half up (away from zero) to a multiple of a step of 1, 0.1, 0.01 and so on."""
    if isinstance(amount, Fraction):
        # A half is a half here: no digit is lost on the way.
        steps = abs(amount) / Fraction(step) + Fraction(1, 2)
        whole = steps.numerator // steps.denominator
        return (Decimal(whole if amount >= 0 else -whole) * step).quantize(step)
    return amount.quantize(step, rounding=ROUND_HALF_UP)


def shared_out(total: Decimal, weights: Sequence[Decimal], step: Decimal) -> tuple[Decimal, ...]:
    """Return a part of a total for each weight, in proportion, that add up to the total.

    total: a multiple of `step`; weights: none below 0, at least one; all alike where they are all 0.
    Each part is first rounded toward zero; the steps left go one each to the largest remainders, and of
    equal remainders to the first.
    """
    if not weights or min(weights) < 0:
        raise ValueError("wanted at least one weight and none below 0")
    shares = [Fraction(weight) for weight in weights]
    whole = sum(shares)
    if not whole:
        shares, whole = [Fraction(1)] * len(shares), Fraction(len(shares))
    steps = Fraction(total) / Fraction(step)
    if steps.denominator != 1:
        raise ValueError(f"wanted a total in steps of {step}; found {total}")
    sign, count = (-1 if steps < 0 else 1), abs(int(steps))
    exact = [count * share / whole for share in shares]
    parts = [part.numerator // part.denominator for part in exact]
    by_remainder = sorted(range(len(parts)), key=lambda n: (parts[n] - exact[n], n))
    for n in by_remainder[: count - sum(parts)]:
        parts[n] += 1
    return tuple((sign * part * step).quantize(step) for part in parts)
