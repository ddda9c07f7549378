"""The offer, as the client reads it, linked to lines of the price and to list prices, by which lumps share.

What the offer puts together is found again from the schedules, and held against its amounts: where these say
otherwise, nothing is linked, and the sheet stays as it is of this revision.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.document.rows.price import OfferRow
from proposal.document.rows.price_build_up import PriceLineRow
from proposal.exports.workbook.formulas import added, number, sum_where
from proposal.exports.workbook.linked_book import LinkedBook
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.room_counts import times
from proposal.exports.workbook.shares import Shared, shared_out
from proposal.quantities.rounding import shared_out as exactly_shared
from proposal.quantities.rounding import step_of

OFFER, LUMP, BUILDING = "offer", "lump", ""
AMOUNTS = ("price", "tax")
NOTHING = Decimal(0)


def link_offer(book: LinkedBook) -> None:
    """Link what stands alone to its lines, and lumps to what all other lines come to."""
    sheet = book.sheets.get(OFFER)
    if sheet is None:
        return
    alone = _alone(book)
    if alone is None:
        sheet.stays |= {"price", "tax", "unit_price"}
        return
    used = {place for places in alone.values() for place in places}
    pools = _pools(book, used)
    if pools is None:
        sheet.stays |= {"price", "tax", "unit_price"}
        return
    lines = book.sheets["price-lines"]
    for n, places in alone.items():
        sheet.put(n, "unit_price", lines.cell(places[0], "unit_price"))
        for name in AMOUNTS:
            sheet.put(n, name, f"ROUND({added(lines.cell(m, name) for m in places)},{book.places})")
    _link_lumps(book, sheet, pools, used)
    book.follows.add(OFFER)


def _alone(book: LinkedBook) -> Mapping[int, Sequence[int]] | None:
    """Return the lines of each row of the offer that is no lump; None where they are not certain."""
    rooms = {room.tag for room in book.document.rooms}
    rest = list(range(len(book.document.price_lines)))
    found: dict[int, Sequence[int]] = {}
    for n, row in enumerate(book.document.offer):
        if row.group == LUMP:
            continue
        lines = book.document.price_lines
        mine = [m for m in rest if _is_of(row, lines[m], rooms)]
        if not mine or any(
            sum((getattr(lines[m], name) for m in mine), NOTHING) != getattr(row, name) for name in AMOUNTS
        ):
            return None
        rest = [m for m in rest if m not in mine]
        found[n] = mine
    return found


def _is_of(row: OfferRow, line: PriceLineRow, rooms: set[str]) -> bool:
    place = line.room if line.room in rooms else BUILDING
    if (line.group, place) != (row.group, row.room):
        return False
    if row.group == "equipment":
        fixed = line.rule in ("stated", "discount")
        return fixed and (line.item, line.system, line.unit_price) == (row.item, row.system, row.unit_price)
    return line.description == row.description


class _Pool:
    """What the lines of one place of tax come to, which lumps share by the list prices of their devices."""

    def __init__(self, place: str, rows: Sequence[int], weights: Sequence[str], weighed: Sequence[Decimal]):
        self.place, self.rows, self.weights, self.weighed = place, rows, weights, weighed


def _pools(book: LinkedBook, used: set[int]) -> Sequence[_Pool] | None:
    """Return the pools of the lumps; None where they do not come to what the offer says."""
    document, lines = book.document, book.document.price_lines
    left = [n for n in range(len(lines)) if n not in used]
    lumps = [n for n, row in enumerate(document.offer) if row.group == LUMP]
    places = sorted({lines[n].tax_place for n in left})
    place_of = {line.room: line.tax_place for line in lines}
    pools = []
    parts = {(n, name): NOTHING for n in lumps for name in AMOUNTS}
    for place in places:
        rows = [
            n
            for n in lumps
            if len(places) == 1
            or place_of.get(document.offer[n].room, place) == place
            or document.offer[n].room == BUILDING
        ]
        weights, weighed = _weights(book, rows, place if len(places) > 1 else None, place_of)
        pools.append(_Pool(place, rows, weights, weighed))
        for name in AMOUNTS:
            mine = [n for n in left if lines[n].tax_place == place]
            total = sum((getattr(lines[n], name) for n in mine), NOTHING)
            for n, part in zip(rows, exactly_shared(total, weighed, step_of(book.places)), strict=True):
                parts[n, name] += part
    if any(getattr(document.offer[n], name) != part for (n, name), part in parts.items()):
        return None
    return pools


def _weights(
    book: LinkedBook, rows: Sequence[int], place: str | None, place_of: Mapping[str, str]
) -> tuple[list[str], list[Decimal]]:
    """Return what the devices of each lump list for, as formulas and as values.

    rows: of the lumps.  place: of tax, where there are several.
    """
    document, equipment = book.document, book.sheets["equipment"]
    rooms = {room.tag for room in document.rooms}
    systems = {row.item: row.system for row in document.takeoff}
    formulas: dict[tuple[str, str], list[str]] = {}
    values: dict[tuple[str, str], Decimal] = {}
    by_system = any(document.offer[n].system for n in rows)
    places = {line.model: m for m, line in enumerate(document.equipment)}
    for (tag, model), count in Counter((one.room, one.model) for one in document.devices).items():
        if model not in places or (place is not None and place_of.get(tag, place) != place):
            continue
        key = (tag if tag in rooms else BUILDING, systems.get(model, "") if by_system else "")
        listed = document.equipment[places[model]].unit_list or NOTHING
        each = f"{count}*{equipment.cell(places[model], 'unit_list')}"
        counted = times(book, tag)
        formulas.setdefault(key, []).append(f"{each}*{counted}" if counted else each)
        values[key] = values.get(key, NOTHING) + count * listed
    keys = [(document.offer[n].room, document.offer[n].system) for n in rows]
    return [added(formulas.get(key, ())) for key in keys], [values.get(key, NOTHING) for key in keys]


def _link_lumps(book: LinkedBook, sheet: LinkedSheet, pools: Sequence[_Pool], used: set[int]) -> None:
    lines, document = book.sheets["price-lines"], book.document
    parts: dict[tuple[int, str], list[str]] = {}
    for pool in pools:
        first = next(n for n, line in enumerate(document.price_lines) if line.tax_place == pool.place)
        own = sorted(n for n in used if document.price_lines[n].tax_place == pool.place)
        for name in AMOUNTS:
            whole = sum_where(lines.cells(name), (lines.cells("tax_place"), lines.value(first, "tax_place")))
            less = added(lines.cell(n, name) for n in own)
            amount = sum(
                (
                    getattr(line, name)
                    for n, line in enumerate(document.price_lines)
                    if line.tax_place == pool.place and n not in used
                ),
                NOTHING,
            )
            one = Shared(
                rows=pool.rows,
                weights=pool.weights,
                weighed=[float(weight) for weight in pool.weighed],
                total=f"{whole}-({less})",
                amount=float(amount),
            )
            heading = f"Lumps, {name}" + (f", {pool.place}" if len(pools) > 1 else "")
            for n, part in shared_out(sheet, heading, [one], book.places).items():
                parts.setdefault((n, name), []).append(part)
    for (n, name), found in parts.items():
        sheet.put(n, name, f"ROUND({added(found)},{book.places})")
    for n, row in enumerate(document.offer):
        if row.group == LUMP:
            sheet.put(n, "unit_price", f"{sheet.cell(n, 'price')}/{number(row.quantity)}")
