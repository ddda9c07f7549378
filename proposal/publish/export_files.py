"""The files of an export, by their names."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from proposal.document.schedule import Job
from proposal.editions import Edition

if TYPE_CHECKING:
    from proposal.exports.workbook.quotes_sheet import Quoted


def exported(
    edition: Edition, kind: str, job: Job | None = None, quotes: Sequence["Quoted"] = ()
) -> Mapping[str, bytes]:
    """Return the files of an export: one without a name, or several for a folder.

    edition: what may be exported.
    kind: json, csv, xlsx, ics or quotes.
    quotes: of the estimator's workbook, what suppliers answered.
    job: of CSV files, what is done with them; those schedules alone that say what they hold for it.
    """
    from proposal.exports.csv_files import csv_files
    from proposal.exports.document_json import document_json
    from proposal.exports.label_file import label_table
    from proposal.exports.programme_calendar import programme_calendar
    from proposal.exports.quote_files import quote_files
    from proposal.exports.spelled_tables import spelled_tables
    from proposal.exports.table import job_schedules, schedules
    from proposal.exports.workbook.book import workbook
    from proposal.exports.workbook.overtime_lines import with_every_overtime_line
    from proposal.exports.workbook.planned_days import with_planned_days
    from proposal.exports.workbook.room_counts import with_room_counts
    from proposal.exports.workbook.sheet_order import in_order
    from proposal.exports.workbook.spare_allowances import with_spare_allowances
    from proposal.exports.workbook.spare_alternates import with_spare_alternates

    if kind == "json":
        return {"": document_json(edition)}
    if kind == "ics":
        return {"": programme_calendar(edition)}
    if kind == "quotes":
        return quote_files(edition)
    if kind == "xlsx":
        added = with_spare_alternates(with_spare_allowances(with_every_overtime_line(edition)))
        linked = with_planned_days(with_room_counts(added))
        return {"": workbook(linked, in_order(schedules(linked), linked.reader), quotes)}
    if job is not None:
        return csv_files(spelled_tables(job_schedules(edition, job), edition.document))
    labels = (label_table(edition),) if edition.document.cables else ()
    return csv_files((*spelled_tables(schedules(edition), edition.document), *labels))
