"""What a kind of room has to reach, measurably, and what the design reaches."""

from proposal.document.rows.cabling import CableRow
from proposal.document.rows.power import PortRow
from proposal.document.rows.room_contents import CriterionRow
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.how_it_works import sizes_of, spare_phrase
from proposal.pages.page_context import PageContext
from proposal.quantities.formatting import count_of

_PLACES = {
    "access point": ("Radio channels", "channel"),
    "charger": ("Charge slots, spare microphones included", "slot"),
    "mixer": ("Mixer inputs", "input"),
    "breakout": ("Breakout outputs", "output"),
    "amplifier": ("Amplifier channels", "channel"),
    "switch": ("Ports of the switch in the room", "port"),
}


def criteria_of(here: PageContext, sheet: RoomSheet) -> tuple[CriterionRow, ...]:
    """Return the criteria of a kind of room, with as many figures as the edition holds."""
    rows = [_places(sheet, kind) for kind in _PLACES if sizes_of(sheet, kind)]
    rows += [row for row in (_links(here, sheet), _voltage(here, sheet), _streams(here, sheet)) if row]
    rows.append(
        CriterionRow(
            criterion="Muting",
            required="a muted microphone is heard at no output",
            designed="by mute group",
            verdict="tested at handover",
        )
    )
    return tuple(rows)


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
        verdict="tested at handover",
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
