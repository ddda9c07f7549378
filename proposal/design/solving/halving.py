"""The least number for which something holds, found in few questions."""

from collections.abc import Callable


def least(low: int, high: int, holds: Callable[[int], bool]) -> int:
    """Return the least whole number above one for which something holds, by halving.

    low: for which it does not hold.  high: for which it does; neither is asked.
    holds: says it of a number between; from some number on it holds of all.
    """
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high
