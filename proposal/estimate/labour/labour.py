"""Labour: what the design takes in hours, line by line, by trade and phase.

Rules, kept throughout:
- A line is units × hours a unit × group factor × (1 + the additions of its conditions), rounded half up to
  0.01 h. Additions on a line add up.
- Cables pulled together cost less: all cables of a room that run to the same end by the same pathways are one
  group, and its group factor holds for every metre of them.
- Shares (management, as-built drawings) are taken of the lines that count units, never of another share.
- Project factors multiply once, at the summary, the hours of a trade in a phase, rounded half up to 0.01 h;
  then the minimum call raises them. What the summary charges is shared out over its lines by largest
  remainder, so that lines, rooms and trades add to the same total.
- Travel is charged for whole days of one person: hours on site of a trade in a phase over the working day,
  as long as the hours of work of its rooms leave it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import ceil

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.estimate.labour.labour_line import LabourLine
from proposal.estimate.labour.labour_lines import unit_lines
from proposal.estimate.labour.share_lines import share_lines
from proposal.field_classes import dataclass
from proposal.model.labour.labour import PHASES, SITE_PHASES, Labour, Phase
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.labour.working_day import working_day
from proposal.model.project import Project
from proposal.quantities.rounding import HUNDREDTH, rounded, rounded_up, shared_out

NOTHING = Decimal(0)
_PLACES = 10_000
"""Parts of an hour to which the length of a day is known, rounded up."""
ALL_ON_SITE = "hours on site"
"""What overtime is of where it is a share of all work on site."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeHours:
    """Hours of one trade in one phase.

    line_hours: sum of its lines, h.
    factors: names of the project's conditions that hold for the phase, and what each multiplies by.
    call_hours: what the minimum call adds after the factors, h.
    hours: charged, h.
    person_days: days of one person on site; 0 for work elsewhere.
    hours_a_day: that one person works on a day, over all of its rooms, h.
    """

    trade: str
    phase: Phase
    line_hours: Decimal
    factors: tuple[tuple[str, Decimal], ...]
    call_hours: Decimal
    hours: Decimal
    person_days: int
    hours_a_day: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class TravelHours:
    """The travel of a trade to site.

    days: of one person; hours: under way, h.
    """

    trade: str
    days: int
    hours: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class OvertimeHours:
    """Hours of a trade in a phase outside normal working time.

    name: what that work is called.  share: of the hours of its rooms, 0 to 1.
    rooms: tags of the rooms whose work it is; all places of the phase where there are none.
    hours: h.
    """

    name: str
    trade: str
    phase: Phase
    rooms: tuple[str, ...]
    share: Decimal
    hours: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourEstimate:
    """All labour of a design.

    lines: with the hours charged for each, in order of phases, tasks and rooms.
    summary: in order of phases and trades; travel: in order of trades.
    overtime_hours: of the summary's hours on site, those outside normal time.
    hours: everything charged, travel included, h.
    """

    lines: tuple[LabourLine, ...]
    summary: tuple[TradeHours, ...]
    travel: tuple[TravelHours, ...]
    overtime_hours: tuple["OvertimeHours", ...]
    hours: Decimal


def labour_estimate(
    project: Project,
    design: Design,
    sheets: Sequence[str],
    labour: Labour,
    choices: LabourChoices,
    hours_a_day: Decimal,
) -> LabourEstimate:
    """Return the labour that a design takes.

    sheets: numbers of the drawing sheets whose hours are counted.
    labour, choices: labour data, and what the project chooses of it; names are known (`unknown_names`).
    hours_a_day: working hours of one person and day.
    """
    units = unit_lines(project, design, sheets, labour, choices)
    places = {key: n for n, key in enumerate(labour.tasks)}
    lines = sorted(
        [*units, *share_lines(labour, units)],
        key=lambda line: (PHASES.index(line.phase), places[line.task], natural(line.room), line.causes),
    )
    return charged(lines, labour, choices, hours_a_day)


def charged(
    lines: Sequence[LabourLine], labour: Labour, choices: LabourChoices, hours_a_day: Decimal
) -> LabourEstimate:
    """Return lines with what is charged for them after project factors, minimum calls and travel.

    hours_a_day: hours of a working day, h.
    """
    groups: dict[tuple[Phase, str], list[int]] = {}
    for n, line in enumerate(lines):
        groups.setdefault((line.phase, line.trade), []).append(n)
    with_hours = list(lines)
    summary = []
    for (phase, trade), members in sorted(groups.items(), key=lambda one: _order(one[0], labour)):
        row = _trade_hours([lines[n] for n in members], trade, phase, labour, choices, hours_a_day)
        if not row.hours:
            continue
        summary.append(row)
        for n, hours in zip(
            members, shared_out(row.hours, [lines[n].hours for n in members], HUNDREDTH), strict=True
        ):
            with_hours[n] = replace(lines[n], charged_hours=hours)
    travel = _travel(summary, labour)
    overtime = [one for row in summary if row.person_days for one in _overtime(row, with_hours, choices)]
    return LabourEstimate(
        lines=tuple(line for line in with_hours if line.hours),
        summary=tuple(summary),
        travel=travel,
        overtime_hours=tuple(one for one in overtime if one.hours),
        hours=_total(row.hours for row in summary) + _total(row.hours for row in travel),
    )


