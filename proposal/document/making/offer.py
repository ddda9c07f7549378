"""The offer: the lines of the price put together as a client reads them, adding to the same total.

Equipment stands by room and model; materials are one line for each system of a room, work one for each phase.
What serves several rooms stands by itself, or each room gets a line with its share.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from proposal.design.numbers.numbering import natural
from proposal.document.making.serials import serials
from proposal.document.rows.price import NOTHING, OfferRow
from proposal.estimate.price.price import BUILDING, Sum
from proposal.estimate.price.price_rules import PriceLine
from proposal.estimate.takeoff.systems import SYSTEMS
from proposal.model.labour.labour import PHASES
from proposal.model.project import Project

GROUPS = ("equipment", "materials", "labour", "travel", "surcharge", "allowance", "share")
WORK = {
    "project management": "Management and coordination",
    "design": "Engineering",
    "drafting": "Drawings",
    "workshop": "Workshop: racks built and wired",
    "first fix": "First fix: cables pulled and labelled",
    "second fix": "Second fix: equipment mounted and connected",
    "network": "Network configured",
    "programming": "Programming",
    "commissioning": "Commissioning and acceptance tests",
    "training": "Training",
    "documents": "As-built drawings and manuals",
    "travel": "Travel and expenses",
}
SHARE = "Share of what serves several rooms"
ONE = Decimal(1)
_Order = tuple[int | str, ...]


@dataclass(slots=True)
class _Together:
    """Lines that a client reads as one."""

    room: str
    group: str
    description: str
    item: str = ""
    lines: list[PriceLine] = field(default_factory=list)


def offer_rows(project: Project, lines: Sequence[PriceLine], rooms: Sequence[Sum]) -> tuple[OfferRow, ...]:
    """Return the lines of the offer, numbered, by room; what serves several rooms comes last.

    lines: of the price; rooms: their sums by room, as the project wants what is shared to stand.
    """
    known = set(project.rooms)
    shared_out = project.brief.price.shared_items == "shared out"
    found: dict[tuple[str, _Order], _Together] = {}
    for line in lines:
        room = line.room if line.room in known else BUILDING
        order, together = _together(project, line, room)
        found.setdefault((room, (GROUPS.index(line.group), *order)), together).lines.append(line)
    by_room: dict[str, list[OfferRow]] = {}
    for _, one in sorted(found.items(), key=lambda item: item[0]):
        by_room.setdefault(one.room, []).append(_row(one, counted=bool(one.room) or not shared_out))
    if shared_out:
        for total in rooms:
            own = by_room.setdefault(total.key, [])
            own += _share(total, own)
    in_order = (*sorted(project.rooms, key=natural), BUILDING)
    rows = [row for room in in_order for row in by_room.get(room, ())]
    numbers = serials("C", (row.room for row in rows))
    return tuple(row.model_copy(update={"number": number}) for number, row in zip(numbers, rows, strict=True))


def _together(project: Project, line: PriceLine, room: str) -> tuple[_Order, _Together]:
    """Return by what a line stands with those it is put together with, in their order, and how they read."""
    brief = project.brief.price
    system, phase = SYSTEMS.index(line.system), PHASES.index(line.phase)
    if line.group == "equipment":
        words = project.library.entry(line.item).description
        return (system, line.item, str(line.unit_price)), _Together(room, line.group, words, line.item)
    if line.group == "materials":
        return (system,), _Together(room, line.group, f"Materials for {line.system}")
    if line.group == "labour":
        late = line.kind == "overtime"
        words = WORK[line.phase] + (", outside normal working time" if late else "")
        return (phase, int(late)), _Together(room, line.group, words)
    if line.group == "travel":
        return (), _Together(room, line.group, WORK["travel"])
    named = brief.surcharges if line.group == "surcharge" else brief.allowances
    return (list(named).index(line.item),), _Together(room, line.group, named[line.item].name)


def _row(one: _Together, *, counted: bool) -> OfferRow:
    price = sum((line.price for line in one.lines), NOTHING)
    quantity = sum((line.quantity for line in one.lines), NOTHING)
    each = one.lines[0].unit_price
    counts = one.group == "equipment" and one.lines[0].unit == "each" and quantity * each == price
    return OfferRow(
        room=one.room,
        group=one.group,
        description=one.description,
        item=one.item,
        quantity=quantity if counts else ONE,
        unit="each" if counts else "lot",
        unit_price=each if counts else price,
        price=price,
        tax=sum((line.tax for line in one.lines), NOTHING),
        counted=counted,
    )


def _share(total: Sum, own: Sequence[OfferRow]) -> list[OfferRow]:
    """Return a room's share of what serves several, which its own lines leave of its sum."""
    price = total.price - sum((row.price for row in own), NOTHING)
    tax = total.tax - sum((row.tax for row in own), NOTHING)
    if not price and not tax:
        return []
    return [
        OfferRow(
            room=total.key,
            group="share",
            description=SHARE,
            quantity=ONE,
            unit="lot",
            unit_price=price,
            price=price,
            tax=tax,
            counted=True,
        )
    ]
