"""What is added to a cable's length so that a plan can be cut on site, and the plan that follows."""

from dataclasses import replace
from decimal import Decimal

import pytest

from proposal.design.connections.cable import Cable
from proposal.estimate.takeoff.lines import cut_length_m
from proposal.estimate.takeoff.reel_orders import ReelOrder, reel_orders
from proposal.estimate.takeoff_and_reels import takeoff_lines
from proposal.model.project import Project
from tests.design.making import changed, designed, minimal


def cable_of(project: Project, length_m: float, measured: bool) -> Cable:
    """Return a cable of a project, with another length."""
    return replace(designed(project).cables[0], length_m=length_m, measured=measured)


@pytest.mark.independent
@pytest.mark.parametrize(
    ("length_m", "measured", "cut_m"),
    [
        # 45 · 1.03 + 1 = 47.35, up to 47.4; measured, 45 + 1.
        (45.0, False, "47.4"),
        (45.0, True, "46.0"),
        # 10.01 + 1 = 11.01, up to 11.1; 17.75 · 1.03 + 1 = 19.2825, up to 19.3.
        (10.01, True, "11.1"),
        (17.75, False, "19.3"),
        # 100 · 1.03 + 1 is 104 on the dot, although no binary fraction is 1.03.
        (100.0, False, "104.0"),
    ],
)
def test_an_estimated_length_is_cut_with_a_tolerance_and_every_one_with_lead_and_tail(
    length_m: float, measured: bool, cut_m: str
) -> None:
    project = minimal()
    assert cut_length_m(project, cable_of(project, length_m, measured)) == Decimal(cut_m)


@pytest.mark.independent
def test_both_allowances_are_rules_of_the_project_and_assumptions_where_nobody_writes_them() -> None:
    project = minimal()
    listed = {".".join(map(str, one.path)) for one in project.assumptions}
    assert {"brief.rules.takeoff.lead_and_tail", "brief.rules.takeoff.length_tolerance"} <= {
        path.replace("project.", "brief.") for path in listed
    }
    without = changed(project, "brief.rules.takeoff.length_tolerance", 0.0)
    without = changed(without, "brief.rules.takeoff.lead_and_tail", 0.0)
    assert cut_length_m(without, cable_of(without, 45.0, False)) == Decimal("45.0")


def order_of(project: Project, length_m: float, measured: bool, count: int) -> ReelOrder:
    """Return the reels of so many cables alike."""
    design = designed(project)
    one = replace(design.cables[0], length_m=length_m, measured=measured)
    cables = tuple(replace(one, identity=f"B{n:03}/N1/ER1-RK1") for n in range(1, count + 1))
    (order,) = reel_orders(project, replace(design, cables=cables))
    return order


@pytest.mark.published
@pytest.mark.parametrize("measured", [False, True])
def test_a_hundred_cables_of_45_m_take_17_boxes_with_allowances_where_5_percent_says_16(
    measured: bool,
) -> None:
    """47.4 m estimated, 46 m measured: six to a box of 304.8 m; 4500 · 1.05 / 304.8 = 15.5."""
    project = changed(minimal(), "brief.rules.takeoff.spoilage", 0.05)
    model = designed(project).cables[0].model
    reel = next(iter(project.library.entry(model).reels.values())).model_copy(  # type: ignore[attr-defined]
        update={"length": 304.8}
    )
    project = changed(project, ("library", "cables", model, "reels"), {"box": reel})
    order = order_of(project, 45.0, measured, 100)
    assert order.plan.counts == (("box", 17),)
    assert order.percentage_count == 16
    assert order.spare is not None


def test_the_length_cut_in_the_take_off_is_what_the_reels_are_cut_to() -> None:
    project = minimal()
    design = designed(project)
    reels = reel_orders(project, design)
    on_reels: dict[str, Decimal] = {order.model: order.plan.cut_m for order in reels}
    lines: dict[str, Decimal] = {}
    for line in takeoff_lines(project, design, reels):
        if line.parts:
            lines[line.model] = lines.get(line.model, Decimal(0)) + line.parts.cut_m
    assert lines == on_reels
