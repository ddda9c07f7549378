"""Long schedules on pages of their own, storey by storey.

They are those of rooms, devices, cables, pathways and labels, of racks, streams, ports and mains power, of
take-off, labour and price line by line, of radio levels and places on the air, of drawings and values taken.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Generic, TypeVar

from proposal.document.document import Document
from proposal.document.labels import Label, labels_of
from proposal.document.rows.cabling import CableRow, RiserLine
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.findings import AssumptionRow
from proposal.document.rows.labour import LabourRow
from proposal.document.rows.network import NetworkHostRow
from proposal.document.rows.pathways import PathwayRow
from proposal.document.rows.power import SwitchRow
from proposal.document.rows.price import RoomPrice
from proposal.document.rows.price_build_up import PriceLineRow
from proposal.document.rows.racks import RackRow
from proposal.document.rows.radio import FurtherRow, MarginRow, RadioPlaceRow
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.sound import StreamRow
from proposal.document.rows.takeoff import TakeoffRow
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, join, text
from proposal.pages.paths import (
    BUILD_UP,
    CABLE_RUNS,
    CABLE_SCHEDULE,
    DEVICES,
    FURTHER,
    LABELS,
    LABOUR_LINES,
    MAINS,
    MARGIN,
    NETWORK,
    PATHWAY_LIST,
    POWER,
    RACKS,
    RADIO_LEVELS,
    RADIO_PLAN,
    ROOM_LIST,
    SHEET_LIST,
    STREAMS,
    TAKEOFF,
    VALUES_TAKEN,
    part_path,
    room_sheet_path,
)
from proposal.pages.phrases import capital
from proposal.pages.rows_on_a_page import MOST_ROWS

Row = TypeVar("Row")

MOST_OF_A_KIND = 150
"""So many rooms of a kind are listed with their devices on the page of the kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SchedulePart(Generic[Row]):
    """A storey of a schedule, or a numbered part of one.

    path: of the page on which it stands.  title: not escaped.
    """

    path: str
    title: str
    rows: tuple[Row, ...]


def room_parts(document: Document) -> tuple[SchedulePart[RoomRow], ...]:
    """Return the schedule of rooms storey by storey.

    document: as its reader may see it.
    """
    return _parts(ROOM_LIST, document, document.rooms, lambda row: row.storey, lambda row: row.tag)


def kind_parts(document: Document, sheet: RoomSheet) -> tuple[SchedulePart[RoomRow], ...]:
    """Return the rooms of a kind storey by storey.

    document: as its reader may see it.  sheet: the kind of room.
    """
    named = frozenset(sheet.rooms)
    rows = tuple(row for row in document.rooms if row.tag in named)
    page = room_sheet_path(sheet.key)
    return _parts(page, document, rows, lambda row: row.storey, lambda row: row.tag, most=MOST_OF_A_KIND)


def device_parts(document: Document) -> tuple[SchedulePart[DeviceRow], ...]:
    """Return the schedule of devices storey by storey.

    document: as its reader may see it.
    """
    return _parts(DEVICES, document, document.devices, lambda row: row.storey, lambda row: row.tag)


def network_parts(document: Document) -> tuple[SchedulePart[NetworkHostRow], ...]:
    """Return the devices on the network by the storey of their room.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    rows = document.network_hosts
    return _parts(NETWORK, document, rows, lambda row: storeys.get(row.room, ""), lambda row: row.room)


def cable_parts(document: Document) -> tuple[SchedulePart[CableRow], ...]:
    """Return the schedule of cables by the storey on which their devices stand.

    document: as its reader may see it.
    """
    return _parts(
        CABLE_SCHEDULE, document, document.cables, lambda row: row.from_storey, lambda row: row.identity
    )


def run_parts(document: Document) -> tuple[SchedulePart[RiserLine], ...]:
    """Return how many cables run from where to where, by the storey of their room.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    rows = document.riser_lines
    return _parts(CABLE_RUNS, document, rows, lambda row: storeys.get(row.room, ""), lambda row: row.room)


