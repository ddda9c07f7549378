"""What a kind of room has to reach, measurably, and what the design reaches."""

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.power import PortRow
from proposal.document.rows.radio import OverfullRow
from proposal.document.rows.room_contents import CriterionRow
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.how_it_works import has_microphones, sizes_of, spare_phrase
from proposal.pages.page_context import PageContext
from proposal.quantities.formatting import count_of, listed

_PLACES = {
    "access point": ("Channels of access points", "channel"),
    "charger": ("Charge slots, spare microphones included", "slot"),
    "mixer": ("Mixer inputs", "input"),
    "breakout": ("Breakout outputs", "output"),
    "amplifier": ("Amplifier channels", "channel"),
    "switch": ("Ports of the switch in the room", "port"),
}


def criteria_of(here: PageContext, sheet: RoomSheet) -> tuple[CriterionRow, ...]:
    """Return the criteria of a kind of room, with as many figures as the edition holds."""
    rows = [_places(sheet, kind) for kind in _PLACES if sizes_of(sheet, kind)]
    rows += [
        row
        for row in (
            _on_air(here.document, sheet),
            _links(here, sheet),
            _voltage(here, sheet),
            _streams(here, sheet),
        )
        if row
    ]
    if has_microphones(sheet):
        rows.append(
            CriterionRow(
                criterion="Muting",
                required="a muted microphone is heard at no output",
                designed="by mute group",
                verdict="tested in commissioning",
            )
        )
    return tuple(rows)


def not_all_at_once(document: Document, sheet: RoomSheet) -> str:
    """Return in a sentence that not all microphones can be in use at once; empty where they can.

    sheet: the kind of room whose microphones they are.
    """
    row = _too_full(document, sheet)
    if row is not None:
        return (
            f"Not all of them can be in use at once: in {listed(row.rooms)} "
            f"{count_of(row.links, 'microphone')} hear each other, and there is room on the air for "
            f"{row.links - row.over_links}. The radio page tells what would help."
        )
    if document.radio is not None and document.radio.outcome == "not settled":
        return "Whether all of them can be in use at once is not settled yet; the radio page tells why."
    return ""


def _too_full(document: Document, sheet: RoomSheet) -> OverfullRow | None:
    return next((row for row in document.overfull if set(row.rooms) & set(sheet.rooms)), None)


def _on_air(document: Document, sheet: RoomSheet) -> CriterionRow | None:
    """Return whether there is room on the air for the microphones of a kind of room."""
    if document.radio is None or not sizes_of(sheet, "access point"):
        return None
    row = _too_full(document, sheet)
    designed, verdict = f"not settled for {count_of(document.radio.missing, 'microphone')}", "fails"
    if row is not None:
        designed = f"{row.links - row.over_links} of {row.links} at once in {listed(row.rooms)}"
    elif document.radio.outcome == "planned":
        designed, verdict = "a plan for all in the building", "holds"
    elif document.radio.outcome == "impossible":
        return None
    return CriterionRow(
        criterion="Microphones on the air at once",
        required=f"all {count_of(sheet.channels_needed, 'microphone')} of the room",
        designed=designed,
        verdict=verdict,
    )


def _places(sheet: RoomSheet, kind: str) -> CriterionRow:
    title, noun = _PLACES[kind]
    sizes = sizes_of(sheet, kind)
    provided, need = sizes[0].provided, sizes[0].need
    return CriterionRow(
        criterion=title,
        required=f"at least {count_of(need, noun)}",
        designed=f"{count_of(provided, noun)}, {spare_phrase(provided - need)}",
        verdict="holds" if provided >= need else "fails",
    )


def _links(here: PageContext, sheet: RoomSheet) -> CriterionRow | None:
    title = "Data link nearest to its limit"
    judged = [row for row in here.document.cables if row.room in sheet.rooms and row.margin_m is not None]
    if judged:
        worst = min(judged, key=_margin)
        return CriterionRow(
            criterion=title,
            required=f"at most {here.quantity(worst.limit_m or 0.0, 'length')} at its temperature",
            designed=here.quantity(worst.length_m, "length"),
            at=worst.identity,
            verdict=worst.verdict,
        )
    runs = [
        row.longest_m
        for row in here.document.riser_lines
        if row.room in sheet.rooms and row.signal == "network"
    ]
    if not runs:
        return None
    return CriterionRow(
        criterion="Longest data link",
        required="within the limit of structured cabling at its temperature",
        designed=here.quantity(max(runs), "length"),
        verdict="tested in commissioning",
    )


def _margin(row: CableRow) -> tuple[float, str]:
    return (row.margin_m or 0.0, row.identity)


def _streams(here: PageContext, sheet: RoomSheet) -> CriterionRow | None:
    load, speed = sheet.switch_load_bit_s, sheet.switch_speed_bit_s
    if load is None or speed is None:
        return None
    return CriterionRow(
        criterion="Streams at the busiest port of the room's switch",
        required=f"at most {here.quantity(speed, 'port_speed')}",
        designed=here.quantity(load, "data_rate"),
        verdict="holds" if load <= speed else "fails",
    )


def _voltage(here: PageContext, sheet: RoomSheet) -> CriterionRow | None:
    rooms = {device.tag: device.room for device in here.document.devices}
    judged = [
        row
        for row in here.document.ports
        if rooms.get(row.device) in sheet.rooms and row.device_v is not None and row.least_v is not None
    ]
    if not judged:
        return None
    worst = min(judged, key=_headroom)
    return CriterionRow(
        criterion="Voltage at the device nearest to its least",
        required=f"at least {here.quantity(worst.least_v or 0.0, 'voltage')}",
        designed=here.quantity(worst.device_v or 0.0, "voltage"),
        at=worst.device,
        verdict="holds" if _headroom(worst)[0] >= 0 else "fails",
    )


def _headroom(row: PortRow) -> tuple[float, str]:
    return ((row.device_v or 0.0) - (row.least_v or 0.0), row.device)
