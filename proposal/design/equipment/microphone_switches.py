"""What the switch of each microphone does: as asked where its model can; nobody holds a button unasked."""

from collections.abc import Mapping

from proposal.model.equipment.devices import Microphone
from proposal.model.microphone_positions import Switch
from proposal.model.project import Project
from proposal.model.rooms import RoomType

LIVE_AT_FIRST: tuple[Switch, ...] = ("toggle", "push to mute", "none")
"""What the switches do of microphones that are live when they are taken from their chargers."""
PRESSED: tuple[Switch, ...] = ("toggle", "press to speak")
"""What a switch can do that opens and mutes in turn: which comes first is set when the meeting begins."""
UNASKED: tuple[Switch, ...] = ("toggle", "push to mute", "none", "push to talk")
"""What is set where nobody says: the first that the model can; nobody has to hold a button to be heard."""


def asked_of(layout: RoomType, code: str) -> Switch | None:
    """Return what the switch of a microphone is asked to do; None where nobody says.

    layout: of its room.  code: its code there; that of a spare one has what its room type says.
    """
    position = layout.microphones.get(code)
    return (position.switch if position else None) or layout.switch


def abilities_of(entry: Microphone) -> tuple[Switch, ...]:
    """Return what the switch of a model can do, as it is delivered first."""
    delivered = (entry.mute_switch, *entry.mute_switches)
    return tuple(dict.fromkeys((*delivered, *(PRESSED if "toggle" in delivered else ()))))


def switch_of(layout: RoomType, code: str, entry: Microphone) -> Switch:
    """Return what the switch of a microphone is set to do.

    layout: of its room.  code: its code there.  entry: of the library for its model.
    What is asked and cannot be is a finding; the switch then stays as it is delivered.
    """
    able = abilities_of(entry)
    asked = asked_of(layout, code)
    if asked is not None:
        return asked if asked in able else entry.mute_switch
    return next(one for one in UNASKED if one in able)


def switches_not_possible(
    project: Project, layout: RoomType, microphones: Mapping[str, str]
) -> tuple[str, ...]:
    """Return the codes of the positions whose model cannot do what is asked of its switch.

    microphones: model by code of position, empty where there is none.
    """
    entries = {code: project.library.entry(model) for code, model in microphones.items() if model}
    return tuple(
        code
        for code, entry in entries.items()
        if isinstance(entry, Microphone) and asked_of(layout, code) not in (None, *abilities_of(entry))
    )
