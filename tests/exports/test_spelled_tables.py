"""Files for readers in the United States: the words and measures of their pages."""

import re
from pathlib import Path

from proposal.editions import edition_of
from proposal.exports.programme_calendar import programme_calendar
from proposal.exports.spelled_tables import spelled_tables
from proposal.exports.table import schedules
from tests.pages.test_american_pages import BRITISH, FOREIGN, METRIC
from tests.whole_projects import whole_document

MUNICIPAL = Path(__file__).parents[1] / "projects" / "municipal"
NAMES = re.compile(r"\w+-A\d+")
"""Assumptions are called by the name of their subject in the files."""


def test_no_text_of_a_file_is_british_metric_or_foreign() -> None:
    client = edition_of(whole_document(MUNICIPAL), "client")
    told = [
        NAMES.sub("", value)
        for table in spelled_tables(schedules(client), client.document)
        for row in table.rows
        for value in row
        if isinstance(value, str)
    ]
    found = [said for said in told if BRITISH.search(said) or METRIC.search(said) or FOREIGN.search(said)]
    assert found == []
    assert any("analog" in said for said in told)
    assert any("2 1/2 in" in said for said in told)


def test_the_calendar_calls_work_as_the_pages_do() -> None:
    calendar = programme_calendar(edition_of(whole_document(MUNICIPAL), "client")).decode()
    assert "SUMMARY:Rough-in" in calendar
    assert "SUMMARY:First fix" not in calendar
    assert "X-WR-CALNAME:Program: " in calendar
