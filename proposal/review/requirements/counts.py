"""Answers that count what the design has."""

from collections.abc import Callable, Mapping, Sequence

from proposal.design.equipment.assistive_choice import AssistiveSet, assistive_set
from proposal.model.requirements.answers import CountAnswer
from proposal.review.requirements.answered import (
    Answered,
    Evidence,
    compared,
    no_such_room,
    rooms_of,
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
_ASSISTIVE: Mapping[str, Callable[[AssistiveSet], int]] = {
    "assistive receivers": lambda found: len(found.models.get("receiver", ())),
    "receivers for hearing aids": lambda found: found.compatible,
    "signs for assistive listening": lambda found: len(found.models.get("sign", ())),
}


def answered_by_count(answer: CountAnswer, evidence: Evidence) -> Answered:
    """Return what came of counting."""
    rooms = rooms_of(evidence, answer.room)
    if not rooms:
        return unanswered(answer.count, no_such_room(answer.room))
    number = _number(answer, evidence, rooms)
    verdict, comparison, limit = compared(number, answer.at_least, answer.at_most)
    return Answered(
        about=answer.count,
        verdict=verdict,
        value=float(number),
        limit=float(limit),
        comparison=comparison,
        where=answer.room,
    )


def _number(answer: CountAnswer, evidence: Evidence, rooms: Sequence[str]) -> int:
    design, counted = evidence.design, answer.count
    layouts = {tag: evidence.project.rooms[tag].layout for tag in rooms}
    if counted == "rooms":
        return len(rooms)
    if counted == "seats":
        return sum(len(layout.seats) for layout in layouts.values())
    if counted == "free switch ports":
        held = [
            power.switch
            for power in design.switches
            if (power.switch.device.room in rooms if answer.room else power.switch.device.kind == "switch")
        ]
        return sum(number not in switch.ports for switch in held for number in switch.numbers)
    if counted == "new switches":
        bought = [device for device in design.devices if device.kind == "switch"]
        return sum(not answer.room or device.room in rooms for device in bought)
    if counted in _ASSISTIVE:
        found = [assistive_set(evidence.project, layout) for layout in layouts.values()]
        return sum(_ASSISTIVE[counted](one) for one in found if one)
    if counted == "places to charge receivers":
        receivers = evidence.project.library.assistive_devices
        of_rooms = [device.model for device in design.devices if device.room in layouts]
        return sum(receivers[model].slots for model in of_rooms if model in receivers)
    devices = [device for device in design.devices if device.room in layouts]
    if counted in _KINDS:
        return sum(device.kind == _KINDS[counted] for device in devices)
    microphones = [device for device in devices if device.kind == "microphone"]
    in_use = sum(device.code in layouts[device.room].microphones for device in microphones)
    return in_use if counted == "microphones" else len(microphones) - in_use
