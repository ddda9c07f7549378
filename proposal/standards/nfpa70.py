"""Fill of conduits after NFPA 70, Chapter 9, and of trays by common practice.

For communications cable the code does not bind the fill: it is kept here as a design limit.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.validity import Range
from proposal.standards.working import Limit

FILL_TABLE = Source("NFPA 70", clause="Chapter 9, Table 1")
TUBING_TABLE = Source("NFPA 70", clause="Chapter 9, Table 4, EMT")
JAM_NOTE = Source("NFPA 70", clause="Chapter 9, Table 1, Informational Note No. 2")

MAINS_DISTANCE = Limit(0.0508, "≥", Source("NFPA 70", clause="725.136 and 800.133", memory=True))
"""Metres, two inches, between communications cables and cables of light and power in the open."""

BUNDLED_POWER = Limit(
    60.0,
    "≤",
    Source("NFPA 70", clause="725.144 or 722.135(E), whichever the adopted edition has", memory=True),
)
"""Watts of one source above which bundled cables are sized by the table of ampacities."""

JAMMING_CABLES = 3
"""How many cables jam side by side in a bend, by the note."""

JAM_RATIOS = (2.8, 3.2)
"""Three cables of one diameter can jam where the ratio lies between these."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tubing:
    """One size of electrical metallic tubing.

    trade_size: as the trade names it, such as 3/4
    internal_diameter_m: inside diameter [m]
    area_m2: printed internal area [m²]
    outside_diameter_m: outside diameter [m]
    """

    trade_size: str
    internal_diameter_m: float
    area_m2: float
    outside_diameter_m: float


TUBING: Mapping[str, Tubing] = MappingProxyType(
    {
        trade_size: Tubing(
            trade_size=trade_size,
            internal_diameter_m=diameter_mm / 1e3,
            area_m2=area_mm2 / 1e6,
            outside_diameter_m=outside_mm / 1e3,
        )
        for trade_size, diameter_mm, area_mm2, outside_mm in (
            ("1/2", 15.8, 196, 17.9),
            ("3/4", 20.9, 343, 23.4),
            ("1", 26.6, 556, 29.5),
            ("1-1/4", 35.1, 968, 38.4),
            ("1-1/2", 40.9, 1314, 44.2),
            ("2", 52.5, 2165, 55.8),
            ("2-1/2", 69.4, 3783, 73.0),
            ("3", 85.2, 5701, 88.9),
            ("3-1/2", 97.4, 7451, 101.6),
            ("4", 110.1, 9521, 114.3),
        )
    }
)
"""Electrical metallic tubing by trade size, smallest first; outside as ANSI C80.3 has it (memory)."""

_DIAMETERS = Range(0, 1, above=True)
_AREAS = Range(0, 10, above=True)


@formula(
    title="Permitted share of a conduit",
    equation="f = if(n = 1, 0.53, n = 2, 0.31, 0.4)",
    source=FILL_TABLE,
    result=("f", "-"),
    where={"cables": ("n", "cables in the conduit", "-")},
    valid={"cables": Range(1, whole=True)},
)
def permitted_fill(cables: int) -> float:
    """Return the share of a conduit's internal area that its cables may take [-].

    cables: number of cables; one of many conductors counts as one [-]

    Source: NFPA 70, Chapter 9, Table 1.
    """
    return {1: 0.53, 2: 0.31}.get(cables, 0.4)


@formula(
    title="Area inside a round conduit",
    equation="A = π·D²/4",
    source=TUBING_TABLE,
    result=("A", "m²"),
    where={"internal_diameter_m": ("D", "inside diameter", "m")},
    valid={"internal_diameter_m": _DIAMETERS},
)
def conduit_area_m2(internal_diameter_m: float) -> float:
    """Return the area inside a round conduit [m²].

    internal_diameter_m: inside diameter [m]

    Source: NFPA 70, Chapter 9, Table 4.
    """
    return math.pi * internal_diameter_m**2 / 4


