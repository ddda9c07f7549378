"""Which lines of a price a client reads by themselves, and which lie in a lump."""

from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.price.spread import FIXED_RULES
from proposal.model.project import Project


def stands_alone(project: Project, line: PriceLine) -> bool:
    """Say whether a client reads a line by itself.

    Allowances always; line by line what is stated: equipment with a price of its own or an agreed discount,
    and what is passed on at its cost.
    """
    price = project.brief.price
    if line.group == "allowance":
        return True
    if price.client_detail != "line":
        return False
    if line.room not in project.rooms and price.shared_items == "shared out":
        return False
    if line.group == "surcharge":
        one = price.surcharges[line.item]
        return one.amount is not None and one.rule is None
    return line.group == "equipment" and line.rule in FIXED_RULES
