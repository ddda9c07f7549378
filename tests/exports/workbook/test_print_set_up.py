"""Sheets are set up for print, and stand in the order of their reader's job."""

import io
import re
import zipfile
from dataclasses import replace
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.readers import READERS, Reader
from proposal.editions import Edition, edition_of
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.print_set_up import LONG, pages_wide
from proposal.exports.workbook.sheet_order import JOBS, in_order
from tests.exports.workbook.test_book import NS, cells

INPUTS_PLACE, INPUTS_PRINTED = 2, 6
"""The sheet of inputs stands third, and prints its first columns; keys and names are for the screen."""
A4, LETTER = ("9", "8"), ("1", "3")
"""Paper of most sheets, and of wide ones: A3 and ANSI B."""
WIDE = ("takeoff", "price-lines")
"""Sheets of the estimator's job that no page holds beside each other."""


def is_beside(sheet: ElementTree.Element) -> bool:
    """Say whether workings stand behind an empty column of a sheet."""
    heads = [
        re.sub("[0-9]", "", cell.attrib["r"]) for cell in sheet.findall("m:sheetData/m:row[@r='1']/m:c", NS)
    ]
    places = [sum(26**n * (ord(one) - 64) for n, one in enumerate(reversed(name))) for name in heads]
    return max(places) > len(places)


def sheets_of(data: bytes) -> list[ElementTree.Element]:
    book = zipfile.ZipFile(io.BytesIO(data))
    count = sum(name.startswith("xl/worksheets/sheet") for name in book.namelist())
    return [ElementTree.fromstring(book.read(f"xl/worksheets/sheet{n}.xml")) for n in range(1, count + 1)]


def names_of(data: bytes) -> dict[tuple[str, str], str]:
    """Return what names of single sheets refer to, by name and number of the sheet."""
    book = ElementTree.fromstring(zipfile.ZipFile(io.BytesIO(data)).read("xl/workbook.xml"))
    return {
        (one.attrib["name"], one.attrib["localSheetId"]): one.text or ""
        for one in book.iter(f"{{{NS['m']}}}definedName")
        if "localSheetId" in one.attrib
    }


@pytest.mark.parametrize(
    ("project", "paper", "day"), [("example", A4, "15 April 2031"), ("us", LETTER, "June 2, 2031")]
)
def test_every_sheet_prints_landscape_on_the_projects_paper_no_smaller_than_can_be_read(
    project: str, paper: tuple[str, str], day: str, estimator: dict[str, Edition], books: dict[str, bytes]
) -> None:
    edition = estimator[project]
    revision = edition.document.cover.revision
    pages, papers = set(), set()
    for place, sheet in enumerate(sheets_of(books[project])):
        (page,) = sheet.findall("m:pageSetup", NS)
        assert page.attrib["orientation"] == "landscape"
        large = page.attrib["paperSize"] == paper[1]
        assert large or page.attrib["paperSize"] == paper[0]
        papers.add(large)
        # A4 and letter take 130 signs of 11 pt beside each other, margins left out; A3 and ANSI B 190.
        # Columns with a look of their own are empty ones for notes.
        columns = [one for one in sheet.iter(f"{{{NS['m']}}}col") if "style" not in one.attrib]
        shown = [one for one in columns if one.attrib.get("outlineLevel") != "1"]
        if place == INPUTS_PLACE:
            shown = [one for one in shown if int(one.attrib["max"]) <= INPUTS_PRINTED]
        width = sum(
            float(one.attrib["width"]) * (int(one.attrib["max"]) - int(one.attrib["min"]) + 1)
            for one in shown
        )
        wide = int(page.attrib.get("fitToWidth", "1"))
        assert 11 * (190 if large else 130) / (width / wide) > 6.4
        pages.add(wide)
        assert page.attrib["fitToHeight"] == "0"
        assert sheet.find("m:sheetPr/m:pageSetUpPr[@fitToPage='1']", NS) is not None
        foot = sheet.findtext("m:headerFooter/m:oddFooter", "", NS)
        assert foot == f"&LRevision {revision.identity}, {day}&R&P / &N"
        assert edition.document.cover.name in sheet.findtext("m:headerFooter/m:oddHeader", "", NS)
    assert {1, 2} <= pages
    assert papers == {False, True}


