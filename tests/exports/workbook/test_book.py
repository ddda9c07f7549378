"""The workbook, recalculated by LibreOffice where it is installed."""

import io
import os
import re
import shutil
import subprocess
import zipfile
from collections.abc import Sequence
from decimal import Decimal
from functools import cache
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.readers import READERS
from proposal.editions import Edition, edition_of
from proposal.exports.table import Column, Table, schedules
from proposal.exports.workbook.book import workbook
from tests.exports.workbook.price_sheets import tables_of
from tests.pages.test_american_pages import METRIC, UNIT

NS = {"m": "http://schemas.openxmlformats.org/spreadsheetml/2006/main"}
CELL = re.compile(
    r'<c r="([A-Z]+[0-9]+)"([^>]*?)(?:/>|>'
    r"(?:<f[^>]*?(?:/>|>([^<]*)</f>))?(?:<v[^>]*?(?:/>|>([^<]*)</v>))?</c>)"
)
"""A cell: its name, its other attributes, its formula and its value."""
RESULT = re.compile(rb"(</f>)<v>[^<]*</v>")
OFFICE = shutil.which("soffice") or shutil.which("libreoffice")
needs_office = pytest.mark.skipif(
    OFFICE is None and os.environ.get("PROPOSAL_REQUIRE_OFFICE") != "1", reason="LibreOffice is not installed"
)


Cells = dict[str, dict[str, tuple[str, str]]]
"""Value and formula of every cell, by sheet and name."""


def cells(data: bytes) -> Cells:
    """Return value and formula of every cell by sheet and name, read from the file itself.

    Sheets are read as text: as XML a hundred and sixty thousand cells take three times as long. Written by
    xlsxwriter or LibreOffice, a cell holds no other element than its formula and its value.
    """
    book = zipfile.ZipFile(io.BytesIO(data))
    names = [
        sheet.attrib["name"]
        for sheet in ElementTree.fromstring(book.read("xl/workbook.xml")).findall("m:sheets/m:sheet", NS)
    ]
    texts: list[str] = []
    if "xl/sharedStrings.xml" in book.namelist():
        for item in ElementTree.fromstring(book.read("xl/sharedStrings.xml")).findall("m:si", NS):
            texts.append("".join(part.text or "" for part in item.iter(f"{{{NS['m']}}}t")))
    found: Cells = {}
    for n, name in enumerate(names, 1):
        sheet = book.read(f"xl/worksheets/sheet{n}.xml").decode("utf-8")
        read = found[name] = {}
        for at, more, formula, value in CELL.findall(sheet):
            if value and ' t="s"' in more:
                value = texts[int(value)]
            elif "&" in value:
                value = unescape(value)
            read[at] = (value, unescape(formula) if "&" in formula else formula)
        assert len(read) == sheet.count("<c "), f"{name}: a cell that is written otherwise"
    return found


@cache
def settings_of_office() -> TemporaryDirectory[str]:
    """Return where LibreOffice keeps its settings, which its first start makes; each process has its own."""
    return TemporaryDirectory()


def recalculated(data: bytes, folder: Path) -> bytes:
    """Return the workbook as LibreOffice writes it after computing every formula anew."""
    return all_recalculated([data], folder)[0]


def all_recalculated(books: Sequence[bytes], folder: Path) -> list[bytes]:
    """Return some workbooks as LibreOffice writes them, started once, after computing every formula anew."""
    assert OFFICE is not None, "LibreOffice is wanted here; .ci/run installs it"
    sources, settings = [folder / f"{n}.xlsx" for n in range(len(books))], Path(settings_of_office().name)
    for source, data in zip(sources, books, strict=True):
        source.write_bytes(data)
    subprocess.run(
        [OFFICE, "--headless", f"-env:UserInstallation={settings.as_uri()}", "--convert-to",
         "xlsx:Calc MS Excel 2007 XML", "--outdir", str(folder / "out"), *map(str, sources)],
        check=True, capture_output=True, timeout=120 + 30 * len(books),
    )  # fmt: skip
    return [(folder / "out" / source.name).read_bytes() for source in sources]


def without_results(data: bytes) -> bytes:
    """Return the workbook with no cached result of a formula, so that the program opening it must compute."""
    source, made = zipfile.ZipFile(io.BytesIO(data)), io.BytesIO()
    with zipfile.ZipFile(made, "w") as target:
        for name in source.namelist():
            content = source.read(name)
            if name.startswith("xl/worksheets/sheet"):
                content, count = RESULT.subn(rb"\1", content)
                assert count == content.count(b"</f>"), f"{name}: a formula that is written otherwise"
            target.writestr(name, content)
    return made.getvalue()


