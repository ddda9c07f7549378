"""When things have to be there and be ordered: by the work that they are used in, and their lead times."""

import datetime
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from proposal.document.rows.takeoff import TakeoffRow
from proposal.estimate.programme.programme import ProgrammePlan
from proposal.estimate.programme.work_calendar import WorkCalendar, date_of, work_calendars
from proposal.estimate.takeoff.systems import EQUIPMENT_SECTIONS
from proposal.pipeline import Computed

_WORKSHOP, _PANELS = "workshop", "patch_panel"
"""Where racks are fitted, and what is fitted into them beside devices and leads."""
_IN_TURN = ("first fix", _WORKSHOP, "second fix", "commissioning")
"""Phases in which things are used: where a job has no work of one, the next one counts."""
EQUIPMENT = "equipment"


class SupplyDay(NamedTuple):
    """Days of one thing.

    needed_by: last working day before the first work that it is used in.
    order_by: last working day on which its order brings it by then; None where it is not ours to order.
    """

    needed_by: datetime.date | None
    order_by: datetime.date | None


class SupplyDays:
    """The days of everything that a take-off counts."""

    def __init__(self, computed: Computed, takeoff: Iterable[TakeoffRow]) -> None:
        """Find the first work that each thing is used in.

        takeoff: lines of it.
        """
        starts, library = _starts(computed.programme), computed.project.library
        leads = {cable.identity for cable in computed.design.cables if cable.in_workshop}
        self._calendar = work_calendars(computed.project.brief.programme)["working"]
        self._first: dict[tuple[str, str], int] = {}
        for row in takeoff:
            in_racks = library.entry(row.item).kind == _PANELS or leads.issuperset(row.causes or ("",))
            phase = _WORKSHOP if in_racks else row.phase
            start = starts.get((phase, row.storey), starts.get((phase, "")))
            if start is not None:
                key = _section(row.section), row.item
                self._first[key] = min(start, self._first.get(key, start))

    def of(self, section: str, item: str, lead_time_days: int, *, ours: bool = True) -> SupplyDay:
        """Return the days of an item.

        section: of the take-off.  item: model code.
        lead_time_days: calendar days; the day of the order is none of them, as in the programme.
        ours: whether we order it.
        """
        first = self._first.get((_section(section), item))
        if first is None:
            return SupplyDay(None, None)
        needed = _last_before(self._calendar, first)
        ordered = _last_before(self._calendar, needed - lead_time_days + 1)
        return SupplyDay(date_of(needed), date_of(ordered) if ours else None)


def _section(section: str) -> str:
    return EQUIPMENT if section in EQUIPMENT_SECTIONS else section


def _last_before(calendar: WorkCalendar, day: int) -> int:
    """Return the last working day before a day; the first day that can be written where there is none."""
    return calendar.before(day, 1)[0] if day > datetime.MINYEAR + 366 else 1


def _starts(plan: ProgrammePlan) -> Mapping[tuple[str, str], int]:
    """Return the first day of each phase on each storey, and under an empty storey on any."""
    found: dict[tuple[str, str], int] = {}
    for task in plan.tasks:
        start = task.start.toordinal()
        for storey in {task.storey, ""}:
            found[task.kind, storey] = min(start, found.get((task.kind, storey), start))
    for n, phase in enumerate(_IN_TURN):
        later = [found[one, ""] for one in _IN_TURN[n:] if (one, "") in found]
        found.setdefault((phase, ""), later[0] if later else plan.finish.toordinal())
    return found
