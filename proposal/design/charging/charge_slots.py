"""Which charge slots every microphone of a room has."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import Place, assign_places, issued_of, natural
from proposal.model.equipment.devices import Charger, Microphone
from proposal.model.project import Numbered, Project
from proposal.model.rooms import Form

PREFIX = "slot"
FORMS: tuple[Form, ...] = get_args(Form)


@dataclass(frozen=True, slots=True)
class SlotAssignment:
    """Where a microphone is charged: tag of the charger, its first slot and how many it covers."""

    charger: str
    first: int
    slots: int

    @property
    def number(self) -> str:
        """Return the slots as they are written: B101-CH1/3, or B101-CH1/3-4."""
        last = self.first + self.slots - 1
        return f"{self.charger}/{self.first}" + (f"-{last}" if last > self.first else "")


@dataclass(frozen=True, slots=True)
class _SlotRequest:
    """A microphone that wants slots, whether it is a spare one, and the places it could have."""

    tag: str
    spare: bool
    slots: int
    places: tuple[Place, ...]
    chargers: int


def berths(project: Project, devices: Sequence[Placed]) -> dict[str, SlotAssignment]:
    """Return where each microphone of a room is charged, by tag; one that finds no slot is left out.

    devices: the room's.
    A form that covers two slots starts at an odd one, so that no single slot is lost between two of them.
    Where slots are short, spare microphones, which rest in theirs all day, have theirs first.
    """
    chargers = {
        device.tag: entry
        for device in devices
        if device.kind == "charger" and isinstance(entry := project.library.entry(device.model), Charger)
    }
    places = {form: _places(project, form, chargers) for form in FORMS}
    guests = [
        _SlotRequest(
            tag=device.tag,
            spare=device.location == "charger",
            slots=project.library.charge_slots.of(entry.form),
            places=places[entry.form],
            chargers=sum(entry.form in charger.forms for charger in chargers.values()),
        )
        for device in devices
        if device.kind == "microphone" and device.model
        if isinstance(entry := project.library.entry(device.model), Microphone)
    ]
    issued = issued_of(project.issued, PREFIX)
    found = [
        _assigned(
            sorted(guests, key=lambda one: (one.chargers, -one.slots, one.spare, natural(one.tag))), issued
        )
    ]
    # Another order is tried only where somebody finds no slot in this one.
    orders = [
        sorted(guests, key=lambda one: (-one.slots, one.chargers, one.spare, natural(one.tag))),
        sorted(guests, key=lambda one: (not one.spare, -one.slots, one.chargers, natural(one.tag))),
    ]
    if len(found[0]) < len(guests):
        found += [_assigned(order, issued) for order in orders]
    most = max(len(one) for one in found)
    # The last order puts spare microphones first, which matters only where some find no slot.
    best = next(one for one in (found if most == len(guests) else found[::-1]) if len(one) == most)
    return dict(sorted(best.items(), key=lambda item: natural(item[0])))


def _places(project: Project, form: Form, chargers: Mapping[str, Charger]) -> tuple[Place, ...]:
    """Return the places that a microphone of a form could have."""
    slots = project.library.charge_slots.of(form)
    return tuple(
        Place(SlotAssignment(tag, first, slots).number, tuple(f"{tag}/{first + n}" for n in range(slots)))
        for tag, charger in chargers.items()
        if form in charger.forms
        for first in range(1, charger.slots - slots + 2, slots)
    )


def _assigned(guests: Sequence[_SlotRequest], issued: Mapping[str, Numbered]) -> dict[str, SlotAssignment]:
    places = assign_places([(f"{PREFIX}/{guest.tag}", guest.places) for guest in guests], issued)
    return {
        guest.tag: _berth(places[f"{PREFIX}/{guest.tag}"])
        for guest in guests
        if f"{PREFIX}/{guest.tag}" in places
    }


def _berth(place: Place) -> SlotAssignment:
    charger, _, first = place.units[0].rpartition("/")
    return SlotAssignment(charger, int(first), len(place.units))
