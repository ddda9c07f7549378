"""The take-off added up by anything comes to the same totals, and to what a pivot of its table gives."""

from collections import Counter
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.readers import Reader
from proposal.document.rows.takeoff_sums import KINDS
from proposal.editions import edition_of
from proposal.exports.table import Table, schedules
from proposal.model.loading import load_project
from proposal.pipeline import compute

PROJECT = Path(__file__).resolve().parents[1] / "projects" / "us_customary"
SHEETS = {
    "room": "quantities-by-room",
    "phase": "quantities-by-phase",
    "system": "quantities-by-system",
    "storey": "quantities-by-storey",
    "drawings": "quantities-by-drawing",
    "supplier": "quantities-by-supplier",
}


@cache
def document() -> Document:
    return document_of(compute(load_project(PROJECT)))


def tables(reader: Reader) -> dict[str, Table]:
    return {one.name: one for one in schedules(edition_of(document(), reader))}


def pivot(table: Table, names: tuple[str, ...], value: str) -> Counter[tuple[str, ...]]:
    """Return the sums of a column by the values of others, as whoever has the file alone would make them."""
    place = {column.name: n for n, column in enumerate(table.columns)}
    found: Counter[tuple[str, ...]] = Counter()
    for row in table.rows:
        found[tuple(str(row[place[name]] or "") for name in names)] += Decimal(str(row[place[value]] or 0))
    return found


@pytest.mark.independent
@pytest.mark.parametrize("by", KINDS)
def test_each_is_the_pivot_of_the_lines_and_comes_to_their_total(by: str) -> None:
    held = tables("estimator")
    keys = ("section", "item", "unit")
    lines, sums = held["takeoff"], held[SHEETS[by]]
    wanted = pivot(lines, (by, *keys), "quantity")
    parts = [pivot(sums, ("key", *keys), name) for name in ("pieces", "laid", "from_reels")]
    assert sum(parts, Counter()) == wanted
    assert pivot(sums, ("key", *keys), "cost") == pivot(lines, (by, *keys), "cost")
    assert len(sums.rows) == len(wanted)
    assert pivot(sums, (), "cost")[()] == document().materials_cost


@pytest.mark.parametrize("by", KINDS)
def test_no_column_holds_pieces_and_lengths_or_a_cable_and_its_reels(by: str) -> None:
    sums = tables("estimator")[SHEETS[by]]
    at = {column.name: n for n, column in enumerate(sums.columns)}
    found = set()
    for row in sums.rows:
        (held,) = (name for name in ("pieces", "laid", "from_reels") if row[at[name]] is not None)
        found.add((held, row[at["unit"]], row[at["section"]] == "reels"))
    assert found == {("pieces", "each", False), ("laid", "m", False), ("from_reels", "m", True)}


@pytest.mark.independent
@pytest.mark.parametrize("by", KINDS)
def test_the_sums_are_those_of_the_lines_and_of_labour(by: str) -> None:
    rows = [one for one in document().takeoff_sums if one.by == by]
    assert len(rows) > 1
    assert sum((one.cost or Decimal(0) for one in rows), Decimal(0)) == document().materials_cost
    assert sum(one.lines for one in rows) == len(document().takeoff)
    if by in ("drawings", "supplier"):
        assert {one.hours for one in rows} == {None}
        return
    held = tables("estimator")
    assert pivot(held["labour"], (by,), "charged_hours") == Counter(
        {("building" if by == "room" and not one.key else one.key,): one.hours for one in rows if one.hours}
    )


@pytest.mark.independent
def test_devices_in_racks_stand_on_the_storey_of_the_rack_and_not_of_the_room_they_serve() -> None:
    """Deliveries follow the storey: a mixer for a room on the second floor may stand in a rack below."""
    stands = {one.tag: one.storey for one in document().devices}
    rooms = {one.tag: one.storey for one in document().rooms}
    elsewhere = 0
    for row in document().takeoff:
        if row.section == "equipment":
            (storey,) = {stands[cause] for cause in row.causes}
            assert row.storey == storey, row.number
            elsewhere += rooms.get(row.room, storey) != storey
    assert elsewhere > 0
    racks = {one.tag for one in document().racks}
    inside = {one.tag for one in document().devices if one.location in racks}
    leads = {one.identity: stands[one.from_tag] for one in document().cables if one.from_tag in inside}
    of_leads = [row for row in document().takeoff if row.causes and leads.keys() >= set(row.causes)]
    assert {row.section for row in of_leads} >= {"cable", "reels"}
    assert all({row.storey} == {leads[cause] for cause in row.causes} for row in of_leads)
    assert any(rooms.get(row.room, row.storey) != row.storey for row in of_leads)


def test_whoever_sees_no_cost_reads_quantities_alone_and_no_supplier() -> None:
    held = tables("installer")
    assert "cost" not in {column.name for column in held["quantities-by-room"].columns}
    assert SHEETS["supplier"] not in held
    assert "supplier" not in {row[0] for row in held["takeoff-sums"].rows}
    assert not {name for name in tables("client") if name.startswith(("quantities", "takeoff"))}
