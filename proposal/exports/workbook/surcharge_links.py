"""Surcharges and allowances, linked to the lines that they are computed on; what is spread, to its lines."""

from collections.abc import Sequence

from proposal.document.rows.price_build_up import PriceLineRow
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.exports.workbook.formulas import added, by_rule, rounded, sum_where
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.shares import Shared, shared_out
from proposal.quantities.general_conditions import COUNTED_IN_TIME

LUMPS = ("equipment", "materials", "labour", "travel")
FIXED = ("stated", "discount")
OWN = ("surcharge", "allowance")


def link_surcharges(book: LinkedBook, sheet: LinkedSheet) -> None:
    """Link the lines of surcharges and allowances, and their schedule, to the inputs and the other lines."""
    inputs, lines = book.inputs, book.document.price_lines
    for n, line in enumerate(lines):
        if line.group not in OWN:
            continue
        if line.group == "allowance":
            amount = inputs.amount(inputs.only("allowance", line.description))
            if amount:
                sheet.put(n, "unit_cost", amount)
                for name in ("unit_price", "rule_value"):
                    sheet.put(n, name, sheet.cell(n, "unit_cost"))
            continue
        cost = _cost(book, sheet, n, line)
        if cost:
            sheet.put(n, "unit_cost", cost)
            sort, value = inputs.rule(line.rule_from)
            sheet.put(n, "unit_price", by_rule(sort, value, sheet.cell(n, "unit_cost"), "0", book.places))
    _link_schedule(book, sheet)


def _cost(book: LinkedBook, sheet: LinkedSheet, n: int, line: PriceLineRow) -> str:
    """Return what a surcharge costs: an amount, a share of the cost of groups, or of the sum with itself."""
    inputs = book.inputs
    amount = inputs.only("amount", line.description)
    if amount:
        return inputs.amount(amount)
    share = inputs.only("share of the cost", line.description)
    rows, own = book.document.surcharges, book.sheets.get("surcharges")
    row = next((one for one in rows if one.name == line.description), None)
    each = inputs.only("amount of each", line.description)
    if each and row is not None:
        count = own.cell(rows.index(row), "count") if own is not None else f"{row.count or 0}"
        return f"{inputs.amount(each)}*{count}"
    if share and row is not None:
        return rounded(f"{inputs.name(share)}*({costs_of(book, sheet, row.of)})", book.places)
    of_sum = inputs.only("share of the sum", line.description)
    if of_sum:
        rest = f"SUM({sheet.cells('price', (0, n))})"
        steps = [
            one
            for one in inputs.rows
            if one.subject == line.description and one.what in ("step from", "share from there")
        ]
        return rounded(_of_sum(book, rest, inputs.name(of_sum), steps), book.places)
    return ""


def _of_sum(book: LinkedBook, rest: str, share: str, steps: Sequence[PriceInputRow]) -> str:
    """Return what is a share of the rest and itself together, by steps of the whole sum."""
    inputs = book.inputs
    above = ["0", *(inputs.money(one.key) for one in steps if one.what == "step from")]
    shares = [share, *(inputs.name(one.key) for one in steps if one.what == "share from there")]
    below, amounts = "0", []
    for n, (start, one) in enumerate(zip(above, shares, strict=True)):
        amounts.append(f"({below}+{one}*({rest}-{start}))/(1-{one})")
        if n + 1 < len(above):
            below = f"{below}+{one}*({above[n + 1]}-{start})"
    found = amounts[-1]
    for amount, end in reversed(list(zip(amounts[:-1], above[1:], strict=True))):
        found = f"IF({rest}+{amount}<={end},{amount},{found})"
    return f"MAX({found},0)"


def _computed(book: LinkedBook) -> tuple[int, int]:
    """Return which lines are no surcharges and no allowances: the first, and the one behind the last."""
    return 0, sum(line.group not in OWN for line in book.document.price_lines)


def costs_of(book: LinkedBook, sheet: LinkedSheet, groups: Sequence[str]) -> str:
    """Return what the lines of some groups cost together."""
    return _sums_of(book, sheet, groups, "cost")


def _sums_of(book: LinkedBook, sheet: LinkedSheet, groups: Sequence[str], name: str) -> str:
    """Return what a column of the lines of some groups comes to."""
    rows = _computed(book)
    texts = {line.group: sheet.value(n, "group") for n, line in enumerate(book.document.price_lines)}
    return added(
        sum_where(sheet.cells(name, rows), (sheet.cells("group", rows), texts[group]))
        for group in groups
        if group in texts
    )


