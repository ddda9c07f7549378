"""Run time and charging of battery packs."""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE
from proposal.standards.validity import Range

_STATE = Range(0, 1)
_ENERGY = Range(0, 1000, above=True)
_POWER = Range(0, 1000, above=True)
_CYCLES = Range(0, 1e6, above=True)


@formula(
    title="Run time of a pack down to its reserve",
    equation="t = a·E·(z − r)/P",
    source=COMMON_PRACTICE,
    result=("t", "h"),
    where={
        "energy_wh": ("E", "energy of a new pack", "Wh"),
        "aged_share": ("a", "share of it that the pack still holds", "-"),
        "drain_w": ("P", "drain", "W"),
        "start": ("z", "state of charge at the start", "-"),
        "reserve": ("r", "reserve", "-"),
    },
    valid={
        "energy_wh": _ENERGY,
        "aged_share": Range(0, 1, above=True),
        "drain_w": _POWER,
        "start": _STATE,
        "reserve": _STATE,
    },
)
def run_time_h(energy_wh: float, aged_share: float, drain_w: float, start: float, reserve: float) -> float:
    """Return how long a pack runs from a state of charge down to its reserve [h].

    energy_wh: energy of a new pack [Wh]
    aged_share: share of it that the pack still holds [-]
    drain_w: power taken from it [W]
    start: state of charge at the start, 0 to 1 [-]
    reserve: state of charge that is to be left, 0 to 1 [-]

    Source: common practice.
    """
    return aged_share * energy_wh * (start - reserve) / drain_w


@formula(
    title="Time in a slot until a pack is full",
    equation="t = E·(max(q − z, 0)/P + (1 − max(q, z))/S)",
    source=COMMON_PRACTICE,
    result=("t", "h"),
    where={
        "capacity_wh": ("E", "energy that the full pack holds", "Wh"),
        "state": ("z", "state of charge at the start", "-"),
        "taper_from": ("q", "state of charge from which charging is slower", "-"),
        "charge_w": ("P", "power gained below it", "W"),
        "taper_w": ("S", "power gained above it", "W"),
    },
    valid={
        "capacity_wh": _ENERGY,
        "state": _STATE,
        "taper_from": _STATE,
        "charge_w": _POWER,
        "taper_w": _POWER,
    },
)
def charge_time_h(
    capacity_wh: float, state: float, taper_from: float, charge_w: float, taper_w: float
) -> float:
    """Return how long a pack stands in a slot until it is full [h].

    capacity_wh: energy that the full pack holds [Wh]
    state: state of charge at the start, 0 to 1 [-]
    taper_from: state of charge from which charging is slower, 0 to 1 [-]
    charge_w: power that the pack gains below it [W]
    taper_w: power that the pack gains above it [W]

    Source: common practice.
    """
    below_wh = capacity_wh * max(taper_from - state, 0.0)
    above_wh = capacity_wh * (1 - max(taper_from, state))
    return below_wh / charge_w + above_wh / taper_w


@formula(
    title="State of charge at the lowest point of the day",
    equation="z = s − sum(W_i)/E",
    source=COMMON_PRACTICE,
    result=("z", "-"),
    where={
        "start": ("s", "state of charge at the first session", "-"),
        "energies_wh": ("W_i", "energy taken in a stretch of the day, below zero where charged", "Wh"),
        "capacity_wh": ("E", "energy that the full pack holds", "Wh"),
    },
    valid={"start": _STATE, "energies_wh": Range(-1000, 1000), "capacity_wh": _ENERGY},
)
def state_of_charge(start: float, energies_wh: Sequence[float], capacity_wh: float) -> float:
    """Return a pack's state of charge after energy was taken from it and given to it [-].

    start: state of charge before, 0 to 1 [-]
    energies_wh: energy taken in each stretch, below zero where charged [Wh], shape (stretches,)
    capacity_wh: energy that the full pack holds [Wh]

    Source: common practice.
    """
    return start - sum(energies_wh) / capacity_wh


@formula(
    title="Power for one slot with every slot of its charger in use",
    equation="P = min(q, T/n)",
    source=COMMON_PRACTICE,
    result=("P", "W"),
    where={
        "slot_w": ("q", "highest power into one slot", "W"),
        "shared_w": ("T", "highest power into all slots at once", "W"),
        "packs": ("n", "packs in the charger", "-"),
    },
    valid={"slot_w": _POWER, "shared_w": _POWER, "packs": Range(1, 1000, whole=True)},
)
def slot_power_w(slot_w: float, shared_w: float, packs: int) -> float:
    """Return the power for one pack in a charger that charges all its packs at once [W].

    slot_w: highest power into one slot [W]
    shared_w: highest power into all slots at once [W]
    packs: packs in the charger [-]

    Source: common practice.
    """
    return min(slot_w, shared_w / packs)


@formula(
    title="Years until a pack is worn",
    equation="L = N/n",
    source=COMMON_PRACTICE,
    result=("L", "years"),
    where={
        "cycles": ("N", "full charges until the pack is worn", "-"),
        "cycles_a_year": ("n", "full charges of a year", "-"),
    },
    valid={"cycles": _CYCLES, "cycles_a_year": _CYCLES},
)
def pack_life_years(cycles: float, cycles_a_year: float) -> float:
    """Return after how many years a pack has had all its charges [years].

    cycles: full charges until it is worn [-]
    cycles_a_year: full charges of a year, two halves counting as one [-]

    Source: common practice.
    """
    return cycles / cycles_a_year
