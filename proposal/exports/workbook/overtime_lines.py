"""Lines of overtime that come to nothing yet, where a change could give them some."""

from dataclasses import replace
from decimal import Decimal

from proposal.document.rows.price_build_up import PriceLineRow
from proposal.editions import Edition

NOTHING = Decimal(0)
OVERTIME = "labour.overtime"


def with_every_overtime_line(edition: Edition) -> Edition:
    """Return an edition whose build-up has a line of overtime for every line of hours that may have it.

    Where a share of a few hours is less than a hundredth of an hour, the price has no line for it. In a
    workbook there is one, of nothing, so that it can grow. Without
    inputs or overtime the edition stays as it is.
    """
    document = edition.document
    if not any(row.key == OVERTIME for row in document.price_inputs):
        return edition
    lines = list(document.price_lines)
    had = {_place(line): line for line in lines if line.kind == "overtime"}
    made = []
    for row in document.labour_summary:
        if row.overtime_hours:
            for line in lines:
                if (line.group, line.kind, line.phase, line.description) == (
                    "labour",
                    "hours",
                    row.phase,
                    row.trade,
                ):
                    made.append(had.get(_place(line)) or _of_nothing(line))
    if len(made) < len(had) or not made:
        return edition
    hours = [line for line in lines if line.group == "labour" and line.kind != "overtime"]
    first = lines.index(hours[-1]) + 1
    rest = [line for line in lines[first:] if line.kind != "overtime"]
    return replace(
        edition, document=document.model_copy(update={"price_lines": (*lines[:first], *made, *rest)})
    )


def _place(line: PriceLineRow) -> tuple[str, str, str, str]:
    return line.room, line.system, line.phase, line.description


def _of_nothing(line: PriceLineRow) -> PriceLineRow:
    """Return a line of overtime beside a line of hours, with none."""
    amounts = dict.fromkeys(("quantity", "cost", "reserve", "spread", "price", "tax"), NOTHING)
    return line.model_copy(update={"number": "", "kind": "overtime", "causes": (), **amounts})
