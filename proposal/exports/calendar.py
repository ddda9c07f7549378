"""A calendar file (iCalendar, RFC 5545) of days: milestones and spans of the programme."""

import datetime
from collections.abc import Sequence

from proposal.field_classes import dataclass

LONGEST_LINE = 75
"""Octets of a line without its end (RFC 5545, 3.1)."""
PRODUCT = "-//Conference proposal//Programme//EN"


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarEvent:
    """Something that takes whole days.

    identity: of its own in the file, and the same in every revision, so that calendars update it.
    summary: its title; description, location: may be empty.
    first, last: first and last day.
    categories: words it is filed under.
    """

    identity: str
    summary: str
    first: datetime.date
    last: datetime.date
    description: str = ""
    location: str = ""
    categories: tuple[str, ...] = ()


def calendar_file(name: str, issued: datetime.date, events: Sequence[CalendarEvent]) -> bytes:
    """Return a calendar file; the same events make the same bytes.

    name: what the calendar is called.
    issued: date of the revision, which stands for the moment that the file was made.
    events: in the order they are written.
    Raises ValueError where an event ends before it begins, or two have one identity.
    """
    if len({event.identity for event in events}) != len(events):
        raise ValueError("wanted events with identities of their own")
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{PRODUCT}",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"NAME:{escaped(name)}",
        f"X-WR-CALNAME:{escaped(name)}",
    ]
    for event in events:
        lines += _event(event, issued)
    lines.append("END:VCALENDAR")
    return b"".join(folded(line) for line in lines)


def _event(event: CalendarEvent, issued: datetime.date) -> list[str]:
    if event.last < event.first:
        raise ValueError(f"wanted a last day on or after the first; found {event.last} for {event.identity}")
    lines = [
        "BEGIN:VEVENT",
        f"UID:{escaped(event.identity)}",
        f"DTSTAMP:{issued:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{_day(event.first)}",
    ]
    if event.last < datetime.date.max:
        # The end is the first day that does not belong to it; left out, an event takes one day.
        lines.append(f"DTEND;VALUE=DATE:{_day(event.last + datetime.timedelta(days=1))}")
    lines.append(f"SUMMARY:{escaped(event.summary)}")
    if event.description:
        lines.append(f"DESCRIPTION:{escaped(event.description)}")
    if event.location:
        lines.append(f"LOCATION:{escaped(event.location)}")
    if event.categories:
        lines.append(f"CATEGORIES:{','.join(escaped(word) for word in event.categories)}")
    return [*lines, "TRANSP:TRANSPARENT", "END:VEVENT"]


def _day(date: datetime.date) -> str:
    return f"{date.year:04d}{date.month:02d}{date.day:02d}"


def escaped(text: str) -> str:
    """Return a text as a value of type TEXT (RFC 5545, 3.3.11), without control characters."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(sign for sign in lines if sign in "\n\t" or (sign >= " " and sign != "\x7f"))
    for sign in ("\\", ";", ","):
        plain = plain.replace(sign, f"\\{sign}")
    return plain.replace("\n", "\\n")


def folded(line: str) -> bytes:
    """Return a line with its end, folded so that no part is longer than 75 octets and no character is cut."""
    parts: list[bytes] = []
    part = b""
    for sign in line:
        octets = sign.encode("utf-8")
        # Every part after the first begins with a space, which counts.
        if len(part) + len(octets) > LONGEST_LINE:
            parts.append(part)
            part = b" "
        part += octets
    return b"\r\n".join([*parts, part]) + b"\r\n"
