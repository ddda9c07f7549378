"""Rules about terms of the contract: wages that are paid, and price rises that the order would meet."""

import datetime
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import in_currency
from proposal.model.price.terms_in_words import share_in_words
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule
from proposal.standards.sources import EDITABLE_DEFAULT


def underpaid(project: Project) -> tuple[str, ...]:
    """Return the trades whose hour costs less than a wage rule asks for, by key."""
    trades = project.labour.trades
    return tuple(
        key
        for key, rule in project.brief.labour.wages.items()
        if in_currency(project, trades[key].cost) < in_currency(project, rule.least)
    )


def wages_below_the_rule(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each trade whose hour costs less than a law or an agreement asks for."""
    for key in underpaid(project):
        rule = project.brief.labour.wages[key]
        yield Finding(
            rule="wage-below-rule",
            severity="error",
            where=key,
            place=project.place("project", "labour", "wages", key),
            message=f"An hour of {project.labour.trades[key].name} costs less than {rule.by} asks for.",
            source=EDITABLE_DEFAULT,
            remedy="Raise the cost of the trade under labour.rates, or correct the rule.",
        )


def ordered_after_a_rise(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each price rise that the planned day of the order meets."""
    brief = project.brief
    order = brief.programme.order
    if order is None:
        order = brief.revision.date + datetime.timedelta(days=brief.programme.order_after_days)
    for key, rise in brief.terms.price_rises.items():
        if order > rise.after:
            share = share_in_words(rise.share)
            yield Finding(
                rule="order-after-price-rise",
                severity="warning",
                where=key,
                place=project.place("project", "terms", "price_rises", key),
                message=f"The order is planned for {order.isoformat()}; after {rise.after.isoformat()} the "
                f"price rises by {share}, which is not in it.",
                source=EDITABLE_DEFAULT,
                remedy="Plan the order for an earlier day, or agree on a later one for this price.",
            )


CONTRACT_TERM_RULES: tuple[Rule, ...] = (wages_below_the_rule, ordered_after_a_rise)
