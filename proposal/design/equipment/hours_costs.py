"""What our hours on a device cost, for choosing between devices by all that they add to the price.

Hours are those of the labour data for one of its kind, without the conditions of a room.
"""

from decimal import Decimal

from proposal.design.equipment.unit_costs import in_currency
from proposal.model.project import Project


def hours_cost(project: Project, kind: str, named: str = "") -> Decimal:
    """Return what our hours on one device in a rack cost, in the project's currency, not rounded.

    kind: of the device, as labour data name it.
    named: the task that its entry of the library names, if any.
    """
    labour = project.labour
    found = Decimal(0)
    for key, task in labour.tasks.items():
        if task.hours is not None and task.done_to_device(key, kind, named, in_furniture=False):
            found += task.hours * in_currency(project, labour.trades[task.trade].cost)
    return found
