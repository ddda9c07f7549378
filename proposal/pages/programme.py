"""The programme: the days that matter, its chart, its activities, what sets its end, its calendar."""

import datetime
from collections.abc import Iterator, Mapping, Sequence
from typing import ClassVar

from proposal.document.rows.client_steps import ClientStepRow
from proposal.document.rows.programme import (
    ActivityRow,
    CrewWeekRow,
    DaysOffRow,
    EventRow,
    LateRow,
    NoWorkRow,
    ProgrammeSummary,
    SetDayRow,
)
from proposal.document.rows.sheets import CREW_LOADING, GANTT_CHART
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.client_answers import NEEDED, order_and_acceptance, rooms_in_use
from proposal.pages.drawing_pages import Drawing, figures_of
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, join, link, text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import status
from proposal.pages.prose import prose_of
from proposal.pages.schedule_table import Field, fields_of, of_part, schedule
from proposal.quantities import formatting

WORKSHOP, LEAD_TIME = "workshop", "lead time"
"""Key of the work that waits for deliveries, and the kind of what it waits for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammePage:
    """When the work is done.

    dates: the days that matter; late: what is over after a day set by others.
    delays: of the client's edition what may delay acceptance; in_use: from which day rooms can be used.
    calendar_file: link to the calendar file.  charts, crew_charts: drawings.
    path: the chain that sets the day of acceptance, a sentence each.
    workshop: what the workshop waits for last, and what is there before; None where all comes together.
    """

    template: ClassVar[str] = "programme.md.jinja"
    prose: Html | None
    span: Html
    dates: Html
    late: Html | None
    delays: Html | None
    in_use: tuple[Html, ...]
    calendar_file: Html
    charts: tuple[Html, ...]
    activities: Html
    path: tuple[Html, ...]
    workshop: Html | None
    days_set: Html | None
    calendar: Html
    days_off: Html | None
    no_work: Html | None
    assumptions: Html | None
    crew_charts: tuple[Html, ...]
    crews: Html | None


def programme_page(
    here: PageContext, programme: ProgrammeSummary, drawings: Mapping[str, Drawing]
) -> ProgrammePage:
    """Return the page of the programme.

    programme: the edition's.  drawings: its rendered sheets by number.
    """
    document = here.document
    late = [(day, row) for day in programme.days_set for row in day.late]
    return ProgrammePage(
        prose=prose_of(document, "programme", here.path),
        span=_span(here, programme),
        dates=_dates(here, programme),
        late=_late(here, late) if late else None,
        delays=_delays(here) if here.edition.reader == "client" and document.client_steps else None,
        in_use=tuple(rooms_in_use(here)) if here.edition.reader == "client" else (),
        calendar_file=link(
            "Calendar file of the programme (iCalendar, for any calendar program)",
            here.href(paths.CALENDAR_FILE),
        ),
        charts=figures_of(here, drawings, GANTT_CHART),
        activities=_activities(here),
        path=tuple(_sentences(here, programme)),
        workshop=_workshop(here),
        days_set=_days_set(here, programme.days_set) if programme.days_set else None,
        calendar=_calendar(here, programme),
        days_off=_days_off(here, programme.days_off) if programme.days_off else None,
        no_work=_no_work(here, programme.no_work) if programme.no_work else None,
        assumptions=here.numbers(programme.assumptions) if programme.assumptions else None,
        crew_charts=figures_of(here, drawings, CREW_LOADING),
        crews=_crews(here) if document.crew_loads else None,
    )


def _span(here: PageContext, programme: ProgrammeSummary) -> Html:
    if here.edition.reader == "client":
        ready = text("What you and others have ready for this, and by when:")
        return join((text(order_and_acceptance(here)), ready, here.to(NEEDED, "what we need from you")), " ")
    start, finish = (formatting.date(day, here.cover.locale) for day in (programme.start, programme.finish))
    order = f"{start}, which we assume" if programme.order_assumed else start
    if programme.order_not_before is not None:
        first = formatting.date(programme.order_not_before, here.cover.locale)
        order = f"{order} (not before {first})"
    return text(f"With the order on {order}, the work is complete and accepted on {finish}.")


def _dates(here: PageContext, programme: ProgrammeSummary) -> Html:
    fields: list[Field[EventRow]] = [
        *fields_of(here, EventRow, "key", "date", "total_float"),
    ]
    return schedule("The days that matter, earliest first", fields, programme.events)


def _delays(here: PageContext) -> Html:
    """Return what has to be there by which day, of whom, and by how many days it may be late."""
    fields: list[Field[ClientStepRow]] = [
        *fields_of(here, ClientStepRow, "what", "who", "by", "to_spare"),
    ]
    return schedule("What moves acceptance if it is late", fields, here.document.client_steps)


def _late(here: PageContext, late: Sequence[tuple[SetDayRow, LateRow]]) -> Html:
    fields: list[Field[tuple[SetDayRow, LateRow]]] = [
        *of_part(fields_of(here, LateRow, "name", "finish"), lambda pair: pair[1]),
        *of_part(fields_of(here, SetDayRow, "name", "date"), lambda pair: pair[0]),
        *of_part(fields_of(here, LateRow, "days"), lambda pair: pair[1]),
    ]
    return schedule("What finishes after a date set by others", fields, late)


def _activities(here: PageContext) -> Html:
    fields: list[Field[ActivityRow]] = [
        *fields_of(here, ActivityRow, "name", "start", "finish", "days", "criticality", "total_float"),
        *fields_of(here, ActivityRow, "free_float", "latest", "kind", "storey", "after", "crew"),
    ]
    return schedule(
        "Activities and milestones, as they begin",
        fields,
        here.document.activities,
        identity=lambda row: paths.activity_identity(row.key),
        mark=here.mark("activities"),
    )


def _sentences(here: PageContext, programme: ProgrammeSummary) -> Iterator[Html]:
    """Yield a sentence for each link of the chain that sets the day of acceptance."""
    by_key = {row.key: row for row in here.document.activities}
    for key in programme.driving:
        row = by_key[key]
        name = here.activity(key, row.name)
        finish = formatting.date(row.finish, here.cover.locale)
        if row.kind == "milestone":
            yield join((name, f"({finish})"), " ")
            continue
        start = formatting.date(row.start, here.cover.locale)
        when = f"on {finish}" if row.start == row.finish else f"from {start} to {finish}"
        yield join((name, f"({formatting.days_of(row.days, row.calendar)}, {when})"), " ")


def _workshop(here: PageContext) -> Html | None:
    """Return what is said of a workshop that waits for several deliveries."""
    rows = {row.key: row for row in here.document.activities}
    workshop = rows.get(WORKSHOP)
    waits = [rows[key] for key in workshop.after if rows[key].kind == LEAD_TIME] if workshop else []
    by_day: dict[datetime.date, list[str]] = {}
    for row in sorted(waits, key=lambda row: (row.finish, row.key)):
        by_day.setdefault(row.finish, []).append(row.name.partition(": ")[2])
    if len(by_day) < 2 or workshop is None:
        return None
    (*before, last) = (
        f"{formatting.listed(names)} on {formatting.date(day, here.cover.locale)}"
        for day, names in by_day.items()
    )
    return join(
        (
            here.activity(WORKSHOP, workshop.name),
            text(
                f"is planned in one go, when all that goes into racks is there: last {last}. Before that "
                f"come {'; '.join(before)}. What has come can be built and wired at once; what that saves is "
                "not counted here: racks are tested whole, with what comes last."
            ),
        ),
        " ",
    )


def _days_set(here: PageContext, days: Sequence[SetDayRow]) -> Html:
    fields: list[Field[SetDayRow]] = [
        *fields_of(here, SetDayRow, "name", "party", "date", "rule", "phases", "storeys"),
        Field(here.heading("kept"), lambda row: _kept(row)),
    ]
    return schedule("What others set, and whether the programme keeps it", fields, days)


def _kept(row: SetDayRow) -> Html:
    if row.rule == "done by" and row.late:
        return status(f"{formatting.count_of(len(row.late), 'activity', 'activities')} late", "care")
    return status("kept", "good")


def _calendar(here: PageContext, programme: ProgrammeSummary) -> Html:
    site = ("site_days",) if programme.site_days else ()
    hours = ("site_hours",) if programme.site_hours else ()
    names = ("working_days", *site, "hours_a_day", *hours, "approval_days")
    return fact_list("Working calendar", facts_of(here, programme, *names))


def _days_off(here: PageContext, days: Sequence[DaysOffRow]) -> Html:
    fields: list[Field[DaysOffRow]] = [
        *fields_of(here, DaysOffRow, "name", "kind", "first", "last"),
    ]
    return schedule("Holidays and closures that the programme meets", fields, days)


def _no_work(here: PageContext, days: Sequence[NoWorkRow]) -> Html:
    fields: list[Field[NoWorkRow]] = [*fields_of(here, NoWorkRow, "words", "takes_the_day", "dates")]
    return schedule("When nobody may work on site, or in some rooms", fields, days)


def _crews(here: PageContext) -> Html:
    """Return the hours of each trade week by week."""
    fields: list[Field[CrewWeekRow]] = [
        *fields_of(here, CrewWeekRow, "trade", "monday", "hours", "most", "crew", "enough"),
    ]
    return schedule("Hours by trade and week", fields, here.document.crew_weeks, total="Sum", row_heads=2)
