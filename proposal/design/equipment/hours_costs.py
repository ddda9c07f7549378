"""What hours on a device cost, for choosing between devices by all that they add to the price.

Hours and rates are those of the shared library, without the conditions of a room: so what is chosen tells
nobody a house's own rates, and a change of rates changes money alone.
"""

from decimal import Decimal

from proposal.design.equipment.unit_costs import in_currency
from proposal.model.project import Project


def hours_cost(project: Project, kind: str, named: str = "") -> Decimal:
    """Return what hours on one device in a rack cost, in the project's currency, not rounded.

    kind: of the device, as labour data name it.
    named: the task that its entry of the library names, if any.
    Hours whose rate the project has no exchange rate for are left out.
    """
    labour = project.usual_labour
    known = {project.brief.currency, *project.brief.terms.exchange}
    found = Decimal(0)
    for key, task in labour.tasks.items():
        rate = labour.trades[task.trade].cost if task.trade in labour.trades else None
        if task.hours is None or rate is None or rate.currency not in known:
            continue
        if task.done_to_device(key, kind, named, in_furniture=False):
            found += task.hours * in_currency(project, rate)
    return found
