"""Lines of overtime: what each is a share of; and those that come to nothing yet, as a change could."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.price_build_up import PriceLineRow
from proposal.editions import Edition

NOTHING = Decimal(0)
OVERTIME = "overtime"


def overtime_lines(document: Document) -> Iterator[Sequence[tuple[int, int | None]]]:
    """Yield, for each row of overtime, its lines of hours and the line of overtime beside each, by place.

    document: with the build-up of the price, where lines of overtime stand in the order of both.
    There is no line of overtime where a share is less than a hundredth of an hour.
    """
    lines = document.price_lines
    had = [n for n, line in enumerate(lines) if line.kind == OVERTIME]
    for row in document.overtime:
        found: list[tuple[int, int | None]] = []
        for n, line in enumerate(lines):
            of = (line.group, line.kind, line.phase, line.description)
            if of != ("labour", "hours", row.phase, row.trade) or (row.rooms and line.room not in row.rooms):
                continue
            beside = had and _place(lines[had[0]]) == _place(line)
            found.append((n, had.pop(0) if beside else None))
        yield found


def with_every_overtime_line(edition: Edition) -> Edition:
    """Return an edition whose build-up has a line of overtime for every line of hours that may have it.

    Where a share of a few hours is less than a hundredth of an hour, the price has no line for it. In a
    workbook there is one, of nothing, so that it can grow. Without inputs or overtime the edition stays as
    it is.
    """
    document = edition.document
    if not document.price_inputs or not document.overtime:
        return edition
    lines = list(document.price_lines)
    made = [
        _of_nothing(lines[n]) if beside is None else lines[beside]
        for members in overtime_lines(document)
        for n, beside in members
    ]
    if len(made) < sum(line.kind == OVERTIME for line in lines) or not made:
        return edition
    hours = [line for line in lines if line.group == "labour" and line.kind != OVERTIME]
    first = lines.index(hours[-1]) + 1
    rest = [line for line in lines[first:] if line.kind != OVERTIME]
    return replace(
        edition, document=document.model_copy(update={"price_lines": (*lines[:first], *made, *rest)})
    )


def _place(line: PriceLineRow) -> tuple[str, str, str, str]:
    return line.room, line.system, line.phase, line.description


def _of_nothing(line: PriceLineRow) -> PriceLineRow:
    """Return a line of overtime beside a line of hours, with none."""
    amounts = dict.fromkeys(("quantity", "cost", "reserve", "spread", "price", "tax"), NOTHING)
    return line.model_copy(update={"number": "", "kind": OVERTIME, "causes": (), **amounts})
