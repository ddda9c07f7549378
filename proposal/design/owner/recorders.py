"""Which of the places that a room's sound goes to keep it."""

from collections.abc import Collection, Sequence

from proposal.design.owner.owner_devices import OwnerDevice
from proposal.model.rooms import SoundEnd

_WORDS = ("record", "archive")


def keeps_sound(code: str, end: SoundEnd, owners: Sequence[OwnerDevice], rooms: Collection[str]) -> bool:
    """Return whether a destination keeps what it gets: the owner's recorder, or one by its name.

    code: of the destination.  end: what is written of it.  owners: the owner's equipment.
    rooms: tags of the rooms that it takes the sound of.
    """
    if any(word in f"{code} {end.name}".casefold() for word in _WORDS):
        return True
    return any(
        one.written.kind == "recorder" and code in one.written.serves and set(rooms) & set(one.rooms)
        for one in owners
    )
