"""The programme of an edition as a calendar file: its milestones and activities, a day or a span each."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.programme import ActivityRow
from proposal.document.spelling import Spelling
from proposal.editions import Edition
from proposal.exports.calendar import CalendarEvent, calendar_file
from proposal.quantities import formatting


def programme_calendar(edition: Edition) -> bytes:
    """Return the calendar file of an edition's programme, the same bytes for equal editions."""
    cover, spelled = edition.document.cover, Spelling.of(edition.document).plain
    events = [
        replace(
            one,
            summary=spelled(one.summary),
            description=spelled(one.description),
            categories=tuple(map(spelled, one.categories)),
        )
        for one in events_of(edition.document)
    ]
    return calendar_file(f"{spelled('Programme')}: {cover.name}", cover.revision.date, events)


def events_of(document: Document) -> tuple[CalendarEvent, ...]:
    """Return an event for each activity and milestone that the document holds."""
    project = document.cover.number or document.cover.name
    return tuple(
        CalendarEvent(
            identity=f"{project}/{row.key}",
            summary=row.name,
            first=row.start,
            last=row.finish,
            description=_description(row, document.cover.locale),
            location=document.cover.site,
            categories=(row.kind, "critical") if row.critical else (row.kind,),
        )
        for row in document.activities
    )


def _description(row: ActivityRow, locale: str) -> str:
    lines = []
    if row.days:
        lines.append(f"Takes {formatting.days_of(row.days, row.calendar)}.")
    lines.append(
        "A day's delay delays acceptance."
        if row.critical
        else f"May slip by {formatting.days_of(row.total_float, row.calendar)} without delaying acceptance."
    )
    if row.crew:
        lines.append(f"Crew: {_crew(row.crew, locale)}.")
    return "\n".join(lines)


def _crew(crew: Sequence[tuple[str, int, Decimal]], locale: str) -> str:
    return "; ".join(
        f"{formatting.number(people, locale)} × {trade}, {formatting.number(hours, locale, 2)} h"
        for trade, people, hours in crew
    )
