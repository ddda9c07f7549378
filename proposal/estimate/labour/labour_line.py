"""One line of labour, and what one more device takes."""

from collections.abc import Sequence
from decimal import Decimal
from functools import cache

from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Entry
from proposal.model.labour.labour import Labour, Phase, Task

Additions = tuple[tuple[str, Decimal], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourLine:
    """One line of labour.

    task, name, trade, phase: key and name of the task, key of its trade, its phase.
    room: tag of the room or equipment room that it is for; empty for the building.
    storey: tag of the storey it is done on; empty where it is not done on one.
    system: what it belongs to.
    model: model code of the devices it is done to; empty otherwise.
    units: how many, in `unit`: each, m, or h for a share.
    hours_a_unit: h.
    group_factor: what pulling cables together makes of them.
    additions: names of the conditions, and the share that each adds; a repeated room takes away.
    hours: units × hours a unit × group factor × (1 + additions), half up to 0.01 h.
    charged_hours: its part of what the summary charges, h.
    causes: cables, devices, rooms, kinds of room, storeys or sheets that it counts.
    """

    task: str
    name: str
    trade: str
    phase: Phase
    room: str
    storey: str
    system: str
    model: str
    units: Decimal
    unit: str
    hours_a_unit: Decimal
    group_factor: Decimal
    additions: Additions
    hours: Decimal
    charged_hours: Decimal = Decimal(0)
    causes: tuple[str, ...]


def role_of(entry: Entry) -> str:
    """Return what an entry of the library is for, empty where it does not say."""
    # Asking a model for a field that it has not is slow, and is done for every device and task.
    return str(getattr(entry, "role", "")) if _has_role(type(entry)) else ""


@cache
def _has_role(kind: type[Entry]) -> bool:
    return "role" in kind.model_fields


def tasks_of_one(labour: Labour, entry: Entry) -> Sequence[Task]:
    """Return the tasks that one more device takes, for unit prices.

    entry: of the library; the tasks of its kind count, or the one that it names in their place.
    """
    return [
        task
        for key, task in labour.tasks.items()
        if task.hours is not None
        and task.done_to_device(key, entry.kind, entry.labour_task, in_furniture=False, role=role_of(entry))
    ]
