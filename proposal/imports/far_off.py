"""Figures that are so far from those that count that a slip is likelier than a change."""

from decimal import Decimal

_FEWEST_TIMES, _MOST_TIMES = 1 / Decimal(5), Decimal(5)
"""Between what multiples of the figure that counts a new one is taken without being confirmed."""


def is_far_off(times: Decimal | None) -> bool:
    """Say whether a figure is more than five times the one that counts, or under a fifth of it.

    times: the new figure as a multiple of the one that counts, None where that is zero; one that becomes
        zero is a decision.
    """
    return bool(times) and not _FEWEST_TIMES <= Decimal(times or 0) <= _MOST_TIMES


def told_times(times: Decimal) -> str:
    """Return what is said of a multiple, such as `10 times as much`."""
    return f"{float(times):.3g} times as much"


def to_confirm(key: str) -> str:
    """Return what to do where a figure that is far off is right; key: as the call names it."""
    return f'if it is right, call again with --confirm "{key}"'
