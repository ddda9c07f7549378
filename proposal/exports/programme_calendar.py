"""The programme of an edition as a calendar file: activities, milestones, days of needs and of payments."""

from collections.abc import Iterator, Sequence
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
    """Return an event for each activity and milestone, each day of a need and each day of a payment."""
    return (*_activities(document), *_needs(document), *_payments(document))


def _project(document: Document) -> str:
    return document.cover.number or document.cover.name


def _needs(document: Document) -> Iterator[CalendarEvent]:
    """Yield an event for each thing that others have ready, on its last day; milestones stand as such."""
    known = {row.key for row in document.activities}
    for step in document.client_steps:
        if step.by is not None and step.key not in known:
            yield CalendarEvent(
                identity=f"{_project(document)}/needed/{step.key}",
                summary=f"Needed by today: {step.what}",
                first=step.by,
                last=step.by,
                description=f"From: {step.who}.",
                location=document.cover.site,
                categories=("needed",),
            )


def _payments(document: Document) -> Iterator[CalendarEvent]:
    """Yield an event for the day by which each payment is made, where the edition tells of them."""
    for n, row in enumerate(document.payments, 1):
        if row.due_date is not None:
            due = formatting.money(row.due, document.cover.currency, document.cover.locale)
            yield CalendarEvent(
                identity=f"{_project(document)}/payment/{n}",
                summary=f"To be paid by today: {row.name}, {due}",
                first=row.due_date,
                last=row.due_date,
                categories=("payment",),
            )


def _activities(document: Document) -> tuple[CalendarEvent, ...]:
    project = _project(document)
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
