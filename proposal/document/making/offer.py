"""The offer: the price put together as a client reads it, adding to the same total.

How finely it is told is the project's `client_detail`: a lump a room, a lump for each system of a room, or
line by line what has a stated price, with one lump a room for the rest. A lump is no sum of the costs behind
it, but a share of what all lumps come to, by list prices of the equipment that stands there: whoever knows
the catalogue learns nothing from lumps beyond their total. Allowances always stand by themselves.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from decimal import Decimal

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import unit_list_price
from proposal.design.numbers.numbering import natural
from proposal.document.making.composed_texts import words_of
from proposal.document.making.serials import serials
from proposal.document.rows.price import NOTHING, OfferRow
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.price.price import BUILDING
from proposal.estimate.price.standing_alone import stands_alone
from proposal.estimate.takeoff.systems import SYSTEMS, system_of_kind
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.quantities.rounding import shared_out

ONE = Decimal(1)
_Place = tuple[str, str]
"""Room and system of a lump; no system where a room has one lump."""


@dataclass(slots=True)
class _Together:
    """Lines of one room and model that a client reads as one."""

    lines: list[PriceLine] = field(default_factory=list)


def offer_rows(
    project: Project, design: Design, lines: Sequence[PriceLine], step: Decimal
) -> tuple[OfferRow, ...]:
    """Return the lines of the offer, numbered, by room; what serves several rooms comes last.

    lines: of the price; step: smallest unit of the currency.
    """
    own = [line for line in lines if stands_alone(project, line)]
    pooled = [line for line in lines if not stands_alone(project, line)]
    by_room: dict[str, list[OfferRow]] = {}
    for row in (*_own_rows(project, own), *_lumps(project, design, pooled, step)):
        by_room.setdefault(row.room, []).append(row)
    rows = [row for room in _rooms(project) for row in by_room.get(room, ())]
    numbers = serials("C", (row.room for row in rows))
    return tuple(row.model_copy(update={"number": number}) for number, row in zip(numbers, rows, strict=True))


def _rooms(project: Project) -> tuple[str, ...]:
    return (*sorted(project.planned_rooms, key=natural), BUILDING)


def _own_rows(project: Project, lines: Sequence[PriceLine]) -> Iterator[OfferRow]:
    """Yield the lines that stand alone: equipment, then what is passed on, then allowances."""
    groups = ("equipment", "surcharge", "allowance")
    together: dict[tuple[int, int, str, str, str], _Together] = {}
    for line in lines:
        room = line.room if line.room in project.rooms else BUILDING
        order = (groups.index(line.group), SYSTEMS.index(line.system), line.item, room, str(line.unit_price))
        together.setdefault(order, _Together()).lines.append(line)
    for (_, _, item, room, _), one in sorted(together.items()):
        first = one.lines[0]
        yield OfferRow(
            room=room,
            group=first.group,
            system=first.system,
            description=_description(project, first),
            item=item if first.group == "equipment" else "",
            quantity=sum((line.quantity for line in one.lines), NOTHING),
            unit="each",
            unit_price=first.unit_price,
            price=sum((line.price for line in one.lines), NOTHING),
            tax=sum((line.tax for line in one.lines), NOTHING),
        )


def _description(project: Project, line: PriceLine) -> str:
    rules = project.brief.price
    if line.group == "surcharge":
        return rules.surcharges[line.item].name
    if line.group == "allowance":
        return rules.allowances[line.item].name
    return project.library.entry(line.item).description


def _lumps(project: Project, design: Design, lines: Sequence[PriceLine], step: Decimal) -> Iterator[OfferRow]:
    """Yield the lumps: shares of what all lines together come to, place of tax by place of tax.

    The taxes tell what each place of tax comes to in any case; within it nothing but list prices of devices
    says how much goes where.
    """
    listed = _list_prices(project, design)
    parts: dict[_Place, tuple[Decimal, Decimal]] = {}
    for place in sorted({line.tax_place for line in lines}):
        members = [line for line in lines if line.tax_place == place]
        weights = _weights(project, listed, place)
        price = sum((line.price for line in members), NOTHING)
        tax = sum((line.tax for line in members), NOTHING)
        shares = list(weights.values())
        for key, part, taxed in zip(
            weights, shared_out(price, shares, step), shared_out(tax, shares, step), strict=True
        ):
            before = parts.get(key, (NOTHING, NOTHING))
            parts[key] = (before[0] + part, before[1] + taxed)
    words, complete = words_of(project), f"offer.{project.brief.price.client_detail}"
    for (room, system), (price, tax) in parts.items():
        if price or tax:
            yield OfferRow(
                room=room,
                group="lump",
                system=system,
                description=words.text(complete, system=system),
                quantity=ONE,
                unit="lot",
                unit_price=price,
                price=price,
                tax=tax,
            )


def _list_prices(project: Project, design: Design) -> Mapping[tuple[str, str], Decimal]:
    """Return what the devices of each place list for, whoever furnishes them, by place and system."""
    found: dict[tuple[str, str], Decimal] = {}
    for device in design.devices:
        if device.tag in design.entries:
            entry = project.library.entry(device.model)
            key = (device.room, system_of_kind(entry.kind))
            found[key] = found.get(key, NOTHING) + unit_list_price(project, entry)
    return found


def _weights(
    project: Project, listed: Mapping[tuple[str, str], Decimal], place: str
) -> dict[_Place, Decimal]:
    """Return the list price of each room, or system of a room, that shares what a place of tax comes to."""
    price = project.brief.price
    by_system = price.client_detail == "system"
    systems = SYSTEMS if by_system else ("",)
    rooms = [tag for tag in _rooms(project) if tag and price.places.get(tag, price.place) == place]
    keys = [*rooms, BUILDING] if price.shared_items == "building group" or not rooms else rooms
    weights = {(room, system): NOTHING for room in keys for system in systems}
    for (room, system), amount in listed.items():
        where = room if room in project.rooms else BUILDING
        key = (where, system if by_system else "")
        if price.places.get(room, price.place) == place and key in weights:
            weights[key] += amount
    return weights
