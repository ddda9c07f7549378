"""The calendar file, read back by another program's reader and by the rules of RFC 5545."""

import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from proposal.exports.calendar import CalendarEvent, calendar_file, escaped, folded

ISSUED = datetime.date(2031, 4, 15)
FIRST_FIX = CalendarEvent(
    identity="first-fix-L0@EX-2031-014",
    summary="First fix, ground floor; chamber, gallery",
    first=datetime.date(2031, 6, 24),
    last=datetime.date(2031, 6, 27),
    description="Crew: 4 cable installers\nHours: 36,5 \\ site",
    location="Assembly House, Anytown",
    categories=("first fix", "site, open"),
)


@pytest.mark.independent
def test_another_reader_finds_days_and_texts() -> None:
    calendar = Calendar.from_ical(calendar_file("Assembly House", ISSUED, [FIRST_FIX]))
    assert calendar["VERSION"] == "2.0"
    (event,) = calendar.walk("VEVENT")
    assert event["UID"] == FIRST_FIX.identity
    assert event.decoded("DTSTART") == FIRST_FIX.first
    # The end is the day after the last one (RFC 5545, 3.6.1).
    assert event.decoded("DTEND") == datetime.date(2031, 6, 28)
    assert event.decoded("DTSTAMP") == datetime.datetime(2031, 4, 15, tzinfo=datetime.UTC)
    assert str(event["SUMMARY"]) == FIRST_FIX.summary
    assert str(event["DESCRIPTION"]) == FIRST_FIX.description
    assert str(event["LOCATION"]) == FIRST_FIX.location
    assert [str(word) for word in event["CATEGORIES"].cats] == list(FIRST_FIX.categories)


@pytest.mark.published
def test_text_is_escaped_as_the_standard_prints_it() -> None:
    """RFC 5545, 3.3.11, example (memory)."""
    text = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escaped(text) == "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
    assert escaped("a;b,c\\d") == "a\\;b\\,c\\\\d"


@pytest.mark.independent
@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=300))
@settings(max_examples=80)
def test_any_text_comes_back_and_no_line_is_too_long(text: str) -> None:
    event = CalendarEvent(identity="x", summary=text, first=ISSUED, last=ISSUED)
    data = calendar_file("c", ISSUED, [event])
    assert data.endswith(b"END:VCALENDAR\r\n")
    for line in data.split(b"\r\n"):
        assert len(line) <= 75
        line.decode("utf-8")
        assert b"\n" not in line
        assert b"\r" not in line
    (found,) = Calendar.from_ical(data).walk("VEVENT")
    assert str(found["SUMMARY"]) == text


def test_control_characters_do_not_reach_the_file() -> None:
    assert escaped("a\x00b\x07\r\nc\td\x7f") == "ab\\nc\td"


def test_a_long_line_is_folded_between_characters() -> None:
    assert folded("A" * 75) == b"A" * 75 + b"\r\n"
    assert folded("A" * 74 + "é") == b"A" * 74 + b"\r\n " + "é".encode() + b"\r\n"


def test_the_last_day_that_can_be_written_is_no_error() -> None:
    end = datetime.date.max
    event = CalendarEvent(identity="x", summary="s", first=end, last=end)
    assert b"DTEND" not in calendar_file("c", ISSUED, [event])


def test_wrong_events_are_refused() -> None:
    backwards = CalendarEvent(identity="x", summary="s", first=ISSUED, last=datetime.date(2031, 4, 14))
    with pytest.raises(ValueError, match="last day"):
        calendar_file("c", ISSUED, [backwards])
    with pytest.raises(ValueError, match="identities"):
        calendar_file("c", ISSUED, [FIRST_FIX, FIRST_FIX])
