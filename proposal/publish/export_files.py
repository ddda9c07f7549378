"""The files of an export, by their names."""

from collections.abc import Mapping

from proposal.editions import Edition


def exported(edition: Edition, kind: str) -> Mapping[str, bytes]:
    """Return the files of an export: one without a name, or several for a folder.

    edition: what may be exported.
    kind: json, csv, xlsx or ics.
    """
    from proposal.exports.csv_files import csv_files
    from proposal.exports.document_json import document_json
    from proposal.exports.label_file import label_table
    from proposal.exports.programme_calendar import programme_calendar
    from proposal.exports.table import schedules
    from proposal.exports.workbook import workbook

    if kind == "json":
        return {"": document_json(edition)}
    if kind == "ics":
        return {"": programme_calendar(edition)}
    tables = schedules(edition)
    if kind == "xlsx":
        return {"": workbook(edition, tables)}
    labels = (label_table(edition),) if edition.document.cables else ()
    return csv_files((*tables, *labels))
