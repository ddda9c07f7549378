"""The take-off and the reels of a computed project as rows."""

from collections.abc import Mapping
from decimal import Decimal
from typing import TypedDict

from proposal.document.making.serials import serials
from proposal.document.rows.takeoff import ReelOrderRow, ReelRow, TakeoffRow
from proposal.estimate.price.takeoff_labour import LineLabour, labour_costs, takeoff_labour
from proposal.estimate.takeoff.lines import TakeoffLine, exact
from proposal.estimate.takeoff.reel_orders import ReelOrder
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded, step_of


def takeoff_rows(computed: Computed) -> tuple[TakeoffRow, ...]:
    """Return the lines of the take-off, numbered."""
    reel_of = {
        cut.identity: reel.number
        for order in computed.estimate.reels
        for reel in order.plan.reels
        for cut in reel.cuts
    }
    lines = computed.estimate.lines
    numbers = serials("T", (line.room for line in lines))
    rows = (
        _row(computed.project, number, line, reel_of) for number, line in zip(numbers, lines, strict=True)
    )
    lengths_m = {cable.identity: exact(cable.length_m) for cable in computed.design.cables}
    step = smallest_unit(computed.project.brief.currency)
    costs = labour_costs(computed.price.lines, computed.labour.lines, step)
    labour = takeoff_labour(lines, computed.labour.lines, costs, lengths_m, step)
    return tuple(
        row.model_copy(update=_labour(computed.project, labour[n])) if n in labour else row
        for n, row in enumerate(rows)
    )


_FACTOR = step_of(3)


class _Labour(TypedDict):
    """What labour adds to a line of the take-off."""

    trades: tuple[str, ...]
    base_hours: Decimal
    condition_factor: Decimal | None
    hours: Decimal
    labour_cost: Decimal | None


def _labour(project: Project, labour: LineLabour) -> _Labour:
    """Return the fields of a row that hold its labour."""
    return {
        "trades": tuple(project.labour.trades[trade].name for trade in labour.trades),
        "base_hours": rounded(labour.base_hours, _FACTOR),
        "condition_factor": rounded(labour.hours / labour.base_hours, _FACTOR) if labour.base_hours else None,
        "hours": labour.hours,
        "labour_cost": labour.cost,
    }


def _row(project: Project, number: str, line: TakeoffLine, reel_of: Mapping[str, int]) -> TakeoffRow:
    parts = line.parts
    return TakeoffRow(
        number=number,
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
                number=reel.number,
                stock=reel.stock,
                length_m=reel.length_m,
                cuts=tuple((cut.identity, cut.length_m, cut.group) for cut in reel.cuts),
                remnant_m=reel.remnant_m,
                groups=reel.groups,
            )
            for reel in plan.reels
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
        cost=order.cost,
        bound=order.bound,
    )
