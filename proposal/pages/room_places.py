"""What stands where in a kind of room: microphones, levels, rows of seats, assistive listening."""

from collections.abc import Mapping

from proposal.document.rows.room_contents import MicrophoneRow, Point
from proposal.document.rows.room_places import AssistiveRow, LevelRow, PlaceRow, WiredMicrophoneRow
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import plural
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities.formatting import count_of, listed

_SHORT = (
    "seats",
    "asked_by",
    "receivers_wanted",
    "receivers",
    "compatible_wanted",
    "compatible",
    "neck_loops",
)
_OTHERS = ("carrier", "not_allowed", "area_m2", "transmitters", "chargers", "slots", "signs")


def microphones_table(here: PageContext, sheet: RoomSheet) -> Html:
    """Return what each wireless microphone of a kind of room is, and where, as its plan has it.

    Where rooms of the kind lie differently in the building, the plan of each alone tells where.
    """
    built = _as_built(here, sheet)
    rows = [row.model_copy(update={"at": built.get(row.code, row.at)}) for row in sheet.microphones]
    where = "as far east of the west wall and north of the south wall as" if built else "placed as"
    fields: list[Field[MicrophoneRow]] = [
        *fields_of(here, MicrophoneRow, "code", "form", "pattern", "seat", *(("at",) if built else ())),
        *fields_of(here, MicrophoneRow, "height_m", "mounting", "return_audio", "switch", "mute_group"),
        *fields_of(here, MicrophoneRow, "accessories", "access_point", "model"),
    ]
    return schedule(f"Microphones in use at once, {where} on the plan", fields, rows)


def _as_built(here: PageContext, sheet: RoomSheet) -> Mapping[str, Point]:
    """Return how far microphones stand from the west and the south of their room, by code, m.

    Nothing where the rooms of the kind lie differently in the building.
    """
    at = {row.tag: row.at for row in here.document.devices if row.at is not None}
    found = []
    for room in here.document.rooms:
        if room.tag not in sheet.rooms:
            continue
        west, south = min(x for x, _ in room.outline), min(y for _, y in room.outline)
        placed = {row.code: at[tag] for row in sheet.microphones if (tag := f"{room.tag}-{row.code}") in at}
        found.append({code: (round(x - west, 3), round(y - south, 3)) for code, (x, y) in placed.items()})
    alike = bool(found) and len(found[0]) == len(sheet.microphones) and all(one == found[0] for one in found)
    return found[0] if alike else {}


def besides_the_boxes(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return the loudspeakers of a room, and which of its boxes stand elsewhere, in sentences."""
    racks = {rack: place.tag for place in here.document.equipment_rooms for rack in place.racks}
    devices = [row for row in here.document.devices if row.room == sheet.rooms[0]]
    told = []
    loudspeakers = [row for row in devices if row.kind == "loudspeaker"]
    if loudspeakers:
        models = listed(sorted({row.model for row in loudspeakers}))
        each = " in each room" if len(sheet.rooms) > 1 else ""
        told.append(f"Besides these, {count_of(len(loudspeakers), 'loudspeaker')} ({models}){each}.")
    away = [row for row in devices if row.location in racks]
    for place, rows in grouped(away, lambda row: racks[row.location]).items():
        kinds = [
            plural(kind) if len(same) > 1 else kind
            for kind, same in grouped(rows, lambda row: row.kind).items()
        ]
        told.append(f"Not in the room but in a rack in {place}: {listed(kinds)}.")
    return text(" ".join(told)) if told else None


def places_tables(here: PageContext, sheet: RoomSheet) -> tuple[Html, ...]:
    """Return the levels of a kind of room and its rows of seats and microphones, as far as it has any."""
    return tuple(table for table in (_levels(here, sheet), _rows(here, sheet)) if table)


def _levels(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return the levels of a kind of room; None where it has none."""
    fields = fields_of(here, LevelRow, "code", "name", "height_m", "area_m2", "seats", "microphones")
    return schedule("Levels of the room", fields, sheet.levels) if sheet.levels else None


def _rows(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return the rows of seats and microphones of a kind of room; None where it has none."""
    names = ("code", "holds", "rows", "numbers", "places", "first", "last", "arc_m", "step", "level")
    marked = any(row.mute_group for row in sheet.rows_of_places)
    fields = fields_of(here, PlaceRow, *names, *(("serves", "mute_group", "return_audio") if marked else ()))
    return (
        schedule("Seats and microphones in rows", fields, sheet.rows_of_places)
        if sheet.rows_of_places
        else None
    )


def wired_table(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return the wired microphones of a kind of room; None where it has none."""
    names = ("code", "form", "pattern", "seat", "at", "height_m", "level", "mute_group", "model", "input")
    fields = fields_of(here, WiredMicrophoneRow, *names, "phantom_a", "given_a")
    return schedule("Wired microphones", fields, sheet.wired_microphones) if sheet.wired_microphones else None


def assistive_lead(sheet: RoomSheet) -> Html:
    """Return where the receivers for assistive listening of a kind of room are handed out."""
    signed = any(row.signs for row in sheet.assistive)
    return text(
        "Receivers are handed out with the chargers, where the sign is."
        if signed
        else "Receivers are handed out with the chargers; no sign of ours tells of them."
    )


def assistive_facts(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return what a kind of room has for assistive listening; None where the proposal holds none."""
    if not sheet.assistive:
        return None
    row: AssistiveRow = sheet.assistive[0]
    return fact_list("Assistive listening", facts_of(here, row, *_SHORT, *_OTHERS))
