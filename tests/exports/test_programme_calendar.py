"""The programme as a calendar file and as tables, read back by other programs and by hand."""

import csv
import datetime
import io
from decimal import Decimal

import pytest
from icalendar import Calendar

from proposal.document.document import Document
from proposal.document.readers import READERS, Reader
from proposal.editions import edition_of
from proposal.exports.csv_files import csv_files
from proposal.exports.programme_calendar import programme_calendar
from proposal.exports.table import schedules
from proposal.publish.export_files import exported
from tests.sample_document import sample_document

DAY = datetime.timedelta(days=1)


@pytest.mark.independent
@pytest.mark.parametrize("reader", READERS)
def test_another_reader_finds_every_activity_with_its_days(
    reader: Reader, documents: dict[str, Document]
) -> None:
    edition = edition_of(documents["example"], reader)
    calendar = Calendar.from_ical(programme_calendar(edition))
    events = {str(event["UID"]): event for event in calendar.walk("VEVENT")}
    rows = edition.document.activities
    # Besides the activities: what others have ready, and what is paid, of whoever reads of it.
    document = edition.document
    needed = {
        f"EX-2031-014/needed/{step.key}": step.by
        for step in document.client_steps
        if step.key not in {row.key for row in rows}
    }
    paid = {f"EX-2031-014/payment/{n}": row.due_date for n, row in enumerate(document.payments, 1)}
    assert bool(paid) == (reader in ("client", "estimator"))
    assert set(events) == {f"EX-2031-014/{row.key}" for row in rows} | set(needed) | set(paid)
    for uid, day in (needed | paid).items():
        assert events[uid].decoded("DTSTART") == day
    for row in rows:
        event = events[f"EX-2031-014/{row.key}"]
        assert str(event["SUMMARY"]) == row.name
        assert event.decoded("DTSTART") == row.start
        assert event.decoded("DTEND") == row.finish + DAY
        words = event["CATEGORIES"].to_ical().decode("utf-8").split(",")
        assert words == ([row.kind, "critical"] if row.critical else [row.kind])
        assert str(event["LOCATION"]) == edition.document.cover.site


def test_identities_name_no_host_and_stay_when_days_change() -> None:
    document = sample_document()
    later = document.model_copy(
        update={
            "cover": document.cover.model_copy(
                update={"revision": document.cover.revision.model_copy(update={"identity": "C"})}
            ),
            "activities": tuple(
                row.model_copy(update={"start": row.start + 7 * DAY, "finish": row.finish + 7 * DAY})
                for row in document.activities
            ),
        }
    )
    uids = [
        [str(event["UID"]) for event in Calendar.from_ical(programme_calendar(edition)).walk("VEVENT")]
        for edition in (edition_of(document, "client"), edition_of(later, "client"))
    ]
    assert uids[0] == uids[1]
    assert uids[0][1] == "P-0417/design"
    assert not any("@" in uid or "." in uid for uid in uids[0])


@pytest.mark.parametrize("reader", READERS)
def test_hours_stand_in_the_files_of_those_who_check_alone(reader: Reader) -> None:
    edition = edition_of(sample_document(), reader)
    content = programme_calendar(edition).decode("utf-8").replace("\r\n ", "")
    tables = {table.name: table for table in schedules(edition)}
    checks = reader in ("reviewer", "estimator")
    assert ("36.50 h" in content) == checks
    assert ("crew-loading" in tables) == checks
    assert ("Crew" in [column.heading for column in tables["activities"].columns]) == checks
    assert "takes 3 working days" in content.lower()


def test_a_project_without_a_number_is_told_by_its_name() -> None:
    document = sample_document()
    nameless = document.model_copy(update={"cover": document.cover.model_copy(update={"number": ""})})
    (first, *_) = Calendar.from_ical(programme_calendar(edition_of(nameless, "client"))).walk("VEVENT")
    assert str(first["UID"]) == "Council House <Example> & Annexe/order"


def test_the_export_is_the_calendar_file_and_the_same_every_time() -> None:
    edition = edition_of(sample_document(), "installer")
    assert exported(edition, "ics") == {"": programme_calendar(edition)}
    assert exported(edition, "ics") == exported(edition_of(sample_document(), "installer"), "ics")


def test_dates_of_tables_are_written_as_calendars_sort_them() -> None:
    files = csv_files(schedules(edition_of(sample_document(), "estimator")))
    rows = {row["Key"]: row for row in csv.DictReader(io.StringIO(files["activities.csv"].decode("utf-8")))}
    assert rows["first fix L0"]["Begins"] == "2026-03-23"
    assert rows["first fix L0"]["Completed"] == "2026-03-24"
    assert rows["first fix L0"]["At the latest"] == "2026-03-30"
    assert rows["first fix L0"]["Crew"] == "3 × Cable installer, 40.00 h"
    assert rows["delivery"]["Predecessors"] == "lead time charger"
    loading = list(csv.DictReader(io.StringIO(files["crew-loading.csv"].decode("utf-8"))))
    assert loading[0] == {
        "Trade": "Design engineer",
        "Day": "2026-03-16",
        "Hours (h)": "12.17",
        "People": "1.52",
        "Crew size": "2",
    }
    # 36.50 and 45.25 and 12.00: days without work have no line.
    assert sum(Decimal(row["Hours (h)"]) for row in loading) == Decimal("93.75")
    assert len(loading) == 7


@pytest.mark.independent
def test_dates_of_the_workbook_are_dates(books: dict[str, bytes]) -> None:
    """Spreadsheets count days from 30 December 1899; 19 May 2031 is day 47 987."""
    import zipfile

    with zipfile.ZipFile(io.BytesIO(books["example"])) as archive:
        sheets = [archive.read(name).decode() for name in archive.namelist() if "worksheets/sheet" in name]
    assert (datetime.date(2031, 5, 19) - datetime.date(1899, 12, 30)).days == 47987
    assert any("<v>47987</v>" in sheet for sheet in sheets)
