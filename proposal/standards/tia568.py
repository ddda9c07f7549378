"""Lengths of balanced copper cabling after ANSI/TIA-568."""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import OneOf, Range
from proposal.standards.working import Limit

TIA_568_2 = Source("ANSI/TIA-568.2", "D")
CORD_TABLE = Source("TIA/EIA-568-B.1", clause="maximum length of work area cords")
FROM_TEMPERATURE_RISE = Source("derived from ANSI/TIA-568.2-D", kind="common practice")

CHANNEL_LIMIT = Limit(100.0, "≤", TIA_568_2)
PERMANENT_LINK_LIMIT = Limit(90.0, "≤", TIA_568_2)
CORDS_LIMIT = Limit(10.0, "≤", TIA_568_2)

ROOM_CORDS_M = {24: 5.0, 26: 4.0}
"""Cords in the telecommunications room by gauge [m]; the 4 m of 26 AWG is from memory."""

HIGHEST_RATE_BIT_S = {"5e": 2.5e9, "6": 5e9, "6A": 10e9}
"""Highest Ethernet rate that a category carries over 100 m (IEEE 802.3, from memory) [bit/s]."""

CORD_TABLE_LINKS_M = (70.0, 90.0)
"""Shortest and longest horizontal cable for which the table of cords has a line [m]."""

COLDEST_CABLE_C = -20.0
"""Lowest temperature for which the standard gives the rise of insertion loss [°C]."""

WARMEST_CABLE_C = 60.0
"""Highest temperature for which the standard gives the rise of insertion loss [°C]."""


@formula(
    title="Channel length",
    equation="L = H + C",
    source=TIA_568_2,
    result=("L", "m"),
    where={
        "permanent_link_m": ("H", "permanent link", "m"),
        "cords_m": ("C", "cords at both ends together", "m"),
    },
    valid={"permanent_link_m": Range(0), "cords_m": Range(0)},
)
def channel_length_m(permanent_link_m: float, cords_m: float) -> float:
    """Return the length of a channel [m].

    permanent_link_m: permanent link [m]
    cords_m: cords at both ends together [m]

    Source: ANSI/TIA-568.2-D.
    """
    return permanent_link_m + cords_m


@formula(
    title="Extra loss of cord cable over horizontal cable",
    equation="D = if(n = 24, 0.2, n = 26, 0.5, 0.95)",
    source=Source("TIA/EIA-568-B.1", clause="28 AWG from memory"),
    result=("D", "-"),
    where={"gauge_awg": ("n", "gauge of the cords, AWG", "-")},
    valid={"gauge_awg": OneOf((24, 26, 28))},
)
def cord_derating(gauge_awg: int) -> float:
    """Return how much more a metre of cord loses than a metre of horizontal cable, as a share [-].

    gauge_awg: gauge of the cords: 24, 26 or 28 (28 from memory) [-]

    Source: TIA/EIA-568-B.1.
    """
    return {24: 0.2, 26: 0.5, 28: 0.95}[gauge_awg]


@formula(
    title="Maximum length of the cords together",
    equation="C = (102 − H)/(1 + D)",
    source=CORD_TABLE,
    result=("C", "m"),
    where={
        "permanent_link_m": ("H", "horizontal cable", "m"),
        "derating": ("D", "extra loss of cord cable", "-"),
    },
    valid={
        "permanent_link_m": Range(
            70, 90, warning="The table covers 70 m to 90 m; under 70 m the limit of the work-area cord rules."
        ),
        "derating": Range(0, 1),
    },
)
def cord_length_m(permanent_link_m: float, derating: float) -> float:
    """Return the greatest length of work-area, patch and equipment cords together [m].

    permanent_link_m: horizontal cable; outside 70 m to 90 m the working carries a note [m]
    derating: extra loss of the cord cable, see `cord_derating` [-]

    Source: TIA/EIA-568-B.1.
    """
    return (102 - permanent_link_m) / (1 + derating)


