"""How cables are held: on hooks and straps, in riser shafts, in conduit in walls; a detail each."""

from collections.abc import Iterator, Mapping

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.drawings.mounting_details.detail import Detail, HeldModel
from proposal.drawings.plan.pathway_words import size_of
from proposal.drawings.plan.plan_marks import natural
from proposal.drawings.plan.storey_pathways import HIGH_M
from proposal.quantities import formatting

HOOKS, IN_TRAY, IN_SHAFT, IN_WALL = "hooks and straps", "cable tray", "cables in a riser", "cable at a wall"
STRUCTURE, TRAY, SHAFT, CONDUIT = "structure", "below the structure", "shaft", "conduit"
IN_WALL_LOW, CONDUIT_LOW = "cable at a wall, over the floor", "conduit to the floor"
AT_FURNITURE = (
    "conduit from above the ceiling down to a box in the wall at the height of the device; from there along "
    "the furniture to the outlet box (a) beside the device, or to the device; that lead is part of the length"
)
AT_FLOOR = (
    "conduit from above the ceiling down to a box in the wall at the floor; from there on the floor in a "
    "duct or under a cover, and up the furniture to the outlet box (a) beside the device, or to the device; "
    "that lead is part of the length"
)
HELD = "Hooks and straps for cables"
TRAYS = "Cable trays"
TUBED = "Conduit, boxes and pull strings"
"""Rows of the matrix of duties."""


def cable_supports(document: Document) -> Iterator[Detail]:
    """Yield a detail for each way in which cables are held, as far as the document has cables held so."""
    yield from _hooks(document)
    yield from _in_trays(document)
    yield from _in_shafts(document)
    yield from _in_walls(document)


def _hooks(document: Document) -> Iterator[Detail]:
    hung: dict[str, None] = {}
    count = 0
    for row in document.takeoff:
        if row.section == "supports" and row.room and row.spacing_m:
            every = _length(document, row.spacing_m)
            hung[f"{row.item} {row.description}, one every {every}"] = None
            count += int(row.quantity)
    models = [HeldModel(f"outside pathways: {words}", "", "") for words in hung]
    for path in document.pathways:
        if path.kind == "hooks" and path.spacing_m and path.cables:
            every = _length(document, path.spacing_m)
            models.append(
                HeldModel(f"{path.tag}: {path.size}, one every {every}{by_whom(document, HELD)}", "", "")
            )
    if models:
        held = (
            "clamped to the structure or hung from it by a rod, never to a ceiling; what runs between "
            "devices at a ceiling hangs as low over it as hooks allow, and rises to them out of what is "
            "spare; loudspeaker lines in hooks and straps of their own"
        )
        heights: dict[float, set[str]] = {}
        for cable, height_m in _level_runs(document):
            heights.setdefault(height_m, set()).add(cable.room)
        told = tuple(
            (_length(document, height), tuple(sorted(rooms, key=natural)))
            for height, rooms in sorted(heights.items())
        )
        if on_walls := _on_walls(document):
            held += (
                f"; in {', '.join(on_walls)}, in sight below a ceiling that is higher or not to be touched, "
                "screwed to the wall along which they run"
            )
        yield Detail(HOOKS, STRUCTURE, count, (*models, HeldModel("", "", held)), told, "")


def _level_runs(document: Document) -> Iterator[tuple[CableRow, float]]:
    """Yield the cables that begin with a level run overhead outside pathways, each with its height, m.

    What runs from a device at a ceiling to another there hangs just over it, and has no height of its own.
    """
    at_ceilings = {
        row.tag: row.height_m for row in document.devices if row.location == "ceiling" and row.height_m
    }
    for cable in document.cables:
        height_m = cable.first_run_m
        if cable.room and height_m and height_m > HIGH_M and at_ceilings.get(cable.from_tag) != height_m:
            yield cable, height_m


