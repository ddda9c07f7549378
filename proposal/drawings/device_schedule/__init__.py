"""Every device of a storey with its place, height and fixing, and each of its cables to where it ends."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.patch_table import PatchRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.device_schedule.cables_followed import followed, length
from proposal.drawings.device_schedule.floor_boxes import BOX_HEADS, BOXES, box_texts
from proposal.drawings.device_schedule.how_held import TILED, held_words
from proposal.drawings.device_schedule.notes import FLOOR_NOTE, NOTES, fixings
from proposal.drawings.device_schedule.pathways_and_openings import (
    OPENING_HEADS,
    OPENINGS,
    PATHWAY_HEADS,
    PATHWAYS,
    furnished_by_others,
    heights_words,
    opening_texts,
    pathway_texts,
    ratings_owed,
)
from proposal.drawings.device_schedule.racked_devices import (
    FLOOR,
    place_words,
    racked_texts,
    standing_words,
    what_of,
)
from proposal.drawings.lettering import wrapped
from proposal.drawings.plan.holds import holds_of
from proposal.drawings.plan.plan_marks import code_of, natural, shortened, standing_in_rooms
from proposal.drawings.plan.symbols import place_in_order
from proposal.drawings.room_plan import tile_words
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities.floor_runs import ALONG_FURNITURE_M

LETTERS_PT = 7.0
COLUMNS = (
    ("Device", 68.0),
    ("What", 108.0),
    ("From west", 38.0),
    ("From south", 42.0),
    ("Height", 36.0),
    ("Fixed", 106.0),
    ("Cable", 104.0),
    ("Type", 56.0),
    ("Length", 38.0),
    ("Spare in it", 64.0),
    ("At the device", 114.0),
    ("By way of", 134.0),
    ("Ends at", 110.0),
    ("Patched to", 94.0),
)
"""Heading and width of each column, pt."""
_MOST_LINES = 4
_ASIDE_PT = 44.0
"""What lines of text across all columns leave free on their right, pt."""
PASSING = "Cables that pass the storey in its pathways"
CODES = "Codes of models on the sheets of the storey"
LINES_A_SHEET = 48
"""Lines that a sheet has places for."""
CABLE_COLUMN = 7
"""Number of the column that names the type of a cable, from 0."""
FIXED_COLUMN = 5
"""Number of the column that tells how a device is held, from 0."""

Cells = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class ScheduleLine:
    """A line of the schedule: the lines of text of each cell, or the heading of a room alone.

    identity: tag of its device, cable, room, pathway or opening.
    names: whether it names the columns of the lines below it.
    told: lines of text across all columns.
    """

    identity: str
    cells: Cells
    heading: str = ""
    names: bool = False
    told: tuple[str, ...] = ()

    @property
    def lines(self) -> int:
        """How many lines of text it is high."""
        return max([1, len(self.told), *(len(cell) for cell in self.cells)])


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceScheduleSpec:
    """A sheet of the devices and cables of a storey.

    where: the storey in words.  holds: what waits for an answer, in sentences.
    by_others: what others have ready for first fix, in sentences; empty where that is nothing.
    fixings: where fixings are drawn.
    ratings: who tells the fire ratings of walls that are not stated; empty where all are.
    floor: whether a cable of the storey lies on a floor.
    tiled: whether a device of the sheet hangs in a tile.
    """

    strip: TitleBlock
    where: str
    holds: tuple[str, ...] = ()
    by_others: str = ""
    fixings: str = ""
    ratings: str = ""
    lines: tuple[ScheduleLine, ...]
    floor: bool = False
    tiled: bool = False


def spec_of(edition: Edition, sheet: SheetRow) -> DeviceScheduleSpec:
    """Return what a sheet of the devices and cables of a storey shows.

    sheet: of kind `device schedule`; its subject is the tag of a storey.
    """
    document = edition.document
    names = {row.tag: row.name for row in document.storeys}
    lines = tuple(_lines(document, sheet.subject))
    lines = _page((*lines, *_codes(document, lines)), sheet.part, sheet.parts)
    return DeviceScheduleSpec(
        strip=strip_of(edition, sheet),
        where=f"{sheet.subject} {names.get(sheet.subject, '')}".strip(),
        holds=holds_of(document, sheet.subject),
        by_others=furnished_by_others(document),
        fixings=fixings(document, sheet.subject),
        ratings=ratings_owed(document, sheet.subject),
        lines=lines,
        tiled=any(line.cells and TILED in " ".join(line.cells[FIXED_COLUMN]) for line in lines),
        floor=any(
            cable.floor_m > (0.0 if cable.rises_at else ALONG_FURNITURE_M)
            and cable.from_storey == sheet.subject
            for cable in document.cables
        ),
    )


def _page(lines: Sequence[ScheduleLine], part: int, parts: int) -> tuple[ScheduleLine, ...]:
    """Return the lines of one sheet of several: rooms whole where that gives as many sheets as there are.

    A room that goes on says its heading again.
    """
    whole = sum(one.lines for one in lines)
    most = -(-whole // parts) + 1
    pages = next(
        (
            pages
            for high in range(most, LINES_A_SHEET + 1)
            if len(pages := _pages(lines, high, whole_rooms=True)) == parts
        ),
        None,
    )
    if pages is None:
        pages = next(
            (
                pages
                for high in range(most, 2 * LINES_A_SHEET)
                if len(pages := _pages(lines, high, whole_rooms=False)) <= parts
            ),
            [list(lines)],
        )
    return tuple(pages[part - 1]) if part <= len(pages) else ()


def _pages(lines: Sequence[ScheduleLine], most: int, *, whole_rooms: bool) -> list[list[ScheduleLine]]:
    """Return the lines of each sheet.

    most: lines of text that a sheet may hold.  whole_rooms: whether a room that fits a sheet is not parted.
    """
    starts = [n for n, one in enumerate(lines) if one.heading]
    pages: list[list[ScheduleLine]] = []
    filled = most
    for start, end in zip(starts, (*starts[1:], len(lines)), strict=True):
        room = lines[start:end]
        high = sum(one.lines for one in room)
        least = high if whole_rooms and high <= most else sum(one.lines for one in room[:2])
        if filled + least > most:
            pages.append([])
            filled = 0
        for together in _together(room):
            if filled + sum(one.lines for one in together) > most and len(pages[-1]) > 1:
                again = replace(room[0], heading=f"{room[0].heading}, continued")
                pages.append([again])
                filled = again.lines
            pages[-1] += together
            filled += sum(one.lines for one in together)
    return pages


def _together(lines: Sequence[ScheduleLine]) -> Iterator[list[ScheduleLine]]:
    """Yield each device with all of its lines: those that follow the one that names it."""
    block: list[ScheduleLine] = []
    for one in lines:
        if block and (not one.cells or one.cells[0]):
            yield block
            block = []
        block.append(one)
    if block:
        yield block


def _lines(document: Document, storey: str) -> Iterator[ScheduleLine]:
    """Yield the lines of a storey, room by room."""
    patches = {row.identity: row for row in document.patches}
    leaving: dict[str, list[CableRow]] = {}
    for cable in document.cables:
        leaving.setdefault(cable.from_tag, []).append(cable)
    rooms = {row.tag: row for row in document.rooms}
    kinds = {row.key: row for row in document.room_sheets}
    names = {row.tag: row.name for row in document.rooms}
    names |= {row.tag: row.name for row in document.equipment_rooms}
    plans = {tag: row.number for row in document.sheets if row.kind == "room plan" for tag in row.members}
    standing = [row for row in standing_in_rooms(document) if row.storey == storey]
    by_room = sorted(standing, key=lambda row: (row.room not in rooms, natural(row.room)))
    inside = _between_racks(document, storey)
    for tag, devices in groupby(by_room, key=lambda row: row.room):
        room = rooms.get(tag)
        told = [f"{tag} {names.get(tag, '')}".strip()]
        if tag not in rooms:
            told += place_words(document, tag)
        corner = (min(x for x, _ in room.outline), min(y for _, y in room.outline)) if room else None
        if corner:
            told.append(
                f"begins {length(document, corner[0])} E, {length(document, corner[1])} N of the origin"
            )
        if room and (kind := kinds.get(room.sheet)):
            ceiling = length(document, kind.ceiling_height_m)
            tile = tile_words(document, kind)
            told.append(f"{kind.ceiling_kind} ceiling at {ceiling}{f', tiles {tile}' if tile else ''}")
        told += [f"room plan {plans[tag]}"] if tag in plans else []
        if hooks := [
            f"{row.quantity:f} × {row.item}{_every(document, row.spacing_m)}"
            for row in document.takeoff
            if row.section == "supports" and row.room == tag
        ]:
            told.append(f"supports outside pathways: {', '.join(hooks)}")
        yield ScheduleLine(tag, (), ", ".join(told))
        for together in _alike(tuple(devices), leaving):
            yield from _of_device(document, together, corner, leaving, patches)
        racks = {row.tag for row in standing if row.room == tag and row.kind == "rack"}
        yield from _in_racks(document, racks, inside.get(tag, ()), patches)
    for title, heads, texts in (
        (PATHWAYS + heights_words(document, storey), PATHWAY_HEADS, tuple(pathway_texts(document, storey))),
        (BOXES, BOX_HEADS, tuple(box_texts(document, storey))),
        (OPENINGS, OPENING_HEADS, tuple(opening_texts(document, storey))),
    ):
        if texts:
            yield ScheduleLine("", (), title)
            yield ScheduleLine("", _cells(heads), names=True)
            yield from (ScheduleLine(identity, _cells(cells)) for identity, cells in texts)
    yield from _passing(document, storey, patches)


def _codes(document: Document, lines: Sequence[ScheduleLine]) -> Iterator[ScheduleLine]:
    """Yield what the codes of models mean that the lines of a storey name."""
    names = {row.item: row.description for row in document.takeoff if row.item != row.description}
    words = " ".join(
        part for line in lines for part in (line.heading, *(w for cell in line.cells for w in cell))
    )
    named = sorted(set(words.replace(",", " ").split()) & names.keys(), key=natural)
    if named:
        told = "; ".join(f"{code} {names[code]}" for code in named)
        across = sum(width for _, width in COLUMNS)
        yield ScheduleLine("", (), CODES)
        yield ScheduleLine("", (), told=wrapped(told, across - _ASIDE_PT, LINES_A_SHEET, LETTERS_PT))


def _every(document: Document, spacing_m: float | None) -> str:
    return f", one every {length(document, spacing_m)}" if spacing_m else ""


def _in_racks(
    document: Document, racks: Collection[str], away: Sequence[CableRow], patches: Mapping[str, PatchRow]
) -> Iterator[ScheduleLine]:
    """Yield the devices in racks, each with its unit, what is joined to it, and the port of its switch.

    away: cables from the racks to those of other equipment rooms; each stands with its device.
    """
    told_of = dict(racked_texts(document, racks))
    for tag, told in told_of.items():
        for texts in told:
            yield ScheduleLine(tag, _cells([texts.get(heading, "") for heading, _ in COLUMNS]))
        yield from (_line(tag, document, None, one, patches) for one in away if one.from_tag == tag)
    yield from (_line("", document, None, one, patches) for one in away if one.from_tag not in told_of)


def _passing(document: Document, storey: str, patches: Mapping[str, PatchRow]) -> Iterator[ScheduleLine]:
    """Yield the cables that only pass a storey in its pathways, from storeys above and below."""
    nodes = {node.tag: node.storey for node in document.nodes}
    here = {
        row.tag for row in document.pathways if storey in (nodes.get(row.from_node), nodes.get(row.to_node))
    }
    found = [
        cable
        for cable in document.cables
        if storey not in (cable.from_storey, cable.to_storey) and here & set(cable.pathways)
    ]
    if found:
        yield ScheduleLine("", (), PASSING)
        yield ScheduleLine("", _cells([heading for heading, _ in COLUMNS]), names=True)
        yield from (_line(cable.from_tag, document, None, cable, patches) for cable in found)


def _alike(devices: Sequence[DeviceRow], leaving: Mapping[str, Sequence[CableRow]]) -> list[list[DeviceRow]]:
    """Return devices that share a line: without a cable, of one model, held alike at one height."""
    groups: dict[tuple[object, ...], list[DeviceRow]] = {}
    for row in sorted(devices, key=lambda row: (place_in_order(row.kind), natural(row.tag))):
        own = row.tag if row.tag in leaving else ""
        groups.setdefault((own, row.kind, row.model, row.location, row.height_m), []).append(row)
    return list(groups.values())


def _between_racks(document: Document, storey: str) -> dict[str, list[CableRow]]:
    """Return the cables from rack to rack that begin on a storey, by equipment room."""
    places = {place.tag for place in document.equipment_rooms if place.storey == storey}
    found: dict[str, list[CableRow]] = {}
    for cable in document.cables:
        if cable.from_panel and cable.room in places:
            found.setdefault(cable.room, []).append(cable)
    return found


def _of_device(
    document: Document,
    rows: Sequence[DeviceRow],
    corner: tuple[float, float] | None,
    leaving: Mapping[str, Sequence[CableRow]],
    patches: Mapping[str, PatchRow],
) -> Iterator[ScheduleLine]:
    """Yield a line for each cable of a device, or one for devices without."""
    one = rows[0]
    codes = shortened([code_of(row.tag, row.room) for row in rows])
    named = one.tag if len(rows) == 1 else f"{one.room}-{codes}"
    placed = one.at if len(rows) == 1 and corner else None
    hung = any(rack.tag == one.tag and rack.style not in ("", FLOOR) for rack in document.racks)
    told = (
        named,
        what_of(document, one),
        *_placed(document, one.at if one.kind == "rack" else placed, corner),
        "" if one.height_m is None or hung else length(document, one.height_m),
        ", ".join(
            part
            for part in (
                standing_words(document, one) if one.kind == "rack" else held_words(document, rows),
                one.mount and f"mount {one.mount}",
            )
            if part
        ),
    )
    low = None if one.location == "ceiling" else corner
    for n, cable in enumerate(leaving.get(one.tag, ()) or (None,)):
        yield _line(one.tag, document, told if n == 0 else None, cable, patches, low)


def _placed(
    document: Document, at: tuple[float, float] | None, corner: tuple[float, float] | None
) -> tuple[str, str]:
    """Return how far a device is from the west and from the south wall of its room.

    corner: of the room; where it has none, distances are from the building's origin.
    """
    if at is None:
        return "", ""
    if corner is None:
        return f"{length(document, at[0])} E", f"{length(document, at[1])} N"
    return length(document, at[0] - corner[0]), length(document, at[1] - corner[1])


def _line(
    identity: str,
    document: Document,
    told: tuple[str, ...] | None,
    cable: CableRow | None,
    patches: Mapping[str, PatchRow],
    corner: tuple[float, float] | None = None,
) -> ScheduleLine:
    """Return a line.

    told: what is said of the device.  cable: the cable that the line follows, if any.
    corner: of the room, from which is told where a cable of a device below the ceiling enters its pathway.
    """
    texts = [*(told or ("",) * 6), *(followed(document, cable, patches, corner) if cable else ("",) * 8)]
    return ScheduleLine(cable.identity if cable else identity, _cells(texts))


def _cells(texts: Sequence[str]) -> Cells:
    return tuple(
        wrapped(words, width - 6, _MOST_LINES, LETTERS_PT) if words else ()
        for words, (_, width) in zip(texts, COLUMNS, strict=True)
    )


def alternative(spec: DeviceScheduleSpec) -> str:
    """Return what the sheet shows in sentences."""
    sentences = [f"Devices and cables of {spec.where}.", *spec.holds]
    for line in spec.lines:
        if line.heading:
            sentences.append(f"{line.heading}.")
            continue
        if line.told:
            sentences.append(f"{' '.join(line.told)}.")
            continue
        said = [
            f"{heading} {' '.join(cell)}"
            for (heading, _), cell in zip(COLUMNS, line.cells, strict=True)
            if cell
        ]
        sentences.append(f"{'; '.join(said)}.")
    return " ".join((*sentences, *NOTES, *((FLOOR_NOTE,) if spec.floor else ())))
