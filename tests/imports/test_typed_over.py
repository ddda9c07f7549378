"""What was typed beside the inputs of the workbook is told, cell by cell, as it cannot come back."""

import re
from decimal import Decimal

from proposal.imports.typed_over import shown_total, told_typed_over
from tests.exports.workbook.test_book import cells
from tests.exports.workbook.test_spare_allowances import book, document
from tests.imports.spoilt_books import edited, parts_of


def sheet_file(name: str) -> str:
    names = re.findall(r'<sheet name="([^"]+)"', parts_of(book())["xl/workbook.xml"].decode())
    return f"xl/worksheets/sheet{names.index(name) + 1}.xml"


def told(data: bytes, total: Decimal) -> list[str]:
    shown = shown_total(data, "book.xlsx")
    assert shown is not None
    return list(told_typed_over(data, "book.xlsx", book(), shown, total, "USD"))


def test_nothing_is_said_of_a_workbook_that_shows_what_its_inputs_come_to() -> None:
    price = document().price
    assert price is not None
    assert shown_total(book(), "book.xlsx") == price.total
    assert told(book(), price.total) == []


def test_a_cost_typed_over_is_named_with_the_total_that_it_moved() -> None:
    price = document().price
    assert price is not None
    found = cells(book())["What is bought"]
    at = next(at for at, (_, formula) in found.items() if formula.startswith("in_library"))
    data = edited(
        book(),
        sheet_file("What is bought"),
        lambda text: re.sub(rf'(<c r="{at}"[^>]*>)<f>[^<]*</f><v>[^<]*</v>', r"\g<1><v>7</v>", text, count=1),
    )
    assert told(data, price.total) == []
    assert told(data, price.total + 100) == [
        f"the workbook shows {price.total} USD with tax, and its inputs come to {price.total + 100} USD",
        "  typed in beside the inputs, which no file of the project holds, and so not taken:",
        f"  What is bought!{at}: a formula became 7",
    ]


def test_a_workbook_that_nobody_computed_anew_says_so() -> None:
    price = document().price
    assert price is not None
    assert told(book(), price.total - 1)[1:] == [
        "  nothing else was typed in: it was not computed anew before it was saved"
    ]
