"""The smallest amounts of currencies."""

from decimal import Decimal

_WHOLE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
_THOUSANDTHS = "BHD IQD JOD KWD LYD OMR TND"
"""Currencies whose smallest unit is not a hundredth (ISO 4217, from memory)."""


def smallest_unit(currency: str) -> Decimal:
    """Return the smallest amount of a currency: 0.01, 1 or 0.001."""
    if currency in _WHOLE.split():
        return Decimal(1)
    return Decimal("0.001") if currency in _THOUSANDTHS.split() else Decimal("0.01")
