"""The same money in every view: sums of rows, of CSV columns, of a workbook's cells, of pages' tables.

Each view is a mapping of what is summed (price, tax, total, cost ...) to its sum; `reference` is what the
document says the whole comes to.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.offer_totals import offered_rooms
from proposal.document.readers import Shown
from proposal.document.schedule import quantities_of
from proposal.exports.table import Table

Sums = Mapping[str, Decimal]
NOTHING = Decimal(0)


def reference(document: Document) -> Sums:
    """Return what the whole comes to."""
    whole = document.price
    assert whole is not None
    assert whole.cost is not None
    assert whole.reserve is not None
    assert whole.margin is not None
    assert document.equipment_cost is not None
    assert document.materials_cost is not None
    return {
        "price": whole.price,
        "tax": whole.tax,
        "total": whole.total,
        "cost": whole.cost,
        "reserve": whole.reserve,
        "margin": whole.margin,
        "paid out": whole.cost + whole.tax,
        "equipment": document.equipment_cost,
        # What goes with devices has no tag: it stands in the take-off alone.
        "devices": document.equipment_cost
        - added([row for row in document.takeoff if row.section == "accessories"], "cost")["cost"],
        "materials": document.materials_cost,
    }


def added(rows: Sequence[Shown], *fields: str) -> Sums:
    """Return the sums of fields of rows; what is None counts as nothing."""
    return {field: sum((getattr(row, field) or NOTHING for row in rows), NOTHING) for field in fields}


def renamed(sums: Sums, **names: str) -> Sums:
    return {names.get(name, name): amount for name, amount in sums.items()}


def document_views(document: Document) -> dict[str, Sums]:
    """Return every view that the document holds."""
    parts = ("price", "tax", "total", "cost", "reserve", "margin")
    lines = document.price_lines
    bought = [line for line in lines if line.group in ("equipment", "materials")]
    return {
        "price lines": added(lines, "price", "tax", "cost", "reserve"),
        "offer": added(document.offer, "price", "tax"),
        "rooms of the offer": added(offered_rooms(document.offer), "price", "tax", "total"),
        "rooms": added(document.room_prices, *parts),
        "systems": added(document.system_prices, *parts),
        "phases": added(document.phase_prices, *parts),
        "kinds of cost": added(document.group_prices, *parts),
        "taxes": added(document.taxes, "price", "tax"),
        "payments": renamed(added(document.payments, "price", "tax", "due"), due="total"),
        "cash flow": {
            **renamed(
                added(document.cash_flow, "incoming", "outgoing"), incoming="total", outgoing="paid out"
            ),
            "margin": document.cash_flow[-1].balance if document.cash_flow else NOTHING,
        },
        "take-off": renamed(added(document.takeoff, "cost"), cost="materials"),
        "take-off of equipment": renamed(
            added([row for row in document.takeoff if row.section == "equipment"], "cost"), cost="devices"
        ),
        "price lines of what is bought": renamed(added(bought, "cost"), cost="materials"),
        "equipment by model": renamed(added(document.equipment, "cost"), cost="equipment"),
        "equipment by device": renamed(added(document.devices, "unit_cost"), unit_cost="devices"),
    }


def labour_views(document: Document) -> dict[str, tuple[Sums, Sums]]:
    """Return each view of labour beside the lines of the price that it sums."""
    named = {group: [line for line in document.price_lines if line.group == group] for group in GROUPS}
    return {
        "labour summary": (
            added(document.labour_summary, "cost", "price"),
            added(named["labour"], "cost", "price"),
        ),
        "travel": (added(document.travel, "cost", "price"), added(named["travel"], "cost", "price")),
        "surcharges": (
            added(document.surcharges, "cost", "price"),
            {
                "cost": added(named["surcharge"], "cost")["cost"] + reference(document)["reserve"],
                "price": added(named["surcharge"], "price")["price"]
                + added(document.price_lines, "spread")["spread"],
            },
        ),
        "reels": (
            added(document.reel_orders, "cost"),
            added(
                [
                    row
                    for row in document.purchases
                    if row.section == "reels" and not row.sold_as.endswith(", spare")
                ],
                "cost",
            ),
        ),
        "what is bought in wholes": (
            added(document.purchases, "cost"),
            added(
                [
                    row
                    for row in document.takeoff
                    if row.section == "reels"
                    or (row.section not in ("equipment", "accessories") and row.unit != "m")
                ],
                "cost",
            ),
        ),
    }


VIEWS = ("room", "system", "phase", "group")
GROUPS = ("labour", "travel", "surcharge")

# Columns of tables, by the name of the table and the heading, and what they sum to.
COLUMNS: Mapping[str, Mapping[str, str]] = {
    "offer": {"Before tax": "price", "Tax": "tax"},
    **{
        f"{view}-prices": {
            "Before tax": "price",
            "Tax": "tax",
            "With tax": "total",
            "Cost": "cost",
            "Margin": "margin",
            "Reserve": "reserve",
        }
        for view in VIEWS
    },
    "price-lines": {"Cost": "cost", "Reserve": "reserve", "Price": "price", "Tax": "tax"},
    "taxes": {"Taxable amount": "price", "Amount": "tax"},
    "payments": {"Before tax": "price", "Tax": "tax", "To be paid": "total"},
    "cash-flow": {"In": "total", "Out": "paid out"},
    "takeoff": {"Cost": "materials"},
    "equipment": {"Cost": "equipment"},
    "devices": {"Cost": "devices"},
}


def csv_views(files: Mapping[str, bytes], currency: str) -> dict[str, Mapping[str, list[str]]]:
    """Return the cells of every column of money that is summed, by table, as the files have them.

    A schedule without rows has no file.
    """
    found: dict[str, Mapping[str, list[str]]] = {}
    for table, columns in COLUMNS.items():
        rows = list(csv.DictReader(io.StringIO(files.get(f"{table}.csv", b"").decode("utf-8"))))
        found[table] = {
            name: [row[f"{heading} ({currency})"] for row in rows] for heading, name in columns.items()
        }
    return found


def column_of(table: Table, heading: str) -> int:
    (place,) = (n for n, column in enumerate(table.columns) if column.heading == heading)
    return place


def amounts_in(part: Shown, quantity: str) -> Iterator[tuple[str, Decimal]]:
    """Yield the name and the value of every field of a quantity in a part of the document, at any depth."""
    for name, held in quantities_of(type(part)).items():
        value = getattr(part, name)
        if held == (quantity,):
            if isinstance(value, Decimal):
                yield f"{type(part).__name__}.{name}", value
        elif isinstance(value, Shown | tuple):
            yield from _inside(value, quantity)


def _inside(value: object, quantity: str) -> Iterator[tuple[str, Decimal]]:
    if isinstance(value, Shown):
        yield from amounts_in(value, quantity)
    elif isinstance(value, Iterable) and not isinstance(value, str):
        for one in value:
            yield from _inside(one, quantity)
