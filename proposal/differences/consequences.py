"""What a change comes to: the totals of two documents side by side."""

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

from proposal.document.document import Document
from proposal.document.quantities import Quantity

Amount: TypeAlias = int | float | Decimal | datetime.date


@dataclass(frozen=True, slots=True, kw_only=True)
class Consequence:
    """A total of two documents.

    group: what it belongs to, such as Rooms, Price or Cables.
    name: what is counted.
    quantity: what the totals are.
    before, after: the totals, in SI; None where one of the documents has nothing of it.
    currencies: of the two documents, by their codes of ISO 4217.
    """

    group: str
    name: str
    quantity: Quantity
    before: Amount | None
    after: Amount | None
    currencies: tuple[str, str]

    @property
    def changed(self) -> bool:
        """Whether the two totals differ."""
        return self.before != self.after or not self.comparable

    @property
    def comparable(self) -> bool:
        """Whether the two are in one unit: amounts of two currencies are not."""
        return self.quantity != "money" or self.currencies[0] == self.currencies[1]

    @property
    def by(self) -> Amount | None:
        """How much more there is now; days for a date; None where nothing can be said."""
        before, after = self.before, self.after
        if not self.comparable:
            return None
        if isinstance(before, datetime.date) and isinstance(after, datetime.date):
            return (after - before).days
        if isinstance(before, Decimal) and isinstance(after, Decimal):
            return after - before
        if isinstance(before, int | float) and isinstance(after, int | float):
            return after - before
        return None


def consequences(before: Document, after: Document) -> tuple[Consequence, ...]:
    """Return the totals of two documents side by side, unchanged ones too, chief ones first.

    before, after: documents restricted to one and the same reader, where they are for a reader. A total
    that neither holds is left out; one that a project has no things for reads as zero.
    """
    then, now = _totals(before), _totals(after)
    order = [*now, *(name for name in then if name not in now)]
    places = {name: place for place, name in enumerate(_GROUPS)}
    order.sort(key=lambda name: places[name[0]])
    return tuple(
        Consequence(
            group=group,
            name=name,
            quantity=quantity,
            before=then.get((group, name, quantity), _nothing(quantity)),
            after=now.get((group, name, quantity), _nothing(quantity)),
            currencies=(before.cover.currency, after.cover.currency),
        )
        for group, name, quantity in order
    )


# What most readers ask for first comes first.
_GROUPS = (
    "Rooms",
    "Price",
    "Programme",
    "Labour",
    "Checks",
    "Devices",
    "Cables",
    "Power",
    "Network",
    "Radio",
)
_Name: TypeAlias = tuple[str, str, Quantity]


def _nothing(quantity: Quantity) -> Amount | None:
    if quantity == "hours":
        return Decimal(0)
    return 0 if quantity == "count" else 0.0 if quantity in ("length", "watts") else None


def _totals(document: Document) -> dict[_Name, Amount]:
    return {
        (group, name, quantity): amount
        for group, name, quantity, amount in (
            *_rooms(document),
            *_devices(document),
            *_cables(document),
            *_power(document),
            *_network(document),
            *_radio(document),
            *_checks(document),
            *_money(document),
            *_programme(document),
        )
        if amount is not None
    }


_Total: TypeAlias = tuple[str, str, Quantity, Amount | None]


def _rooms(document: Document) -> Iterator[_Total]:
    yield "Rooms", "rooms", "count", len(document.rooms)
    yield "Rooms", "seats", "count", sum(room.seats for room in document.rooms)
    yield "Rooms", "microphones in use at once", "count", sum(room.microphones for room in document.rooms)
    slots = needed = 0
    for sheet in document.room_sheets:
        needed += sheet.slots_needed * len(sheet.rooms)
        for size in sheet.sizes:
            if size.kind == "charger":
                slots += size.quantity * size.capacity * len(sheet.rooms)
    yield "Rooms", "charge slots", "count", slots
    yield "Rooms", "charge slots needed", "count", needed


def _counted(names: Iterable[str]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for name in names:
        counts[name] = counts.get(name, 0) + 1
    return dict(sorted(counts.items()))


def _devices(document: Document) -> Iterator[_Total]:
    for kind, count in _counted(row.kind for row in document.devices).items():
        yield "Devices", kind, "count", count


def _cables(document: Document) -> Iterator[_Total]:
    totals = document.cable_totals
    if totals:
        yield "Cables", "cables", "count", sum(row.count for row in totals)
        yield "Cables", "length of all cables", "length", sum(row.length_m for row in totals)
    for row in totals:
        yield "Cables", f"{row.type} cables", "count", row.count
        yield "Cables", f"{row.type} length", "length", row.length_m
    for order in document.reel_orders:
        yield "Cables", f"{order.type} reels", "count", len(order.reels)


def _power(document: Document) -> Iterator[_Total]:
    if document.switches:
        yield "Power", "power drawn at switches", "watts", sum(row.drawn_w for row in document.switches)
        yield (
            "Power",
            "power set aside at switches",
            "watts",
            sum(row.allocated_w for row in document.switches),
        )


def _network(document: Document) -> Iterator[_Total]:
    if document.switches:
        yield "Network", "switches", "count", len(document.switches)
        yield "Network", "switch ports used", "count", sum(row.used for row in document.switches)
        yield "Network", "switch ports free", "count", sum(row.spare for row in document.switches)
    if document.streams:
        yield "Network", "audio streams", "count", len(document.streams)


def _radio(document: Document) -> Iterator[_Total]:
    if document.radio is not None:
        yield "Radio", "microphones linked at once", "count", document.radio.links
        yield "Radio", "least margin", "dB", document.radio.worst_margin_db


def _checks(document: Document) -> Iterator[_Total]:
    count = document.finding_count
    if count is not None:
        yield "Checks", "errors", "count", count.errors
        yield "Checks", "warnings", "count", count.warnings
        yield "Checks", "notes", "count", count.notes
        yield "Checks", "findings accepted", "count", count.accepted
    yield "Checks", "open questions", "count", len(document.questions)
    yield "Checks", "assumptions", "count", len(document.assumptions)


def _money(document: Document) -> Iterator[_Total]:
    yield "Labour", "hours", "hours", document.labour_hours
    for row in document.hours_by_phase:
        yield "Labour", f"hours of {row.key}", "hours", row.hours
    if document.price is not None:
        yield "Price", "price before tax", "money", document.price.price
        yield "Price", "tax", "money", document.price.tax
        yield "Price", "price with tax", "money", document.price.total
        yield "Price", "cost", "money", document.price.cost
        yield "Price", "margin", "money", document.price.margin
    yield "Price", "cost of equipment", "money", document.equipment_cost
    yield "Price", "cost of equipment and materials", "money", document.materials_cost


def _programme(document: Document) -> Iterator[_Total]:
    if document.programme is not None:
        yield "Programme", "order", "date", document.programme.start
        yield "Programme", "acceptance", "date", document.programme.finish