def _spread(book: LinkedBook) -> list[tuple[str, tuple[str, ...]]]:
    """Return key of the share and groups of each surcharge that is spread."""
    own = {line.description for line in book.document.price_lines if line.group == "surcharge"}
    found = ((book.inputs.only("share of the cost", one.name), one) for one in book.document.surcharges)
    return [(key, one.of) for key, one in found if key and one.name not in own]


def spread_over_lines(book: LinkedBook, sheet: LinkedSheet, before: int) -> None:
    """Link what is spread over each line to the surcharges that are spread.

    before: place of the column with what each line comes to without it.
    """
    lines = book.document.price_lines
    takers = [n for n, line in enumerate(lines) if line.group in LUMPS and line.rule not in FIXED]
    spread = _spread(book)
    if not takers or not spread:
        return
    rows, texts = _computed(book), {line.group: sheet.value(n, "group") for n, line in enumerate(lines)}
    computed = sheet.all_at(before)
    parts: dict[str, list[dict[int, str]]] = {"spread": [], "reserve": []}
    for key, groups in spread:
        own = [n for n in takers if lines[n].group in groups] or takers
        share = book.inputs.row(key)
        assert share is not None
        of = [line for line in lines if line.group in groups]
        prices = added(
            sum_where(computed, (sheet.cells("group"), texts[group])) for group in groups if group in texts
        )
        costs = costs_of(book, sheet, groups)
        for name, total, amount in (
            ("spread", prices, sum((line.price - line.spread for line in of), 0 * share.value)),
            ("reserve", costs, sum((line.cost for line in of), 0 * share.value)),
        ):
            one = Shared(
                rows=own,
                weights=[f"MAX({sheet.at(n, before)},0)" for n in own],
                weighed=[max(float(lines[n].price - lines[n].spread), 0.0) for n in own],
                total=_total(
                    book,
                    sheet,
                    f"{book.inputs.name(key)}*({total})",
                    f"{name} {key}",
                    float(share.value * amount),
                ),
                amount=round(float(share.value * amount), book.places),
            )
            parts[name].append(shared_out(sheet, f"{name.capitalize()}, {key}", [one], book.places))
    assert rows
    for name, found in parts.items():
        for n in takers:
            mine = [part[n] for part in found if n in part]
            sheet.put(n, name, f"ROUND({added(mine)},{book.places})")


def _total(book: LinkedBook, sheet: LinkedSheet, formula: str, heading: str, amount: float) -> str:
    """Put a total in a column of its own, on the first line, and return where it stands."""
    values = [round(amount, book.places)] + [0.0] * (len(sheet) - 1)
    place = sheet.working(
        f"Total, {heading}", values, [rounded(formula, book.places)] + [""] * (len(sheet) - 1)
    )
    return sheet.at(0, place)


def _link_schedule(book: LinkedBook, sheet: LinkedSheet) -> None:
    own = book.sheets.get("surcharges")
    lines = book.document.price_lines
    if own is None:
        return
    for n, one in enumerate(book.document.surcharges):
        key = book.inputs.only("share of the cost", one.name) or book.inputs.only(
            "share of the sum", one.name
        )
        if key:
            own.put(n, "share", book.inputs.name(key))
        each = book.inputs.only("amount of each", one.name)
        if each:
            own.put(n, "each", book.inputs.amount(each))
            if one.counted_by in COUNTED_IN_TIME:
                own.marks[n, "count"] = "planned"
        mine = [
            m for m, line in enumerate(lines) if (line.group, line.description) == ("surcharge", one.name)
        ]
        if len(mine) == 1:
            own.put(n, "cost", sheet.cell(mine[0], "cost"))
            own.put(n, "price", sheet.cell(mine[0], "price"))
        elif not mine and key:
            share = book.inputs.name(key)
            own.put(n, "cost", rounded(f"{share}*({costs_of(book, sheet, one.of)})", book.places))
            before = _sums_of(book, sheet, one.of, "price"), _sums_of(book, sheet, one.of, "spread")
            own.put(n, "price", rounded(f"{share}*({before[0]}-({before[1]}))", book.places))
    book.follows.add("surcharges")