@pytest.mark.parametrize(
    ("widths", "pages"), [((), 1), ((10.0,) * 29, 1), ((10.0,) * 30, 2), ((10.0,) * 58, 3), ((45.0,) * 4, 1)]
)
def test_wide_sheets_print_on_several_pages_with_the_first_column_on_each(
    widths: tuple[float, ...], pages: int
) -> None:
    assert pages_wide(widths) == pages


def test_heads_are_repeated_and_workings_are_not_printed(
    estimator: dict[str, Edition], books: dict[str, bytes]
) -> None:
    names = names_of(books["example"])
    sheets = sheets_of(books["example"])
    with_workings = {n for n, sheet in enumerate(sheets) if is_beside(sheet)}
    assert len(with_workings) > 3
    left_out: set[str] = set()
    for number, table in enumerate(schedules(estimator["example"]), 4):
        assert names["_xlnm.Print_Titles", str(number)].endswith("!$1:$1")
        wide = "!$A:$" in names["_xlnm.Print_Titles", str(number)]
        assert wide == (table.name in WIDE) or table.name not in JOBS["estimator"], table.name
        titles = names["_xlnm.Print_Titles", str(number)]
        assert table.name not in WIDE or "!$A:$A," in titles, titles
        area = names.get(("_xlnm.Print_Area", str(number)), "").rpartition("!")[2]
        long = len(table.rows) > LONG
        assert bool(area) == (number in with_workings or not long), table.name
        if not area:
            left_out.add(table.name)
            continue
        found = re.fullmatch(r"\$A\$1:\$([A-Z]+)\$(\d+)|\$A\$1", area)
        assert found, area
        width = sum(
            26**n * (ord(letter) - ord("A") + 1) for n, letter in enumerate(reversed(found[1] or "A"))
        )
        assert width == len(table.columns), table.name
    assert 0 < len(left_out) < 5  # each costs whoever opens the workbook a while: see LONG


def test_columns_hold_their_days_and_amounts_whole(
    estimator: dict[str, Edition], books: dict[str, bytes]
) -> None:
    """A figure that is wider than its column is shown as signs of hash; a day has ten signs or more."""
    compared = 0
    for table, sheet in zip(schedules(estimator["example"]), sheets_of(books["example"])[4:], strict=True):
        widths = {
            n: float(one.attrib["width"])
            for one in sheet.iter(f"{{{NS['m']}}}col")
            for n in range(int(one.attrib["min"]), int(one.attrib["max"]) + 1)
        }
        for n, column in enumerate(table.columns, 1):
            values = [row[n - 1] for row in table.rows if row[n - 1] is not None]
            if column.quantity == "date" and values:
                assert widths[n] >= 11, (table.name, column.name)
                compared += 1
            elif column.quantity == "money" and values:
                amounts = [Decimal(str(value)) for value in values]
                largest = max([*map(abs, amounts), abs(sum(amounts)) if column.total else 0])
                assert widths[n] >= len(f"{largest:,.2f}") + 1, (table.name, column.name)
                compared += 1
    assert compared > 40


def test_an_ampersand_in_a_name_is_printed(estimator: dict[str, Edition]) -> None:
    edition = estimator["us"]
    cover = edition.document.cover.model_copy(update={"name": "Hall & Annex"})
    renamed = replace(edition, document=edition.document.model_copy(update={"cover": cover}))
    for sheet in sheets_of(workbook(renamed, schedules(renamed)[:1])):
        assert "Hall && Annex&R" in sheet.findtext("m:headerFooter/m:oddHeader", "", NS)


@pytest.mark.parametrize("reader", READERS)
def test_sheets_of_the_job_come_first_and_none_is_lost(
    reader: Reader, documents: dict[str, Document]
) -> None:
    tables = schedules(edition_of(documents["example"], reader))
    found = [table.name for table in in_order(tables, reader)]
    names = {table.name for table in tables}
    job = [name for name in JOBS[reader] if name in names]
    assert found[: len(job)] == job
    assert sorted(found) == sorted(names)
    assert len(job) > len(JOBS[reader]) * 0.8, sorted(set(JOBS[reader]) - names)


@pytest.mark.parametrize("reader", [reader for reader in READERS if reader != "estimator"])
def test_no_other_readers_workbook_has_inputs_or_a_recap(
    reader: Reader, documents: dict[str, Document]
) -> None:
    edition = edition_of(documents["example"], reader)
    data = workbook(edition, schedules(edition))
    assert not {"Recap", "Inputs"} & set(cells(data))
    assert "in_library" not in zipfile.ZipFile(io.BytesIO(data)).read("xl/workbook.xml").decode()
