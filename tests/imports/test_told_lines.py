"""Of an answered request nothing is dropped without a word, and all that is wrong is told at once."""

from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.exports.quote_files import HEADS
from proposal.imports.list_figures import lead_time_in
from proposal.imports.price_changes import PriceChanges, price_changes
from proposal.imports.price_lists import ReadList, read_price_list
from proposal.imports.quote_form import FORM, OPTIONAL, OURS
from proposal.imports.told_lines import told_answer, told_counts
from proposal.imports.xlsx_sheets import Cell
from proposal.model.equipment.materials import Cable
from proposal.model.loading import load_project
from proposal.model.project import Project

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
SUPPLIER = "Anytown Wholesale (invented)"


@cache
def minimal_project() -> Project:
    return load_project(MINIMAL)


@cache
def models() -> tuple[str, str, str]:
    """Return three things of the library that are sold one by one and have no reels."""
    found = [one for one in minimal_project().library.entries() if one.unit == "each"]
    return tuple(one.model for one in found if not isinstance(one, Cable))[:3]  # type: ignore[return-value]


def answer(*lines: Mapping[str, object], sign: str = ",", more: str = "") -> bytes:
    """Return an answered request, a line each of what is said of it."""
    heads = [*(head for head, _ in HEADS), *([more] if more else [])]
    about = {"Supplier": SUPPLIER, "Currency": "EUR", "Quoted on": "2031-04-10", "Sold as": "each"}
    rows = [[str({**about, **line}.get(head, "")) for head in heads] for line in lines]
    return "\n".join(sign.join(row) for row in (heads, *rows)).encode()


def place(data: bytes, line: int, head: str) -> str:
    """Return where the cell below a head stands: its line, and the signs before it and one."""
    rows = data.decode().split("\n")
    before = rows[line - 1].split(",")[: rows[0].split(",").index(head)]
    return f"answer.csv:{line}:{sum(len(cell) + 1 for cell in before) + 1}"


def read(data: bytes) -> ReadList:
    return read_price_list(data, "answer.csv", FORM, optional=OPTIONAL, ours=OURS)


def changes(found: ReadList, project: Project | None = None) -> PriceChanges:
    return price_changes(found.lines, FORM, project or minimal_project(), {}, "library", "project")


def cost(model: str) -> str:
    return f"{minimal_project().library.entry(model).cost.amount:.2f}"


def test_each_line_of_an_answer_is_taken_or_told() -> None:
    first, second, third = models()
    data = answer(
        {"Model": first, "Price of one": cost(first), "Quantity": 30, "Lead time (days)": "6-8 weeks"},
        {"Model": f"{second}-B", "Article": "NEW-7", "Price of one": "9", "Remark": f"in place of {second}"},
        {"Description": "Delivery", "Price of one": "75"},
        {"Model": third, "Colour": "grey"},
        more="Colour",
    )
    found = read(data)
    taken = changes(found)
    asked = {(SUPPLIER, model): {"each": 3} for model in models()}
    told = [*told_counts(len(found.lines), taken), *told_answer(found, taken, asked)]
    assert told == [
        "3 lines read: 0 prices change, 1 stays as it is, 1 lead time changes",
        f"{place(data, 3, 'Article')}"
        f": NEW-7 is not in the library: {second} was asked for and is not answered; if this "
        f"is what takes its place, describe it in library/, or write {second} into the column Model, and "
        "import again",
        f"asked and not answered: {second}",
        f"{place(data, 2, 'Quantity')}"
        f": {first}: 3 asked for, and 30 quoted; 3 are priced, as the take-off counts them",
        f"without a price: {third} (line 5)",
        f"{place(data, 4, 'Price of one')}"
        f": Delivery, 75 EUR, is of no article and is not in the price; a charge goes into "
        "project.yaml under price.surcharges, or into the inputs as a further allowance",
        "columns that nobody reads: Colour",
        f"remark, to be read by you: in place of {second} ({second}-B, line 3)",
    ]
    (days,) = (one for one in taken.changes if one.where.path[-1] == "lead_time_days")
    assert (days.where.path[1], days.value) == (first, "56")


def test_all_that_is_wrong_with_an_answer_is_told_at_once() -> None:
    """A day, a price in words, a currency without a rate and a slip of the decimal mark: in one list."""
    first, second, third = models()
    data = answer(
        {"Model": first, "Price of one": cost(first), "Quoted on": "10 April"},
        {"Model": second, "Price of one": "on request"},
        {"Model": second, "Price of one": "9", "Currency": "NOK"},
        {"Model": third, "Price of one": float(cost(third)) * 10, "Lead time (days)": "soon"},
    )
    found = read(data)
    with pytest.raises(InputError) as refused:
        changes(found)
    told = [str(one) for one in InputError([*found.problems, *refused.value.problems]).problems]
    wanted = (
        f"{place(data, 2, 'Quoted on')}: Quoted on: wanted a day as YYYY-MM-DD; found 10 April",
        f"{place(data, 3, 'Price of one')}: Price of one: wanted a number such as 1234.50; found on request",
        f"{place(data, 4, 'Currency')}"
        f": {second}: wanted a currency with a rate; found NOK, and nothing under",
        f"{place(data, 5, 'Price of one')}"
        f": {third}: wanted a price near that of {third}, {cost(third)} EUR for one piece",
        f"{place(data, 5, 'Lead time (days)')}"
        f": Lead time (days): wanted calendar days or weeks, such as 42 or 6 weeks, at most",
    )
    assert len(told) == len(wanted)
    assert all(one.startswith(beginning) for one, beginning in zip(told, wanted, strict=True)), told
    assert "say so in its column Sold as or Holds; if it is right, call again with --confirm" in told[3]


@pytest.mark.parametrize(
    ("price", "day", "wanted"),
    [
        ("561,50", "10.04.2031", "561.50"),
        ("4.300,00", "2031-04-10", "4300"),
        ("561.50", "2031-04-10", "561.5"),
    ],
)
def test_decimal_commas_are_read_where_semicolons_part_columns(price: str, day: str, wanted: str) -> None:
    line = {"Model": models()[0], "Price of one": price, "Quoted on": day}
    (found,) = read(answer(line, sign=";")).lines
    assert (found.price, f"{found.priced_on}") == (Decimal(wanted), "2031-04-10")


@pytest.mark.parametrize(
    ("text", "weeks", "days"),
    [
        ("42", False, 42),
        ("6", True, 42),
        ("6 weeks", False, 42),
        ("6\u20138 wk", False, 56),
        ("ten", False, None),
    ],
)
def test_lead_times_are_in_calendar_days_and_the_longest_counts(
    text: str, weeks: bool, days: int | None
) -> None:
    assert lead_time_in(Cell("", "text", text), weeks=weeks) == days
