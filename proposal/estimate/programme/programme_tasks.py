"""Activities of the programme: what is to be done, by whom, how long, and what each waits for."""

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import field, replace
from decimal import Decimal
from fractions import Fraction
from itertools import chain, combinations
from math import ceil
from typing import Literal

from proposal.estimate.labour.labour import LabourEstimate
from proposal.estimate.programme.closed_days import closed_in
from proposal.estimate.programme.critical_path import Activity
from proposal.estimate.programme.work_calendar import Need, Recurring
from proposal.estimate.takeoff.systems import EQUIPMENT_SECTIONS, WORKSHOP_KINDS
from proposal.estimate.takeoff_and_reels import Estimate
from proposal.field_classes import dataclass
from proposal.model.labour.labour import SITE_PHASES, Labour, Phase
from proposal.model.labour.working_day import working_day
from proposal.model.price.commercial import Commercial
from proposal.model.project import Project

ORDER, APPROVED, DELIVERY = "order", "drawings approved", "delivery"
FIRST_FIX, SECOND_FIX, ACCEPTED = "first fix complete", "second fix complete", "accepted"
HANDOVER = "papers handed over"
MANAGEMENT: Phase = "project management"
APPROVAL, MATERIALS = "approval", "materials"
LEAD_TIME = "lead time"
CalendarName = Literal["working", "site", "calendar"]
Crew = tuple[tuple[str, int, Decimal], ...]
Hours = dict[str, Decimal]
_MOST_PARTS = 8
"""Parts of an activity of which every set is looked at; of more, each alone and all together."""

_EVENT_NAMES = {
    ORDER: "Order",
    APPROVED: "Drawings approved",
    DELIVERY: "Equipment delivered",
    FIRST_FIX: "First fix complete",
    SECOND_FIX: "Second fix complete",
    HANDOVER: "Papers handed over",
    ACCEPTED: "Accepted",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """An activity before it has its days.

    kind: a phase of labour, `lead time`, `approval` or `milestone`.
    crew: trade, people, hours.
    needs: days that sets of its rooms take, where these are not open on all days of its calendar; its
        activity then counts days of a calendar of its own, called by its key.
    on_site: of a milestone, keys of what it waits for that happens on site, on a day on which it is open.
    person_days: days of one person that each trade takes, as long as days are in its rooms.
    day: fewest and most hours that one person works on a day in one of its rooms, h; both 0 without a crew.
    """

    activity: Activity
    name: str
    kind: str
    storey: str
    calendar: CalendarName
    crew: Crew = ()
    needs: tuple[Need, ...] = ()
    on_site: frozenset[str] = frozenset()
    person_days: Mapping[str, Fraction] = field(default_factory=dict)
    day: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))


def planned_tasks(
    project: Project,
    estimate: Estimate,
    hours: LabourEstimate,
    labour: Labour,
    commercial: Commercial,
    *,
    racks_last: bool = False,
) -> tuple[Planned, ...]:
    """Return the activities and milestones, each after what it waits for.

    racks_last: whether crews fit equipment first on storeys without racks, which wait for no workshop;
        otherwise from the lowest storey up.
    """
    plan = _Plan(project, estimate, hours, labour, commercial, racks_last)
    return plan.tasks()


