"""Tension and bending of balanced cable while it is pulled, after ANSI/TIA-568.0-D, TIA-569 and NFPA 70."""

import math

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range
from proposal.standards.working import Limit

TIA_568_0 = Source("ANSI/TIA-568.0", "D")
CAPSTAN = Source("capstan equation")
INCLINED_PLANE = Source("statics of friction on an incline")

GRAVITY_M_S2 = 9.80665
"""Standard acceleration of gravity, m/s², by the third General Conference on Weights and Measures."""

PULL_ANGLE_WARNING = Limit(180.0, "≤", Source("TIA-569"))
"""Degrees of bend between pull points that deserve a warning when exceeded."""

PULL_LENGTH_WARNING = Limit(30.0, "≤", Source("TIA-569"))
"""Metres between pull points that deserve a warning when exceeded."""

PULL_ANGLE_LIMIT = Limit(360.0, "≤", Source("NFPA 70"))
"""Degrees of bend between pull points that must not be exceeded."""

_FRICTIONS = Range(0, 1)
_TENSIONS = Range(0, 1e5)


@formula(
    title="Pulling tension after a bend",
    equation="T_2 = T_1·e^(μ·π·θ/180)",
    source=CAPSTAN,
    result=("T_2", "N"),
    where={
        "tension_n": ("T_1", "tension before the bend", "N"),
        "friction": ("μ", "coefficient of friction", "-"),
        "bend_degrees": ("θ", "angle of the bend", "°"),
    },
    valid={"tension_n": _TENSIONS, "friction": _FRICTIONS, "bend_degrees": Range(0, 360)},
)
def tension_after_bend_n(tension_n: float, friction: float, bend_degrees: float) -> float:
    """Return the tension behind a bend [N].

    tension_n: tension before the bend [N]
    friction: coefficient of friction between jacket and conduit [-]
    bend_degrees: angle of the bend [°]

    Source: capstan equation.
    """
    return tension_n * math.exp(friction * math.radians(bend_degrees))


@formula(
    title="Pulling tension after a straight stretch",
    equation="T_2 = max(T_1 + w·L·(sin(π·α/180) + μ·cos(π·α/180)), 0)",
    source=INCLINED_PLANE,
    result=("T_2", "N"),
    where={
        "tension_n": ("T_1", "tension before the stretch", "N"),
        "weight_n_per_m": ("w", "weight of all cables together", "N/m"),
        "length_m": ("L", "length of the stretch", "m"),
        "rise_degrees": ("α", "slope, upward positive", "°"),
        "friction": ("μ", "coefficient of friction", "-"),
    },
    valid={
        "tension_n": _TENSIONS,
        "weight_n_per_m": Range(0, 1000),
        "length_m": Range(0, 1000),
        "rise_degrees": Range(-90, 90),
        "friction": _FRICTIONS,
    },
)
def tension_after_straight_n(
    tension_n: float, weight_n_per_m: float, length_m: float, rise_degrees: float, friction: float
) -> float:
    """Return the tension behind a straight stretch; none where the cable slides down by itself [N].

    tension_n: tension before the stretch [N]
    weight_n_per_m: weight of all cables that are pulled together, for each metre [N/m]
    length_m: length of the stretch [m]
    rise_degrees: slope in the direction of the pull, 90 straight up, −90 straight down [°]
    friction: coefficient of friction between jacket and conduit [-]

    Source: statics of friction on an incline.
    """
    slope = math.radians(rise_degrees)
    return max(tension_n + weight_n_per_m * length_m * (math.sin(slope) + friction * math.cos(slope)), 0)


@formula(
    title="Maximum pulling tension",
    equation="T = 110·n",
    source=TIA_568_0,
    result=("T", "N"),
    where={"cables": ("n", "four-pair cables pulled together", "-")},
    valid={"cables": Range(1, whole=True)},
)
def greatest_tension_n(cables: int) -> float:
    """Return the greatest tension for four-pair cables that are pulled together [N].

    cables: number of four-pair cables [-]

    Source: ANSI/TIA-568.0-D, 110 N (25 lbf) each.
    """
    return 110.0 * cables


@formula(
    title="Minimum bend radius",
    equation="r = 4·d",
    source=TIA_568_0,
    result=("r", "m"),
    where={"cable_diameter_m": ("d", "outside diameter of the cable", "m")},
    valid={"cable_diameter_m": Range(0, 0.1, above=True)},
)
def least_bend_radius_m(cable_diameter_m: float) -> float:
    """Return the least radius to which four-pair cable may be bent [m].

    cable_diameter_m: outside diameter of the cable [m]

    Source: ANSI/TIA-568.0-D.
    """
    return 4 * cable_diameter_m
