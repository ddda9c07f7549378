"""Run time of standby supplies: the maker's table, Peukert's law, age and temperature of the battery."""

from collections.abc import Sequence
from math import log10

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.validity import Range

TABLE = Source(
    title="between two points of a constant-power table the time follows a power of the load",
    kind="common practice",
)
PEUKERT = Source("Peukert's law", clause="related to the rated discharge time", memory=True)
HALVED_BY_10_K = Source(
    title="10 K more halves the life of a sealed lead-acid battery", kind="common practice"
)
_LOAD = Range(0, 1e6, above=True)
_TIME = Range(0, 1e7, above=True)
_SHARE = Range(0, 1, above=True)
_EXPONENT = Range(1, 1.6)
_CELSIUS = Range(-60, 100)


@formula(
    title="Load on a standby supply",
    equation="P = sum(P_i)",
    source=COMMON_PRACTICE,
    result=("P", "W"),
    where={"power_w": ("P_i", "power of one that it feeds", "W")},
    valid={"power_w": Range(0, 1e6)},
)
def supply_load_w(power_w: Sequence[float]) -> float:
    """Return the load on a standby supply [W].

    power_w: power of each that it feeds [W]

    Source: common practice.
    """
    return sum(power_w)


@formula(
    title="Apparent load on a standby supply",
    equation="S = sum(S_i)",
    source=COMMON_PRACTICE,
    result=("S", "VA"),
    where={"apparent_va": ("S_i", "apparent power of one that it feeds", "VA")},
    valid={"apparent_va": Range(0, 1e6)},
)
def supply_load_va(apparent_va: Sequence[float]) -> float:
    """Return the apparent load on a standby supply, as if all took their current at the same moment [VA].

    apparent_va: apparent power of each that it feeds [VA]

    Source: common practice.
    """
    return sum(apparent_va)


@formula(
    title="Run time between two points of the maker's table, battery new",
    equation="t = A·(B/A)^if(U = L, 0, min(max(log10(P/L)/log10(U/L), 0), 1))",
    source=TABLE,
    result=("t", "min"),
    where={
        "load_w": ("P", "load", "W"),
        "lower_w": ("L", "next lower load of the table", "W"),
        "lower_min": ("A", "run time there", "min"),
        "upper_w": ("U", "next higher load of the table", "W"),
        "upper_min": ("B", "run time there", "min"),
    },
    valid={"load_w": _LOAD, "lower_w": _LOAD, "lower_min": _TIME, "upper_w": _LOAD, "upper_min": _TIME},
)
def run_time_between_min(
    load_w: float, lower_w: float, lower_min: float, upper_w: float, upper_min: float
) -> float:
    """Return the run time at a load between two points of a constant-power table [min].

    load_w: load, between those of the two points [W]
    lower_w: load of the lower point [W]
    lower_min: run time there [min]
    upper_w: load of the upper point, higher than that of the lower one [W]
    upper_min: run time there [min]

    Below the lower load it is the time of the lower point, above the upper one that of the upper.

    Source: common practice: the time follows a power of the load, as in Peukert's law.
    """
    exponent = (
        0.0 if upper_w == lower_w else min(max(log10(load_w / lower_w) / log10(upper_w / lower_w), 0.0), 1.0)
    )
    # A number to a power of a number: mypy takes the result for Any.
    return float(lower_min * (upper_min / lower_min) ** exponent)


@formula(
    title="Current out of the battery",
    equation="I = P/(η·V)",
    source=COMMON_PRACTICE,
    result=("I", "A"),
    where={
        "load_w": ("P", "load", "W"),
        "efficiency": ("η", "share of the battery's power that reaches the load", "-"),
        "voltage_v": ("V", "nominal voltage of the battery", "V"),
    },
    valid={"load_w": _LOAD, "efficiency": _SHARE, "voltage_v": Range(0, 1e5, above=True)},
)
def battery_current_a(load_w: float, efficiency: float, voltage_v: float) -> float:
    """Return the current out of the battery of a standby supply [A].

    load_w: load on the supply [W]
    efficiency: share of the battery's power that reaches the load [-]
    voltage_v: nominal voltage of the battery [V]

    Source: common practice.
    """
    return load_w / (efficiency * voltage_v)