@formula(
    title="Share of a conduit that is filled",
    equation="F = sum(π·d_i²/4)/A",
    source=FILL_TABLE,
    result=("F", "-"),
    where={
        "diameters_m": ("d_i", "outside diameter of a cable", "m"),
        "area_m2": ("A", "area inside the conduit", "m²"),
    },
    valid={"diameters_m": _DIAMETERS, "area_m2": _AREAS},
)
def conduit_fill(diameters_m: Sequence[float], area_m2: float) -> float:
    """Return the share of a conduit's internal area that its cables take, against `permitted_fill` [-].

    diameters_m: outside diameter of each cable [m], shape (cables,)
    area_m2: area inside the conduit [m²]

    Source: NFPA 70, Chapter 9, Table 1.
    """
    return sum(math.pi * diameter_m**2 / 4 for diameter_m in diameters_m) / area_m2


@formula(
    title="Minimum area inside the conduit",
    equation="A = sum(π·d_i²/4)/f",
    source=FILL_TABLE,
    result=("A", "m²"),
    where={
        "diameters_m": ("d_i", "outside diameter of a cable", "m"),
        "fill": ("f", "share that the cables may take", "-"),
    },
    valid={"diameters_m": _DIAMETERS, "fill": Range(0, 1, above=True)},
)
def least_conduit_area_m2(diameters_m: Sequence[float], fill: float) -> float:
    """Return the area that a conduit for these cables needs inside, to choose a size of `TUBING` by [m²].

    diameters_m: outside diameter of each cable [m], shape (cables,)
    fill: share that they may take, see `permitted_fill` [-]

    Source: NFPA 70, Chapter 9, Table 1.
    """
    return sum(math.pi * diameter_m**2 / 4 for diameter_m in diameters_m) / fill


@formula(
    title="Jam ratio of three cables",
    equation="J = D/d",
    source=JAM_NOTE,
    result=("J", "-"),
    where={
        "internal_diameter_m": ("D", "inside diameter of the conduit", "m"),
        "cable_diameter_m": ("d", "outside diameter of the cables", "m"),
    },
    valid={"internal_diameter_m": _DIAMETERS, "cable_diameter_m": _DIAMETERS},
)
def jam_ratio(internal_diameter_m: float, cable_diameter_m: float) -> float:
    """Return the ratio that tells whether three cables can jam, see `JAM_RATIOS` [-].

    internal_diameter_m: inside diameter of the conduit [m]
    cable_diameter_m: outside diameter of the three cables [m]

    Source: NFPA 70, Chapter 9, Table 1, Informational Note No. 2.
    """
    return internal_diameter_m / cable_diameter_m


@formula(
    title="Share of a tray that is filled",
    equation="F = sum(π·d_i²/4)/(b·h)",
    source=COMMON_PRACTICE,
    result=("F", "-"),
    where={
        "diameters_m": ("d_i", "outside diameter of a cable", "m"),
        "width_m": ("b", "inside width of the tray", "m"),
        "depth_m": ("h", "usable depth of the tray", "m"),
    },
    valid={
        "diameters_m": _DIAMETERS,
        "width_m": Range(0, 5, above=True),
        "depth_m": Range(0, 1, above=True),
    },
)
def tray_fill(diameters_m: Sequence[float], width_m: float, depth_m: float) -> float:
    """Return the share of a tray's cross-section that its cables take [-].

    diameters_m: outside diameter of each cable [m], shape (cables,)
    width_m: inside width of the tray [m]
    depth_m: usable depth of the tray [m]

    Source: common practice.
    """
    return sum(math.pi * diameter_m**2 / 4 for diameter_m in diameters_m) / (width_m * depth_m)


@formula(
    title="Share of the hooks' area that is filled",
    equation="F = sum(π·d_i²/4)/A",
    source=COMMON_PRACTICE,
    result=("F", "-"),
    where={
        "diameters_m": ("d_i", "outside diameter of a cable", "m"),
        "area_m2": ("A", "area in which a hook holds cables", "m²"),
    },
    valid={"diameters_m": _DIAMETERS, "area_m2": _AREAS},
)
def hook_fill(diameters_m: Sequence[float], area_m2: float) -> float:
    """Return the share of a hook's area that its cables take [-].

    diameters_m: outside diameter of each cable [m], shape (cables,)
    area_m2: area in which a hook holds cables [m²]

    Source: common practice.
    """
    return sum(math.pi * diameter_m**2 / 4 for diameter_m in diameters_m) / area_m2
