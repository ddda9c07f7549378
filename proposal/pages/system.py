"""The description of the whole system."""

from collections.abc import Callable
from typing import ClassVar

from proposal.document.rows.power import SwitchRow
from proposal.document.rows.rooms import EquipmentRoomRow, RoomSheet
from proposal.field_classes import dataclass
from proposal.pages.how_it_works import has_microphones, sizes_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import capital, forms, plural
from proposal.pages.prose import prose_of
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.tables import Column
from proposal.quantities.formatting import count_of, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class SystemPage:
    """How the whole system is built up: rooms, radio, network, equipment rooms.

    sentences: the description in words.
    """

    template: ClassVar[str] = "system.md.jinja"
    prose: Html | None
    sentences: tuple[Html, ...]
    kinds: Html
    equipment_rooms: Html | None
    switches: Html | None


def system_page(here: PageContext) -> SystemPage:
    """Return the description of the system."""
    document = here.document
    return SystemPage(
        prose=prose_of(document, "system", here.path),
        sentences=_sentences(here),
        kinds=_kinds(here),
        equipment_rooms=_equipment_rooms(here) if document.equipment_rooms else None,
        switches=_switches(here) if document.switches else None,
    )


def _sentences(here: PageContext) -> tuple[Html, ...]:
    document = here.document
    by_form: dict[str, int] = {}
    for sheet in document.room_sheets:
        for microphone in sheet.microphones:
            by_form[microphone.form] = by_form.get(microphone.form, 0) + len(sheet.rooms)
    wired = sum(len(sheet.wired_microphones) * len(sheet.rooms) for sheet in document.room_sheets)
    beside = f", and {count_of(wired, 'microphone')} on a cable" if wired else ""
    places = [place.tag for place in document.equipment_rooms]
    planned = [sheet for sheet in document.room_sheets if not sheet.nothing_planned]
    empty = [sheet for sheet in document.room_sheets if sheet.nothing_planned]
    mixed = [sheet for sheet in planned if sheet.output == "mixer"]
    direct = [sheet for sheet in planned if sheet.output != "mixer"]
    sentences = [
        f"The system serves {document.rooms_in_words} on "
        f"{count_of(len({row.storey for row in document.planned_rooms}), 'storey')} with "
        f"{count_of(sum(by_form.values()), 'wireless microphone')} in use at once: "
        f"{forms(by_form.items())}{beside}.",
    ]
    if by_form:
        listening = [sheet for sheet in document.room_sheets if not sheet.microphones]
        sentences.append(
            f"In every room {'with wireless microphones ' if listening else ''}access points receive the "
            f"microphones by licence-exempt radio ({document.cover.region}), chargers hold them between "
            "meetings, and sound travels as networked audio (AES67) over data cables that also power the "
            "devices."
        )
    silent = [sheet for sheet in planned if not has_microphones(sheet)]
    if silent:
        sentences.append(f"Rooms without microphones, where people listen: {_rooms_of(silent)}.")
    if mixed:
        sentences.append(f"Rooms with an automatic mixer: {_rooms_of(mixed)}.")
    if direct:
        sentences.append(
            "Rooms with breakouts, which give analogue sound to the room's own equipment: "
            f"{_rooms_of(direct)}."
        )
    if empty:
        sentences.append(f"Nothing is planned here: {_rooms_of(empty)}.")
    if places:
        kind = "equipment room" if len(places) == 1 else plural("equipment room")
        sentences.append(f"Cables end in racks in {kind} {listed(places)}.")
    return tuple(text(sentence) for sentence in sentences)


def _rooms_of(sheets: list[RoomSheet]) -> str:
    return listed(
        [
            f"{sheet.title} ({count_of(len(sheet.rooms), 'room')})" if len(sheet.rooms) > 1 else sheet.title
            for sheet in sheets
        ]
    )


def _kinds(here: PageContext) -> Html:
    document = here.document
    kinds = list(dict.fromkeys(row.kind for sheet in document.room_sheets for row in sheet.sizes))
    fields: list[Field[RoomSheet]] = [
        *fields_of(here, RoomSheet, "title"),
        Field(Column(here.heading("rooms"), numeric=True), lambda row: here.count(len(row.rooms))),
        Field(
            Column(here.heading("microphones"), numeric=True),
            lambda row: here.count(len(row.microphones) + len(row.wired_microphones)),
        ),
        *(Field(Column(capital(plural(kind)), numeric=True), _count(here, kind)) for kind in kinds),
        *fields_of(here, RoomSheet, "output", "network"),
    ]
    return schedule("What one room of each kind takes", fields, document.room_sheets)


def _count(here: PageContext, kind: str) -> Callable[[RoomSheet], object]:
    return lambda sheet: here.count(sum(row.quantity for row in sizes_of(sheet, kind)) or None)


def _equipment_rooms(here: PageContext) -> Html:
    document = here.document
    fields: list[Field[EquipmentRoomRow]] = [
        *fields_of(here, EquipmentRoomRow, "tag", "name", "storey", "rooms_served", "devices"),
        Field(
            Column(here.heading("cables_ending_here"), numeric=True),
            lambda row: here.count(sum(line.count for line in document.riser_lines if line.end == row.tag)),
        ),
    ]
    return schedule("Equipment rooms, and what stands and ends there", fields, document.equipment_rooms)


def _switches(here: PageContext) -> Html:
    fields: list[Field[SwitchRow]] = [
        *fields_of(here, SwitchRow, "tag", "model", "ports", "used", "verdict"),
        Field(
            here.heading("details"),
            lambda row: here.linked(row.tag, "ports", "port by port"),
        ),
    ]
    return schedule("Switches, and whether their power suffices", fields, here.document.switches)
