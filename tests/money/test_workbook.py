"""The workbooks of the three projects, recalculated: sums, places and products as the document has them.

In euros: `PROPOSAL_LONG_TESTS=2 python -m pytest tests/money/test_workbook.py`.
"""

import io
import re
import zipfile
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.exports.workbook.test_book import NS, cells, letter, needs_office, recalculated, without_results
from tests.long_form import LONG
from tests.money.conftest import CURRENCIES, Priced
from tests.money.views import COLUMNS, column_of, reference

HEAD = 1
BEFORE_TABLES = 5
"""Number of the first sheet of a schedule, behind recap, contents, inputs and quotes."""


def formats_of(data: bytes, sheet: int) -> dict[str, str]:
    """Return the number format of every cell of a sheet that holds a number, read from the file itself."""
    book = zipfile.ZipFile(io.BytesIO(data))
    styles = ElementTree.fromstring(book.read("xl/styles.xml"))
    codes = {one.attrib["numFmtId"]: one.attrib["formatCode"] for one in styles.iter(f"{{{NS['m']}}}numFmt")}
    codes |= {"1": "0", "2": "0.00", "3": "#,##0", "4": "#,##0.00"}  # built in (ECMA-376, 18.8.30)
    used = [codes.get(one.attrib["numFmtId"], "") for one in styles.findall("m:cellXfs/m:xf", NS)]
    root = ElementTree.fromstring(book.read(f"xl/worksheets/sheet{sheet}.xml"))
    return {
        one.attrib["r"]: used[int(one.attrib.get("s", "0"))]
        for one in root.iter(f"{{{NS['m']}}}c")
        if one.find("m:v", NS) is not None
    }


# The example, in euros too, is recalculated in tests/exports/workbook.
@needs_office
@pytest.mark.independent
@pytest.mark.parametrize("priced", CURRENCIES if LONG else ("JPY", "KWD"), indirect=True)
def test_sums_of_recalculated_cells_are_the_totals_of_the_document(priced: Priced, tmp_path: Path) -> None:
    """LibreOffice multiplies and adds anew; cells and sums are ours to less than a thousandth of a step."""
    ours, theirs = cells(priced.book), cells(recalculated(without_results(priced.book), tmp_path))
    noise = float(Decimal(1).scaleb(-priced.places)) / 1000
    compared = 0
    for sheet, found in ours.items():
        for name, (value, formula) in found.items():
            if formula and not value:
                assert theirs[sheet].get(name, ("", ""))[0] == "", f"{sheet}!{name}: {formula}"
            elif formula:
                assert abs(float(theirs[sheet][name][0]) - float(value)) < noise, f"{sheet}!{name}: {formula}"
                compared += 1
    assert compared > 500
    whole = reference(priced.document)
    for table in priced.with_money:
        for heading, total in COLUMNS.get(table.name, {}).items():
            column = letter(column_of(table, heading))
            last = HEAD + len(table.rows)
            summed = float(theirs[table.title][f"{column}{last + 2}"][0])
            assert abs(summed - float(whole[total])) < noise, f"{table.title}: {heading}"
            each = (theirs[table.title][f"{column}{n}"][0] for n in range(HEAD + 1, last + 1))
            added = sum(float(cell) for cell in each if cell)
            assert abs(added - float(whole[total])) < noise, f"{table.title}: {heading}"


def test_cells_of_amounts_show_the_places_of_the_currency(priced: Priced) -> None:
    exact = "#,##0" + ("." + "0" * priced.places if priced.places else "")
    seen = 0
    for sheet, table in enumerate(priced.with_money, BEFORE_TABLES):
        found = formats_of(priced.book, sheet)
        for n, column in enumerate(table.columns):
            for cell, code in found.items():
                if re.fullmatch(rf"{letter(n)}\d+", cell) and cell != f"{letter(n)}1":
                    if column.quantity == "money":
                        assert code == exact, f"{table.title}!{cell}"
                        seen += 1
                    elif column.quantity in ("unit price", "price by unit"):
                        assert len(code) >= len(exact), f"{table.title}!{cell}"
    assert seen > 1000


def test_cells_of_unit_prices_show_all_their_digits(priced: Priced) -> None:
    """None of them is rounded to an amount, so that quantity times price is seen to be the amount."""
    for table in priced.tables:
        for n, column in enumerate(table.columns):
            if column.quantity not in ("unit price", "price by unit"):
                continue
            for row in table.rows:
                value = row[n]
                if value is not None:
                    assert isinstance(value, Decimal)
                    assert value.as_tuple().exponent <= -priced.places
    (lines,) = (one for one in priced.tables if one.name == "price-lines")
    quantity, each, wholes, cost = (
        column_of(lines, one) for one in ("Quantity", "Unit cost", "Cost of whole packs", "Cost")
    )
    for row in lines.rows:
        exact = Decimal(str(row[quantity])) * Decimal(str(row[each])) + Decimal(str(row[wholes]))
        assert abs(exact - Decimal(str(row[cost]))) <= Decimal(5).scaleb(-priced.places - 1)
