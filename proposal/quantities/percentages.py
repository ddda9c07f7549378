"""Shares as percentages in words, thirds among them."""

from decimal import Decimal

from proposal.quantities.formatting import short_number, with_unit

A_HAIR = Decimal("1e-12")
"""What binary numbers leave of thirds: three times 33 1/3 % is the whole."""


def percentage(share: Decimal, locale: str) -> str:
    """Return a share as a percentage with all its digits, `23 %` or `12.5 %`; `23%` in the United States.

    share: from 0 to 1; a third is one, `33 1/3 %`, as it is written.
    locale: of whoever reads it.
    """
    return with_unit(thirds(share) or short_number(share * 100, locale, 4), "%", locale)


def thirds(share: Decimal) -> str:
    """Return a share in whole and thirds of a percent, `33 1/3`; empty where it is none.

    share: from 0 to 1.
    """
    whole, part = divmod(round(share * 300), 3)
    if part and abs(share * 300 - round(share * 300)) <= A_HAIR:
        return f"{whole} {part}/3" if whole else f"{part}/3"
    return ""
