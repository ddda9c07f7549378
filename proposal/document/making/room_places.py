"""Rows of places in a kind of room: levels, rows of seats, wired microphones, assistive listening."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TypedDict

from proposal.design.equipment.assistive_choice import AssistiveSet, asked_by, assistive_set
from proposal.design.equipment.placed_devices import signed_area_m2
from proposal.design.equipment.wired_choice import wired_height_m, wired_models
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.sound.audio_ends import AudioEnd
from proposal.document.rows.room_places import AssistiveRow, LevelRow, PlaceRow, WiredMicrophoneRow
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.model.rows_of_places import RowOfPlaces, numbers_as_text, numbers_in


class PlaceParts(TypedDict):
    """The rows about places in a kind of room."""

    levels: tuple[LevelRow, ...]
    rows_of_places: tuple[PlaceRow, ...]
    wired_microphones: tuple[WiredMicrophoneRow, ...]
    assistive: tuple[AssistiveRow, ...]


def place_parts(
    project: Project, layout: RoomType, room: str, ends: Sequence[AudioEnd], entries: Mapping[str, Device]
) -> PlaceParts:
    """Return the fields of a kind of room that hold its places, by name.

    room: tag of the first room of the kind.
    ends: inputs and outputs of the mixers of the building.
    entries: of the library by tag of the device.
    """
    assistive = assistive_set(project, layout)
    return {
        "levels": tuple(_levels(layout)),
        "rows_of_places": tuple(_rows(layout)),
        "wired_microphones": tuple(_wired(project, layout, room, ends, entries)),
        "assistive": (_assistive(project, assistive),) if assistive else (),
    }


def _levels(layout: RoomType) -> Iterator[LevelRow]:
    on_levels = [one.level for one in layout.microphones.values()]
    on_levels += [one.level for one in layout.wired_microphones.values()]
    for code, level in sorted(layout.levels.items(), key=lambda item: (item[1].height, item[0])):
        yield LevelRow(
            code=code,
            name=level.name,
            height_m=level.height,
            area_m2=abs(signed_area_m2(level.outline)),
            seats=sum(seat.level == code for seat in layout.seats.values()),
            microphones=on_levels.count(code),
        )


def _rows(layout: RoomType) -> Iterator[PlaceRow]:
    for code, row in layout.seat_rows.items():
        yield _row(code, row, "seats")
    for code, microphones in layout.microphone_rows.items():
        yield _row(code, microphones, f"{microphones.form}, {microphones.pattern}").model_copy(
            update={
                "serves": microphones.seats,
                "mute_group": microphones.mute_group,
                "return_audio": microphones.return_audio,
            }
        )


def _row(code: str, row: RowOfPlaces, holds: str) -> PlaceRow:
    return PlaceRow(
        code=code,
        holds=holds,
        rows=row.rows,
        numbers=numbers_as_text(row.numbers),
        places=len(numbers_in(row.numbers)) * max(1, len(row.rows)),
        first=row.first,
        last=row.last,
        arc_m=row.arc,
        step=row.step if len(row.rows) > 1 else None,
        level=row.level,
    )


def _wired(
    project: Project, layout: RoomType, room: str, ends: Sequence[AudioEnd], entries: Mapping[str, Device]
) -> Iterator[WiredMicrophoneRow]:
    models = wired_models(project, layout)
    taken = {tag: end for end in ends if end.direction == "input" for tag in end.joined}
    for code, position in sorted(layout.wired_microphones.items(), key=lambda item: natural(item[0])):
        end = taken.get(device_tag(room, code))
        mixer = entries.get(end.device) if end else None
        entry = project.library.wired_microphones.get(models[code])
        seat = layout.seats[position.seat].name if position.seat else ""
        yield WiredMicrophoneRow(
            code=code,
            form=position.form,
            pattern=position.pattern,
            at=position.at,
            height_m=wired_height_m(project, layout, position),
            level=position.level,
            seat=f"{position.seat} ({seat})" if seat else position.seat,
            mute_group=position.mute_group,
            model=models[code],
            input=f"{end.device}/{end.port}" if end and end.port else "",
            phantom_a=entry.phantom if entry else 0.0,
            given_a=mixer.phantom_current if isinstance(mixer, Mixer) and end and end.port else 0.0,
        )


def _assistive(project: Project, found: AssistiveSet) -> AssistiveRow:
    count = {role: len(models) for role, models in found.models.items()}
    chargers = [project.library.assistive_devices[code] for code in found.models.get("receiver charger", ())]
    return AssistiveRow(
        seats=found.seats,
        asked_by=asked_by(project),
        receivers_wanted=found.receivers_wanted,
        receivers=count.get("receiver", 0),
        compatible_wanted=found.compatible_wanted,
        compatible=found.compatible,
        neck_loops=count.get("neck loop", 0),
        area_m2=found.area_m2,
        carrier=found.carrier,
        not_allowed=found.barred,
        transmitters=count.get("transmitter", 0),
        chargers=len(chargers),
        slots=sum(one.slots for one in chargers),
        signs=count.get("sign", 0),
    )