class _Plan:
    """Activities as they are put together."""

    def __init__(
        self,
        project: Project,
        estimate: Estimate,
        hours: LabourEstimate,
        labour: Labour,
        commercial: Commercial,
        racks_last: bool,
    ) -> None:
        self._project = project
        self._estimate = estimate
        self._commercial = commercial
        self._rules = commercial.programme
        self._called: dict[str, str] = dict(commercial.programme.milestones.items())
        self._found: dict[str, Planned] = {}
        self._crews = {
            trade: commercial.labour.crews.get(trade, row.crew) for trade, row in labour.trades.items()
        }
        self._trades = list(labour.trades)
        self._hours: dict[tuple[Phase, str], dict[str, Hours]] = {}
        self._with_racks: set[str] = set()
        for line in hours.lines:
            at = (line.phase, line.storey if line.phase in SITE_PHASES else "")
            trades = self._hours.setdefault(at, {}).setdefault(line.room, {})
            trades[line.trade] = trades.get(line.trade, Decimal(0)) + line.charged_hours
            if line.phase == "second fix" and line.room in project.building.equipment_rooms:
                self._with_racks.add(line.storey)
        storeys = project.building.storeys
        self._storeys = (*sorted(storeys, key=lambda tag: (storeys[tag].height, tag)), "")
        self._fitted = self._storeys
        if racks_last:
            self._fitted = tuple(sorted(self._storeys, key=lambda storey: storey in self._with_racks))

    def tasks(self) -> tuple[Planned, ...]:
        """Return the activities in an order in which each follows what it waits for."""
        self._milestone(ORDER, ())
        design = self._phase("design", (ORDER,))
        drafting = self._phase("drafting", design)
        self._approval(drafting)
        arrived = self._lead_times()
        workshop = self._phase("workshop", self._arrived(arrived, WORKSHOP_KINDS))
        first = {
            storey: self._on_storey("first fix", storey, (arrived[MATERIALS],)) for storey in self._storeys
        }
        self._milestone(FIRST_FIX, self._present(first.values(), (APPROVED,)))
        on_site = self._arrived(arrived, set(arrived) - self._built_first())
        second = {
            storey: self._on_storey(
                "second fix",
                storey,
                (*first[storey], *on_site, *(workshop if storey in self._with_racks else ())),
            )
            for storey in self._fitted
        }
        self._milestone(SECOND_FIX, (*self._present(second.values(), ()), FIRST_FIX, DELIVERY))
        racks = self._present((second[storey] for storey in self._with_racks), workshop)
        network = self._phase("network", racks)
        programming = self._phase("programming", (APPROVED,))
        tested = [
            self._on_storey("commissioning", storey, (*second[storey], *network, *programming))
            for storey in self._storeys
        ]
        done = self._present(tested, (SECOND_FIX, *network, *programming))
        training = self._phase("training", done, storeyed=True)
        documents = self._phase("documents", (SECOND_FIX,))
        handed = tuple(dict.fromkeys((*done, *documents)))
        self._milestone(HANDOVER, handed, on_site=handed)
        last = tuple(dict.fromkeys((*done, *training, HANDOVER, SECOND_FIX)))
        self._milestone(ACCEPTED, last, on_site=last)
        return self._with_crews_in_turn()

    def _add(self, planned: Planned) -> tuple[str, ...]:
        self._found[planned.activity.key] = planned
        return (planned.activity.key,)

    def _name_of(self, key: str) -> str:
        """Return what a milestone is, beside what the contract calls it where it has a name of its own."""
        what, own = _EVENT_NAMES[key], self._called.get(key, "")
        return f"{own} ({what[:1].lower()}{what[1:]})" if own and own.casefold() != what.casefold() else what

    def _milestone(self, key: str, after: Iterable[str], on_site: Iterable[str] = ()) -> None:
        activity = Activity(key, 0, tuple(dict.fromkeys(after)), "working")
        self._add(
            Planned(
                activity=activity,
                name=self._name_of(key),
                kind="milestone",
                storey="",
                calendar="working",
                on_site=frozenset(on_site),
            )
        )

    def _present(self, keys: Iterable[tuple[str, ...]], otherwise: tuple[str, ...]) -> tuple[str, ...]:
        """Return every key among those of several activities, or what to wait for where there is none."""
        found = tuple(dict.fromkeys(key for each in keys for key in each if key in self._found))
        return found or otherwise

    def _phase(self, phase: Phase, after: tuple[str, ...], *, storeyed: bool = False) -> tuple[str, ...]:
        """Add the activities of a phase that is done once, and return what to wait for after it."""
        if not storeyed and phase not in SITE_PHASES:
            return self._work(phase, "", after) or after
        found = [self._work(phase, storey, after) for storey in self._storeys]
        return tuple(key for each in found for key in each) or after

    def _on_storey(self, phase: Phase, storey: str, after: tuple[str, ...]) -> tuple[str, ...]:
        """Add a phase's work on one storey; where there is none, it is over when what it waits for is."""
        return self._work(phase, storey, after) or tuple(dict.fromkeys(after))

    def _work(self, phase: Phase, storey: str, after: tuple[str, ...]) -> tuple[str, ...]:
        rooms = self._hours.get((phase, storey), {})
        trades = _together(rooms.values())
        if not trades:
            return ()
        crew = tuple((trade, self._crews[trade], trades[trade]) for trade in self._trades if trade in trades)
        calendar: CalendarName = "site" if phase in SITE_PHASES else "working"
        needs = self._needs(phase, rooms) if calendar == "site" else ()
        days = [self._day(phase, tag) for tag, hours in rooms.items() if any(hours.values())]
        key = f"{phase} {storey}".rstrip()
        activity = Activity(
            key,
            self._days(phase, rooms),
            tuple(dict.fromkeys(after)),
            key if needs else calendar,
            self._not_before(phase, storey),
        )
        where = self._project.building.storeys[storey].name if storey else ""
        name = f"{phase.capitalize()}, {where}" if where else phase.capitalize()
        return self._add(
            Planned(
                activity=activity,
                name=name,
                kind=phase,
                storey=storey,
                calendar=calendar,
                crew=crew,
                needs=needs,
                person_days=self._person_days(phase, rooms),
                day=(min(days), max(days)),
            )
        )

    def _day(self, phase: Phase, tag: str) -> Fraction:
        """Return the hours that one person works on a day in a room, or anywhere else, h."""
        return working_day(tag, phase, self._commercial.labour, self._rules.hours_a_day)

    def _person_days(self, phase: Phase, rooms: Mapping[str, Hours]) -> dict[str, Fraction]:
        """Return the days of one person that each trade takes in some rooms."""
        found: dict[str, Fraction] = {}
        for tag, trades in rooms.items():
            day = self._day(phase, tag)
            for trade, hours in trades.items():
                if hours:
                    found[trade] = found.get(trade, Fraction(0)) + Fraction(hours) / day
        return found

    def _days(self, phase: Phase, rooms: Mapping[str, Hours]) -> int:
        """Return how many days the trade that needs longest takes with its whole crew."""
        taken = self._person_days(phase, rooms)
        return max(ceil(days / self._crews[trade]) for trade, days in taken.items())

    def _needs(self, phase: Phase, rooms: dict[str, Hours]) -> tuple[Need, ...]:
        """Return the days that sets of rooms take, all of them first; none where every room is open."""
        parts: dict[tuple[Recurring, ...], dict[str, Hours]] = {}
        for tag, hours in rooms.items():
            if any(hours.values()):
                parts.setdefault(closed_in(tag, self._project, self._commercial), {})[tag] = hours
        if not any(parts):
            return ()
        sizes = range(len(parts), 0, -1) if len(parts) <= _MOST_PARTS else (len(parts), 1)
        return tuple(
            Need(self._days(phase, dict(chain.from_iterable(parts[part].items() for part in chosen))), chosen)
            for size in sizes
            for chosen in combinations(parts, size)
        )

    def _not_before(self, phase: Phase, storey: str) -> int | None:
        days = [
            one.date.toordinal()
            for one in self._rules.dates.values()
            if one.rule == "begin not before"
            and phase in one.phases
            and (not one.storeys or storey in one.storeys or not storey)
        ]
        return max(days, default=None)

    def _approval(self, after: tuple[str, ...]) -> None:
        if self._rules.approval_days:
            activity = Activity(APPROVAL, self._rules.approval_days, after, "working")
            after = self._add(
                Planned(
                    activity=activity,
                    name="Client approves drawings",
                    kind="approval",
                    storey="",
                    calendar="working",
                )
            )
        self._milestone(APPROVED, after)

    def _lead_times(self) -> dict[str, str]:
        """Add what is waited for until equipment and materials come, and return its key by kind.

        Materials are one delivery, and so are the devices of one kind: the longest lead time counts. The day
        of the order is not counted: where no work comes before it, the first day is the next one.
        """
        lag = 0 if self._takes_days_before(APPROVED) else 1
        longest: dict[str, int] = {MATERIALS: 0}
        for model, kind in delivered_in(self._project, self._estimate).items():
            days = self._project.library.entry(model).lead_time_days
            longest[kind] = max(longest.get(kind, 0), days)
        arrived = {}
        for kind, days in sorted(longest.items()):
            arrived[kind] = APPROVED
            if days:
                activity = Activity(lead_time_key(kind), days, (APPROVED,), "calendar", lag=lag)
                name = f"Lead time: {kind.replace('_', ' ')}"
                arrived[kind] = self._add(
                    Planned(activity=activity, name=name, kind=LEAD_TIME, storey="", calendar="calendar")
                )[0]
        to_site = [
            key for kind, key in arrived.items() if kind not in self._built_first() and key != APPROVED
        ]
        self._milestone(DELIVERY, arrived.values(), on_site=to_site)
        return arrived

    def _built_first(self) -> Set[str]:
        """Return the kinds that come to the workshop; without one everything goes straight to site."""
        return WORKSHOP_KINDS if any(phase == "workshop" for phase, _ in self._hours) else frozenset()

    def _takes_days_before(self, key: str) -> bool:
        """Say whether work is done before a milestone is reached, so that it is reached as that ends."""
        before = [self._found[one] for one in self._found[key].activity.after]
        return any(one.activity.days or self._takes_days_before(one.activity.key) for one in before)

    def _arrived(self, arrived: dict[str, str], kinds: Iterable[str]) -> tuple[str, ...]:
        wanted = set(kinds)
        return tuple(dict.fromkeys(key for kind, key in arrived.items() if kind in wanted)) or (APPROVED,)

    def _with_crews_in_turn(self) -> tuple[Planned, ...]:
        """Return the activities with those of one trade after one another, in the order they were added."""
        last: dict[str, str] = {}
        found: Sequence[Planned] = tuple(self._found.values())
        in_turn = []
        for one in found:
            before = [last[trade] for trade, _, _ in one.crew if trade in last]
            after = tuple(dict.fromkeys((*one.activity.after, *before)))
            in_turn.append(replace(one, activity=replace(one.activity, after=after)))
            for trade, _, _ in one.crew:
                last[trade] = one.activity.key
        return _without_detours(in_turn)


