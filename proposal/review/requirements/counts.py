"""Answers that count what the design has."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from proposal.design.charging.charge_slots import chargers_of
from proposal.design.charging.room_days import RoomDay
from proposal.design.connections.cable import Cable
from proposal.design.equipment.assistive_choice import AssistiveSet, assistive_set
from proposal.design.equipment.charger_choice import slots_by_form, slots_given
from proposal.design.equipment.placed_devices import Placed, in_building
from proposal.design.mute_panels import panel_ports
from proposal.model.microphone_positions import MicrophonePosition, WiredPosition
from proposal.model.requirements.answers import SEATS_BY_MICROPHONE, CountAnswer
from proposal.review.requirements.answered import (
    Answered,
    Evidence,
    compared,
    no_such_room,
    rooms_of,
    rooms_without_sessions,
    unanswered,
)

_KINDS = {
    "access points": "access_point",
    "chargers": "charger",
    "mixers": "mixer",
    "breakouts": "breakout",
    "loudspeakers": "loudspeaker",
    "wired microphones": "wired_microphone",
}
SWAPS, BATTERY_YEARS = "swaps of microphones a day", "years a battery lasts"
_ASSISTIVE: Mapping[str, Callable[[AssistiveSet], int]] = {
    "assistive receivers": lambda found: len(found.models.get("receiver", ())),
    "assistive transmitters": lambda found: len(found.models.get("transmitter", ())),
    "receivers for hearing aids": lambda found: found.compatible,
    "signs for assistive listening": lambda found: len(found.models.get("sign", ())),
}


def answered_by_count(answer: CountAnswer, evidence: Evidence) -> Answered:
    """Return what came of counting."""
    rooms = rooms_of(evidence, answer.room)
    if not rooms:
        return unanswered(answer.count, no_such_room(answer.room))
    if answer.joined_in:
        state = evidence.project.building.states.get(answer.joined_in)
        if state is None:
            return unanswered(answer.count, f"building.yaml has no state {answer.joined_in}", answer.room)
        joined = next((tags for tags in state.join if answer.room in tags), None)
        if joined is None:
            return unanswered(
                answer.count, f"{answer.room} is joined with no room in {answer.joined_in}", answer.room
            )
        rooms = tuple(joined)
    if answer.level and answer.level not in evidence.project.rooms[answer.room].layout.levels:
        return unanswered(answer.count, f"{answer.room} has no level {answer.level}", answer.room)
    if answer.count in (SWAPS, BATTERY_YEARS) and (unknown := rooms_without_sessions(evidence, rooms)):
        return unanswered(answer.count, f"{unknown[0]} says nothing of its meetings (sessions)", answer.room)
    number = _number(answer, evidence, rooms)
    verdict, comparison, limit = compared(number, answer.at_least, answer.at_most)
    return Answered(
        about=_about(answer),
        verdict=verdict,
        value=float(number),
        limit=float(limit),
        comparison=comparison,
        where=answer.room,
    )


def _about(answer: CountAnswer) -> str:
    """Return what is counted, in words."""
    joined = f"rooms joined in {answer.joined_in} together" if answer.joined_in else ""
    kinds = ", ".join(part for part in (answer.form, answer.carrier, answer.level, joined) if part)
    return f"{answer.count}: {kinds}" if kinds else answer.count


def _slots(evidence: Evidence, room: str) -> int:
    """Return the charge slots that the microphones of a room can use."""
    chargers = chargers_of(evidence.project, [one for one in evidence.design.devices if one.room == room])
    return slots_given(chargers.values(), slots_by_form(evidence.project.rooms[room].layout))


def _number(answer: CountAnswer, evidence: Evidence, rooms: Sequence[str]) -> int:
    design, counted = evidence.design, answer.count
    layouts = {tag: evidence.project.rooms[tag].layout for tag in rooms}
    if counted == "rooms":
        return len(rooms)
    if counted == "seats":
        seats = [seat for layout in layouts.values() for seat in layout.seats.values()]
        return sum(answer.level in ("", seat.level) for seat in seats)
    if counted in SEATS_BY_MICROPHONE:
        wanted = counted == "seats with a microphone"
        return sum(has == wanted for has in _seats(answer, evidence, rooms))
    if counted == "free switch ports":
        held = [
            power.switch
            for power in design.switches
            if (power.switch.device.room in rooms if answer.room else power.switch.device.kind == "switch")
        ]
        for_panels = {(switch.device.tag, number) for switch, number in panel_ports(design).values()}
        return sum(
            number not in switch.ports and (switch.device.tag, number) not in for_panels
            for switch in held
            for number in switch.numbers
        )
    if counted == "new switches":
        bought = [device for device in design.devices if device.kind == "switch"]
        return sum(not answer.room or device.room in rooms for device in bought)
    if counted == "racks":
        served = {room.equipment_room for room in design.rooms if room.tag in rooms}
        return sum(not answer.room or rack.device.room in served for rack in design.racks)
    if counted == "cables that leave their room":
        return sum(_leaves(cable, evidence) for cable in design.cables if cable.room in rooms)
    if counted == SWAPS:
        kinds = [kind for kind in design.kinds if set(kind.rooms) & set(rooms)]
        return sum(
            _most_swaps(design.days.get(kind.key, ())) * len(set(kind.rooms) & set(rooms)) for kind in kinds
        )
    if counted == BATTERY_YEARS:
        # Whole years of the battery that is worn first.
        keys = {kind.key for kind in design.kinds if set(kind.rooms) & set(rooms)}
        lives = [one.life.result for one in design.pack_lives if one.life and one.key in keys]
        return math.floor(min(lives, default=0.0))
    if counted in _ASSISTIVE:
        found = [assistive_set(evidence.project, layout) for layout in layouts.values()]
        kept = [one for one in found if one and answer.carrier in (None, one.carrier)]
        return sum(_ASSISTIVE[counted](one) for one in kept)
    if counted == "places to charge receivers":
        receivers = evidence.project.library.assistive_devices
        of_rooms = [device.model for device in design.devices if device.room in layouts]
        return sum(receivers[model].slots for model in of_rooms if model in receivers)
    devices = [device for device in design.devices if device.room in layouts]
    if counted == "places to charge microphones":
        return sum(_slots(evidence, tag) for tag in layouts)
    if counted in _KINDS:
        kind = _KINDS[counted]
        return sum(device.kind == kind and _is_of_form(device, answer, evidence) for device in devices)
    microphones = [
        device for device in devices if device.kind == "microphone" and _is_of_form(device, answer, evidence)
    ]
    in_use = sum(device.code in layouts[device.room].microphones for device in microphones)
    return in_use if counted == "microphones" else len(microphones) - in_use


def _most_swaps(days: Sequence[RoomDay]) -> int:
    """Return how often, on its busiest day, a microphone of a room is exchanged for a charged spare."""
    return max(
        (sum(len(group.held.swaps) for group in day.groups if day.judged(group) != "alone") for day in days),
        default=0,
    )


def _leaves(cable: Cable, evidence: Evidence) -> bool:
    """Return whether an end of a cable is not in its room: in a rack elsewhere, or in another room."""
    racked = evidence.project.building.equipment_rooms
    owned = [one.device for one in evidence.design.owners]
    inside = {
        device.tag
        for device in (*evidence.design.devices, *owned)
        if device.room == cable.room and device.location.rpartition("-")[0] not in racked
    }
    ends = {cable.start} if cable.to_others else {cable.start, cable.end}
    return not ends <= inside


def _is_of_form(device: Placed, answer: CountAnswer, evidence: Evidence) -> bool:
    """Return whether a microphone is of the form, by its model, and of the level that are counted."""
    layout = evidence.project.rooms[device.room].layout
    places = layout.wired_microphones if device.kind == "wired_microphone" else layout.microphones
    if answer.level and (device.code not in places or places[device.code].level != answer.level):
        return False
    if answer.form is None:
        return True
    library = evidence.project.library
    entry = library.microphones.get(device.model) or library.wired_microphones.get(device.model)
    return entry is not None and entry.form == answer.form


def _seats(answer: CountAnswer, evidence: Evidence, rooms: Sequence[str]) -> Iterator[bool]:
    """Yield for each seat whether it has a microphone of its own, or one within reach where that is asked."""
    for tag in rooms:
        room = evidence.project.rooms[tag]
        layout = room.layout
        written: Mapping[str, MicrophonePosition | WiredPosition] = {
            **layout.microphones,
            **layout.wired_microphones,
        }
        held = [
            device
            for device in evidence.design.devices
            if device.room == tag and device.kind in ("microphone", "wired_microphone")
        ]
        held = [device for device in held if device.code in written]
        named = {written[device.code].seat for device in held}
        seats = {code: one for code, one in layout.seats.items() if answer.level in ("", one.level)}
        for code, seat in seats.items():
            at = in_building(room, seat.at)
            yield (
                code in named
                if answer.within is None
                else any(
                    math.dist(at, device.at) <= answer.within + _NOISE_M
                    and written[device.code].level == seat.level
                    for device in held
                )
            )


_NOISE_M = 1e-6
"""What positions lose where a room is turned, m."""
