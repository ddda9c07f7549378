"""How many times each room counts: an input of the workbook alone, to see what it comes to without a room.

What stands in the room's own lines follows it: equipment, materials, hours, and all that is computed of
these. What only the program plans stays: what serves several rooms (racks, switches), cable cut from reels,
drawings, radio. So it is a figure to talk about, and never comes back into a project.
"""

from dataclasses import replace
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.editions import Edition
from proposal.exports.workbook.formulas import number
from proposal.exports.workbook.linked_book import LinkedBook

ROOM, TIMES = "room, how many times", "times"
MOST = 20
SAID = (
    "A room that counts 0 times among the inputs is left out, twice it stands again: its own equipment, "
    "materials and hours follow. What only the program plans anew stays as it is: racks, switches and what "
    "else serves several rooms, cable cut from reels, drawings, deliveries. To know all of it, change "
    "rooms.csv, and export again."
)


def key_of(tag: str) -> str:
    """Return the key of how many times a room counts.

    tag: of the room.
    """
    return f"rooms.{tag}.times"


def is_room_count(row: PriceInputRow) -> bool:
    """Say whether an input is how many times a room counts."""
    return row.what == ROOM


def with_room_counts(edition: Edition) -> Edition:
    """Return an edition in which every room with lines of its own counts once, where its price has inputs."""
    return replace(edition, document=room_counts(edition.document))


def room_counts(document: Document) -> Document:
    """Return a document in which every room with lines of its own counts once.

    document: as its reader may see it; the same one where its price has no inputs.
    """
    if not document.price_inputs or any(map(is_room_count, document.price_inputs)):
        return document
    used = {row.room for row in document.takeoff} | {row.room for row in document.labour}
    rows = [
        PriceInputRow(
            key=key_of(room.tag),
            what=ROOM,
            subject=f"{room.tag} {room.name}".strip(),
            value=Decimal(1),
            unit=TIMES,
            per=Decimal(1),
            layer="project",
        )
        for room in document.rooms
        if room.tag in used
    ]
    return document.model_copy(update={"price_inputs": (*document.price_inputs, *rows)})


def times(book: LinkedBook, room: str) -> str:
    """Return the name of how many times a room counts; empty of what is no room, or where nobody may say.

    room: its tag; empty of the building.
    """
    return book.inputs.name(key_of(room)) if room else ""


def link_room_counts(book: LinkedBook) -> None:
    """Link quantities and units of work of each room to how many times it counts; plans stay as they are."""
    takeoff, labour = book.sheets["takeoff"], book.sheets["labour"]
    for n, row in enumerate(book.document.takeoff):
        name = times(book, row.room)
        if name and not row.recompute:
            takeoff.put(n, "quantity", _times(takeoff.number(n, "quantity"), name))
    for n, one in enumerate(book.document.labour):
        name = times(book, one.room)
        if name and one.unit != "h":
            labour.put(n, "units", _times(labour.number(n, "units"), name))
    _link_counts(book)


def _times(value: float, name: str) -> str:
    return f"{number(value)}*{name}"


def _link_counts(book: LinkedBook) -> None:
    """Link how many there are of each model, and of what surcharges count by rooms."""
    equipment, takeoff = book.sheets.get("equipment"), book.sheets["takeoff"]
    rows = book.document.takeoff
    for n, line in enumerate(book.document.equipment if equipment else ()):
        assert equipment is not None
        mine = [m for m, row in enumerate(rows) if (row.item, row.unit) == (line.model, line.unit)]
        mine = [m for m in mine if rows[m].section in ("equipment", "accessories")]
        if mine and sum(rows[m].quantity for m in mine) == line.quantity:
            equipment.put(n, "quantity", "+".join(takeoff.cell(m, "quantity") for m in mine))
    yearly = book.sheets.get("yearly")
    places = {line.model: n for n, line in enumerate(book.document.equipment)}
    for n, each in enumerate(book.document.yearly if yearly and equipment else ()):
        assert yearly is not None
        assert equipment is not None
        if each.item in places and book.document.equipment[places[each.item]].quantity == each.quantity:
            yearly.put(n, "quantity", equipment.cell(places[each.item], "quantity"))
    names = [name for name in (times(book, room.tag) for room in book.document.rooms) if name]
    surcharges = book.sheets.get("surcharges")
    for n, surcharge in enumerate(book.document.surcharges if surcharges else ()):
        assert surcharges is not None
        if surcharge.counted_by == "room" and names:
            rest = (surcharge.count or 0) - len(names)
            surcharges.put(n, "count", "+".join([*names, *([number(rest)] if rest else [])]))
