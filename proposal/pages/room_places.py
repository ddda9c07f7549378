"""What stands where in a kind of room: levels, rows of seats, wired microphones, assistive listening."""

from proposal.document.rows.room_places import AssistiveRow, LevelRow, PlaceRow, WiredMicrophoneRow
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import fields_of, schedule

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
