"""Fill, size and spare capacity of conduits, trays and hooks."""

import math
from pathlib import Path
from typing import Any

import pytest

from proposal.design.pathways.cables_in_pathways import CableInPathway
from proposal.design.pathways.fill import PathwayDesign, chosen_tubing, pathway_designs
from proposal.model.loading import load_project
from proposal.model.pathways.building import Building
from proposal.model.project import Project
from proposal.standards import nfpa70
from tests.published.cases import FOLDER

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def minimal() -> Project:
    return load_project(ROOT / "tests" / "projects" / "minimal")


def cable(n: int, diameter_m: float = 0.006, **more: Any) -> CableInPathway:
    values: dict[str, Any] = {
        "identity": f"D{n}/N1/ER1-RK1",
        "model": "X",
        "signal": "network",
        "diameter_m": diameter_m,
        "weight_n_per_m": 0.4,
        "pull_n": 110.0,
        "pulling_radius_m": 8 * diameter_m,
        "source_w": 0.0,
    }
    return CableInPathway(**values | more)


def cables(count: int, diameter_m: float = 0.006, **more: Any) -> list[CableInPathway]:
    return [cable(n, diameter_m, **more) for n in range(count)]


def designed(project: Project, laid: list[CableInPathway], **pathway: Any) -> PathwayDesign:
    building = Building.model_validate(
        {
            **project.building.model_dump(exclude={"nodes", "pathways"}),
            "nodes": {
                "N1": {"storey": "L0", "at": (0.0, 0.0), "height": 0.0},
                "N2": {"storey": "L0", "at": (12.0, 0.0), "height": 0.0},
            },
            "spaces": {"P": {"name": "Plenum", "plenum": True}},
            "pathways": {"P1": {"between": ("N1", "N2"), **pathway}},
        }
    )
    changed = project.model_copy(update={"building": building})
    return pathway_designs(changed, {"P1": laid})[0]


@pytest.mark.published
def test_trade_sizes_are_those_of_the_printed_table() -> None:
    # NFPA 70, Chapter 9, Table 4 (EMT), as tests/published/tubing_nfpa_70.csv keeps it
    printed = (FOLDER / "tubing_nfpa_70.csv").read_text(encoding="utf-8")
    for tubing in nfpa70.TUBING.values():
        assert f"{tubing.area_m2 * 1e6:.0f}" in printed, tubing.trade_size


@pytest.mark.published
@pytest.mark.parametrize("trade_size", list(nfpa70.TUBING))
@pytest.mark.parametrize(("count", "share"), [(1, 0.53), (2, 0.31), (3, 0.4), (4, 0.4), (9, 0.4)])
def test_a_size_is_chosen_to_its_permitted_fill_and_not_beyond(
    trade_size: str, count: int, share: float
) -> None:
    # NFPA 70, Chapter 9, Table 1: 53 % one, 31 % two, 40 % three and more
    area_m2 = nfpa70.TUBING[trade_size].area_m2
    full_m = math.sqrt(4 * share * area_m2 / count / math.pi)
    sizes = list(nfpa70.TUBING)
    within = chosen_tubing([full_m * (1 - 1e-9)] * count)
    beyond = chosen_tubing([full_m * (1 + 1e-9)] * count)
    if count != 3:
        assert within is not None
        assert within.trade_size == trade_size
    next_size = sizes.index(trade_size) + 1
    if next_size == len(sizes):
        assert beyond is None
    else:
        assert beyond is not None
        assert sizes.index(beyond.trade_size) >= next_size


@pytest.mark.published
def test_three_cables_that_could_jam_take_the_next_size() -> None:
    # NFPA 70, Chapter 9, Table 1, Informational Note No. 2: ratio between 2.8 and 3.2.
    # By hand: three of 7.0 mm take 115 mm²; 3/4 holds 137 mm², but its ratio is 20.9 / 7.0 = 2.99
    # and jams; that of 1 is 26.6 / 7.0 = 3.8
    chosen = chosen_tubing([0.007] * 3)
    assert chosen is not None
    assert chosen.trade_size == "1"
    # four of them do not jam: 154 mm² need 385 mm², which is more than 3/4 has
    four = chosen_tubing([0.007] * 4)
    assert four is not None
    assert four.trade_size == "1"


