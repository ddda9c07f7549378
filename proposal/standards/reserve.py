"""What is kept free of a capacity: headroom of power, spare ports."""

import math

from proposal.standards.formula import formula
from proposal.standards.sources import EDITABLE_DEFAULT
from proposal.standards.validity import Range

_SHARE = Range(0, math.nextafter(1.0, 0.0))
_ROUNDING = 1e-6
"""Beyond this a binary fraction counts as more than a whole number."""


@formula(
    title="Power that may be allocated",
    equation="U = B·(1 − h)",
    source=EDITABLE_DEFAULT,
    result=("U", "W"),
    where={"budget_w": ("B", "power for all ports", "W"), "headroom": ("h", "share left free", "-")},
    valid={"budget_w": Range(0, 100_000), "headroom": _SHARE},
)
def usable_power_w(budget_w: float, headroom: float) -> float:
    """Return what may be used of a source of power [W].

    budget_w: what it can give [W]
    headroom: share of it that is left free [-]

    Source: editable default.
    """
    return budget_w * (1 - headroom)


@formula(
    title="Power that a source needs",
    equation="B = U/(1 − h)",
    source=EDITABLE_DEFAULT,
    result=("B", "W"),
    where={"used_w": ("U", "power in use", "W"), "headroom": ("h", "share left free", "-")},
    valid={"used_w": Range(0, 1e9), "headroom": _SHARE},
)
def budget_needed_w(used_w: float, headroom: float) -> float:
    """Return what a source of power has to be able to give [W].

    used_w: what is used of it [W]
    headroom: share of it that is left free [-]

    Source: editable default.
    """
    return used_w / (1 - headroom)


@formula(
    title="Switch ports required",
    equation="n = ceil(d/(1 − s))",
    source=EDITABLE_DEFAULT,
    result=("n", "-"),
    where={
        "devices": ("d", "devices on the switches", "-"),
        "spare": ("s", "share of ports left free", "-"),
    },
    valid={"devices": Range(0, 1_000_000, whole=True), "spare": _SHARE},
)
def ports_wanted(devices: int, spare: float) -> int:
    """Return how many ports devices want where a share of the ports is to be left free [-].

    devices: devices with a port each [-]
    spare: share of ports left free [-]

    Source: editable default.
    """
    return math.ceil(devices / (1 - spare) - _ROUNDING)
