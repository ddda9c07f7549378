"""An allowance that the estimator adds in the workbook stands in every total, and comes back by its name."""

import re
import shutil
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.editions import Edition, edition_of
from proposal.errors import InputError
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.spare_allowances import is_spare, with_spare_allowances
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish.importing import workbook_import, write_import
from tests.exports.workbook.edits import typed_in
from tests.exports.workbook.price_sheets import tables_of
from tests.exports.workbook.test_book import Cells, all_recalculated, cells, needs_office, without_results
from tests.imports.spoilt_books import texted

FOLDER = Path(__file__).resolve().parents[2] / "projects" / "us_customary"
AMOUNT, NAME = "1234.56", "Bollards at the door"
TOTALS = {
    "Price build-up": "Price (USD)",
    "Room prices": "Before tax",
    "System prices": "Before tax",
    "Phase prices": "Before tax",
    "Group prices": "Before tax",
    "What the price contains": "Before tax",
    "Payments": "Before tax",
}


@cache
def document() -> Document:
    return document_of(compute(load_project(FOLDER)))


@cache
def edition() -> Edition:
    return with_spare_allowances(edition_of(document(), "estimator"))


def spare() -> list[PriceInputRow]:
    return [row for row in edition().document.price_inputs if is_spare(row)]


@cache
def book() -> bytes:
    return workbook(edition(), tables_of(schedules(edition())))


def filled(name: str) -> bytes:
    """Return the workbook with an amount in a further allowance, and a name where one is given."""
    inputs = cells(book())["Inputs"]
    row = next(at[1:] for at, (value, _) in inputs.items() if at[0] == "G" and value == spare()[0].key)
    typed = typed_in(book(), {f"C{row}": AMOUNT})
    return texted(typed, f"B{row}", name) if name else typed


def total(found: Cells, sheet: str, head: str) -> Decimal:
    """Return the total below a column."""
    placed = {
        (re.sub("[0-9]", "", at), int(re.sub("[A-Z]", "", at))): one for at, one in found[sheet].items()
    }
    column = next(at for (at, row), (value, _) in placed.items() if row == 1 and value.startswith(head))
    last = max(row for (at, row), (value, _) in placed.items() if at == column and value)
    return Decimal(placed[column, last][0])


def test_without_an_amount_they_change_nothing() -> None:
    assert edition().document.price == document().price
    assert [row.key for row in spare()] == [f"price.allowances.added_{n}.price" for n in (1, 2, 3)]
    assert len(edition().document.price_lines) == len(document().price_lines) + 3
    client = edition_of(document(), "client")
    assert with_spare_allowances(client) == client


@needs_office
@pytest.mark.independent
def test_a_further_allowance_stands_in_every_total_and_comes_back(tmp_path: Path) -> None:
    folder, file = tmp_path / "project", tmp_path / "book.xlsx"
    shutil.copytree(FOLDER, folder)
    (computed,) = all_recalculated([without_results(filled(NAME))], tmp_path)
    file.write_bytes(computed)
    before = document().price
    assert before is not None
    wanted, found = before.price + Decimal(AMOUNT), cells(computed)
    sums = {sheet: total(found, sheet, head).quantize(Decimal("0.01")) for sheet, head in TOTALS.items()}
    assert sums == dict.fromkeys(TOTALS, wanted)
    taken = workbook_import(file, folder, None, ("project",))
    told = {one.key: one.value for one in taken.changes if one.is_figure}
    keys = ("price.allowances.added_1.name", "price.allowances.added_1.price")
    assert told == {keys[0]: NAME, keys[1]: f"{AMOUNT} USD"}
    write_import(taken, folder)
    after = load_project(folder)
    allowance = after.brief.price.allowances["added_1"]
    assert (allowance.name, allowance.price.amount) == (NAME, Decimal(AMOUNT))
    assert compute(after).price.whole.price == taken.held.price.whole.price == wanted


def test_an_amount_without_a_name_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "book.xlsx"
    file.write_bytes(filled(""))
    with pytest.raises(InputError, match="wanted what the allowance is for; found Further allowance 1"):
        workbook_import(file, FOLDER, None, ("project",))
