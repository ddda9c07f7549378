"""Rigid conduit of the sizes of IEC 60423, which European trade sells by its outside diameter."""

from collections.abc import Mapping
from types import MappingProxyType

from proposal.standards.nfpa70 import Tubing, conduit_area_m2

CONDUITS: Mapping[str, Tubing] = MappingProxyType(
    {
        size: Tubing(
            trade_size=size,
            internal_diameter_m=inside_mm / 1e3,
            area_m2=conduit_area_m2(inside_mm / 1e3),
            outside_diameter_m=float(size.removesuffix(" mm")) / 1e3,
        )
        for size, inside_mm in (
            ("16 mm", 13.0),
            ("20 mm", 16.9),
            ("25 mm", 21.4),
            ("32 mm", 27.8),
            ("40 mm", 35.4),
            ("50 mm", 44.3),
        )
    }
)
"""Conduit by its outside diameter, smallest first (IEC 60423); least inside as for IEC 61386-21 (memory)."""
