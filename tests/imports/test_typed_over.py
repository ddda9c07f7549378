"""What was typed beside the inputs of the workbook is told, cell by cell, as it cannot come back."""

import re
from decimal import Decimal

import pytest

from proposal.errors import InputError
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.imports.typed_over import (
    NOT_COMPUTED,
    Typed,
    agrees,
    is_same_state,
    overwritten,
    refuse_quantities,
    shown_total,
    told_totals_apart,
    told_typed,
    typed_over,
)
from tests.exports.workbook.price_sheets import tables_of
from tests.exports.workbook.test_book import cells
from tests.exports.workbook.test_room_counts import edition as counted
from tests.exports.workbook.test_spare_allowances import book, document
from tests.imports.spoilt_books import edited, parts_of


def sheet_file(name: str, made: bytes) -> str:
    names = re.findall(r'<sheet name="([^"]+)"', parts_of(made)["xl/workbook.xml"].decode())
    return f"xl/worksheets/sheet{names.index(name) + 1}.xml"


def with_value(sheet: str, cell: str, value: str, made: bytes = b"") -> bytes:
    """Return a workbook with a number in a cell, whatever stood there, and nothing computed anew."""
    data, pattern = made or book(), rf'(<c r="{cell}"[^>]*>)(?:<f>[^<]*</f>)?<v>[^<]*</v>'
    return edited(
        data, sheet_file(sheet, data), lambda text: re.sub(pattern, rf"\g<1><v>{value}</v>", text, count=1)
    )


def typed(data: bytes) -> tuple[Typed, ...]:
    found = typed_over(data, "book.xlsx", book())
    assert found is not None
    return found


def cell_below(sheet: str, head: str, formula: str = "") -> str:
    """Return the first cell below a head, of those with a formula that begins so."""
    found = cells(book())[sheet]
    column = next(
        at.removesuffix("1") for at, (text, _) in found.items() if text == head and at.endswith("1")
    )
    return next(
        at
        for at, (value, written) in found.items()
        if value
        and re.fullmatch(rf"{column}[0-9]+", at)
        and at != f"{column}1"
        and written.startswith(formula)
    )


def test_nothing_is_said_of_a_workbook_that_shows_what_its_inputs_come_to() -> None:
    price = document().price
    assert price is not None
    assert shown_total(book(), "book.xlsx") == price.total
    assert agrees(price.total, price.total, "USD")
    assert not agrees(price.total, price.total + Decimal("0.01"), "USD")
    assert not agrees(None, price.total, "USD")
    assert typed_over(book(), "book.xlsx", book()) == ()


def test_a_cost_typed_over_is_named_with_the_input_to_change() -> None:
    at = cell_below("What is bought", "Unit cost (USD)", "in_library")
    (one,) = typed(with_value("What is bought", at, "7"))
    refuse_quantities((one,), "book.xlsx")
    assert str(one).startswith(f"What is bought!{at}, Unit cost (USD) of ")
    assert str(one).endswith(
        "a formula became 7; change library.DR-MT-B.cost or terms.exchange.EUR.rate on the sheet Inputs"
    )


@pytest.mark.parametrize(
    ("sheet", "head", "instead"),
    [
        ("Takeoff", "Quantity", "spare_microphones"),
        ("Takeoff", "Cut length (ft)", "under cables in fixed.yaml"),
        ("What is bought", "Bought", "rooms.csv"),
    ],
)
def test_a_quantity_typed_over_is_refused_with_where_it_is_changed(
    sheet: str, head: str, instead: str
) -> None:
    at = cell_below(sheet, head)
    (one,) = typed(with_value(sheet, at, "4321"))
    with pytest.raises(InputError) as refused:
        refuse_quantities((one,), "book.xlsx")
    (told,) = map(str, refused.value.problems)
    assert told.startswith(f"book.xlsx: {sheet}!{at}: {head} of ")
    assert "; found 4321; " in told
    assert instead in told


def test_of_a_workbook_that_nobody_computed_anew_no_cell_is_named() -> None:
    rate = "labour.rates.installer.cost"
    at = next(place for place, (text, _) in cells(book())["Inputs"].items() if text == rate)
    found = typed(with_value("Inputs", f"C{at[1:]}", "99"))
    assert found == ()
    assert list(told_typed(found)) == [NOT_COMPUTED]
    assert told_totals_apart(None, Decimal(5), "USD").startswith(
        "the workbook shows no total that was computed"
    )


def test_a_workbook_with_other_inputs_is_not_compared() -> None:
    """Its formulas may be others too, and are nothing that anybody typed."""
    at = cell_below("Inputs", "Key")
    data = edited(
        book(),
        sheet_file("Inputs", book()),
        lambda text: re.sub(
            rf'<c r="{at}"[^>]*><v>[^<]*</v></c>',
            f'<c r="{at}" t="inlineStr"><is><t>another.key</t></is></c>',
            text,
            count=1,
        ),
    )
    assert typed_over(data, "book.xlsx", book()) is None


def of_another_state(data: bytes) -> bytes:
    """Return a workbook as another version of the program would have made it: another state, another text."""
    state = cells(data)["Contents"]
    (at,) = (f"B{name[1:]}" for name, (text, _) in state.items() if text == "State" and name[0] == "A")
    return edited(
        data,
        sheet_file("Contents", data),
        lambda text: re.sub(
            rf'<c r="{at}"([^>]*?) t="s"><v>[^<]*</v></c>',
            rf'<c r="{at}"\1 t="inlineStr"><is><t>0123456789ab</t></is></c>',
            text,
            count=1,
        ),
    )


def test_a_workbook_tells_by_its_state_whether_cells_can_be_compared() -> None:
    at = cell_below("What is bought", "Unit cost (USD)", "in_library")
    assert is_same_state(with_value("What is bought", at, "7"), "book.xlsx", book())
    assert not is_same_state(of_another_state(book()), "book.xlsx", book())


def test_of_another_state_a_number_in_a_column_of_formulas_alone_is_told() -> None:
    """Numbers of another version differ from ours everywhere; what stands among formulas was typed."""
    at = cell_below("What is bought", "Cost (USD)")
    data = of_another_state(with_value("What is bought", at, "480"))
    found = overwritten(data, "book.xlsx", book())
    assert [(one.cell, one.now) for one in found] == [(f"What is bought!{at}", "480")]
    assert overwritten(of_another_state(book()), "book.xlsx", book()) == ()


def test_a_quantity_typed_over_is_refused_in_a_workbook_of_another_state_too() -> None:
    """So it is in the second round, where the first one has changed the project since the export.

    What counts the room is a formula in every workbook, whatever state it is of.
    """
    made = workbook(counted(), tables_of(schedules(counted())))
    at = next(at for at, (_, formula) in cells(made)["Takeoff"].items() if "in_rooms_" in formula)
    data = of_another_state(with_value("Takeoff", at, "4321", made))
    found = overwritten(data, "book.xlsx", made)
    assert [(one.cell, one.field, one.now) for one in found] == [(f"Takeoff!{at}", "Quantity", "4321")]
    with pytest.raises(InputError, match="found 4321; a quantity is counted from the design"):
        refuse_quantities(found, "book.xlsx")
    assert overwritten(of_another_state(made), "book.xlsx", made) == ()