def rack_parts(document: Document) -> tuple[SchedulePart[RackRow], ...]:
    """Return the racks by the storey of their equipment room, each with what stands in it.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    return _parts(
        RACKS,
        document,
        document.racks,
        lambda row: storeys.get(row.equipment_room, ""),
        lambda row: row.equipment_room,
    )


def stream_parts(document: Document) -> tuple[SchedulePart[StreamRow], ...]:
    """Return the streams of networked audio by the storey of their room.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    rows = document.streams
    return _parts(STREAMS, document, rows, lambda row: storeys.get(row.room, ""), lambda row: row.room)


def pathway_parts(document: Document) -> tuple[SchedulePart[PathwayRow], ...]:
    """Return the pathways by the storey of the node where they begin.

    document: as its reader may see it.
    """
    rows = document.pathways
    return _parts(PATHWAY_LIST, document, rows, lambda row: row.from_storey, lambda row: row.tag)


def sheet_parts(document: Document) -> tuple[SchedulePart[SheetRow], ...]:
    """Return the list of drawings by kind.

    document: as its reader may see it.
    """
    rows = (*document.sheets, *document.detail_sheets, *document.check_sheets)
    return _parts(SHEET_LIST, document, rows, lambda row: capital(row.kind), lambda row: row.number)


def value_parts(document: Document) -> tuple[SchedulePart[AssumptionRow], ...]:
    """Return the values taken as their list has them, in numbered parts where they are many.

    document: as its reader may see it.
    """
    return _parts(VALUES_TAKEN, document, document.assumptions, lambda _: "", lambda row: row.number)


def further_parts(document: Document) -> tuple[SchedulePart[FurtherRow], ...]:
    """Return the microphones that could be added in each room, by the storey of the room.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    rows = document.further
    return _parts(FURTHER, document, rows, lambda row: storeys.get(row.room, ""), lambda row: row.room)


def price_line_parts(document: Document) -> tuple[SchedulePart[PriceLineRow], ...]:
    """Return the lines of the price by the storey of their room; what is of no room comes last.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    lines = document.price_lines
    return _parts(BUILD_UP, document, lines, lambda row: storeys.get(row.room, ""), lambda row: row.room)


def room_margin_parts(document: Document) -> tuple[SchedulePart[RoomPrice], ...]:
    """Return the prices of the rooms storey by storey; what serves several comes last. None without a margin.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    told = document.price is not None and document.price.margin is not None
    rows = document.room_prices if told else ()
    return _parts(MARGIN, document, rows, lambda row: storeys.get(row.key, ""), lambda row: row.key)


def label_parts(document: Document) -> tuple[SchedulePart[Label], ...]:
    """Return the labels by the storey of their room.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    labels = labels_of(document)
    return _parts(
        LABELS, document, labels, lambda label: storeys.get(label.room, ""), lambda label: label.room
    )


def switch_parts(document: Document) -> tuple[SchedulePart[SwitchRow], ...]:
    """Return the switches by the storey of their room, each with its ports and patches.

    document: as its reader may see it.
    """
    storeys = {row.tag: row.storey for row in document.devices}
    rows = document.switches
    return _parts(POWER, document, rows, lambda row: storeys.get(row.tag, ""), lambda row: row.tag)


def mains_parts(document: Document) -> tuple[SchedulePart[str], ...]:
    """Return the places with mains power storey by storey, each with its circuits, outlets and loads.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    rows = (document.circuits, document.mains_outlets, document.mains_loads, document.energy)
    places = tuple(dict.fromkeys(row.place for each in rows for row in each))
    return _parts(MAINS, document, places, lambda place: storeys.get(place, ""), lambda place: place)


def takeoff_parts(document: Document) -> tuple[SchedulePart[TakeoffRow], ...]:
    """Return the lines of the take-off by the storey of their room; what is of no room comes last.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    return _parts(
        TAKEOFF, document, document.takeoff, lambda row: storeys.get(row.room, ""), lambda row: row.room
    )


