"""The take-off and what is bought for it, linked to unit costs and waste."""

from collections.abc import Mapping
from decimal import Decimal

from proposal.document.rows.takeoff import PurchaseRow, TakeoffRow
from proposal.exports.workbook.formulas import by_rule, rounded, rounded_up, sum_where, unit_places
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.shares import Shared, shared_out

WASTE = {"cable": "rules.takeoff.spoilage", "termination": "rules.takeoff.connector_extra"}
"""Input that says the waste, by section of the take-off."""
REELS, SPARE, PACK = "reels", ", spare", "pack"
OrderKey = tuple[str, str]


def link_takeoff(book: LinkedBook) -> None:
    """Link costs of the take-off and of what is bought to the inputs, and both to each other."""
    takeoff, bought = book.sheets["takeoff"], book.sheets["purchases"]
    rows = book.document.takeoff
    orders = {(one.section, one.item) for one in book.document.purchases}
    need = _needs(book, takeoff)
    prices = {line.item: line.rule_from for line in book.document.price_lines if line.group == "materials"}
    for n, purchase in enumerate(book.document.purchases):
        _link_purchase(book, n, purchase, prices.get(purchase.item, ""), need)
    together: dict[OrderKey, list[int]] = {}
    for n, row in enumerate(rows):
        if (row.section, row.item) in orders:
            together.setdefault((row.section, row.item), []).append(n)
    needed = [_need(row) for row in rows]
    by_need = [
        rounded(f"{takeoff.at(n, need)}*{takeoff.cell(n, 'unit_cost')}", book.places)
        for n in range(len(rows))
    ]
    shared = [
        Shared(
            rows=members,
            weights=[takeoff.at(n, need) for n in members],
            weighed=[float(needed[n]) for n in members],
            total=sum_where(
                bought.cells("cost"), (bought.cells("section"), key[0]), (bought.cells("item"), key[1])
            ),
            amount=float(sum((rows[n].cost or Decimal(0) for n in members), Decimal(0))),
        )
        for key, members in together.items()
    ]
    parts = shared_out(takeoff, "Cost of wholes", shared, book.places)
    for n in range(len(rows)):
        if n in parts:
            takeoff.put(n, "wholes", f"ROUND({parts[n]}-{by_need[n]},{book.places})")
        takeoff.put(n, "cost", f"ROUND({by_need[n]}+{takeoff.cell(n, 'wholes')},{book.places})")
    book.follows |= {"purchases"}


def _need(row: TakeoffRow) -> Decimal:
    return row.quantity * (row.waste + (0 if row.spoilage_only else 1))


def _needs(book: LinkedBook, takeoff: LinkedSheet) -> int:
    """Link waste and unit costs, add what each line needs with its waste, and return where that stands."""
    inputs, formulas = book.inputs, []
    for n, row in enumerate(book.document.takeoff):
        rule = inputs.row(WASTE.get(row.section, ""))
        if rule is not None and rule.value == row.waste:
            takeoff.put(n, "waste", inputs.name(rule.key))
        cost = f"library.{row.item}.cost"
        if row.unit_cost is not None and inputs.piece_value(cost) == row.unit_cost:
            takeoff.put(n, "unit_cost", inputs.piece(cost))
        beyond = takeoff.cell(n, "waste") if row.spoilage_only else f"(1+{takeoff.cell(n, 'waste')})"
        formulas.append(f"{takeoff.cell(n, 'quantity')}*{beyond}")
        if row.recompute:
            takeoff.marks[n, "quantity"] = "planned"
    values = [float(_need(row)) for row in book.document.takeoff]
    return takeoff.working("Needed with waste", values, formulas)


def _link_purchase(book: LinkedBook, n: int, row: PurchaseRow, rule_from: str, need: int) -> None:
    sheet, takeoff, inputs = book.sheets["purchases"], book.sheets["takeoff"], book.inputs
    reel = row.sold_as.removesuffix(SPARE)
    entry = f"library.{row.item}.reels.{reel}" if row.section == REELS else f"library.{row.item}"
    if row.section == REELS:
        sheet.marks[n, "need"] = sheet.marks[n, "bought"] = "planned"
    else:
        where = tuple((takeoff.cells(name), sheet.value(n, name)) for name in ("section", "item"))
        sheet.put(n, "need", sum_where(takeoff.all_at(need), *where))
        sheet.put(n, "bought", rounded_up(f"{sheet.cell(n, 'need')}/{sheet.cell(n, 'pieces')}"))
    if row.unit_cost is not None and inputs.value(f"{entry}.cost") == row.unit_cost:
        sheet.put(n, "unit_cost", inputs.money(f"{entry}.cost"))
    listed = inputs.money(f"{entry}.list_price")
    if listed:
        sheet.put(n, "list_price", listed)
    link_unit_price(book, sheet, n, rule_from, unit_places(sheet.cell(n, "unit_cost"), book.places))
    sheet.put(n, "cost", rounded(f"{sheet.cell(n, 'bought')}*{sheet.cell(n, 'unit_cost')}", book.places))
    if row.unit_price is not None:
        price = rounded(f"{sheet.cell(n, 'bought')}*{sheet.cell(n, 'unit_price')}", book.places)
        sheet.put(n, "price", price)


def link_unit_price(book: LinkedBook, sheet: LinkedSheet, n: int, rule_from: str, places: int | str) -> None:
    """Link the price of one to the cost of one or its list price beside it, by the rule of its input.

    n: row.  rule_from: key of that input; without one, the price stays a value.
    places: decimal places of the price, or a formula of that.
    """
    sort, value = book.inputs.rule(rule_from)
    if sort == "stated":
        sheet.put(n, "unit_price", value)
    elif sort:
        listed = sheet.cell(n, "list_price")
        sheet.put(n, "unit_price", by_rule(sort, value, sheet.cell(n, "unit_cost"), listed, places))


def takeoff_rows_of_lines(book: LinkedBook) -> Mapping[int, int]:
    """Return the row of the take-off that each line of the price is for, both by their places.

    Lines stand in the order of the take-off, without what the owner furnishes.
    """
    found: dict[int, int] = {}
    rest = iter(enumerate(book.document.takeoff))
    for n, line in enumerate(book.document.price_lines):
        if line.group not in ("equipment", "materials"):
            continue
        for place, row in rest:
            same = (row.item, row.room, row.causes) == (line.item, line.room, line.causes)
            if same and _need(row) == line.quantity:
                found[n] = place
                break
    return found
