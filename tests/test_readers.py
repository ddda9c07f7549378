"""Who reads what, and what it is, held against a table that was judged field by field.

`readers.csv` is no output of the program. Its rules: selling prices are for client and estimator; cost, list
price, discount, margin, rates and notes of the house for the estimator alone; hours of labour, calculations
and findings with file and line for reviewer and estimator, the count of findings for the client too;
schedules with every identity for all but the client; the rest for everyone. The last
column says what a field holds (money, a share, a length …; `rows` where it holds rows), judged from its
description. Whoever adds a field judges it by hand.
"""

import csv
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import pytest

from proposal.differences.details import Detail
from proposal.differences.inputs import Inputs
from proposal.differences.told_changes import ToldChange
from proposal.document.readers import READERS, Reader, Shown
from proposal.document.rows.programme import CrewDayRow, CrewWeekRow
from proposal.document.rows.room_contents import CriterionRow
from proposal.document.rows.takeoff_sums import (
    DrawingQuantity,
    PhaseQuantity,
    RoomQuantity,
    StoreyQuantity,
    SupplierQuantity,
    SystemQuantity,
    TakeoffSum,
)
from proposal.document.schedule import ALL, HOUSE, Shows, part_in, quantities_of
from proposal.document.schedule import Row as Declaring
from proposal.document.whole_proposal import Proposal
from proposal.editions import readers_of
from tests.document.test_quantities import leaves

TABLE = Path(__file__).parent / "readers.csv"
Table = Mapping[tuple[str, str], frozenset[str]]


def lines() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def judged() -> Table:
    rows = lines()
    assert {row[reader] for row in rows for reader in READERS} == {"yes", "no"}
    twice = [name for name, count in Counter((row["row"], row["field"]) for row in rows).items() if count > 1]
    assert not twice
    return {
        (row["row"], row["field"]): frozenset(reader for reader in READERS if row[reader] == "yes")
        for row in rows
    }


def seen(*parts: type[Shown]) -> Table:
    """Return who sees each field of some parts and what they hold: who reads all that it lies in, too."""
    found: dict[tuple[str, str], frozenset[str]] = {}

    def add(part: type[Shown], above: frozenset[Reader]) -> None:
        for name, field in part.model_fields.items():
            readers = readers_of(part)[name] & above
            held = found.get((part.__name__, name))
            if held is not None and readers <= held:
                continue
            found[part.__name__, name] = readers | (held or frozenset())
            inner = part_in(field.annotation)
            if inner is not None:
                add(inner, readers)

    for part in parts:
        add(part, frozenset(READERS))
    return found


# Rows that are made of others stand in no field of a document.
SUMS = (
    RoomQuantity, PhaseQuantity, SystemQuantity, StoreyQuantity, DrawingQuantity, SupplierQuantity,
    TakeoffSum,
)  # fmt: skip
PROGRAM = seen(Proposal, Inputs, CrewDayRow, CrewWeekRow, *SUMS, Detail, ToldChange, CriterionRow)


def test_the_table_names_every_field_and_none_besides() -> None:
    assert sorted(PROGRAM.keys() - judged().keys()) == []
    assert sorted(judged().keys() - PROGRAM.keys()) == []


@pytest.mark.independent
def test_every_field_has_the_readers_that_the_table_says() -> None:
    table = judged()
    both = {name: (sorted(PROGRAM[name]), sorted(table[name])) for name in PROGRAM.keys() & table.keys()}
    assert {name: pair for name, pair in both.items() if pair[0] != pair[1]} == {}


@pytest.mark.independent
def test_every_field_holds_what_the_table_says() -> None:
    table = {(row["row"], row["field"]): row["holds"] for row in lines()}
    held = {
        (part.__name__, name): " + ".join(quantities) or "rows"
        for part in leaves(Declaring)
        if part.__module__.startswith("proposal.")
        for name, quantities in quantities_of(part).items()
    }
    both = {name: (held[name], table[name]) for name in held.keys() & table.keys()}
    assert len(both) == len(table)
    assert {name: pair for name, pair in both.items() if pair[0] != pair[1]} == {}


class Row(Declaring):
    """A row with an open field and one of the house."""

    open: Annotated[str, Shows("open", ALL)]
    kept: Annotated[str, Shows("kept", HOUSE)] = ""


class Holder(Declaring):
    """Rows for everyone."""

    rows: Annotated[tuple[Row, ...], Shows("rows", ALL, "rows")]


class Kept(Declaring):
    """Rows for the house alone."""

    rows: Annotated[tuple[Row, ...], Shows("rows", HOUSE, "rows")] = ()


def test_a_field_is_seen_by_no_more_than_see_what_it_lies_in() -> None:
    house = frozenset({"estimator"})
    assert seen(Kept) == {("Kept", "rows"): house, ("Row", "open"): house, ("Row", "kept"): house}
    assert seen(Kept, Holder)["Row", "open"] == frozenset(READERS)
    assert seen(Holder, Kept)["Row", "kept"] == house
