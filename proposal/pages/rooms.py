"""The room schedule."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow, StoreyRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import note_box
from proposal.pages.prose import prose_of
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, room_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities.formatting import count_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomsPage:
    """Every room of the building, its storeys and its equipment rooms.

    parts: of many rooms, the way to the page of each part and how many rooms stand there.
    """

    template: ClassVar[str] = "rooms.md.jinja"
    prose: Html | None
    rooms: Html | None
    parts: tuple[Html, ...]
    equipment_rooms: Html | None
    storeys: Html
    internal_notes: tuple[Html, ...]


def rooms_page(here: PageContext) -> RoomsPage:
    """Return the room schedule."""
    document = here.document
    links = links_to_parts(
        room_parts(document), paths.ROOM_LIST, here.to, lambda rows: count_of(len(rows), "room")
    )
    return RoomsPage(
        prose=prose_of(document, "rooms", here.path),
        rooms=None if links else _rooms(here, document.rooms),
        parts=links,
        equipment_rooms=_equipment_rooms(here) if document.equipment_rooms else None,
        storeys=_storeys(here),
        internal_notes=() if links else _notes_on(document.rooms),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomsPartPage:
    """The rooms of one storey, or a numbered part of them."""

    template: ClassVar[str] = "rooms-part.md.jinja"
    title: Html
    overview: Html
    rooms: Html
    internal_notes: tuple[Html, ...]


def rooms_part_page(here: PageContext, part: SchedulePart[RoomRow]) -> RoomsPartPage:
    """Return the page of a part of the room schedule.

    part: the rooms that stand on it.
    """
    return RoomsPartPage(
        title=text(part.title),
        overview=here.to(paths.ROOMS, "The rooms of all storeys"),
        rooms=_rooms(here, part.rows),
        internal_notes=_notes_on(part.rows),
    )


def _notes_on(rows: Sequence[RoomRow]) -> tuple[Html, ...]:
    notes = (note_box(f"Internal note on {room.tag}", room.internal_note) for room in rows)
    return tuple(note for note in notes if note)


def _rooms(here: PageContext, rows: Sequence[RoomRow]) -> Html:
    # Where a room and its own coordinates begin matters to those who read its plan with a measure.
    own = () if here.edition.reader == "client" else ("corner", "origin")
    fields: list[Field[RoomRow]] = [
        *fields_of(here, RoomRow, "tag", "name", "type", "storey", "area_m2", "ceiling_height_m"),
        *fields_of(here, RoomRow, "seats", "microphones", "equipment_room", *own, "finishes"),
    ]
    return schedule(
        "Every room, and where it is served from",
        fields,
        rows,
        identity=lambda row: row.tag,
        mark=here.mark("rooms"),
        total=f"{len(rows)} in all",
    )


def _equipment_rooms(here: PageContext) -> Html:
    fields: list[Field[EquipmentRoomRow]] = [
        *fields_of(here, EquipmentRoomRow, "tag", "name", "storey", "racks", "rooms_served"),
    ]
    return schedule(
        "Equipment rooms, and the rooms they serve",
        fields,
        here.document.equipment_rooms,
        identity=lambda row: row.tag,
        mark=here.mark("equipment_rooms"),
    )


def _storeys(here: PageContext) -> Html:
    fields: list[Field[StoreyRow]] = [
        *fields_of(here, StoreyRow, "tag", "name", "height_m", "slab_to_slab_m", "rooms"),
    ]
    return schedule(
        "Storeys, and the rooms on them",
        fields,
        here.document.storeys,
        identity=lambda row: row.tag,
        mark=here.mark("storeys"),
    )
