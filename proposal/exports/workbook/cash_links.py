"""The cash flow, linked to payments and costs: amounts follow, days are those of this revision."""

from collections.abc import Mapping, Sequence

from proposal.document.rows.price_build_up import CashRow, PriceLineRow
from proposal.document.values import values_of
from proposal.exports.workbook.formulas import added, runs
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.spare_allowances import FURTHER

CASH = "cash-flow"


def link_cash(book: LinkedBook) -> None:
    """Link what comes in and goes out to payments and lines of the price, and the balance to both."""
    sheet, rows = book.sheets.get(CASH), book.document.cash_flow
    if sheet is None or "payments" not in book.sheets:
        return
    paid, follows = _paid(book), True
    for n, row in enumerate(rows):
        formula = _incoming(book, row) if row.outgoing is None else _outgoing(book, row, paid)
        follows = follows and bool(formula)
        if row.outgoing == 0 and FURTHER in row.what:
            sheet.quiet[n] = "outgoing"
        if formula:
            name = "incoming" if row.outgoing is None else "outgoing"
            sheet.put(n, name, f"ROUND({formula},{book.places})")
        before = sheet.cell(n - 1, "balance") if n else "0"
        moved = f"+{sheet.cell(n, 'incoming')}-{sheet.cell(n, 'outgoing')}"
        sheet.put(n, "balance", f"ROUND({before}{moved},{book.places})")
    if follows:
        book.follows.add(CASH)


def _incoming(book: LinkedBook, row: CashRow) -> str:
    """Return the formula of what comes in; empty where it is not certain what that is."""
    sheet, payments = book.sheets["payments"], book.document.payments
    mine = [n for n, one in enumerate(payments) if (one.name, one.due_date) == (row.what, row.date)]
    if sum(payments[n].due for n in mine) != row.incoming:
        return ""
    return added(sheet.cell(n, "due") for n in mine)


def _outgoing(book: LinkedBook, row: CashRow, paid: Mapping[str, Sequence[int]]) -> str:
    """Return the formula of what goes out; empty where it is not certain what that is."""
    lines, sheet = book.document.price_lines, book.sheets["price-lines"]
    payments, words = book.document.payments, values_of(book.document).words
    taxed = [
        n
        for n, one in enumerate(payments)
        if (words.text("cash.tax_passed_on", payment=one.name), one.due_date) == (row.what, row.date)
    ]
    if taxed and sum(payments[n].tax for n in taxed) == row.outgoing:
        return added(book.sheets["payments"].cell(n, "tax") for n in taxed)
    mine = paid.get(row.what, ())
    if sum(lines[n].cost for n in mine) != row.outgoing:
        return ""
    return "+".join(f"SUM({sheet.cells('cost', run)})" for run in runs(mine))


def _paid(book: LinkedBook) -> Mapping[str, Sequence[int]]:
    """Return the lines of the price by what paying them is called."""
    found: dict[str, list[int]] = {}
    for n, line in enumerate(book.document.price_lines):
        found.setdefault(_called(book, line), []).append(n)
    return found


def _called(book: LinkedBook, line: PriceLineRow) -> str:
    words = values_of(book.document).words
    match line.group:
        case "equipment" | "materials":
            return words.text(f"cash.{line.group}")
        case "labour":
            return words.text("cash.work", phase=line.phase)
        case "travel":
            return words.text("cash.travel", trade=line.description)
        case "allowance":
            return words.text("cash.allowance", allowance=line.description)
    return line.description
