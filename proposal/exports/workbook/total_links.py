"""Rooms, systems, phases, kinds of cost, taxes, payments and the whole, linked to the lines."""

from collections.abc import Sequence
from decimal import Decimal

from proposal.document.rows.price import PriceSum
from proposal.exports.workbook.formulas import added, rounded, sum_where
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.shares import Shared, shared_out

AMOUNTS = ("price", "tax", "cost", "reserve")
BUILDING = ""
RETENTION = "retention"


def link_totals(book: LinkedBook) -> None:
    """Link everything that sums the lines of the price."""
    document = book.document
    _link_whole(book)
    _link_rooms(book)
    for name, by, rows in (
        ("system-prices", "system", document.system_prices),
        ("phase-prices", "phase", document.phase_prices),
        ("group-prices", "group", document.group_prices),
    ):
        _link_sums(book, name, by, rows)
    _link_labour(book)
    _link_taxes(book)
    _link_payments(book)
    _link_equipment(book)
    _link_reels(book)


def _of_lines(book: LinkedBook, by: str, key: str, amount: str) -> str:
    """Return the sum of an amount over the lines with a key; 0 where there are none."""
    lines = book.sheets["price-lines"]
    first = next((n for n, row in enumerate(book.document.price_lines) if getattr(row, by) == key), None)
    if first is None:
        return "0"
    return sum_where(lines.cells(amount), (lines.cells(by), lines.value(first, by)))


def _put_sums(book: LinkedBook, sheet: LinkedSheet, n: int, amounts: dict[str, str]) -> None:
    for name, formula in amounts.items():
        sheet.put(n, name, f"ROUND({formula},{book.places})")
    price, cost = sheet.cell(n, "price"), sheet.cell(n, "cost")
    sheet.put(n, "total", f"ROUND({price}+{sheet.cell(n, 'tax')},{book.places})")
    sheet.put(n, "margin", f"ROUND({price}-{cost},{book.places})")
    sheet.put(n, "margin_share", f'IF({price}=0,"",ROUND(({price}-{cost})/{price},4))')


def _link_sums(book: LinkedBook, name: str, by: str, rows: Sequence[PriceSum]) -> None:
    sheet = book.sheets.get(name)
    if sheet is None:
        return
    for n, row in enumerate(rows):
        _put_sums(book, sheet, n, {amount: _of_lines(book, by, row.key, amount) for amount in AMOUNTS})
    book.follows.add(name)


def _link_rooms(book: LinkedBook) -> None:
    sheet, lines, total = book.sheets.get("room-prices"), book.sheets["price-lines"], book.document.price
    if sheet is None or total is None:
        return
    rows, rooms = book.document.room_prices, [room.tag for room in book.document.rooms]
    shared = total.room_view == "shared out" and not any(row.key == BUILDING for row in rows)
    parts: dict[str, dict[int, str]] = {amount: {} for amount in AMOUNTS}
    if shared:
        parts = _shared_by_rooms(book, sheet)
    for n, row in enumerate(rows):
        if row.key == BUILDING:
            own = {
                amount: _less(lines.cells(amount), [_of_lines(book, "room", tag, amount) for tag in rooms])
                for amount in AMOUNTS
            }
        else:
            own = {
                amount: added(
                    [
                        _of_lines(book, "room", row.key, amount),
                        *([parts[amount][n]] if n in parts[amount] else []),
                    ]
                )
                for amount in AMOUNTS
            }
        _put_sums(book, sheet, n, own)
    book.follows.add("room-prices")


def _less(cells: str, parts: Sequence[str]) -> str:
    """Return the sum of some cells without parts of it."""
    return f"SUM({cells})-({added(parts)})"


def _shared_by_rooms(book: LinkedBook, sheet: LinkedSheet) -> dict[str, dict[int, str]]:
    """Return where each room's part stands of what serves several rooms."""
    lines, rows = book.document.price_lines, book.document.room_prices
    tags, cells = [row.key for row in rows], book.sheets["price-lines"]

    def of(tag: str, amount: str) -> Decimal:
        return sum((getattr(line, amount) for line in lines if line.room == tag), Decimal(0))

    own = {amount: [of(tag, amount) for tag in tags] for amount in AMOUNTS}
    weights = [f"MAX({_of_lines(book, 'room', tag, 'price')},0)" for tag in tags]
    weighed = [max(float(value), 0.0) for value in own["price"]]
    found = {}
    for amount in AMOUNTS:
        whole = sum((getattr(line, amount) for line in lines), Decimal(0)) - sum(own[amount], Decimal(0))
        rest = added(_of_lines(book, "room", tag, amount) for tag in tags)
        one = Shared(
            rows=range(len(rows)),
            weights=weights,
            weighed=weighed,
            total=f"ROUND(SUM({cells.cells(amount)})-({rest}),{book.places})",
            amount=float(whole),
        )
        found[amount] = shared_out(sheet, f"Shared by rooms, {amount}", [one], book.places)
    return found