def _on_walls(document: Document) -> list[str]:
    """Return the rooms in which cables run below their ceiling, or where that may not be touched."""
    sheets = {row.key: row for row in document.room_sheets}
    rooms = {row.tag: sheets[row.sheet] for row in document.rooms if row.sheet in sheets}
    found = {
        cable.room
        for cable, height_m in _level_runs(document)
        if cable.room in rooms
        and (
            rooms[cable.room].ceiling_height_m > height_m
            or any(surface == "ceiling" for surface, _ in rooms[cable.room].untouchable)
        )
    }
    return sorted(found, key=natural)


def _in_trays(document: Document) -> Iterator[Detail]:
    trays: dict[str, list[str]] = {}
    rows = [row for row in document.pathways if row.kind == "tray" and row.cables]
    for row in rows:
        every = f", held every {_length(document, row.spacing_m)}" if row.spacing_m else ""
        divider = ", with a divider" if row.divided else ""
        model = "" if size_of(document, row) == row.size else f", {row.size}"
        kind = f"{row.tray} {size_of(document, row)}".strip()
        trays.setdefault(f"{kind}{model}{divider}{every}", []).append(row.tag)
    if trays:
        held = (
            "on a bar between two rods, or on a bracket, fixed to the structure; loudspeaker lines on their "
            "side of a divider, sheets T say which; heights of pathways are those of their middles"
        )
        models = [HeldModel(f"{', '.join(tags)}: {words}", "", "") for words, tags in trays.items()]
        last = HeldModel("", "", f"{held}{by_whom(document, TRAYS)}")
        yield Detail(IN_TRAY, TRAY, len(rows), (*models, last), (), "")


def _in_shafts(document: Document) -> Iterator[Detail]:
    shafts = [row for row in document.pathways if row.kind == "riser shaft" and row.cables]
    if shafts:
        words = (
            "strapped to a ladder or rail at least every 1.5 m (5 ft), loudspeaker lines apart from others"
        )
        models = [
            HeldModel(f"{row.tag}: {formatting.count_of(len(row.cables), 'cable')}", "", "") for row in shafts
        ]
        yield Detail(
            IN_SHAFT,
            SHAFT,
            len(shafts),
            (*models, HeldModel("", "", f"{words}{by_whom(document, HELD)}")),
            (),
            "",
        )


def _in_walls(document: Document) -> Iterator[Detail]:
    high: dict[tuple[str, object], str] = {}
    low: dict[tuple[str, object], str] = {}
    for cable in document.cables:
        at = cable.rises_at or cable.comes_down_at
        if at and cable.conduit:
            # A cable that lies on the floor on its way to the wall comes out of it there.
            places = low if cable.floor_m else high
            places[cable.room, at] = cable.conduit.partition(" for ")[0]
    if high:
        yield _conduits(document, IN_WALL, CONDUIT, high, AT_FURNITURE)
    if low:
        yield _conduits(document, IN_WALL_LOW, CONDUIT_LOW, low, AT_FLOOR)


def _conduits(
    document: Document, kind: str, location: str, places: Mapping[tuple[str, object], str], held: str
) -> Detail:
    """Return the detail of conduit in walls.

    places: size of conduit by room and place.  held: how it goes.
    """
    sizes: dict[str, set[str]] = {}
    for (room, _), size in places.items():
        sizes.setdefault(size, set()).add(room)
    models = [
        HeldModel(f"{size} in {', '.join(sorted(rooms, key=natural))}", "", "")
        for size, rooms in sorted(sizes.items())
    ]
    by = HeldModel("", "", f"{held}{by_whom(document, TUBED)}")
    return Detail(kind, location, len(places), (*models, by), (), "")


def by_whom(document: Document, about: str) -> str:
    """Return who furnishes something, as an addition to a sentence; empty where nobody is named.

    about: its row in the matrix of duties.
    """
    furnished = (
        dict(row.duties).get("furnish", "") for row in document.responsibilities if row.about == about
    )
    party = next((dict(document.parties).get(one, one) for one in furnished if one), "")
    return f"; by: {party}" if party else ""


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)
