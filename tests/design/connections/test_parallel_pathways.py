"""Conduits side by side share their cables; one that is there already is never told to be larger."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from proposal.design.connections.cable import Cable
from proposal.design.connections.cables_by_pathway import laid_by_pathway
from proposal.design.connections.parallel_pathways import shared_among_parallel
from proposal.design.design import Design
from proposal.design.pathways.fill import pathway_designs
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import FixedCable, Project
from proposal.review.pathways import fills
from tests.design.making import changed
from tests.review.editing import edited

pytestmark = pytest.mark.independent

# Inside 196 mm²: at 40 % room for three cables of 5.1 mm (20.43 mm² each, 61.3 of 78.4 mm²), not for four.
HALF_INCH = "  %s: {kind: conduit, between: [N1, N2], size: 1/2%s}\n"
LENGTHS = "  C2: {kind: conduit, between: [N1, N2], size: 1/2, length: 12 m}\n"


def project_in(folder: Path, pathways: str) -> Project:
    return load_project(
        edited(
            folder / "project",
            "minimal",
            {
                "room_types/meeting.yaml": [("output: breakout\n", "output: breakout\nnetwork: rack\n")],
                "building.yaml": [
                    (
                        "*end*",
                        "nodes:\n  N1: {storey: L0, at: [2 m, 2 m]}\n  N2: {storey: L0, at: [12 m, 2 m]}\n"
                        "pathways:\n" + pathways,
                    )
                ],
            },
        )
    )


def many(project: Project, count: int) -> list[Cable]:
    """Return so many cables of 5.1 mm like the charger's."""
    like = next(one for one in design(project).cables if one.start == "B001-CH1")
    assert project.library.cables["CC-5U-R"].outside_diameter == 0.0051
    return [replace(like, identity=f"X{n}", model="CC-5U-R") for n in range(count)]


def counts(cables: tuple[Cable, ...]) -> Counter[str]:
    return Counter(tag for cable in cables for tag in cable.route.pathways)


@pytest.mark.parametrize(
    ("count", "shares"),
    [(3, {"C1": 3}), (4, {"C1": 3, "C2": 1}), (5, {"C1": 3, "C2": 2}), (6, {"C1": 3, "C2": 3})],
)
def test_two_conduits_share_what_one_has_no_room_for(
    tmp_path: Path, count: int, shares: dict[str, int]
) -> None:
    project = project_in(tmp_path, HALF_INCH % ("C1", "") + HALF_INCH % ("C2", ""))
    shared = shared_among_parallel(project, many(project, count))
    assert counts(shared) == shares
    assert [cable.identity for cable in shared] == [f"X{n}" for n in range(count)]
    held = pathway_designs(project, laid_by_pathway(project, shared))
    assert all(one.holds for one in held)


def test_what_none_has_room_for_stays_and_is_overfull(tmp_path: Path) -> None:
    project = project_in(tmp_path, HALF_INCH % ("C1", "") + HALF_INCH % ("C2", ""))
    shared = shared_among_parallel(project, many(project, 8))
    assert counts(shared) == {"C1": 5, "C2": 3}


def test_a_cable_takes_the_length_of_the_conduit_it_moves_to(tmp_path: Path) -> None:
    """C1 is as long as the 10 m between its nodes, C2 12 m: two metres more."""
    project = project_in(tmp_path, HALF_INCH % ("C1", "") + LENGTHS)
    before = many(project, 4)
    *stayed, moved = shared_among_parallel(project, before)
    assert [cable.length_m for cable in stayed] == [cable.length_m for cable in before[:3]]
    assert moved.route.pathways == ("C2",)
    assert moved.length_m == pytest.approx(before[3].length_m + 2.0)


def test_a_route_fixed_by_hand_stays(tmp_path: Path) -> None:
    project = project_in(tmp_path, HALF_INCH % ("C1", "") + HALF_INCH % ("C2", ""))
    cables = many(project, 4)
    fixed = {"X3": FixedCable(route=("C1",))}
    shared = shared_among_parallel(changed(project, "fixed.cables", fixed), cables)
    assert {cable.identity: cable.route.pathways for cable in shared} == {
        "X0": ("C1",),
        "X1": ("C1",),
        "X2": ("C2",),
        "X3": ("C1",),
    }


def test_conduits_of_other_spaces_nodes_or_signals_are_not_shared(tmp_path: Path) -> None:
    kept = HALF_INCH % ("C2", ", carries: loudspeaker lines")
    project = project_in(tmp_path, HALF_INCH % ("C1", "") + kept)
    assert counts(shared_among_parallel(project, many(project, 5))) == {"C1": 5}


def overfull(project: Project, count: int) -> Design:
    made = design(project)
    return replace(made, pathways=pathway_designs(project, laid_by_pathway(project, many(project, count))))


def test_an_existing_conduit_is_never_told_to_be_larger(tmp_path: Path) -> None:
    """Five in 1/2: three stay, two take another; two of 20.43 mm² want 40.9 / 0.31 = 132 mm²: 1/2."""
    project = project_in(tmp_path, HALF_INCH % ("C1", ", existing: yes"))
    (told,) = [one for one in fills(project, overfull(project, 5)) if one.rule == "conduit-overfull"]
    assert told.remedy == (
        "It is there already and holds 3: take the other 2 by another pathway, or add one of trade size 1/2 "
        "beside it for them."
    )
    new = project_in(tmp_path / "new", HALF_INCH % ("C1", ""))
    (free,) = [one for one in fills(new, overfull(new, 5)) if one.rule == "conduit-overfull"]
    # 5 · 20.43 mm² / 0.4 = 255 mm²: 3/4 has 343.
    assert free.remedy == "Use trade size 3/4."