@pytest.fixture(scope="session")
def ours_and_theirs(
    books: dict[str, bytes], estimator: dict[str, Edition], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, tuple[Cells, Cells]]:
    """The cells of the example's whole workbook, and of the sheets of the price in customary units.

    As written, and as LibreOffice computes them.
    """
    written = {
        "example": books["example"],
        "us": workbook(estimator["us"], tables_of(schedules(estimator["us"]))),
    }
    computed = all_recalculated(
        [without_results(ours) for ours in written.values()], tmp_path_factory.mktemp("whole")
    )
    return {
        project: (cells(ours), cells(theirs))
        for (project, ours), theirs in zip(written.items(), computed, strict=True)
    }


@needs_office
@pytest.mark.independent
@pytest.mark.parametrize("project", ["example", "us"])
def test_every_formula_gives_what_libreoffice_computes(
    project: str, ours_and_theirs: dict[str, tuple[Cells, Cells]]
) -> None:
    ours, theirs = ours_and_theirs[project]
    compared = 0
    for sheet, found in ours.items():
        for name, (value, formula) in found.items():
            if formula:
                other = theirs[sheet].get(name, ("", ""))[0]
                if not value:
                    assert other == "", f"{sheet}!{name}: {formula}"
                    continue
                assert float(other) == pytest.approx(float(value), abs=0.0049), f"{sheet}!{name}: {formula}"
                compared += 1
    assert compared > 100