def _overtime(
    row: TradeHours, lines: Sequence[LabourLine], choices: LabourChoices
) -> Iterator[OvertimeHours]:
    """Yield the hours of a trade in a phase that are worked outside normal working time.

    lines: of all labour, with what is charged for each.
    """
    if choices.overtime:
        share = Decimal(repr(choices.overtime))
        hours = rounded(row.hours * share, HUNDREDTH)
        yield OvertimeHours(
            name=ALL_ON_SITE, trade=row.trade, phase=row.phase, rooms=(), share=share, hours=hours
        )
    for work in choices.overtime_work.values():
        if row.phase in work.phases:
            worked = _total(
                line.charged_hours
                for line in lines
                if (line.trade, line.phase) == (row.trade, row.phase)
                and (not work.rooms or line.room in work.rooms)
            )
            share = Decimal(repr(work.share))
            yield OvertimeHours(
                name=work.name,
                trade=row.trade,
                phase=row.phase,
                rooms=work.rooms,
                share=share,
                hours=rounded(worked * share, HUNDREDTH),
            )


def _order(key: tuple[Phase, str], labour: Labour) -> tuple[int, int]:
    return PHASES.index(key[0]), list(labour.trades).index(key[1])


def _total(hours: Iterable[Decimal]) -> Decimal:
    return sum(hours, NOTHING)


def _trade_hours(
    lines: Sequence[LabourLine],
    trade: str,
    phase: Phase,
    labour: Labour,
    choices: LabourChoices,
    hours_a_day: Decimal,
) -> TradeHours:
    named = (labour.conditions[key] for key in dict.fromkeys(choices.project_conditions))
    factors = tuple((one.name, 1 + Decimal(repr(one.addition))) for one in named if phase in one.phases)
    line_hours = _total(line.hours for line in lines)
    hours = line_hours
    for _, factor in factors:
        hours *= factor
    hours = rounded(hours, HUNDREDTH)
    on_site = phase in SITE_PHASES
    least = rounded(labour.trades[trade].minimum_call_hours, HUNDREDTH)
    call = max(least - hours, NOTHING) if on_site and hours else NOTHING
    hours += call
    day = _hours_a_day(lines, choices, hours_a_day)
    days = rounded_up(hours / day, Decimal(1)) if on_site else NOTHING
    return TradeHours(
        trade=trade,
        phase=phase,
        line_hours=line_hours,
        factors=factors,
        call_hours=call,
        hours=hours,
        person_days=int(days),
        hours_a_day=day,
    )


def _hours_a_day(lines: Sequence[LabourLine], choices: LabourChoices, hours_a_day: Decimal) -> Decimal:
    """Return the hours that one person works on a day, h, over the rooms of lines of one phase.

    hours_a_day: where no hours of work shorten the day, h.
    """
    worked = [(Fraction(line.hours), line) for line in lines if line.hours]
    days = sum(hours / working_day(line.room, line.phase, choices, hours_a_day) for hours, line in worked)
    if not days:
        return hours_a_day
    day = sum(hours for hours, _ in worked) / days
    return hours_a_day if day == hours_a_day else ceil(day * _PLACES) / Decimal(_PLACES)


def _travel(summary: Sequence[TradeHours], labour: Labour) -> tuple[TravelHours, ...]:
    if labour.travel is None:
        return ()
    days: dict[str, int] = {}
    for row in summary:
        days[row.trade] = days.get(row.trade, 0) + row.person_days
    each = labour.travel.hours_a_day
    return tuple(
        TravelHours(trade=trade, days=days[trade], hours=rounded(each * days[trade], HUNDREDTH))
        for trade in labour.trades
        if days.get(trade)
    )


def hours_by(labour: LabourEstimate, view: str) -> tuple[tuple[str, Decimal], ...]:
    """Return the hours charged, travel included, by `trade`, `phase`, `room` or `system`; they add up.

    view: one of these four.
    Travel is of its trade, of the phase `travel`, of the building ("" as a room) and of `services`.
    """
    found: dict[str, Decimal] = {}
    for line in labour.lines:
        key = str(getattr(line, view))
        found[key] = found.get(key, NOTHING) + line.charged_hours
    for row in labour.travel:
        key = {"trade": row.trade, "phase": "travel", "room": "", "system": "services"}[view]
        found[key] = found.get(key, NOTHING) + row.hours
    return tuple(found.items())
