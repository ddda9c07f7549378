"""What every way of muting does: to indicators, to the local mix and to the far end."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.equipment.microphone_switches import LIVE_AT_FIRST, PRESSED, switch_of
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Microphone
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import ControlPoint
from proposal.model.project import Project
from proposal.model.rooms import RoomType

LIVE, MUTED = "live", "muted"
NOBODY = "no far end"
AS_SWITCHED = "as its own switch says"
_TAKEN = "Microphone taken from its charger"


@dataclass(frozen=True, slots=True, kw_only=True)
class MuteState:
    """One trigger and what holds while it does.

    trigger: what somebody does, in words.
    microphones: codes of the microphones concerned; empty for all of the room.
    indicator: what the microphones' indicators show.
    local_mix, far_end: whether they are heard in the room and by the far end.
    """

    trigger: str
    microphones: tuple[str, ...]
    indicator: str
    local_mix: str
    far_end: str


def mute_states(
    project: Project, layout: RoomType, models: Mapping[str, str], mixing: Sequence[str]
) -> tuple[MuteState, ...]:
    """Return the truth table of a kind of room.

    layout: of the kind; nothing is muted where it has no microphones.
    models: model by code of microphone.  mixing: models of its mixers or breakouts.
    A switch decides for its own microphone; a group's mute goes before it, the mute of all before that, and
    all three are set at one place, the control system's, so that they never fall out of step. Where nothing
    mutes groups, they have no lines.
    """
    if not (layout.microphones or layout.wired_microphones):
        return ()
    heard = has_far_end(layout)
    switched: dict[str, list[str]] = {}
    for code in sorted(layout.microphones, key=natural):
        entry = project.library.entry(models[code]) if models.get(code) else None
        if isinstance(entry, Microphone):
            switched.setdefault(switch_of(layout, code, entry), []).append(code)
    if layout.wired_microphones:
        switched.setdefault("none", []).extend(sorted(layout.wired_microphones, key=natural))
    states = [_state(heard, *one) for one in _switches(switched)]
    sets_groups = any(
        BY_GROUP in points and "set" in points[BY_GROUP].access for points in _points(project, mixing)
    )
    groups: dict[str, list[str]] = {}
    group_of = {code: one.mute_group for code, one in layout.microphones.items()}
    group_of |= {code: one.mute_group for code, one in layout.wired_microphones.items()}
    for code in sorted(group_of, key=natural):
        groups.setdefault(group_of[code], []).append(code)
    for group, codes in sorted(groups.items(), key=lambda item: natural(item[0])):
        if len(groups) > 1 and sets_groups:
            by, own = _by(layout, group), AS_SWITCHED
            states.append(_state(heard, f"Mute of group {group} set{by}", codes, MUTED, MUTED))
            states.append(_state(heard, f"Mute of group {group} released{by}", codes, own, own))
    by = _by(layout, "all")
    states.append(_state(heard, f"Mute of all set{by}", [], MUTED, MUTED))
    states.append(_state(heard, f"Mute of all released{by}", [], AS_SWITCHED, AS_SWITCHED))
    if layout.microphones:
        states.append(_state(heard, "Microphone put into its charger", [], "charging", MUTED))
        states += _taken(heard, switched, layout)
        states.append(_state(heard, f"{_TAKEN}, its group or all muted", [], MUTED, MUTED))
    if heard:
        states.append(_mute_of_the_far_end(far_end_mutes_room(layout)))
    if has_emergency_mute(project, mixing):
        states.append(_state(heard, "Contact of the fire alarm closed (emergency mute)", [], MUTED, MUTED))
    return tuple(states)


def far_end_mutes_room(layout: RoomType) -> bool:
    """Return whether a mute set in a conferencing system of a kind of room mutes its microphones too.

    layout: of the kind. Mutes are set over the network, so that one reaches them from what is on it.
    """
    return any(
        end.signal == NETWORKED if end.mutes_room is None else end.mutes_room
        for code, end in layout.returns.items()
        if code in layout.destinations
    )


def has_emergency_mute(project: Project, mixing: Sequence[str]) -> bool:
    """Return whether the fire alarm can mute a room: its mixers take a contact that the building may have.

    mixing: models of its mixers or breakouts.
    """
    takes = any("emergency mute" in points for points in _points(project, mixing))
    return takes and project.building.fire_alarm_contact is not False


def _mute_of_the_far_end(mutes_room: bool) -> MuteState:
    if mutes_room:
        trigger, own = "Mute set in the conferencing system, which sets the mute of all with it", MUTED
    else:
        trigger, own = "Mute set in the conferencing system, which mutes nothing in the room", AS_SWITCHED
    return MuteState(trigger=trigger, microphones=(), indicator=own, local_mix=own, far_end=MUTED)


def _taken(heard: bool, switched: Mapping[str, list[str]], layout: RoomType) -> Iterator[MuteState]:
    """Yield what wireless microphones are when they are taken from their chargers, by their switches."""
    for live in (True, False):
        codes = [
            code
            for switch, all_codes in switched.items()
            if (switch in LIVE_AT_FIRST) == live
            for code in all_codes
            if code in layout.microphones
        ]
        if codes:
            sound = LIVE if live else MUTED
            yield _state(
                heard,
                f"{_TAKEN}, nothing muted",
                sorted(codes, key=natural),
                sound,
                sound,
            )


def _by(layout: RoomType, group: str) -> str:
    """Return who sets and releases the mute of a group, as a phrase; empty where nobody says."""
    who = layout.mute_operators.get(group, "")
    return f" by {who}" if who else ""


def _switches(switched: Mapping[str, list[str]]) -> Iterator[tuple[str, list[str], str, str]]:
    """Yield trigger, microphones, indicator and sound for what each sort of switch does."""
    for switch, codes in sorted(switched.items()):
        if switch == "press to speak":
            yield "Meeting begins", codes, MUTED, MUTED
        if switch in PRESSED:
            yield "Switch pressed while live", codes, MUTED, MUTED
            yield "Switch pressed while muted", codes, LIVE, LIVE
        elif switch == "push to talk":
            yield "Switch held", codes, LIVE, LIVE
            yield "Switch not held", codes, MUTED, MUTED
        elif switch == "push to mute":
            yield "Switch held", codes, MUTED, MUTED
            yield "Switch not held", codes, LIVE, LIVE
        else:
            yield "No switch", codes, LIVE, LIVE


def _state(heard: bool, trigger: str, codes: Sequence[str], indicator: str, sound: str) -> MuteState:
    return MuteState(
        trigger=trigger,
        microphones=tuple(codes),
        indicator=indicator,
        local_mix=sound,
        far_end=sound if heard else NOBODY,
    )


def has_far_end(layout: RoomType) -> bool:
    """Return whether somebody outside hears the room: something both takes the mix and returns sound."""
    return any(code in layout.destinations for code in layout.returns)


def _points(project: Project, models: Sequence[str]) -> Iterator[Mapping[str, ControlPoint]]:
    for model in models:
        entry = project.library.entry(model)
        if isinstance(entry, Device):
            yield entry.control_points


BY_GROUP, OF_ALL = "mute", "mute all"
"""Control points that set mutes: of one input or microphone each, and of everything at once."""
_NOT_WHERE_GROUPS_ARE_MUTED = ("microphone", "amplifier")
"""Kinds of equipment whose mutes are no mute of a group: an amplifier's silences the far end too."""


def mutes_asked(layout: RoomType) -> bool:
    """Return whether microphones of a kind of room are to be muted together: in groups, or by somebody."""
    groups = {one.mute_group for one in layout.microphones.values()}
    groups |= {one.mute_group for one in layout.wired_microphones.values()}
    return bool(layout.mute_operators) or len(groups) > 1


def mute_points(devices: Sequence[Placed], entries: Mapping[str, Device]) -> tuple[tuple[str, str], ...]:
    """Return code and control point of the devices of a room at which a control system can set mutes.

    devices: of the room.  entries: of the design, by tag.
    """
    return tuple(
        (device.code, name)
        for device in sorted(devices, key=lambda one: natural(one.code))
        if device.kind not in _NOT_WHERE_GROUPS_ARE_MUTED and (entry := entries.get(device.tag)) is not None
        for name, point in entry.control_points.items()
        if name in (BY_GROUP, OF_ALL) and "set" in point.access
    )