def test_a_conduit_written_with_a_size_is_checked_and_not_replaced(minimal: Project) -> None:
    found = designed(minimal, cables(6, 0.007), kind="conduit", size="3/4")
    assert found.size == "3/4"
    assert not found.chosen
    assert found.fill is not None
    # six times 38.48 mm² of 343 mm²
    assert found.fill.result == pytest.approx(6 * math.pi * 0.0035**2 / 343e-6)
    assert found.fill.verdict == "fails"
    assert not found.holds


@pytest.mark.independent
@pytest.mark.parametrize("count", range(1, 12))
def test_spare_capacity_is_what_can_be_added(minimal: Project, count: int) -> None:
    found = designed(minimal, cables(count), kind="conduit", size="1-1/2")
    assert found.spare is not None
    area_m2 = math.pi * 0.003**2
    more = [n for n in range(60) if (count + n) * area_m2 <= {1: 0.53, 2: 0.31}.get(count + n, 0.4) * 1314e-6]
    assert found.spare == max(more)


@pytest.mark.parametrize(("ours", "holds"), [(1, True), (2, True), (3, False)])
def test_cables_of_the_owner_fill_an_existing_conduit_too(minimal: Project, ours: int, holds: bool) -> None:
    """Trade size 3/4 has 343 mm², of which 40 % hold four cables of 6 mm (113 mm²) and no fifth (141 mm²)."""
    found = designed(
        minimal, cables(ours), kind="conduit", size="3/4", existing=True, owner_cables=(0.006, 0.006)
    )
    assert found.holds is holds
    assert found.fill is not None
    assert found.fill.result == pytest.approx((2 + ours) * math.pi * 9 / 343, rel=2e-3)
    assert found.spare == max(0, 2 - ours)


def test_an_empty_conduit_has_no_size_and_no_fill(minimal: Project) -> None:
    found = designed(minimal, [], kind="conduit")
    assert (found.size, found.fill, found.spare) == ("", None, None)
    assert found.holds


def test_the_largest_size_is_overfull_where_none_holds_the_cables(minimal: Project) -> None:
    found = designed(minimal, cables(200, 0.007), kind="conduit")
    assert found.size == "4"
    assert not found.holds


def test_bends_take_the_radius_of_the_elbow_of_their_size(minimal: Project) -> None:
    found = designed(minimal, cables(2), kind="conduit", size="1", bends=(90.0,))
    elbows = [c.elbow_radius for c in minimal.library.conduits.values() if c.trade_size == "1"]
    assert found.radius_m == min(elbows)
    written = designed(minimal, cables(2), kind="conduit", size="1", bends=(90.0,), bend_radius=0.05)
    assert written.radius_m == 0.05


@pytest.mark.pinned
def test_a_tray_is_filled_by_area(minimal: Project) -> None:
    # by hand: 100 cables of 28.27 mm² in 200 × 50 mm: 28.3 %; half holds 176, 76 more
    found = designed(minimal, cables(100), kind="tray", width=0.2, depth=0.05)
    assert found.fill is not None
    assert found.fill.result == pytest.approx(0.2827, abs=5e-5)
    assert found.spare == 76
    assert found.holds
    assert not designed(minimal, cables(177), kind="tray", width=0.2, depth=0.05).holds


def test_hooks_are_the_smallest_that_hold_and_carry_the_cables(minimal: Project) -> None:
    few = designed(minimal, cables(4), kind="hooks")
    many = designed(minimal, cables(60), kind="hooks")
    supports = minimal.library.supports
    assert supports[few.size].area < supports[many.size].area
    assert few.holds
    assert many.holds
    assert many.area_m2 is not None
    assert 60 * math.pi * 0.003**2 <= many.area_m2 * 0.5


def test_hooks_that_cannot_carry_the_weight_do_not_hold(minimal: Project) -> None:
    # 30 kg a metre on 1.5 m spacing, 9 kg each hook
    heavy = designed(minimal, cables(3, weight_n_per_m=100.0), kind="hooks", support="DR-HK32")
    assert heavy.hung_n == pytest.approx(450.0)
    assert heavy.carried_n == pytest.approx(9 * 9.80665)
    assert not heavy.holds


def test_where_no_hook_carries_the_cables_the_largest_is_taken_and_does_not_hold(minimal: Project) -> None:
    # 30 kg a metre; the largest of the library has 8,100 mm² and carries 27 kg every 1.5 m
    heavy = designed(minimal, cables(3, weight_n_per_m=100.0), kind="hooks")
    assert heavy.size == "DR-HK102"
    assert heavy.area_m2 == pytest.approx(0.0081)
    assert not heavy.holds