@formula(
    title="Run time by Peukert’s law, new battery",
    equation="t = 60·H·(C/(I·H))^k",
    source=PEUKERT,
    result=("t", "min"),
    where={
        "rated_h": ("H", "discharge time of the rated capacity", "h"),
        "capacity_ah": ("C", "rated capacity", "Ah"),
        "current_a": ("I", "current out of the battery", "A"),
        "exponent": ("k", "Peukert exponent", "-"),
    },
    valid={
        "rated_h": Range(0, 1000, above=True),
        "capacity_ah": Range(0, 1e6, above=True),
        "current_a": Range(0, 1e6, above=True),
        "exponent": _EXPONENT,
    },
)
def peukert_run_time_min(rated_h: float, capacity_ah: float, current_a: float, exponent: float) -> float:
    """Return the run time of a battery after Peukert's law [min].

    rated_h: discharge time of the rated capacity [h]
    capacity_ah: rated capacity [Ah]
    current_a: current out of the battery [A]
    exponent: Peukert exponent [-]

    Source: Peukert's law, related to the rated discharge time (memory).
    """
    return float(60 * rated_h * (capacity_ah / (current_a * rated_h)) ** exponent)


@formula(
    title="Share of its capacity that a battery gives in the cold",
    equation="f = max(1 − c·max(R − T, 0), 0)",
    source=COMMON_PRACTICE,
    result=("f", "-"),
    where={
        "temperature_c": ("T", "lowest air temperature", "°C"),
        "rated_c": ("R", "temperature of the rated capacity", "°C"),
        "loss_per_k": ("c", "share lost for each kelvin below it", "1/K"),
    },
    valid={"temperature_c": _CELSIUS, "rated_c": _CELSIUS, "loss_per_k": Range(0, 1)},
)
def share_in_cold(temperature_c: float, rated_c: float, loss_per_k: float) -> float:
    """Return the share of its capacity that a battery gives at a temperature, 1 from the rated one on [-].

    temperature_c: lowest air temperature [°C]
    rated_c: temperature of the rated capacity [°C]
    loss_per_k: share lost for each kelvin below it [1/K]

    Source: common practice.
    """
    return max(1 - loss_per_k * max(rated_c - temperature_c, 0.0), 0.0)


@formula(
    title="Run time with the battery at the end of its life, in the cold",
    equation="t = T·(a·f)^k",
    source=PEUKERT,
    result=("t", "min"),
    where={
        "new_min": ("T", "run time with a new battery", "min"),
        "aged_share": ("a", "share of its capacity at the end of its life", "-"),
        "cold_share": ("f", "share of that which it gives in the cold", "-"),
        "exponent": ("k", "Peukert exponent", "-"),
    },
    valid={
        "new_min": _TIME,
        "aged_share": _SHARE,
        "cold_share": Range(0, 1),
        "exponent": _EXPONENT,
    },
)
def aged_run_time_min(new_min: float, aged_share: float, cold_share: float, exponent: float) -> float:
    """Return the run time of a battery that has lost some of its capacity [min].

    new_min: run time with a new battery [min]
    aged_share: share of its capacity at the end of its life [-]
    cold_share: share of that which it gives in the cold [-]
    exponent: Peukert exponent [-]

    Source: Peukert's law (memory): the time follows the capacity to the power of the exponent.
    """
    return float(new_min * (aged_share * cold_share) ** exponent)


@formula(
    title="Years until the battery is replaced",
    equation="Y = L/2^(max(T − R, 0)/10)",
    source=HALVED_BY_10_K,
    result=("Y", "years"),
    where={
        "life_years": ("L", "years of life at the rated temperature", "years"),
        "temperature_c": ("T", "highest air temperature around it", "°C"),
        "rated_c": ("R", "temperature of that life", "°C"),
    },
    valid={"life_years": Range(0, 100, above=True), "temperature_c": _CELSIUS, "rated_c": _CELSIUS},
)
def battery_life_years(life_years: float, temperature_c: float, rated_c: float) -> float:
    """Return how long a battery lasts where it stands [years].

    life_years: its life at the rated temperature [years]
    temperature_c: highest air temperature around it [°C]
    rated_c: temperature of that life [°C]

    Source: common practice: 10 K more halves the life of a sealed lead-acid battery.
    """
    return float(life_years / 2 ** (max(temperature_c - rated_c, 0.0) / 10))
