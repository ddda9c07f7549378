"""Sleeves are as large as the fill of conduits asks; sizes worked out by hand from the code's table.

Fill (NFPA 70, Chapter 9, Table 1): 53 % for one cable, 31 % for two, 40 % for more. Areas inside, in mm²
(Table 4, EMT): 1/2 196, 3/4 343, 1 556, 1-1/4 968, 1-1/2 1314, 4 9521.
"""

import pytest

from proposal.design.pathways.cables_in_pathways import CableInPathway
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.pathways.sleeves import Sleeve, sleeves_for, sleeves_of
from proposal.standards.iec61386 import CONDUITS
from proposal.standards.nfpa70 import TUBING

TRADE, METRIC = tuple(TUBING.values()), tuple(CONDUITS.values())


def cable(identity: str, diameter_m: float, signal: str = "network") -> CableInPathway:
    return CableInPathway(
        identity=identity, model="X", signal=signal, diameter_m=diameter_m, weight_n_per_m=0.5, pull_n=110.0,
        pulling_radius_m=0.03, source_w=0.0,
    )  # fmt: skip


def pathway(kind: str, *cables: CableInPathway) -> PathwayDesign:
    return PathwayDesign(
        tag="R1",
        kind=kind,
        start="N1",
        end="N2",
        space="",
        length_m=4.0,
        cables=cables,
        owner_cables_m=(0.008,),
    )


@pytest.mark.published
@pytest.mark.parametrize(
    ("count", "diameter_mm", "size"),
    [
        (1, 8.0, "1/2"),  # 50.3 of 0.53 × 196 = 103.9
        (2, 8.0, "3/4"),  # 100.5 of 0.31 × 343 = 106.3; of 1/2 only 60.8
        (4, 8.0, "1"),  # 201.1 of 0.40 × 556 = 222.4; of 3/4 only 137.2
        (5, 8.0, "1-1/4"),  # 251.3 of 0.40 × 968 = 387.2; of 1 only 222.4
        (3, 6.0, "3/4"),  # 84.8 of 0.40 × 343 = 137.2; ratio 20.9 / 6.0 = 3.5 cannot jam
    ],
)
def test_a_sleeve_is_the_smallest_that_its_cables_may_fill(count: int, diameter_mm: float, size: str) -> None:
    assert sleeves_for([diameter_mm / 1000] * count, "cable", TRADE) == (Sleeve(size, count, "cable"),)


def test_more_cables_than_the_largest_size_holds_take_several_sleeves() -> None:
    """One hundred cables of 8 mm take 5027 mm², the largest size gives 0.40 × 9521 = 3808.

    Fifty take 2513: 0.40 × 5701 = 2280 of trade size 3 is too little, 0.40 × 7451 = 2980 of 3-1/2 does.
    """
    assert sleeves_for([0.008] * 100, "cable", TRADE) == (Sleeve("3-1/2", 50, "cable"),) * 2


def test_loudspeaker_lines_pass_in_a_sleeve_of_their_own() -> None:
    """The owner's cable of 8 mm and one more: 3/4. A line of 9 mm alone, 63.6 of 103.9: 1/2."""
    held = pathway("riser shaft", cable("A", 0.008), cable("B", 0.009, "loudspeaker line"))
    assert sleeves_of(held, TRADE) == (Sleeve("3/4", 2, "cable"), Sleeve("1/2", 1, "loudspeaker line"))


@pytest.mark.parametrize("kind", ["tray", "conduit", "sleeve"])
def test_what_passes_whole_takes_none(kind: str) -> None:
    assert sleeves_of(pathway(kind, cable("A", 0.008)), TRADE) == ()


@pytest.mark.parametrize(
    ("diameters_mm", "size"),
    [
        ([7.0], "16 mm"),  # 38.5 of 0.53 × 132.7 = 70.3
        ([5.2, 3.9], "16 mm"),  # 33.2 of 0.31 × 132.7 = 41.1
        ([5.0] + [6.1] * 3 + [5.2] * 6, "32 mm"),  # 234.7 of 0.40 × 607.0 = 242.8; of 25 mm only 143.9
    ],
)
def test_where_conduit_is_sold_by_its_outside_diameter_a_sleeve_is_of_such_a_size(
    diameters_mm: list[float], size: str
) -> None:
    """Areas inside of 13.0, 16.9, 21.4 and 27.8 mm: 132.7, 224.3, 359.7 and 607.0 mm²."""
    found = sleeves_for([one / 1000 for one in diameters_mm], "cable", METRIC)
    assert [one.size for one in found] == [size]
