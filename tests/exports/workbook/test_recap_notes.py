"""The recap tells in one place what is quoted, awaited, carried by others and priced as spoilage."""

import io
import re
from decimal import Decimal

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from proposal.document.rows.alternates import CombinationRow
from proposal.exports.workbook.recap_alternates import Left, left_by
from proposal.exports.workbook.recap_notes import doubtful_prices, general_conditions_without_a_line
from tests.exports.workbook.test_book import cells
from tests.exports.workbook.test_spare_allowances import book, document
from tests.imports.conftest import sent
from tests.imports.spoilt_books import parts_of


def below(title: str) -> dict[str, list[str]]:
    """Return the lines of the recap below a title, up to the next empty one: cells by the first of them."""
    found, recap = dict[str, list[str]](), cells(book())["Recap"]
    row = next(int(at[1:]) for at, (text, _) in recap.items() if text == title) + 1
    while (name := recap.get(f"A{row}", ("", ""))[0]) != "":
        found[name] = [recap.get(f"{letter}{row}", ("", ""))[0] for letter in "BCDE"]
        row += 1
    return found


@pytest.mark.independent
def test_what_is_bought_of_all_suppliers_is_equipment_and_what_is_bought_in_wholes() -> None:
    lines = below("What is bought, by supplier")
    together = lines.pop("Together")
    bought = [*document().equipment, *document().purchases]
    assert Decimal(together[0]) == sum((one.cost or Decimal(0) for one in bought), Decimal(0))
    suppliers = [values for values in lines.values() if values[0]]
    assert sum((Decimal(values[0]) for values in suppliers), Decimal(0)) == Decimal(together[0])
    assert together[2] == "0"
    assert together[3] == together[0]


@pytest.mark.independent
def test_materials_are_what_is_bought_and_spoilage_beside_it() -> None:
    """Reels hold what is left over and spares; what is spoilt is priced by the metre, and in no reel."""
    wholes, spoilt = (Decimal(values[0]) for values in below("Materials among the above").values())
    whole = [line.cost or Decimal(0) for line in document().takeoff if line.section not in ("equipment",)]
    devices = {row.model for row in document().equipment}
    others = [
        line.cost or Decimal(0)
        for line in document().takeoff
        if line.section != "equipment" and line.item in devices
    ]
    assert wholes + spoilt == sum(whole, Decimal(0)) - sum(others, Decimal(0))
    assert spoilt > 0


def test_general_conditions_that_others_carry_are_not_called_forgotten() -> None:
    told = list(general_conditions_without_a_line(sent().document))
    assert any("lifts" in line and "Owner, or whom the owner engages" in line for line in told)
    assert not any("lifts" in line for line in told if line.startswith("In no line"))


def test_what_nobody_prices_stands_among_what_is_open() -> None:
    held = sent().document
    if not held.findings:
        pytest.fail("wanted a project with findings")
    lead = held.findings[0].model_copy(
        update={"rule": "lead-not-counted", "message": "A lead is not counted."}
    )
    told = doubtful_prices(held.model_copy(update={"findings": (*held.findings, lead)}))
    assert "A lead is not counted." in list(told)


def test_what_an_alternate_leaves_us_is_its_price_less_its_cost() -> None:
    """By hand: 1000 less 700 are 300; with the alternate 1250 less 850 are 400, 100 more, 32 %."""
    base, one = (
        CombinationRow(chosen=chosen, price=Decimal(price), cost=Decimal(cost))
        for chosen, price, cost in (((), 1000, 700), (("signs",), 1250, 850))
    )
    assert left_by([("The base", base), ("1. Signs", one)]) == [
        Left("The base", None, None, Decimal(300), Decimal("0.3")),
        Left("1. Signs", Decimal(150), Decimal(100), Decimal(400), Decimal("0.32")),
    ]
    assert left_by([("The base", base), ("1. Signs", one.model_copy(update={"cost": None}))]) == ()


def test_every_sheet_is_protected_without_a_password_and_can_still_be_filtered() -> None:
    sheets = [
        text.decode() for name, text in parts_of(book()).items() if name.startswith("xl/worksheets/sheet")
    ]
    found = [re.search(r"<sheetProtection[^>]*>", text) for text in sheets]
    assert len(found) > 20
    for one in found:
        assert one is not None
        assert "password" not in one[0]
        for still_done in ("autoFilter", "sort", "formatColumns", "formatRows"):
            assert f'{still_done}="0"' in one[0]


def test_cells_that_import_reads_are_open_and_those_that_follow_are_locked() -> None:
    opened = openpyxl.load_workbook(io.BytesIO(book()))
    inputs, takeoff, notes = opened["Inputs"], opened["Takeoff"], opened["Contents"]
    heads = {cell.value: cell.column for cell in inputs[1]}
    for row in inputs.iter_rows(min_row=2):
        assert not row[heads["Value"] - 1].protection.locked
        assert row[heads["Key"] - 1].protection.locked
    names = [row[1] for row in inputs.iter_rows(min_row=2) if not row[1].protection.locked]
    assert names  # of further allowances and alternates
    assert all(cell.protection.locked for row in takeoff.iter_rows(max_row=40) for cell in row)
    behind = takeoff.column_dimensions[get_column_letter(takeoff.max_column + 2)]
    assert not behind.protection.locked
    told = {row[0].value: row[1].value for row in notes.iter_rows(max_row=16)}
    assert "typed on the sheet Inputs" in told["Typing"]