def letters_of(column: int) -> str:
    """Return the letters of a column by its place."""
    return (chr(ord("A") + column // 26 - 1) if column >= 26 else "") + chr(ord("A") + column % 26)


@needs_office
@pytest.mark.independent
def test_a_changed_spoilage_changes_the_total(estimator: dict[str, Edition], tmp_path: Path) -> None:
    edition = estimator["example"]
    takeoff = next(table for table in schedules(edition) if table.name == "takeoff")
    place = {column.name: n for n, column in enumerate(takeoff.columns)}
    rows = [list(row) for row in takeoff.rows]
    line = next(row for row in rows if row[place["section"]] == "cable")
    line[place["waste"]] = Decimal("0.20")
    changed = Table(
        name=takeoff.name,
        title=takeoff.title,
        columns=takeoff.columns,
        rows=tuple(tuple(row) for row in rows),
    )
    books = [without_results(workbook(edition, [table])) for table in (takeoff, changed)]
    before, after = (cells(book)["Take-off"] for book in all_recalculated(books, tmp_path))
    quantity, cost = Decimal(str(line[place["quantity"]])), Decimal(str(line[place["unit_cost"]]))
    more = (quantity * Decimal("0.20") * cost).quantize(Decimal("0.01")) - (
        quantity * Decimal("0.07") * cost
    ).quantize(Decimal("0.01"))
    column = letters_of(place["cost"])
    total = f"{column}{len(rows) + 3}"
    difference = float(after[total][0]) - float(before[total][0])
    assert difference == pytest.approx(float(more), abs=0.011)


def test_the_cached_total_is_ours_to_the_cent(estimator: dict[str, Edition]) -> None:
    edition = estimator["example"]
    (table,) = (one for one in schedules(edition) if one.name == "takeoff")
    found = cells(workbook(edition, [table]))["Take-off"]
    place = next(n for n, column in enumerate(table.columns) if column.name == "cost")
    value, formula = found[f"{letter(place)}{len(table.rows) + 3}"]
    assert formula.startswith("SUM(")
    assert Decimal(value) == edition.document.materials_cost


def test_the_same_edition_gives_the_same_bytes(
    estimator: dict[str, Edition], books: dict[str, bytes]
) -> None:
    edition = estimator["us"]
    assert workbook(edition, schedules(edition)) == books["us"]


def test_texts_that_look_like_formulas_or_links_are_texts(estimator: dict[str, Edition]) -> None:
    table = Table(
        name="t",
        title="T",
        columns=(Column(name="a", heading="A"),),
        rows=(("=1+1",), ("+2",), ("@x",), ("-3",), ("https://example.invalid",), ("007",)),
    )
    found = cells(workbook(estimator["example"], [table]))["T"]
    assert [found[f"A{n}"] for n in range(2, 8)] == [
        (text, "") for text in ("=1+1", "+2", "@x", "-3", "https://example.invalid", "007")
    ]


def test_heads_are_frozen_and_filtered(estimator: dict[str, Edition], books: dict[str, bytes]) -> None:
    edition = estimator["example"]
    book = zipfile.ZipFile(io.BytesIO(books["example"]))
    for n in range(4, len(schedules(edition)) + 5):  # behind recap, contents and inputs
        sheet = book.read(f"xl/worksheets/sheet{n}.xml").decode()
        assert 'state="frozen"' in sheet
        assert "<autoFilter" in sheet


def test_plans_of_a_solver_are_values_marked_recompute(estimator: dict[str, Edition]) -> None:
    edition = estimator["example"]
    takeoff = next(table for table in schedules(edition) if table.name == "takeoff")
    place = {column.name: n for n, column in enumerate(takeoff.columns)}
    reels = [row for row in takeoff.rows if row[place["section"]] == "reels"]
    assert reels
    assert {row[place["recompute"]] for row in reels} == {True}


PRICED = (
    "offer",
    "price-lines",
    "room-prices",
)


@needs_office
@pytest.mark.independent
@pytest.mark.parametrize("project", ["example", "us"])
def test_every_sheet_of_prices_computes_the_same_total(
    project: str, estimator: dict[str, Edition], ours_and_theirs: dict[str, tuple[Cells, Cells]]
) -> None:
    """LibreOffice multiplies, taxes and adds up; its sums are the document's totals to the cent."""
    edition = estimator[project]
    total = edition.document.price
    assert total is not None
    tables = [table for table in schedules(edition) if table.name in PRICED]
    assert len(tables) == len(PRICED)
    _, found = ours_and_theirs[project]
    for table in tables:
        row = len(table.rows) + 3
        sums = {
            column.name: Decimal(found[table.title][f"{letter(n)}{row}"][0]).quantize(Decimal("0.01"))
            for n, column in enumerate(table.columns)
            if column.total
        }
        assert (sums["price"], sums["tax"]) == (total.price, total.tax), table.name
        assert sums.get("total", total.total) == total.total
        assert sums.get("cost", total.cost) == total.cost


def letter(column: int) -> str:
    return letters_of(column)


@needs_office
@pytest.mark.independent
def test_a_changed_quantity_changes_price_and_total(estimator: dict[str, Edition], tmp_path: Path) -> None:
    edition = estimator["example"]
    (table,) = (one for one in schedules(edition) if one.name == "price-lines")
    place = {column.name: n for n, column in enumerate(table.columns)}
    rows = [list(row) for row in table.rows]
    line = next(row for row in rows if row[place["kind"]] == "access point")
    each, rate = line[place["unit_price"]], line[place["tax_rate"]]
    assert isinstance(each, Decimal)
    assert isinstance(rate, Decimal)
    line[place["quantity"]] = Decimal(str(line[place["quantity"]])) + 1
    changed = Table(name="t", title=table.title, columns=table.columns, rows=tuple(map(tuple, rows)))
    found = cells(recalculated(without_results(workbook(edition, [changed])), tmp_path))[table.title]
    total = edition.document.price
    assert total is not None
    below = len(rows) + 3
    assert float(found[f"{letter(place['price'])}{below}"][0]) == pytest.approx(
        float(total.price + each), abs=0.005
    )
    assert float(found[f"{letter(place['tax'])}{below}"][0]) == pytest.approx(
        float(total.tax + each * rate), abs=0.011
    )


def test_margins_stand_in_the_workbook_of_the_house_alone(documents: dict[str, Document]) -> None:
    named = {
        reader: {table.name for table in schedules(edition_of(documents["example"], reader))}
        for reader in READERS
    }
    house = {"price-lines", "surcharges", "cash-flow", "unit-costs"}
    assert house <= named["estimator"]
    assert not house & (named["client"] | named["reviewer"] | named["installer"])
    assert {"offer", "payments", "unit-prices", "taxes"} <= named["client"]
    assert {"labour", "labour-summary", "hours-by-room"} <= named["reviewer"]
    assert not {name for name in named["reviewer"] if "price" in name or name == "offer"}
    assert not {
        name
        for name in named["installer"]
        if "price" in name or name.startswith(("offer", "labour", "hours"))
    }


def test_the_estimators_workbook_of_a_place_in_feet_holds_no_metre(books: dict[str, bytes]) -> None:
    """Keys of files and names of reels in the library stay as they are written."""
    names = re.compile(r"\b[a-z]\w*(?:\.[^:]+)+$|\b\d+ m (?:box|reel)\b")
    said = {
        names.sub("", value)
        for sheet in cells(books["us"]).values()
        for value, formula in sheet.values()
        if not formula
    }
    assert {one for one in said if METRIC.search(one) or re.fullmatch(UNIT, one)} == set()
    assert "ft" in said
