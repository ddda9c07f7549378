"""Figures without the noise of rounding, so that equal designs give equal documents, byte by byte."""

import datetime
import math
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, TypeVar

from proposal.document.readers import Shown

P = TypeVar("P", bound=Shown)
_AS_THEY_ARE = frozenset({str, int, bool, type(None), Decimal, datetime.date})


def settled_figure(value: float) -> float:
    """Return a figure to nine decimals, and one that is less than a thousandth to nine digits.

    value: in any unit.
    Beyond that it is rounding noise: a nanometre, a nanowatt. What noise alone makes of zero is zero.
    """
    size = abs(value)
    if size >= 1e-3 or size == 0:
        # Adding zero turns a negative zero, which JSON has as zero.
        return round(value, 9) + 0.0
    return 0.0 if size < 1e-12 else float(f"{value:.9g}")


def settled(part: P) -> P:
    """Return a document, or a part of one, with every figure settled."""
    found: P = _settled(part)
    return found


def _settled(value: Any) -> Any:
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if kind is float:
        figure = settled_figure(value)
        # What need not change keeps its identity, and with it what holds it; a negative zero does change.
        return value if figure == value and math.copysign(1, figure) == math.copysign(1, value) else figure
    if isinstance(value, Shown):
        changed = {
            name: new
            for name, old in value.__dict__.items()
            if type(old) not in _AS_THEY_ARE and (new := _settled(old)) is not old
        }
        return value.model_copy(update=changed) if changed else value
    if isinstance(value, tuple):
        items = tuple(map(_settled, value))
        return items if any(a is not b for a, b in zip(items, value, strict=True)) else value
    if isinstance(value, Mapping):
        return {key: _settled(item) for key, item in value.items()}
    return value
