"""What a change comes to: the totals of two documents side by side."""

import datetime
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import NamedTuple, TypeAlias

from proposal.document.document import Document
from proposal.document.headings import Words
from proposal.document.quantities import Quantity
from proposal.field_classes import dataclass

Amount: TypeAlias = int | float | Decimal | datetime.date


@dataclass(frozen=True, slots=True, kw_only=True)
class Consequence:
    """A total of two documents.

    group: what it belongs to, such as rooms, price or cables, by its code.
    name: what is counted, by its code.
    about: of what, where there are several of a name: a kind of device, a type of cable, a phase.
    group_title, title: both as the later document calls them.
    quantity: what the totals are.
    before, after: the totals, in SI; None where one of the documents has nothing of it.
    currencies: of the two documents, by their codes of ISO 4217.
    """

    group: str
    name: str
    about: str = ""
    group_title: str
    title: str
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
    order.sort(key=lambda total: places[total.group])
    words = Words(after.words)
    return tuple(
        Consequence(
            group=one.group,
            name=one.name,
            about=one.about,
            group_title=words.value(one.group, "total_group"),
            title=words.text(f"total.{one.name}", about=words.value(one.about)),
            quantity=one.quantity,
            before=then.get(one, _nothing(one.quantity)),
            after=now.get(one, _nothing(one.quantity)),
            currencies=(before.cover.currency, after.cover.currency),
        )
        for one in order
    )


# What most readers ask for first comes first.
_GROUPS = (
    "rooms",
    "price",
    "programme",
    "labour",
    "checks",
    "devices",
    "cables",
    "power",
    "network",
    "radio",
)


class _Total(NamedTuple):
    """What is counted, by its codes; about: of what, where there are several of a name."""

    group: str
    name: str
    quantity: Quantity
    about: str = ""


_Counted: TypeAlias = tuple[_Total, Amount | None]


def _nothing(quantity: Quantity) -> Amount | None:
    if quantity == "hours":
        return Decimal(0)
    return 0 if quantity == "count" else 0.0 if quantity in ("length", "watts") else None


def _totals(document: Document) -> dict[_Total, Amount]:
    return {
        total: amount
        for total, amount in (
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


def _rooms(document: Document) -> Iterator[_Counted]:
    sets = len(document.portable_sets)
    yield _Total("rooms", "rooms", "count"), len(document.rooms) - sets
    if sets:
        yield _Total("rooms", "portable_sets", "count"), sets
    yield _Total("rooms", "seats", "count"), sum(room.seats for room in document.rooms)
    yield (
        _Total("rooms", "microphones_in_use_at_once", "count"),
        sum(room.microphones for room in document.rooms),
    )
    slots = needed = 0
    for sheet in document.room_sheets:
        needed += sheet.slots_needed * len(sheet.rooms)
        given = next((size.provided for size in sheet.sizes if size.kind == "charger"), 0)
        slots += given * len(sheet.rooms)
    yield _Total("rooms", "charge_slots", "count"), slots
    yield _Total("rooms", "charge_slots_needed", "count"), needed


def _counted(names: Iterable[str]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for name in names:
        counts[name] = counts.get(name, 0) + 1
    return dict(sorted(counts.items()))


def _devices(document: Document) -> Iterator[_Counted]:
    for kind, count in _counted(row.kind for row in document.devices).items():
        yield _Total("devices", "of_kind", "count", kind), count


def _cables(document: Document) -> Iterator[_Counted]:
    totals = document.cable_totals
    if totals:
        yield _Total("cables", "cables", "count"), sum(row.count for row in totals)
        yield _Total("cables", "length_of_all_cables", "length"), sum(row.length_m for row in totals)
    for row in totals:
        yield _Total("cables", "cables_of_type", "count", row.type), row.count
        yield _Total("cables", "length_of_type", "length", row.type), row.length_m
    for order in document.reel_orders:
        yield _Total("cables", "reels_of_type", "count", order.type), len(order.reels)


def _power(document: Document) -> Iterator[_Counted]:
    if document.switches:
        yield (
            _Total("power", "power_drawn_at_switches", "watts"),
            sum(row.drawn_w for row in document.switches),
        )
        yield (
            _Total("power", "power_set_aside_at_switches", "watts"),
            sum(row.allocated_w for row in document.switches),
        )


def _network(document: Document) -> Iterator[_Counted]:
    if document.switches:
        yield _Total("network", "switches", "count"), len(document.switches)
        yield _Total("network", "switch_ports_used", "count"), sum(row.used for row in document.switches)
        yield _Total("network", "switch_ports_free", "count"), sum(row.spare for row in document.switches)
    if document.streams:
        yield _Total("network", "audio_streams", "count"), len(document.streams)


def _radio(document: Document) -> Iterator[_Counted]:
    if document.radio is not None:
        yield _Total("radio", "microphones_linked_at_once", "count"), document.radio.links
        yield _Total("radio", "least_margin", "dB"), document.radio.worst_margin_db


def _checks(document: Document) -> Iterator[_Counted]:
    count = document.finding_count
    if count is not None:
        yield _Total("checks", "errors", "count"), count.errors
        yield _Total("checks", "warnings", "count"), count.warnings
        yield _Total("checks", "notes", "count"), count.notes
        yield _Total("checks", "findings_accepted", "count"), count.accepted
    asked = document.requirement_count
    if asked is not None:
        yield _Total("checks", "requirements", "count"), asked.all
        yield _Total("checks", "requirements_met", "count"), asked.met
        yield _Total("checks", "requirements_not_met", "count"), asked.not_met
    yield _Total("checks", "open_questions", "count"), len(document.questions)
    yield _Total("checks", "assumptions", "count"), len(document.assumptions)


def _money(document: Document) -> Iterator[_Counted]:
    yield _Total("labour", "hours", "hours"), document.labour_hours
    for row in document.hours_by_phase:
        yield _Total("labour", "hours_of_phase", "hours", row.key), row.hours
    if document.price is not None:
        yield _Total("price", "price_before_tax", "money"), document.price.price
        yield _Total("price", "tax", "money"), document.price.tax
        yield _Total("price", "price_with_tax", "money"), document.price.total
        yield _Total("price", "cost", "money"), document.price.cost
        yield _Total("price", "margin", "money"), document.price.margin
    yield _Total("price", "cost_of_equipment", "money"), document.equipment_cost
    yield _Total("price", "cost_of_equipment_and_materials", "money"), document.materials_cost


def _programme(document: Document) -> Iterator[_Counted]:
    if document.programme is not None:
        yield _Total("programme", "order", "date"), document.programme.start
        yield _Total("programme", "acceptance", "date"), document.programme.finish
