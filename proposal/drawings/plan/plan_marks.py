"""Devices as plans show them: by kind and place, with their codes and what an installer asks of each."""

from collections.abc import Iterable, Sequence

from proposal.document.document import Document
from proposal.document.labels import tap_words
from proposal.document.rows.equipment import DeviceRow
from proposal.drawings.plan.symbols import place_in_order
from proposal.field_classes import dataclass

Point = tuple[float, float]
OUTLET = "outlet"
"""Connector at which a data cable begins that ends in an outlet."""


@dataclass(frozen=True, slots=True)
class PlanMark:
    """Devices of one kind at one place.

    at: m.  codes: within the room, in order.  label: the same as printed beside the mark.
    """

    kind: str
    at: Point
    codes: tuple[str, ...]
    label: str


def code_of(tag: str, room: str) -> str:
    """Return the code of a device within its room: what follows the room in its tag."""
    return tag.removeprefix(f"{room}-")


def held_at(location: str) -> str:
    """Return where a device is, as sheets say it: heights under a table are those of its top.

    location: of the device, such as table or ceiling.
    """
    return "under table top" if location == "under table" else location


def called(row: DeviceRow, form: str = "") -> str:
    """Return what a device is in words: its kind and model.

    form: of a microphone, such as gooseneck.
    """
    spare = "spare" if row.kind == "microphone" and row.location == "charger" else ""
    return " ".join(part for part in (spare, form, row.kind, row.model) if part)


def tap_of(document: Document, row: DeviceRow) -> str:
    """Return the tap of a loudspeaker on its line; empty for other devices, and where it is not shown."""
    tap = next((one for one in document.line_loudspeakers if one.loudspeaker == row.tag), None)
    return tap_words(document, tap) if tap else ""


def shortened(codes: Sequence[str]) -> str:
    """Return codes with runs of numbers as ranges: AP1, CH1–CH4."""
    parts: list[str] = []
    run: list[str] = []
    for code in (*codes, ""):
        if run and code and _follows(run[-1], code):
            run.append(code)
            continue
        if run:
            parts.extend(run if len(run) < 3 else [f"{run[0]}–{run[-1]}"])
        run = [code]
    return ", ".join(parts)


def _follows(one: str, two: str) -> bool:
    letters = one.rstrip("0123456789")
    if letters != two.rstrip("0123456789"):
        return False
    first, second = one[len(letters) :], two[len(letters) :]
    return bool(first and second) and int(second) == int(first) + 1


def natural(code: str) -> tuple[str, int, str]:
    """Return what a code such as M2 is sorted by: it comes before M10."""
    letters = code.rstrip("0123456789")
    digits = code[len(letters) :]
    return letters, int(digits or 0), code


def standing_in_rooms(document: Document) -> tuple[DeviceRow, ...]:
    """Return the devices that stand in a room or an equipment room; of racks the rack alone."""
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    return tuple(row for row in document.devices if row.location not in racks)


def schedules_of(document: Document, storeys: Sequence[str]) -> str:
    """Return the numbers of the sheets that list the devices and cables of storeys, in words.

    storeys: their tags.  Empty where the reader sees none.
    """
    numbers = [
        row.number
        for row in document.detail_sheets
        if row.kind == "device schedule" and row.subject in storeys
    ]
    return ", ".join(numbers) if len(numbers) < 4 else f"{numbers[0]} to {numbers[-1]}"


def outlets_of(
    document: Document, devices: Iterable[DeviceRow], origin: Point = (0.0, 0.0)
) -> tuple[PlanMark, ...]:
    """Return a mark for the data outlets at each place: those of the cables that begin at devices there.

    origin: what positions are counted from, m.  Their codes are those of their cables; they have
    no label.
    """
    begins: dict[str, list[str]] = {}
    for cable in document.cables:
        if cable.from_connector == OUTLET:
            begins.setdefault(cable.from_tag, []).append(cable.from_port)
    places: dict[Point, list[str]] = {}
    for row in devices:
        if row.at is not None and row.tag in begins:
            at = (round(row.at[0] - origin[0], 3), round(row.at[1] - origin[1], 3))
            code = code_of(row.tag, row.room)
            places.setdefault(at, []).extend(f"{code}/{port}" for port in begins[row.tag])
    return tuple(
        PlanMark(
            "data outlet",
            at,
            tuple(sorted(codes, key=natural)),
            "",
        )
        for at, codes in sorted(places.items())
    )


def marks_of(devices: Iterable[DeviceRow], origin: Point = (0.0, 0.0)) -> tuple[PlanMark, ...]:
    """Return a mark for devices of one kind at one place, in order of kinds and places.

    origin: what positions are counted from, m.
    """
    grouped: dict[tuple[str, Point], list[str]] = {}
    for row in devices:
        if row.at is not None:
            at = (round(row.at[0] - origin[0], 3), round(row.at[1] - origin[1], 3))
            grouped.setdefault((row.kind, at), []).append(code_of(row.tag, row.room))
    return tuple(
        PlanMark(kind, at, codes := tuple(sorted(found, key=natural)), shortened(codes))
        for (kind, at), found in sorted(
            grouped.items(), key=lambda item: (place_in_order(item[0][0]), min(map(natural, item[1])))
        )
    )
