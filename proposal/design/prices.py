"""What an entry of the library costs in the project's currency, for choosing and for the estimate."""

from decimal import ROUND_HALF_UP, Decimal

from proposal.model.entry import Entry
from proposal.model.money import Money
from proposal.model.project import Project

CENT = Decimal("0.01")


def in_currency(project: Project, money: Money) -> Decimal:
    """Return an amount in the project's currency, rounded half up to the cent.

    project: its currency and exchange rates.
    money: an amount in that currency or in one with an exchange rate; KeyError otherwise.
    """
    if money.currency == project.brief.currency:
        rate = Decimal(1)
    else:
        rate = project.brief.terms.exchange[money.currency].rate
    return (money.amount * rate).quantize(CENT, rounding=ROUND_HALF_UP)


def unit_cost(project: Project, entry: Entry) -> Decimal:
    """Return what one unit costs the integrator, in the project's currency."""
    return in_currency(project, entry.cost)


def unit_list_price(project: Project, entry: Entry) -> Decimal:
    """Return the list price of one unit, in the project's currency."""
    return in_currency(project, entry.list_price)
