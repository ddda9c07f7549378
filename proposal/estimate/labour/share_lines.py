"""Lines of labour that are a share of the hours of other phases."""

from collections.abc import Sequence
from decimal import Decimal

from proposal.estimate.labour.labour_line import LabourLine
from proposal.estimate.takeoff.systems import SERVICES
from proposal.model.labour.labour import Labour
from proposal.quantities.rounding import HUNDREDTH, rounded


def share_lines(labour: Labour, lines: Sequence[LabourLine]) -> list[LabourLine]:
    """Return the lines of tasks that are a share of other phases' lines.

    lines: those that count units.
    """
    found = []
    for key, task in labour.tasks.items():
        if task.share is None:
            continue
        members = [line for line in lines if line.phase in task.share_of]
        units = sum((line.hours for line in members), Decimal(0))
        share = Decimal(repr(task.share))
        found.append(
            LabourLine(
                task=key,
                name=task.name,
                trade=task.trade,
                phase=task.phase,
                room="",
                storey="",
                system=SERVICES,
                model="",
                units=units,
                unit="h",
                hours_a_unit=share,
                group_factor=Decimal(1),
                additions=(),
                hours=rounded(units * share, HUNDREDTH),
                causes=tuple(dict.fromkeys(line.task for line in members)),
            )
        )
    return found
