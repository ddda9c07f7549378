"""Money in and out, day by day, as payments are due and the programme has the work done.

Equipment is paid when all of it is delivered, materials when they have come, work when its phase is over,
travel when a trade leaves the site, surcharges with what they are computed on; taxes are passed on as they
come in. What is spread over the lines as a reserve is not taken to be spent.
"""

import datetime
from collections.abc import Iterator, Sequence
from decimal import Decimal

from proposal.document.headings import Words
from proposal.document.making.composed_texts import words_of
from proposal.document.rows.price import NOTHING, PaymentRow
from proposal.document.rows.price_build_up import CashRow
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.programme.programme import ProgrammePlan
from proposal.model.labour.labour import SITE_PHASES
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities.general_conditions import COUNTED_IN_TIME

_MATERIALS = "lead time materials"


def cash_rows(computed: Computed, payments: Sequence[PaymentRow]) -> tuple[CashRow, ...]:
    """Return what comes in and goes out, in order of days, with the balance after each.

    payments: with the days on which they are due.
    The last balance is the price less the cost.
    """
    plan = computed.programme
    found: dict[tuple[datetime.date, bool, str], Decimal] = {}
    for day, incoming, what, amount in _movements(computed, plan, payments):
        if amount:
            key = (day, incoming, what)
            found[key] = found.get(key, NOTHING) + amount
    rows, balance = [], NOTHING
    # Of one day, what goes out comes first: the balance never looks better than it may be.
    for (day, incoming, what), amount in sorted(found.items(), key=lambda item: item[0][:2]):
        balance += amount if incoming else -amount
        rows.append(
            CashRow(
                date=day,
                what=what,
                incoming=amount if incoming else None,
                outgoing=None if incoming else amount,
                balance=balance,
            )
        )
    return tuple(rows)


def _movements(
    computed: Computed, plan: ProgrammePlan, payments: Sequence[PaymentRow]
) -> Iterator[tuple[datetime.date, bool, str, Decimal]]:
    """Yield day, whether it comes in, what it is, and the amount."""
    words = words_of(computed.project)
    for one in payments:
        if one.due_date is not None:
            yield one.due_date, True, one.name, one.due
            yield one.due_date, False, words.text("cash.tax_passed_on", payment=one.name), one.tax
    for line in computed.price.lines:
        day, what = _paid(computed.project, plan, line, words)
        yield day, False, what, line.cost


def _paid(project: Project, plan: ProgrammePlan, line: PriceLine, words: Words) -> tuple[datetime.date, str]:
    """Return when a line's cost is paid, and what it is called."""
    if line.group == "equipment":
        return plan.events["delivery"], words.text("cash.equipment")
    if line.group == "materials":
        return _materials(plan), words.text("cash.materials")
    if line.group == "labour":
        return _over(plan, line.phase), words.text("cash.work", phase=line.phase)
    if line.group == "travel":
        return _left(plan, line.item), words.text("cash.travel", trade=project.labour.trades[line.item].name)
    if line.group == "allowance":
        allowance = project.brief.price.allowances[line.item].name
        return plan.events["second fix complete"], words.text("cash.allowance", allowance=allowance)
    surcharge = project.brief.price.surcharges[line.item]
    if surcharge.by in COUNTED_IN_TIME:
        return plan.events["second fix complete"], surcharge.name
    with_goods = surcharge.share is not None and set(surcharge.of) & {"equipment", "materials"}
    return plan.events["delivery" if with_goods else "order"], surcharge.name


def _materials(plan: ProgrammePlan) -> datetime.date:
    return next(
        (task.finish for task in plan.tasks if task.key == _MATERIALS), plan.events["drawings approved"]
    )


def _over(plan: ProgrammePlan, phase: str) -> datetime.date:
    """Return the last day of a phase; what is no activity of its own, such as management, is over last."""
    return max((task.finish for task in plan.tasks if task.kind == phase), default=plan.finish)


def _left(plan: ProgrammePlan, trade: str) -> datetime.date:
    """Return the last day of a trade on site."""
    days = [
        task.finish
        for task in plan.tasks
        if task.kind in SITE_PHASES and any(name == trade for name, _, _ in task.crew)
    ]
    return max(days, default=plan.finish)