def labour_parts(document: Document) -> tuple[SchedulePart[LabourRow], ...]:
    """Return the lines of labour by the storey of their room; what is of no room comes last.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    return _parts(
        LABOUR_LINES, document, document.labour, lambda row: storeys.get(row.room, ""), lambda row: row.room
    )


def radio_level_parts(document: Document) -> tuple[SchedulePart[MarginRow], ...]:
    """Return the levels of the microphones by the storey of their room.

    document: as its reader may see it.
    """
    storeys = _storeys_of_rooms(document)
    rows = document.margins
    return _parts(RADIO_LEVELS, document, rows, lambda row: storeys.get(row.room, ""), lambda row: row.room)


def radio_plan_parts(document: Document) -> tuple[SchedulePart[RadioPlaceRow], ...]:
    """Return the places on the air by the storey of the access point; those of other users come last.

    document: as its reader may see it.
    """
    storeys = {row.tag: row.storey for row in document.devices}
    return _parts(
        RADIO_PLAN,
        document,
        document.radio_places,
        lambda row: storeys.get(row.access_point, ""),
        lambda row: row.access_point,
    )


def _storeys_of_rooms(document: Document) -> Mapping[str, str]:
    found = {row.tag: row.storey for row in document.equipment_rooms}
    return found | {row.tag: row.storey for row in document.rooms}


def links_to_parts(
    parts: Sequence[SchedulePart[Row]],
    page: str,
    to: Callable[[str, str], Html],
    counted: Callable[[tuple[Row, ...]], str],
) -> tuple[Html, ...]:
    """Return links to the pages of a schedule's parts; none where it has a single page.

    parts: of the schedule.  page: its path.
    to: returns a link to a path with a text.  counted: says how much stands in rows.
    """
    if not on_own_pages(parts, page):
        return ()
    return tuple(join((to(part.path, part.title), text(counted(part.rows))), ": ") for part in parts)


def on_own_pages(parts: Sequence[SchedulePart[Row]], page: str) -> bool:
    """Say whether a schedule's parts have pages of their own.

    parts: of the schedule.  page: its path.
    """
    return any(part.path != page for part in parts)


def _parts(
    page: str,
    document: Document,
    rows: Sequence[Row],
    storey: Callable[[Row], str],
    together: Callable[[Row], str],
    most: int = 0,
) -> tuple[SchedulePart[Row], ...]:
    """Return a schedule's rows storey by storey from the lowest up, then those of no storey.

    together: what rows have in common that stay on one page where they fit on one.
    most: so many rows stand on one page; 0 for what `MOST_ROWS` says.
    """
    by_storey: dict[str, dict[str, list[Row]]] = {}
    for row in rows:
        by_storey.setdefault(storey(row), {}).setdefault(together(row), []).append(row)
    names = {row.tag: f"{row.tag} {row.name}" for row in document.storeys}
    known = [row.tag for row in document.storeys if row.tag in by_storey]
    others = [tag for tag in by_storey if tag not in names]
    most = most or MOST_ROWS[page]
    found: list[SchedulePart[Row]] = []
    for tag in (*known, *others):
        title = names.get(tag, tag) or "Building"
        if len(rows) <= most:
            every = tuple(row for members in by_storey[tag].values() for row in members)
            found.append(SchedulePart(path=page, title=title, rows=every))
            continue
        pieces = _pieces(by_storey[tag].values(), most)
        for number, piece in enumerate(pieces, 1):
            found.append(
                SchedulePart(
                    path=part_path(page, tag, number if len(pieces) > 1 else 0),
                    title=title if len(pieces) == 1 else f"{title}, part {number} of {len(pieces)}",
                    rows=tuple(piece),
                )
            )
    return tuple(found)


def _pieces(groups: Iterable[Sequence[Row]], most: int) -> list[list[Row]]:
    """Return rows in pieces of so many at most; a group is cut only where it is larger than a piece."""
    pieces: list[list[Row]] = []
    for group in groups:
        if pieces and len(pieces[-1]) + len(group) <= most:
            pieces[-1].extend(group)
        else:
            pieces += [list(group[first : first + most]) for first in range(0, len(group), most)]
    return pieces
