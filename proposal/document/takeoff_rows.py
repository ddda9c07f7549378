"""The take-off and the reels of a computed project as rows."""

from collections.abc import Mapping

from proposal.document.takeoff import ReelOrderRow, ReelRow, TakeoffRow
from proposal.estimate.lines import TakeoffLine
from proposal.estimate.reel_orders import ReelOrder
from proposal.model.project import Project
from proposal.pipeline import Computed


def takeoff_rows(computed: Computed) -> tuple[TakeoffRow, ...]:
    """Return the lines of the take-off, numbered."""
    reel_of = {
        cut.identity: number
        for order in computed.estimate.reels
        for number, reel in enumerate(order.plan.reels, 1)
        for cut in reel.cuts
    }
    return tuple(
        _row(computed.project, n, line, reel_of) for n, line in enumerate(computed.estimate.lines, 1)
    )


def _row(project: Project, number: int, line: TakeoffLine, reel_of: Mapping[str, int]) -> TakeoffRow:
    parts = line.parts
    return TakeoffRow(
        number=f"T{number}",
        section=line.section,
        item=line.model,
        description=project.library.entry(line.model).description,
        room=line.room,
        quantity=line.quantity,
        unit=line.unit,
        is_length=line.unit == "m",
        plan_m=parts.plan_m if parts else None,
        vertical_m=parts.vertical_m if parts else None,
        slack_start_m=parts.slack_start_m if parts else None,
        slack_end_m=parts.slack_end_m if parts else None,
        ends_m=parts.ends_m if parts else None,
        cut_m=parts.cut_m if parts else None,
        count=parts.count if parts else None,
        terminations=parts.terminations if parts else None,
        reels=tuple(sorted({reel_of[cause] for cause in line.causes if cause in reel_of})) if parts else (),
        waste=line.waste,
        causes=line.causes,
        recompute=line.section == "reels",
        unit_cost=line.unit_cost,
        spoilage_only=line.section == "cable",
        cost=line.cost,
    )


def reel_order_rows(computed: Computed) -> tuple[ReelOrderRow, ...]:
    """Return the reels of every type of cable."""
    return tuple(_order(computed.project, order) for order in computed.estimate.reels)


def _order(project: Project, order: ReelOrder) -> ReelOrderRow:
    plan = order.plan
    return ReelOrderRow(
        type=order.model,
        description=project.library.entry(order.model).description,
        reels=tuple(
            ReelRow(
                number=n,
                stock=reel.stock,
                length_m=reel.length_m,
                cuts=tuple((cut.identity, cut.length_m, cut.group) for cut in reel.cuts),
                remnant_m=reel.remnant_m,
                groups=reel.groups,
            )
            for n, reel in enumerate(plan.reels, 1)
        ),
        counts=plan.counts,
        spare=order.spare.name if order.spare else "",
        too_long=tuple(run.identity for run in plan.too_long),
        cut_m=plan.cut_m,
        remnant_m=plan.remnant_m,
        set_ups=plan.set_ups,
        proven=plan.proven,
        percentage_stock=order.percentage_stock,
        percentage_count=order.percentage_count,
        cost=plan.cost,
        bound=plan.bound,
    )
