"""What an entry of the library costs in the project's currency, for choosing and for the estimate.

An amount in another currency is converted exactly, and rounded once: where it becomes the amount of a line.
"""

from decimal import Decimal

from proposal.model.equipment.entry import Entry
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded


def has_rate(project: Project, currency: str) -> bool:
    """Say whether amounts in a currency can be brought to that of the project.

    project: its currency and exchange rates.  currency: by its code of ISO 4217.
    """
    return currency == project.brief.currency or currency in project.brief.terms.exchange


def in_currency(project: Project, money: Money) -> Decimal:
    """Return an amount in the project's currency, not rounded.

    project: its currency and exchange rates.
    money: an amount in that currency or in one with an exchange rate; KeyError otherwise.
    """
    if money.currency == project.brief.currency:
        return money.amount
    return money.amount * project.brief.terms.exchange[money.currency].rate


def unit_cost(project: Project, entry: Entry) -> Decimal:
    """Return what one unit costs us, in the project's currency; it may be finer than an amount."""
    return in_currency(project, entry.cost)


def unit_list_price(project: Project, entry: Entry) -> Decimal:
    """Return the list price of one unit, in the project's currency; it may be finer than an amount."""
    return in_currency(project, entry.list_price)


def cost_of_one(project: Project, entry: Entry) -> Decimal:
    """Return what one unit costs as an amount of the project's currency, by which boxes are chosen."""
    return rounded(unit_cost(project, entry), smallest_unit(project.brief.currency))
