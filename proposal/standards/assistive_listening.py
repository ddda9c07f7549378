"""Assistive listening: receivers by seats, those that hearing aids can use, and transmitters by area."""

import math

from proposal.standards.formula import formula
from proposal.standards.sources import EDITABLE_DEFAULT, Source
from proposal.standards.validity import Range

ADA = Source("ADA Standards for Accessible Design", "2010 edition", "219.3, Table 219.3", memory=True)
LOCAL_CODE = Source("share that the code of the place asks for", kind="editable default")
_SEATS = Range(0, 100_000, whole=True)
_SHARE = Range(0, 1)
_ROUNDING = 1e-9
"""A share that is a binary fraction may come out a little over a whole number."""


@formula(
    title="Receivers for assistive listening, by seats",
    equation=(
        "n = if(s ≤ 50, 2, s ≤ 500, 2 + ceil((s − 50)/25), s ≤ 1000, 20 + ceil((s − 500)/33), "
        "s ≤ 2000, 35 + ceil((s − 1000)/50), 55 + ceil((s − 2000)/100))"
    ),
    source=ADA,
    result=("n", "-"),
    where={"seats": ("s", "seats", "-")},
    valid={"seats": _SEATS},
)
def receivers_by_table(seats: int) -> int:
    """Return how many receivers a room with so many seats is to have [-].

    seats: seats in the room [-]

    Source: 2010 ADA Standards, Table 219.3.
    """
    if seats <= 50:
        return 2
    if seats <= 500:
        return 2 + math.ceil((seats - 50) / 25)
    if seats <= 1000:
        return 20 + math.ceil((seats - 500) / 33)
    if seats <= 2000:
        return 35 + math.ceil((seats - 1000) / 50)
    return 55 + math.ceil((seats - 2000) / 100)


@formula(
    title="Receivers for assistive listening, by a share of the seats",
    equation="n = max(l, ceil(s·p))",
    source=LOCAL_CODE,
    result=("n", "-"),
    where={
        "seats": ("s", "seats", "-"),
        "share": ("p", "receivers a seat", "-"),
        "least": ("l", "fewest receivers", "-"),
    },
    valid={"seats": _SEATS, "share": _SHARE, "least": Range(0, 1000, whole=True)},
)
def receivers_by_share(seats: int, share: float, least: int) -> int:
    """Return how many receivers a share of the seats comes to, and not fewer than the least number [-].

    seats: seats in the room [-]
    share: receivers a seat [-]
    least: fewest receivers [-]

    Source: the code of the place.
    """
    return max(least, math.ceil(seats * share - _ROUNDING))


@formula(
    title="Hearing-aid compatible receivers",
    equation="h = max(l, ceil(n·q))",
    source=ADA,
    result=("h", "-"),
    where={
        "receivers": ("n", "receivers", "-"),
        "share": ("q", "share that hearing aids can use", "-"),
        "least": ("l", "fewest of them", "-"),
    },
    valid={"receivers": Range(0, 100_000, whole=True), "share": _SHARE, "least": Range(0, 1000, whole=True)},
)
def compatible_receivers(receivers: int, share: float, least: int) -> int:
    """Return how many receivers have to work with a hearing aid's telecoil [-].

    receivers: receivers in the room [-]
    share: share of them that has to [-]
    least: fewest of them [-]

    Source: 2010 ADA Standards, Table 219.3.
    """
    return max(least, math.ceil(receivers * share - _ROUNDING))


@formula(
    title="Transmitters for assistive listening",
    equation="t = max(1, ceil(A/a))",
    source=EDITABLE_DEFAULT,
    result=("t", "-"),
    where={
        "area_m2": ("A", "floor area, levels included", "m²"),
        "covered_m2": ("a", "area that one transmitter reaches", "m²"),
    },
    valid={"area_m2": Range(0, 1e6), "covered_m2": Range(0, 1e6, above=True)},
)
def transmitters(area_m2: float, covered_m2: float) -> int:
    """Return how many transmitters reach an area [-].

    area_m2: floor area, levels included [m²]
    covered_m2: area that one transmitter reaches [m²]

    Source: editable default.
    """
    return max(1, math.ceil(area_m2 / covered_m2 - _ROUNDING))
