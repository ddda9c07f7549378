"""Measures of nineteen-inch racks."""

UNIT_M = 0.04445
"""Height of one unit (IEC 60297-3-100, memory)."""
OPENING_M = 0.45
"""Clear width between the rails, at least (IEC 60297-3-100, memory)."""
FRONT_M = 0.4826
"""Width of a front (EIA-310, memory)."""
