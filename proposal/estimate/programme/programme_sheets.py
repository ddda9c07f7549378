"""Over how many sheets the programme goes: the Gantt chart and the crew loading."""

from collections.abc import Sequence
from itertools import pairwise

from proposal.design.sheets.splitting import WHOLE, Part
from proposal.estimate.programme.programme import ProgrammePlan, ProgrammeTask
from proposal.model.project import Project

ROWS_A_SHEET = 38
"""Rows of the Gantt chart for which a sheet of A3 or ANSI B has the height."""
TRADES_A_SHEET = 10
"""Panels of the crew loading that a sheet takes."""


def charted(plan: ProgrammePlan) -> tuple[ProgrammeTask, ...]:
    """Return activities and milestones in the order in which people read them: as they begin."""
    return tuple(sorted(plan.tasks, key=lambda task: (task.start, task.finish)))


def gantt_parts(plan: ProgrammePlan) -> tuple[Part, ...]:
    """Return the sheets of the Gantt chart."""
    return _parts([task.key for task in charted(plan)], ROWS_A_SHEET)


def crew_parts(project: Project, plan: ProgrammePlan) -> tuple[Part, ...]:
    """Return the sheets of the crew loading; none where no trade works."""
    trades = list(dict.fromkeys(project.labour.trades[one.trade].name for one in plan.crew_days))
    return _parts(trades, TRADES_A_SHEET) if trades else ()


def _parts(names: Sequence[str], most: int) -> tuple[Part, ...]:
    """Return the fewest parts, as alike as can be; one that shows all names none."""
    count = -(-len(names) // most)
    if count < 2:
        return WHOLE
    least, more = divmod(len(names), count)
    ends = [least * n + min(n, more) for n in range(count + 1)]
    return tuple(Part(tuple(names[start:end])) for start, end in pairwise(ends))
