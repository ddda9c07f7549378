"""Hours, linked from what a unit takes to what is charged for it, and the rates of trades."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from proposal.document.rows.labour import LabourRow, TradeHoursRow
from proposal.exports.workbook.formulas import (
    added,
    by_rule,
    multiplied,
    number,
    rounded,
    rounded_up,
    sum_where,
)
from proposal.exports.workbook.linked_book import HOURS_PLACES, LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.shares import Shared, shared_out
from proposal.quantities import formatting

HOURS_A_METRE = 5
SHARE_PLACES = 3
HOURS = ("hours", "hours of a further one", "share of hours")


def link_labour(book: LinkedBook) -> None:
    """Link hours of lines to the inputs, what is charged to the lines, and all sums of hours to both."""
    sheet, rows = book.sheets["labour"], book.document.labour
    counted = sheet.working(
        "Hours of units, without shares",
        [0.0 if row.unit == "h" else float(row.hours) for row in rows],
        ["" if row.unit == "h" else sheet.cell(n, "hours") for n, row in enumerate(rows)],
    )
    for n, row in enumerate(rows):
        _link_line(book, sheet, n, row, counted)
    if "labour-summary" in book.sheets:
        _link_summary(book)
        _share_what_is_charged(book)
        book.follows |= {"labour", "labour-summary"}


def _link_line(book: LinkedBook, sheet: LinkedSheet, n: int, row: LabourRow, counted: int) -> None:
    inputs = book.inputs
    key = _hours_key(book, row)
    if key:
        held = inputs.row(key)
        assert held is not None
        one = inputs.name(key)
        each = one if held.pieces == 1 else rounded(f"{one}/{number(held.pieces)}", HOURS_A_METRE)
        sheet.put(n, "hours_a_unit", each)
    if row.unit == "h":
        phases = sorted({one.phase for one in book.document.labour if one.unit != "h"} & _phases(book, row))
        texts = {one.phase: sheet.value(m, "phase") for m, one in enumerate(book.document.labour)}
        parts = [sum_where(sheet.all_at(counted), (sheet.cells("phase"), texts[phase])) for phase in phases]
        sheet.put(n, "units", added(parts))
    factor = [one.key for one in inputs.rows if one.what == "group factor" and one.value == row.group_factor]
    if row.group_factor != 1 and len(factor) == 1:
        sheet.put(n, "group_factor", inputs.name(factor[0]))
    sheet.put(n, "addition", added(_additions(book, row)))
    factors = [sheet.cell(n, name) for name in ("units", "hours_a_unit", "group_factor")]
    sheet.put(n, "hours", rounded(f"{'*'.join(factors)}*(1+{sheet.cell(n, 'addition')})", HOURS_PLACES))


def _phases(book: LinkedBook, row: LabourRow) -> set[str]:
    """Return the phases of the tasks whose hours a share is taken of."""
    names = {
        one.key.split(".")[2]: one.subject for one in book.inputs.rows if one.key.startswith("labour.tasks.")
    }
    tasks = {names.get(cause, "") for cause in row.causes}
    return {one.phase for one in book.document.labour if one.task in tasks and one.unit != "h"}


def _hours_key(book: LinkedBook, row: LabourRow) -> str:
    """Return the key of the input that the hours of a unit come from; empty where that is not certain."""
    found = []
    for one in book.inputs.rows:
        if one.what in HOURS and one.subject == row.task:
            each = one.value if one.pieces == 1 else formatting.rounded(one.value / one.pieces, HOURS_A_METRE)
            if each == row.hours_a_unit:
                found.append(one.key)
    return found[0] if len(found) == 1 else ""


def _additions(book: LinkedBook, row: LabourRow) -> Iterator[str]:
    """Yield what each condition of a line adds, as a formula; as a number where no input is certain."""
    inputs = book.inputs
    for name, share in row.additions:
        upper = inputs.row(inputs.only("condition", name))
        reduced = inputs.only("reduction", name, -share)
        exact = inputs.only("condition", name, share)
        if reduced:
            yield f"(-{inputs.name(reduced)})"
        elif exact:
            yield inputs.name(exact)
        elif upper is not None and upper.value and share % upper.value == 0:
            yield f"{number(share / upper.value)}*{inputs.name(upper.key)}"
        else:
            yield f"({number(share)})"


def _link_summary(book: LinkedBook) -> None:
    sheet, lines = book.sheets["labour-summary"], book.sheets["labour"]
    for n, row in enumerate(book.document.labour_summary):
        where = [(lines.cells(name), sheet.value(n, name)) for name in ("phase", "trade")]
        sheet.put(n, "line_hours", sum_where(lines.cells("hours"), *where))
        sheet.put(n, "factor", multiplied([_factor(book, name, value) for name, value in row.factors]))
        worked = rounded(f"{sheet.cell(n, 'line_hours')}*{sheet.cell(n, 'factor')}", HOURS_PLACES)
        least = book.inputs.name(book.inputs.only("minimum call", row.trade))
        if row.person_days and least:
            call = f"IF({worked}=0,0,MAX(ROUND(ROUND({least},{HOURS_PLACES})-{worked},{HOURS_PLACES}),0))"
            sheet.put(n, "call_hours", call)
        sheet.put(n, "hours", f"ROUND({worked}+{sheet.cell(n, 'call_hours')},{HOURS_PLACES})")
        _link_days(book, sheet, n, row)


def _factor(book: LinkedBook, name: str, value: Decimal) -> str:
    key = book.inputs.only("condition", name, value - 1)
    return f"1+{book.inputs.name(key)}" if key else number(value)


def _link_days(book: LinkedBook, sheet: LinkedSheet, n: int, row: TradeHoursRow) -> None:
    inputs, hours = book.inputs, sheet.cell(n, "hours")
    shorter = row.hours_a_day is not None
    day = sheet.cell(n, "hours_a_day") if shorter else inputs.name("programme.hours_a_day")
    if not row.person_days:
        return
    if day:
        sheet.put(n, "person_days", rounded_up(f"{hours}/{day}"))
    over = book.sheets.get("overtime")
    if over is not None:
        where = [(over.cells(name), sheet.value(n, name)) for name in ("phase", "trade")]
        sheet.put(n, "overtime_hours", sum_where(over.cells("hours"), *where))


def _share_what_is_charged(book: LinkedBook) -> None:
    """Link what each line is charged to the summary, which its lines share."""
    sheet, summary, rows = book.sheets["labour"], book.sheets["labour-summary"], book.document.labour
    shared = []
    for n, one in enumerate(book.document.labour_summary):
        members = [m for m, row in enumerate(rows) if (row.phase, row.trade) == (one.phase, one.trade)]
        if members:
            shared.append(
                Shared(
                    rows=members,
                    weights=[sheet.cell(m, "hours") for m in members],
                    weighed=[float(rows[m].hours) for m in members],
                    total=summary.cell(n, "hours"),
                    amount=float(one.hours),
                )
            )
    for m, part in shared_out(sheet, "Charged hours", shared, HOURS_PLACES).items():
        sheet.put(m, "charged_hours", part)


def link_overtime(book: LinkedBook) -> None:
    """Link the hours outside normal working time to what is charged for the work that they are part of."""
    sheet, lines = book.sheets.get("overtime"), book.sheets["labour"]
    for n, row in enumerate(book.document.overtime if sheet else ()):
        assert sheet is not None
        share = book.inputs.name(book.inputs.only("overtime", row.work, row.share))
        if share:
            sheet.put(n, "share", share)
        where = [(lines.cells(name), sheet.value(n, name)) for name in ("phase", "trade")]
        rooms: Sequence[str] = row.rooms
        worked = added(
            sum_where(lines.cells("charged_hours"), *where, *([(lines.cells("room"), room)] if room else []))
            for room in rooms or ("",)
        )
        sheet.put(n, "hours", rounded(f"({worked})*{sheet.cell(n, 'share')}", HOURS_PLACES))
        book.follows.add("overtime")


def link_travel(book: LinkedBook) -> None:
    """Link days and hours of travel to the summary of labour."""
    sheet, summary = book.sheets.get("travel"), book.sheets["labour-summary"]
    each = book.inputs.name("labour.travel.hours_a_day")
    if sheet is None or not each:
        return
    for n in range(len(sheet)):
        where = (summary.cells("trade"), sheet.value(n, "trade"))
        sheet.put(n, "days", sum_where(summary.cells("person_days"), where))
        sheet.put(n, "hours", rounded(f"{sheet.cell(n, 'days')}*{each}", HOURS_PLACES))


def link_rates(book: LinkedBook) -> None:
    """Link what an hour of each trade costs and sells for to the inputs."""
    sheet, lines = book.sheets["trades"], book.document.price_lines
    rules = {line.description: line.rule_from for line in lines if line.kind == "hours"}
    for n, row in enumerate(book.document.trades):
        key = book.inputs.only("cost of an hour", row.trade)
        if not key or row.trade not in rules or book.inputs.value(key) != row.cost:
            continue
        sheet.put(n, "cost", book.inputs.money(key))
        sort, value = book.inputs.rule(rules[row.trade])
        selling = value if sort == "stated" else by_rule(sort, value, sheet.cell(n, "cost"), "0", book.places)
        sheet.put(n, "selling", selling)
        call = book.inputs.name(book.inputs.only("minimum call", row.trade))
        if call:
            sheet.put(n, "minimum_call_hours", call)
        if row.rule_value is not None and sort:
            sheet.put(n, "rule_value", value)


def link_hours_sums(book: LinkedBook) -> None:
    """Link the hours of rooms, systems, phases and trades to the lines and to travel."""
    lines, travel = book.sheets["labour"], book.sheets.get("travel")
    travelled = f"SUM({travel.cells('hours')})" if travel else "0"
    for name, by, rows, own in (
        ("hours-by-room", "room", book.document.hours_by_room, ""),
        ("hours-by-system", "system", book.document.hours_by_system, "services"),
        ("hours-by-phase", "phase", book.document.hours_by_phase, "travel"),
    ):
        sheet = book.sheets.get(name)
        texts = {getattr(row, by): lines.value(m, by) for m, row in enumerate(book.document.labour)}
        for n, row in enumerate(rows if sheet else ()):
            assert sheet is not None
            parts = (
                [sum_where(lines.cells("charged_hours"), (lines.cells(by), texts[row.key]))]
                if row.key in texts
                else []
            )
            sheet.put(n, "hours", added([*parts, *([travelled] if row.key == own else [])]))
            share = f"{sheet.cell(n, 'hours')}/SUM({sheet.cells('hours')})"
            sheet.put(n, "share", rounded(share, SHARE_PLACES))
        book.follows.add(name)
    sheet = book.sheets["trades"]
    for n in range(len(sheet)):
        parts = [sum_where(lines.cells("charged_hours"), (lines.cells("trade"), sheet.value(n, "trade")))]
        if travel:
            parts.append(sum_where(travel.cells("hours"), (travel.cells("trade"), sheet.value(n, "trade"))))
        sheet.put(n, "hours", added(parts))
    book.follows |= {"trades", "travel"}
