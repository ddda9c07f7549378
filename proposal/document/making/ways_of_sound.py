"""Where the sound of a kind of room goes and comes from, who runs it, and what mutes it from elsewhere."""

from typing import TypedDict

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.owner.recorders import keeps_sound
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.carried_sound import RETURN_FROM
from proposal.design.sound.muting import far_end_mutes_room, has_emergency_mute, has_far_end
from proposal.document.rows.room_contents import DestinationRow
from proposal.model.rooms import Destination, SoundEnd


class WaysOfSound(TypedDict):
    """What the sheet of a kind of room says of them."""

    destinations: tuple[DestinationRow, ...]
    returns: tuple[DestinationRow, ...]
    far_end_mutes: str
    emergency_mute: str
    in_private: str


def ways_of_sound(design: Design, kind: RoomKind) -> WaysOfSound:
    """Return the parts of the sheet of a kind of room that tell of its ways of sound, by name."""
    layout, building = kind.layout, design.project.building
    mutes = "room" if far_end_mutes_room(layout) else "far end alone" if has_far_end(layout) else ""
    mixing = [
        one.model for one in design.devices if one.room == kind.rooms[0] and one.kind in ("mixer", "breakout")
    ]
    by_alarm = "yes" if building.fire_alarm_contact else "where it has a contact"
    return {
        "destinations": tuple(_row(design, kind, code) for code in sorted(layout.destinations, key=natural)),
        "returns": tuple(
            _row(design, kind, code, of=layout.returns[code]) for code in sorted(layout.returns, key=natural)
        ),
        "far_end_mutes": mutes,
        "emergency_mute": by_alarm if has_emergency_mute(design.project, mixing) else "",
        "in_private": layout.in_private,
    }


def _row(design: Design, kind: RoomKind, code: str, of: SoundEnd | None = None) -> DestinationRow:
    """Return the row of a destination.

    of: the return that it is instead.
    """
    end = kind.layout.destinations[code] if of is None else of
    going = isinstance(end, Destination)
    return DestinationRow(
        code=code,
        name=end.name,
        signal=end.signal,
        channels=end.channels,
        carries=end.carries if isinstance(end, Destination) else (),
        heard_in_room=isinstance(end, Destination) and end.heard_in_room,
        keeps=going and keeps_sound(code, end, design.owners, kind.rooms),
        operated_by=end.operated_by if isinstance(end, Destination) else "",
        with_returns=_with_returns(design, kind, code) if going else (),
        announcements=end.announcements,
    )


def _with_returns(design: Design, kind: RoomKind, code: str) -> tuple[str, ...]:
    """Return the names of the returns whose sound a destination gets beside the room's own."""
    names = {one.name for one in kind.layout.returns.values()}
    found = [
        name
        for end in design.ends
        if end.direction == "output" and code in end.joined and end.device.startswith(f"{kind.rooms[0]}-")
        for name in (one.removeprefix(RETURN_FROM) for one in end.carries if one.startswith(RETURN_FROM))
        if name in names
    ]
    return tuple(dict.fromkeys(found))
