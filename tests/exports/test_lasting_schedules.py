"""What the schedules of `issued/latest/` leave out can be worked out of what they hold."""

import math
from collections import Counter
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest

from proposal.document.document import Document
from proposal.document.schedule import columns_of, parts_of
from proposal.editions import Edition, edition_of
from proposal.exports.table import Table, lasting_schedules
from tests.design.making import EXAMPLE, PROJECTS, project_of

PLACES = ("example", "us")
Rows = list[dict[str, Any]]


@pytest.fixture(scope="module")
def lasting(estimator: dict[str, Edition]) -> dict[str, dict[str, Rows]]:
    """Rows of each schedule that lasts, by project and schedule."""
    return {
        project: {table.name: rows_of(table) for table in lasting_schedules(edition)}
        for project, edition in estimator.items()
    }


def rows_of(table: Table) -> Rows:
    names = [column.name for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in table.rows]


def following(document: Document) -> Iterator[tuple[str, str]]:
    for part in parts_of(type(document)):
        for column in columns_of(part).values():
            if column.shows.follows:
                yield part.__name__, column.name


def test_nothing_that_follows_is_there(
    lasting: dict[str, dict[str, Rows]], documents: dict[str, Document]
) -> None:
    left_out = set(following(documents["example"]))
    assert {("Document", "cash_flow"), ("PriceLineRow", "spread"), ("RoomSheet", "flow_nodes")} <= left_out
    found = lasting["example"]
    assert (
        not {"cash-flow", "room-sheets-flow-nodes", "programme-events", "price-sum", "hours-sum"}
        & found.keys()
    )
    assert not {"spread", "price", "tax", "quantity", "room"} & found["price-lines"][0].keys()
    assert "unit_price" in found["price-lines"][0]


@pytest.mark.parametrize("name", ["price-lines", "settings", "controls", "workings"])
def test_what_is_said_of_many_things_alike_stands_once(
    lasting: dict[str, dict[str, Rows]], name: str
) -> None:
    for project in PLACES:
        rows = [tuple(row.values()) for row in lasting[project][name]]
        assert len(set(rows)) == len(rows)
    # One more of it then changes no other row.
    assert [row["value"] for row in lasting["example"]["settings"] if row["name"] == "VLAN"] == ["408"]


