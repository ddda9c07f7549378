"""Energy over a year."""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

ISO_80000 = Source("ISO 80000-5", clause="energy is power times time", memory=True)


@formula(
    title="Energy per year",
    equation="E = sum(P_i·t_i)",
    source=ISO_80000,
    result=("E", "Wh"),
    where={
        "power_w": ("P_i", "power in one state", "W"),
        "hours_h": ("t_i", "hours of a year in that state", "h"),
    },
    valid={"power_w": Range(0, 1e9), "hours_h": Range(0, 8784)},
)
def yearly_energy_wh(power_w: Sequence[float], hours_h: Sequence[float]) -> float:
    """Return the energy that is taken in a year [Wh].

    power_w: power in each state [W]
    hours_h: hours of a year in each state [h]

    Source: ISO 80000-5 (memory).
    """
    return sum(power * hours for power, hours in zip(power_w, hours_h, strict=True))
