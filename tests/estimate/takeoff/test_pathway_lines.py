"""Conduit with its fittings, trays with their hangers, and the hours of making them, counted by hand."""

from decimal import Decimal

import pytest

from proposal.pipeline import Computed, compute
from tests.design.making import EXAMPLE, changed, project_of

D = Decimal


@pytest.fixture(scope="module")
def ours() -> Computed:
    """Return the example with pathways that are ours to furnish."""
    return compute(changed(project_of(EXAMPLE), "brief.rules.takeoff.price_pathways", True))


def wanted(computed: Computed, tag: str) -> dict[str, Decimal]:
    """Return how much of each model a pathway takes."""
    return {
        one.model: one.quantity
        for one in computed.estimate.lines
        if one.section == "pathways" and one.causes == (tag,)
    }


@pytest.mark.independent
def test_a_conduit_has_an_elbow_a_bend_and_couplings_between_its_pieces(ours: Computed) -> None:
    """C01: 9.5 m with three bends: four straight parts of 2.375 m, each within a stick of 3.05 m.

    From the tray at 71.5 m E, 16 m N it goes 0.3 m west, 4 m north to the wall, 4.4 m down and 0.8 m south.
    Seven pieces in a row, with the elbows, have six joints.
    """
    assert wanted(ours, "C01") == {"DR-EMT-1_2": D("9.5"), "DR-EL-1_2": 3, "DR-CO-1_2": 6}


@pytest.mark.independent
def test_a_longer_conduit_without_bends_has_a_coupling_at_each_stick() -> None:
    """C01 as 9.6 m without a bend: four sticks of 3.05 m, as three hold 9.15 m; three couplings, no elbow."""
    project = project_of(EXAMPLE)
    pathway = project.building.pathways["C01"].model_copy(update={"length": 9.6, "bends": ()})
    computed = compute(changed(project, ("building", "pathways", "C01"), pathway))
    assert wanted(computed, "C01") == {"DR-EMT-1_2": D("9.6"), "DR-CO-1_2": 3}


@pytest.mark.independent
def test_a_tray_hangs_on_two_rods_at_either_end_and_at_each_spacing(ours: Computed) -> None:
    """T03: 14.5 m at 1.5 m: 11 supports; T12: 4 m: 4. Two rods with clamps each. Sleeves need none."""
    assert wanted(ours, "T03") == {"DR-TY100": D("14.5"), "DR-TR": 22, "DR-BC": 22}
    assert wanted(ours, "T12") == {"DR-TY200": D("4"), "DR-TR": 8, "DR-BC": 8}
    assert wanted(ours, "S01") == {"DR-EMT-1-1_4": D("1")}


@pytest.mark.independent
def test_conduit_and_tray_are_bought_in_whole_sticks_once_for_the_project(ours: Computed) -> None:
    """29.1 m of tray of 100 mm: 10 sticks of 3 m at 22.08; 19.6 m of conduit: 7 of 3.05 m at 3.721."""
    bought = {one.model: one for one in ours.estimate.purchases if one.section == "pathways"}
    tray, conduit = bought["DR-TY100"], bought["DR-EMT-1_2"]
    assert (tray.sold_as, tray.need, tray.bought, tray.cost) == ("stick", D("29.1"), 10, D("220.80"))
    assert (conduit.sold_as, conduit.need, conduit.bought, conduit.cost) == (
        "stick",
        D("19.6"),
        7,
        D("26.05"),
    )
    spread = [one.cost for one in ours.estimate.lines if one.model == "DR-TY100"]
    # By 5.1, 14.5 and 9.5 of 29.1 m: 38.697, 110.021 and 72.082.
    assert spread == [D("38.70"), D("110.02"), D("72.08")]


@pytest.mark.independent
def test_hours_of_making_pathways_follow_from_metres_hooks_and_sleeves(ours: Computed) -> None:
    """34 m of tray on the ground floor at 0.3 h a metre and 8 % for height: 11.016 h.

    Conduit: 19.6 × 0.25 × 1.08; two sleeves: 2 × 1.08.
    """
    hours = {
        one.task: one.hours
        for one in ours.labour.lines
        if one.task in ("hang tray", "lay conduit", "set a sleeve") and one.storey == "L0"
    }
    assert hours == {"hang tray": D("11.02"), "lay conduit": D("5.29"), "set a sleeve": D("2.16")}
    hooks = {one.storey: one.units for one in ours.labour.lines if one.task == "hang hooks of a pathway"}
    # H05: 14.5 m at 1.5 m: 11; H23: 2 m: 3.
    assert hooks == {"L0": 11, "L2": 3}


def test_pathways_by_others_are_counted_and_take_none_of_our_hours() -> None:
    computed = compute(project_of(EXAMPLE))
    lines = [one for one in computed.estimate.lines if one.section == "pathways"]
    assert lines
    assert not any(one.cost for one in lines)
    assert not [one for one in computed.labour.lines if one.task in ("hang tray", "lay conduit")]
