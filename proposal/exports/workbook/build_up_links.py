"""The build-up of the price, linked from quantities, costs and rules to price and tax."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.document.rows.price_build_up import PriceLineRow
from proposal.exports.workbook.formulas import added, by_rule, rounded, sum_where, unit_places
from proposal.exports.workbook.linked_book import HOURS_PLACES, LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.overtime_lines import overtime_lines
from proposal.exports.workbook.shares import Shared, shared_out
from proposal.exports.workbook.surcharge_links import link_surcharges, spread_over_lines
from proposal.exports.workbook.takeoff_links import link_unit_price, takeoff_rows_of_lines

BOUGHT = ("equipment", "materials")
WORKED = ("labour", "travel")


def link_build_up(book: LinkedBook) -> None:
    """Link every line of the price to the take-off, the hours, the inputs and the surcharges."""
    sheet, lines = book.sheets["price-lines"], book.document.price_lines
    places = takeoff_rows_of_lines(book)
    overtime = _overtime(book, sheet)
    for n, line in enumerate(lines):
        if line.group in BOUGHT:
            _link_bought(book, sheet, n, line, places)
        elif line.group in WORKED:
            _link_worked(book, sheet, n, line, overtime)
        if line.rule_from and line.rule in ("margin", "markup", "discount", "rate", "stated"):
            sheet.put(n, "rule_value", book.inputs.rule(line.rule_from)[1] or _value_of_rule(sheet, n))
        cost = rounded(f"{sheet.cell(n, 'quantity')}*{sheet.cell(n, 'unit_cost')}", book.places)
        sheet.put(n, "cost", f"ROUND({cost}+{sheet.cell(n, 'cost_of_wholes')},{book.places})")
    before = _before_spread(book, sheet, lines, places)
    link_surcharges(book, sheet)
    spread_over_lines(book, sheet, before)
    for n, line in enumerate(lines):
        price = f"{sheet.at(n, before)}+{sheet.cell(n, 'spread')}"
        sheet.put(n, "price", f"ROUND({price},{book.places})")
        sheet.put(n, "tax_rate", _tax_rate(book, line) or "0")
        sheet.put(n, "tax", rounded(f"{sheet.cell(n, 'price')}*{sheet.cell(n, 'tax_rate')}", book.places))
    book.follows.add("price-lines")


def _value_of_rule(sheet: LinkedSheet, n: int) -> str:
    """Return the value of a rule as a number, where no input gives it."""
    return repr(sheet.number(n, "rule_value"))


def _tax_rate(book: LinkedBook, line: PriceLineRow) -> str:
    if not line.tax_place or line.tax_kind == "exempt":
        return ""
    kind = "services" if line.tax_kind == "services" else "goods"
    return book.inputs.name(f"price.taxes.{line.tax_place}.{kind}")


def _link_bought(
    book: LinkedBook, sheet: LinkedSheet, n: int, line: PriceLineRow, places: Mapping[int, int]
) -> None:
    inputs, takeoff = book.inputs, book.sheets["takeoff"]
    if n in places:
        place = places[n]
        beyond = (
            takeoff.cell(place, "waste")
            if book.document.takeoff[place].spoilage_only
            else f"(1+{takeoff.cell(place, 'waste')})"
        )
        sheet.put(n, "quantity", f"{takeoff.cell(place, 'quantity')}*{beyond}")
        sheet.put(n, "unit_cost", takeoff.cell(place, "unit_cost"))
        if (takeoff.number(place, "wholes"), line.group) != (0.0, "equipment"):
            sheet.put(n, "cost_of_wholes", takeoff.cell(place, "wholes"))
    listed = f"library.{line.item}.list_price"
    if line.list_price is not None and inputs.piece_value(listed) == line.list_price:
        sheet.put(n, "list_price", inputs.piece(listed))
    link_unit_price(book, sheet, n, line.rule_from, unit_places(sheet.cell(n, "unit_cost"), book.places))


def _link_worked(
    book: LinkedBook, sheet: LinkedSheet, n: int, line: PriceLineRow, overtime: Mapping[int, str]
) -> None:
    inputs, labour, travel = book.inputs, book.sheets["labour"], book.sheets.get("travel")
    cost = inputs.money(inputs.only("cost of an hour", line.description))
    if line.kind == "expenses":
        cost = inputs.money("labour.travel.expenses_a_day")
    if not cost:
        return
    sort, value = inputs.rule(line.rule_from)
    selling = value if sort == "stated" else by_rule(sort, value, cost, "0", book.places)
    if line.kind == "overtime":
        premium = inputs.name("labour.overtime_premium")
        cost, selling = f"{cost}*{premium}", rounded(f"{selling}*{premium}", book.places)
    sheet.put(n, "unit_cost", cost)
    sheet.put(n, "unit_price", selling)
    if line.kind == "overtime":
        sheet.put(n, "quantity", overtime.get(n, "") or repr(float(line.quantity)))
    elif line.group == "labour":
        sheet.put(n, "quantity", _hours(book, labour, line))
    elif travel is not None:
        name = "days" if line.kind == "expenses" else "hours"
        trades = [row.trade for row in book.document.travel]
        sheet.put(n, "quantity", travel.cell(trades.index(line.description), name))


def _hours(book: LinkedBook, labour: LinkedSheet, line: PriceLineRow) -> str:
    """Return the hours charged for a room, system, phase and trade."""
    wanted = _place(line)
    first = next(
        n
        for n, row in enumerate(book.document.labour)
        if (row.room, row.system, row.phase, row.trade) == wanted
    )
    where = [(labour.cells(name), labour.value(first, name)) for name in ("room", "system", "phase", "trade")]
    return sum_where(labour.cells("charged_hours"), *where)


def _place(line: PriceLineRow) -> tuple[str, str, str, str]:
    return line.room, line.system, line.phase, line.description


def _overtime(book: LinkedBook, sheet: LinkedSheet) -> Mapping[int, str]:
    """Return where the hours of each line of overtime stand, by its place.

    They are shared by the hours of the same trade and phase, and of its rooms, beside these.
    """
    own, lines, found = book.sheets.get("overtime"), book.document.price_lines, {}
    for n, members in enumerate(overtime_lines(book.document) if own else ()):
        assert own is not None
        if not members:
            continue
        one = Shared(
            rows=[m for m, _ in members],
            weights=[sheet.cell(m, "quantity") for m, _ in members],
            weighed=[float(lines[m].quantity) for m, _ in members],
            total=own.cell(n, "hours"),
            amount=float(book.document.overtime[n].hours),
        )
        parts = shared_out(sheet, f"Overtime {n + 1}, hours", [one], HOURS_PLACES)
        found.update({beside: parts[m] for m, beside in members if beside is not None})
    return found


def _before_spread(
    book: LinkedBook, sheet: LinkedSheet, lines: Sequence[PriceLineRow], places: Mapping[int, int]
) -> int:
    """Link the price of wholes, add what each line comes to before anything is spread; return where."""
    bought = book.sheets["purchases"]
    by_one = [
        rounded(f"{sheet.cell(n, 'quantity')}*{sheet.cell(n, 'unit_price')}", book.places)
        for n in range(len(lines))
    ]
    orders = {(one.section, one.item) for one in book.document.purchases}
    together: dict[tuple[str, str], list[int]] = {}
    for n, place in places.items():
        row = book.document.takeoff[place]
        if (row.section, row.item) in orders:
            together.setdefault((row.section, row.item), []).append(n)
    shared = [
        Shared(
            rows=members,
            weights=[sheet.cell(n, "quantity") for n in members],
            weighed=[float(lines[n].quantity) for n in members],
            total=sum_where(
                bought.cells("price"), (bought.cells("section"), key[0]), (bought.cells("item"), key[1])
            ),
            amount=float(sum((lines[n].price - lines[n].spread for n in members), Decimal(0))),
        )
        for key, members in together.items()
    ]
    parts = shared_out(sheet, "Price of wholes", shared, book.places)
    for n, part in parts.items():
        sheet.put(n, "wholes", f"ROUND({part}-{by_one[n]},{book.places})")
    values = [float(line.price - line.spread) for line in lines]
    formulas = [
        f"ROUND({one}+{added([sheet.cell(n, 'wholes')])},{book.places})" for n, one in enumerate(by_one)
    ]
    return sheet.working("Price before spread", values, formulas)