def delivered_in(project: Project, estimate: Estimate) -> dict[str, str]:
    """Return the delivery that each model comes in: materials, or the devices of its kind.

    project: its library.  estimate: its take-off.
    """
    found: dict[str, str] = {}
    for line in estimate.lines:
        entry = project.library.entry(line.model)
        if entry.furnished_by == "contractor":
            found[line.model] = entry.kind if line.section in EQUIPMENT_SECTIONS else MATERIALS
    return found


def lead_time_key(kind: str) -> str:
    """Return the key of what is waited for until a delivery comes; kind: of devices, or materials."""
    return f"{LEAD_TIME} {kind}"


def _together(rooms: Iterable[Hours]) -> Hours:
    """Return the hours of each trade in several rooms, without trades that have none."""
    found: Hours = {}
    for trade, hours in chain.from_iterable(one.items() for one in rooms):
        found[trade] = found.get(trade, Decimal(0)) + hours
    return {trade: hours for trade, hours in found.items() if hours}


def _without_detours(planned: Sequence[Planned]) -> tuple[Planned, ...]:
    """Return activities that wait for nothing which what they wait for waits for already.

    planned: each after what it waits for.
    """
    waited: dict[str, frozenset[str]] = {}
    found = []
    for one in planned:
        after = one.activity.after
        through = frozenset(key for before in after for key in waited[before])
        waited[one.activity.key] = through | frozenset(after)
        kept = tuple(key for key in after if key not in through)
        found.append(replace(one, activity=replace(one.activity, after=kept)))
    return tuple(found)
