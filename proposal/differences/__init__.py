"""What differs between two documents: row by row, and in their totals."""

from proposal.differences.consequences import Consequence, consequences
from proposal.differences.difference import (
    ABSENT,
    Addition,
    Change,
    Difference,
    OrderChange,
    Path,
    Removal,
    applied,
    differences,
)

__all__ = [
    "ABSENT",
    "Addition",
    "Change",
    "Consequence",
    "Difference",
    "OrderChange",
    "Path",
    "Removal",
    "applied",
    "consequences",
    "differences",
]
