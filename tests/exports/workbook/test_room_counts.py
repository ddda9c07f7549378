"""A room that is left out in the workbook takes its own lines with it, and never comes back."""

from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.editions import Edition, edition_of
from proposal.errors import InputError
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.room_counts import key_of, with_room_counts
from proposal.publish.importing import workbook_import
from tests.exports.workbook.edits import typed_in
from tests.exports.workbook.price_sheets import tables_of
from tests.exports.workbook.test_book import Cells, all_recalculated, cells, needs_office, without_results
from tests.exports.workbook.test_spare_allowances import FOLDER, TOTALS, document, total

CENT = Decimal("0.01")


@cache
def edition() -> Edition:
    return with_room_counts(edition_of(document(), "estimator"))


def without(tag: str) -> bytes:
    book = workbook(edition(), tables_of(schedules(edition())))
    inputs = cells(book)["Inputs"]
    row = next(at[1:] for at, (value, _) in inputs.items() if at[0] == "G" and value == key_of(tag))
    return typed_in(book, {f"C{row}": "0"})


@pytest.fixture(scope="module")
def left_out(tmp_path_factory: pytest.TempPathFactory) -> Cells:
    """The workbook without the first room, as LibreOffice computes it."""
    (computed,) = all_recalculated([without_results(without(room()))], tmp_path_factory.mktemp("left_out"))
    return cells(computed)


def room() -> str:
    return document().rooms[0].tag


def test_rooms_count_once_and_change_nothing() -> None:
    assert edition().document.price == document().price
    assert with_room_counts(edition()) == edition()
    client = edition_of(document(), "client")
    assert with_room_counts(client) == client


@needs_office
@pytest.mark.independent
def test_every_sheet_agrees_on_the_total_without_a_room(left_out: Cells) -> None:
    sums = {total(left_out, sheet, head).quantize(CENT) for sheet, head in TOTALS.items()}
    before = document().price
    assert before is not None
    assert len(sums) == 1
    assert sums.pop() < before.price


@needs_office
@pytest.mark.independent
def test_what_is_left_of_the_room_is_cable_that_only_a_new_plan_saves(left_out: Cells) -> None:
    """Its devices and hours are gone, those of other rooms stay; what stays of it is cut from reels."""
    sheet = left_out["Price build-up"]
    heads = {value: at[:-1] for at, (value, _) in sheet.items() if at[-1] == "1" and at[:-1].isalpha()}
    compared = 0
    for n, line in enumerate(document().price_lines, 2):
        quantity = Decimal(sheet[f"{heads['Quantity']}{n}"][0] or 0)
        if line.room == room():
            assert bool(quantity) == (line.kind == "reels"), line
        elif line.group == "equipment":
            assert abs(quantity - line.quantity) < CENT, line
            compared += 1
    assert compared > 5


def test_a_room_left_out_does_not_come_back(tmp_path: Path) -> None:
    file = tmp_path / "book.xlsx"
    file.write_bytes(without(room()))
    with pytest.raises(InputError, match=r"wanted 1: a room is left out or repeated in rooms\.csv.*found 0"):
        workbook_import(file, FOLDER, None, ("project",))