def _link_whole(book: LinkedBook) -> None:
    sheet, lines = book.sheets.get("price"), book.sheets["price-lines"]
    if sheet is None:
        return
    _put_sums(book, sheet, 0, {amount: f"SUM({lines.cells(amount)})" for amount in AMOUNTS})
    left = f"ROUND({sheet.cell(0, 'margin')}-{sheet.cell(0, 'reserve')},{book.places})"
    sheet.put(0, "margin_at_least", left)
    key = book.inputs.name("price.retention")
    if key:
        sheet.put(0, "retention", key)
    book.follows.add("price")


def _link_labour(book: LinkedBook) -> None:
    """Link what the hours of the summary and of travel cost and sell for."""
    lines = book.sheets["price-lines"]
    texts = {line.group: lines.value(n, "group") for n, line in enumerate(book.document.price_lines)}
    for name, group in (("labour-summary", "labour"), ("travel", "travel")):
        sheet = book.sheets.get(name)
        for n in range(len(sheet) if sheet and group in texts else 0):
            assert sheet is not None
            where = [
                (lines.cells("group"), texts[group]),
                (lines.cells("description"), sheet.value(n, "trade")),
            ]
            if group == "labour":
                phase = book.document.labour_summary[n].phase
                found = [m for m, row in enumerate(book.document.price_lines) if row.phase == phase]
                where.append((lines.cells("phase"), lines.value(found[0], "phase")))
            for amount in ("cost", "price"):
                sheet.put(n, amount, sum_where(lines.cells(amount), *where))


def _link_taxes(book: LinkedBook) -> None:
    sheet, lines = book.sheets.get("taxes"), book.sheets["price-lines"]
    for n, row in enumerate(book.document.taxes if sheet else ()):
        assert sheet is not None
        where = [(lines.cells("tax_place"), row.place), (lines.cells("tax_kind"), row.kind)]
        kind = "services" if row.kind == "services" else "goods"
        rate = book.inputs.name(f"price.taxes.{row.place}.{kind}")
        if rate and row.kind != "exempt":
            sheet.put(n, "rate", rate)
        sheet.put(n, "price", sum_where(lines.cells("price"), *where))
        sheet.put(n, "tax", sum_where(lines.cells("tax"), *where))
        book.follows.add("taxes")


def _link_payments(book: LinkedBook) -> None:
    sheet, whole, total = book.sheets.get("payments"), book.sheets.get("price"), book.document.price
    if sheet is None or whole is None or total is None:
        return
    rows = book.document.payments
    paid = [n for n, row in enumerate(rows) if row.number != RETENTION]
    for n in paid:
        share = book.inputs.name(f"price.payments.{rows[n].number}.share")
        if share:
            sheet.put(n, "share", share)
    for amount, of_whole in (("price", total.price), ("tax", total.tax)):
        one = Shared(
            rows=paid,
            weights=[sheet.cell(n, "share") for n in paid],
            weighed=[float(rows[n].share) for n in paid],
            total=whole.cell(0, amount),
            amount=float(of_whole),
        )
        for n, part in shared_out(sheet, f"Payments, {amount}", [one], book.places).items():
            sheet.put(n, amount, part)
    retention = book.inputs.name("price.retention") or "0"
    for n in paid:
        amount = f"({sheet.cell(n, 'price')}+{sheet.cell(n, 'tax')})"
        sheet.put(n, "retained", rounded(f"{amount}*{retention}", book.places))
        sheet.put(n, "due", f"ROUND({amount}-{sheet.cell(n, 'retained')},{book.places})")
    for n, row in enumerate(rows):
        if row.number == RETENTION:
            sheet.put(n, "due", added(sheet.cell(m, "retained") for m in paid))
    book.follows.add("payments")


def _link_equipment(book: LinkedBook) -> None:
    sheet, takeoff = book.sheets.get("equipment"), book.sheets["takeoff"]
    for n, row in enumerate(book.document.equipment if sheet else ()):
        assert sheet is not None
        listed = f"library.{row.model}.list_price"
        if row.unit_list is not None and book.inputs.value(listed) == row.unit_list:
            sheet.put(n, "unit_list", book.inputs.money(listed))
        mine = [m for m, line in enumerate(book.document.takeoff) if line.item == row.model]
        mine = [m for m in mine if book.document.takeoff[m].section in ("equipment", "accessories")]
        if mine:
            sheet.put(n, "unit_cost", takeoff.cell(mine[0], "unit_cost"))
            sheet.put(n, "cost", added(takeoff.cell(m, "cost") for m in mine))
        book.follows.add("equipment")


def _link_reels(book: LinkedBook) -> None:
    sheet, bought = book.sheets.get("reel-orders"), book.sheets["purchases"]
    for n, row in enumerate(book.document.reel_orders if sheet else ()):
        assert sheet is not None
        mine = [
            bought.cell(m, "cost")
            for m, one in enumerate(book.document.purchases)
            if (one.section, one.item) == ("reels", row.type) and not one.sold_as.endswith(", spare")
        ]
        sheet.put(n, "cost", added(mine))
        sheet.marks[n, "bound"] = "planned"
