"""What is a share of the whole sum, itself included, such as a bond: once, or by steps of the sum."""

from collections.abc import Sequence
from fractions import Fraction


def share_of_sum(rest: Fraction, shares: Sequence[tuple[Fraction, Fraction]]) -> Fraction:
    """Return the amount that is its share of the rest and itself together, exactly.

    rest: the sum without it.
    shares: amount of the sum from which each share holds, and the share, from 0 up; each is of the part of
        the sum between its amount and the next.
    Of one share b: rest · b / (1 − b). Within a step from a on, with c due on the steps below:
    amount = c + b · (rest + amount − a), so (c + b · (rest − a)) / (1 − b). A sum below 0 takes nothing.
    """
    below = Fraction(0)
    amount = Fraction(0)
    for place, (above, share) in enumerate(shares):
        amount = (below + share * (rest - above)) / (1 - share)
        last = place + 1 == len(shares)
        if last or rest + amount <= shares[place + 1][0]:
            break
        below += share * (shares[place + 1][0] - above)
    return max(amount, Fraction(0))
