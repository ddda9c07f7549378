"""A day that is shifted in the workbook comes back as a day, and the programme is planned anew."""

import datetime
import shutil
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.document.rows.price_inputs import PriceInputRow
from proposal.editions import edition_of
from proposal.errors import InputError
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.planned_days import day_of, is_day, serial, with_planned_days
from proposal.imports.free_choice import told_totals
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish.importing import workbook_import, write_import
from tests.exports.workbook.edits import typed_in
from tests.exports.workbook.price_sheets import tables_of
from tests.exports.workbook.test_book import cells
from tests.exports.workbook.test_spare_allowances import FOLDER, document

ORDER = "programme.order"


def test_days_are_counted_as_spreadsheets_count_them() -> None:
    """2000-01-01 is day 36526 of every spreadsheet that begins with 1900 (ECMA-376, part 1, 18.17.4.1)."""
    assert serial(datetime.date(2000, 1, 1)) == 36526
    assert day_of(Decimal(36526)) == datetime.date(2000, 1, 1)
    assert [day_of(Decimal(text)) for text in ("0", "-1", "1.5", "3000000")] == [None] * 4


@cache
def book() -> bytes:
    edition = with_planned_days(edition_of(document(), "estimator"))
    return workbook(edition, tables_of(schedules(edition)))


def shifted(value: str) -> bytes:
    row = next(at[1:] for at, (text, _) in cells(book())["Inputs"].items() if at[0] == "G" and text == ORDER)
    return typed_in(book(), {f"C{row}": value})


def rows() -> list[PriceInputRow]:
    edition = with_planned_days(edition_of(document(), "estimator"))
    return [row for row in edition.document.price_inputs if is_day(row)]


def test_a_shifted_order_comes_back_as_a_day_and_moves_the_end(tmp_path: Path) -> None:
    folder, file = tmp_path / "project", tmp_path / "book.xlsx"
    shutil.copytree(FOLDER, folder)
    later = next(row.value for row in rows() if row.key == ORDER) + 28
    file.write_bytes(shifted(str(later)))
    found = workbook_import(file, folder, None, ("project",))
    day = day_of(later)
    assert day is not None
    assert [(one.key, one.value) for one in found.changes] == [(ORDER, day.isoformat())]
    before, after = found.before.programme.finish, found.after.programme.finish
    assert after > before
    told = list(told_totals(found.before, found.held, found.after))
    assert f"acceptance: {before.isoformat()} becomes {after.isoformat()}" in told
    write_import(found, folder)
    project = load_project(folder)
    assert project.brief.programme.order == day
    assert compute(project).programme.finish == after


def test_what_is_no_day_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "book.xlsx"
    file.write_bytes(shifted("-3"))
    with pytest.raises(InputError, match=r"programme\.order: wanted a day; found -3"):
        workbook_import(file, FOLDER, None, ("project",))
