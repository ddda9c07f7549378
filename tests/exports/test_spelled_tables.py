"""Files for readers in the United States: the words and measures of their pages."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.readers import READERS, Reader
from proposal.document.rows.price_build_up import PriceLineRow
from proposal.document.schedule import columns_of
from proposal.document.values import cell_text, values_of
from proposal.editions import edition_of
from proposal.exports.programme_calendar import programme_calendar
from proposal.exports.spelled_tables import spelled_tables
from proposal.exports.table import schedules
from tests.pages.test_american_pages import BRITISH, FOREIGN, KEYS, METRIC, UNIT
from tests.whole_projects import whole_document

MUNICIPAL = Path(__file__).parents[1] / "projects" / "municipal"
NAMES = re.compile(r"\w+-A\d+")
"""Assumptions are called by the name of their subject in the files."""
UNITS = re.compile(UNIT)


def told_to(reader: Reader) -> list[str]:
    edition = edition_of(whole_document(MUNICIPAL), reader)
    return [
        KEYS.sub("", NAMES.sub("", value))
        for table in spelled_tables(schedules(edition), edition.document)
        for row in ([column.heading for column in table.columns], *table.rows)
        for value in row
        if isinstance(value, str)
    ]


@pytest.mark.parametrize("reader", READERS)
def test_no_text_of_a_file_is_british_or_metric(reader: Reader) -> None:
    told = told_to(reader)
    found = {said for said in told if BRITISH.search(said) or METRIC.search(said) or UNITS.fullmatch(said)}
    assert found == set()
    assert any("analog" in said for said in told)
    assert any("2 1/2 in" in said for said in told)
    # The shared library has prices of its own, and the project says at which rate they count.
    assert reader == "estimator" or not [said for said in told if FOREIGN.search(said)]


def test_amounts_are_in_the_units_of_the_place_with_the_unit_of_their_row() -> None:
    """By hand: 1 m is 3.28084 ft, and an hour a metre is 0.3048 h a foot."""
    document = whole_document(MUNICIPAL)
    tables = spelled_tables(schedules(edition_of(document, "estimator")), document)
    labour = next(table for table in tables if table.name == "labour")
    names = [column.name for column in labour.columns]
    told = [dict(zip(names, row, strict=True)) for row in labour.rows]
    assert {one["unit"] for one in told} == {"each", "ft", "h"}
    first = next(n for n, row in enumerate(document.labour) if row.unit == "m")
    assert told[first]["units"] == pytest.approx(float(document.labour[first].units) * 3.280_84, rel=1e-6)
    assert told[first]["hours_a_unit"] == pytest.approx(
        float(document.labour[first].hours_a_unit) * 0.304_8, rel=1e-6
    )
    # What a foot costs is 0.3048 of what a metre does; a reel costs the same.
    for name, rows in (("takeoff", document.takeoff), ("price-lines", document.price_lines)):
        table = next(one for one in tables if one.name == name)
        place = [column.name for column in table.columns].index("unit_cost")
        pairs = [(row, line[place]) for row, line in zip(rows, table.rows, strict=True) if row.unit_cost]
        assert {row.unit for row, _ in pairs} >= {"each", "m"}
        assert all(
            told == row.unit_cost * (Decimal("0.3048") if row.unit == "m" else 1) for row, told in pairs
        )
    metre = next(row for row in document.price_lines if row.unit == "m" and row.unit_cost == Decimal("1.463"))
    # On pages, by hand: 1.463 x 0.3048.
    shown = columns_of(PriceLineRow)["unit_cost"].shows
    assert cell_text(metre.unit_cost, shown, values_of(document), metre) == "$0.4459224"
    bought = next(one for one in tables if one.name == "purchases")
    place = [column.name for column in bought.columns].index("unit_cost")
    assert [line[place] for line in bought.rows] == [row.unit_cost for row in document.purchases]
    own = {"findings", "house-findings", "takeoff", "price-lines", "purchases"}
    in_si = ("m", "m²", "kg", "N", "°C", "m³/h", "K")
    cells = [cell for table in tables if table.name in own for row in table.rows for cell in row]
    assert [cell for cell in cells if cell in in_si] == []


def test_the_calendar_calls_work_as_the_pages_do() -> None:
    calendar = programme_calendar(edition_of(whole_document(MUNICIPAL), "client")).decode()
    assert "SUMMARY:Rough-in" in calendar
    assert "SUMMARY:First fix" not in calendar
    assert "X-WR-CALNAME:Program: " in calendar