@formula(
    title="Maximum length of the work-area cord",
    equation="W = min(C − T, if(n = 24, 22, 17))",
    source=CORD_TABLE,
    result=("W", "m"),
    where={
        "cords_m": ("C", "greatest length of the cords together", "m"),
        "room_cords_m": ("T", "cords in the telecommunications room", "m"),
        "gauge_awg": ("n", "gauge of the cords, AWG", "-"),
    },
    valid={"cords_m": Range(0), "room_cords_m": Range(0), "gauge_awg": OneOf((24, 26))},
)
def work_area_cord_m(cords_m: float, room_cords_m: float, gauge_awg: int) -> float:
    """Return the greatest length of the cord at the work area [m]; negative where none is left.

    cords_m: greatest length of the cords together, see `cord_length_m` [m]
    room_cords_m: cords in the telecommunications room, `ROOM_CORDS_M` by gauge [m]
    gauge_awg: gauge of the cords, 24 or 26 [-]

    Source: TIA/EIA-568-B.1.
    """
    return min(cords_m - room_cords_m, 22 if gauge_awg == 24 else 17)


@formula(
    title="Rise of insertion loss with temperature",
    equation="k = if(s = 1, 0.002·max(t − 20, 0), t ≤ 40, 0.004·max(t − 20, 0), 0.08 + 0.006·(t − 40))",
    source=TIA_568_2,
    result=("k", "-"),
    where={
        "temperature_c": ("t", "temperature of the cable", "°C"),
        "screened": ("s", "1 for screened cable, 0 for unscreened", "-"),
    },
    valid={"temperature_c": Range(COLDEST_CABLE_C, WARMEST_CABLE_C), "screened": OneOf((0, 1))},
)
def insertion_loss_rise(temperature_c: float, screened: bool) -> float:
    """Return how much the insertion loss rises above that at 20 °C, as a share [-]; no credit for cold.

    temperature_c: temperature of the cable, −20 °C to 60 °C [°C]
    screened: whether the cable is screened [-]

    Source: ANSI/TIA-568.2-D: 0.4 % for each kelvin to 40 °C and 0.6 % to 60 °C unscreened, 0.2 % screened.
    """
    if screened:
        return 0.002 * max(temperature_c - 20, 0)
    if temperature_c <= 40:
        return 0.004 * max(temperature_c - 20, 0)
    return 0.08 + 0.006 * (temperature_c - 40)


@formula(
    title="Length weighted by temperature",
    equation="S = sum(L_i·(1 + k_i))",
    source=FROM_TEMPERATURE_RISE,
    result=("S", "m"),
    where={
        "lengths_m": ("L_i", "length of a stretch", "m"),
        "rises": ("k_i", "rise of insertion loss there", "-"),
    },
    valid={"lengths_m": Range(0), "rises": Range(0, 0.2)},
)
def weighted_length_m(lengths_m: Sequence[float], rises: Sequence[float]) -> float:
    """Return the length at 20 °C that would lose as much as the stretches do [m], against 90 m.

    lengths_m: length of each stretch [m], shape (stretches,)
    rises: rise of insertion loss in each, see `insertion_loss_rise` [-], shape (stretches,)

    ValueError where the two differ in number. Source: our rule from the rise of ANSI/TIA-568.2-D.
    """
    return sum(length * (1 + rise) for length, rise in zip(lengths_m, rises, strict=True))


@formula(
    title="Permitted permanent link at one temperature",
    equation="H = 90/(1 + k)",
    source=FROM_TEMPERATURE_RISE,
    result=("H", "m"),
    where={"rise": ("k", "rise of insertion loss", "-")},
    valid={"rise": Range(0, 0.2)},
)
def permitted_permanent_link_m(rise: float) -> float:
    """Return the longest permanent link where all of it lies at one temperature [m].

    rise: rise of insertion loss there, see `insertion_loss_rise` [-]

    Source: our rule from the rise of ANSI/TIA-568.2-D; its printed lengths are up to a metre longer.
    """
    return 90 / (1 + rise)