@pytest.fixture(params=PLACES)
def project(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def rows(lasting: dict[str, dict[str, Rows]], project: str) -> dict[str, Rows]:
    return lasting[project]


@pytest.fixture
def document(documents: dict[str, Document], project: str) -> Document:
    document: Document = edition_of(documents[project], "estimator").document
    return document


def test_cables_by_type_and_by_room(rows: dict[str, Rows], document: Document) -> None:
    cables = rows["cables"]
    assert Counter(cable["type"] for cable in cables) == {
        one.type: one.count for one in document.cable_totals
    }
    # A lead inside a rack leaves its equipment room as little as a cable within a room leaves that.
    served_by = {room.tag: room.equipment_room for room in document.rooms}
    in_room = Counter(
        (served_by[cable["room"]] if cable["route"] == "in the rack" else cable["room"], cable["description"])
        for cable in cables
    )
    told: Counter[tuple[str, str]] = Counter()
    for line in document.riser_lines:
        told[line.room, line.description] += line.count
    assert in_room == told


def test_contents_of_pathways(rows: dict[str, Rows], document: Document) -> None:
    found = Counter(
        (pathway, cable["type"])
        for cable in rows["cables"]
        for pathway in filter(None, (cable["pathways"] or "").split(", "))
    )
    assert found == {(one.pathway, one.type): one.count for one in document.pathway_contents}


def test_how_full_pathways_are(rows: dict[str, Rows], document: Document, project: str) -> None:
    """Of trays and conduits in which nothing is kept apart, from the cables and their diameters.

    Areas of conduits are printed in whole mm² beside diameters of a tenth of a millimetre: to half of it in
    15.8 mm, twice, they are the same.
    """
    library = project_of(EXAMPLE if project == "example" else PROJECTS / "us_customary").library
    judged = 0
    for pathway in document.pathways:
        tray = (pathway.width_m or 0) * (pathway.depth_m or 0)
        inside = tray or math.pi / 4 * (pathway.internal_diameter_m or 0) ** 2
        if not inside or pathway.divided or pathway.fill is None:
            continue
        diameters = [
            library.entry(cable["type"]).outside_diameter  # type: ignore[attr-defined] # of a cable
            for cable in rows["cables"]
            if pathway.tag in (cable["pathways"] or "").split(", ")
        ]
        filled = math.pi / 4 * sum(diameter**2 for diameter in diameters) / inside
        assert pathway.fill == pytest.approx(filled, rel=1e-6 if tray else 2 * 0.05 / 15.8), pathway.tag
        judged += 1
    assert judged > 0


def test_equipment_by_model(rows: dict[str, Rows], document: Document) -> None:
    # What the owner furnishes has no model of the library.
    devices = [device for device in rows["devices"] if device["model"]]
    counted = {one.model: one.quantity for one in document.equipment}
    # What goes with microphones is no device: it stands in the take-off.
    accessories = [line for line in rows["takeoff"] if line["section"] == "accessories"]
    found = Counter(device["model"] for device in devices)
    for line in accessories:
        found[line["item"]] += int(line["quantity"])
    assert found == counted
    costs: dict[str, Decimal] = {}
    for line in accessories:
        costs[line["item"]] = costs.get(line["item"], Decimal(0)) + line["quantity"] * line["unit_cost"]
    for device in devices:
        costs[device["model"]] = costs.get(device["model"], Decimal(0)) + (device["unit_cost"] or Decimal(0))
    assert costs == {one.model: one.cost for one in document.equipment}


def test_hours_of_a_trade_in_a_phase(rows: dict[str, Rows], document: Document) -> None:
    found: dict[tuple[str, str], Decimal] = {}
    for line in rows["labour"]:
        key = (line["phase"], line["trade"])
        found[key] = found.get(key, Decimal(0)) + line["hours"]
    assert found == {(one.phase, one.trade): one.line_hours for one in document.labour_summary}


def test_what_equipment_and_materials_cost(rows: dict[str, Rows], document: Document) -> None:
    """What is bought in wholes costs what it was bought for; of all else each line, to the cent."""
    costs = [one.cost for one in document.price_lines if one.group in ("equipment", "materials")]
    bought = {(one["section"], one["item"]) for one in rows["purchases"]}
    found = sum(one["cost"] for one in rows["purchases"])
    for line in rows["takeoff"]:
        if (line["section"], line["item"]) not in bought:
            share = line["waste"] + (0 if line["spoilage_only"] else 1)
            exact = line["quantity"] * share * (line["unit_cost"] or 0)
            found += exact.quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert found == sum(costs)


def test_power_and_ports_of_switches(rows: dict[str, Rows], document: Document) -> None:
    for switch in document.switches:
        ports = [port for port in rows["ports"] if port["switch"] == switch.tag]
        used = [one for one in ports if one["device"] != "spare" and not one["port"].startswith("U")]
        assert len(used) == switch.used
        assert sum(port["allocated_w"] for port in ports) == pytest.approx(switch.allocated_w)


def test_days_that_matter(rows: dict[str, Rows], document: Document) -> None:
    assert document.programme is not None
    days = {row["key"]: row["finish"] for row in rows["activities"]}
    assert {one.key: days[one.key] for one in document.programme.events} == {
        one.key: one.date for one in document.programme.events
    }


def test_prices_of_further_things(rows: dict[str, Rows], document: Document) -> None:
    stated = {
        (row["to"], row["item"] or "", row["description"]): row["stated"]
        for row in rows["unit-costs"]
        if row["stated"] is not None
    }
    assert stated == {(one.to, one.item, one.description): one.price for one in document.unit_prices}


def test_needs_of_rooms(rows: dict[str, Rows], document: Document) -> None:
    needs = {(row["key"], row["kind"]): row["need"] for row in rows["room-sheets-sizes"]}
    for sheet in document.room_sheets:
        assert needs[sheet.key, "access point"] == sheet.channels_needed
        assert needs[sheet.key, "charger"] == sheet.slots_needed
