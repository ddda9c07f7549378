"""Which charge slot every microphone of a room has."""

from collections import deque
from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import Place, assign_places, issued_of, natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Charger, Microphone
from proposal.model.project import Numbered, Project

PREFIX = "slot"


@dataclass(frozen=True, slots=True)
class SlotAssignment:
    """Where a microphone is charged: tag of the charger and number of its slot, from 1."""

    charger: str
    slot: int

    @property
    def number(self) -> str:
        """Return the slot as it is written: B101-CH1/3."""
        return f"{self.charger}/{self.slot}"


@dataclass(frozen=True, slots=True)
class _SlotRequest:
    """A microphone that wants a slot, whether it is a spare one, and the slots that take it."""

    tag: str
    spare: bool
    places: tuple[Place, ...]

    @property
    def identity(self) -> str:
        return f"{PREFIX}/{self.tag}"


def chargers_of(project: Project, devices: Sequence[Placed]) -> dict[str, Charger]:
    """Return the chargers among a room's devices, by tag."""
    return {
        device.tag: entry
        for device in devices
        if device.kind == "charger" and isinstance(entry := project.library.entry(device.model), Charger)
    }


def charge_slots(project: Project, devices: Sequence[Placed]) -> dict[str, SlotAssignment]:
    """Return where each microphone of a room is charged, by tag; one that finds no slot is left out.

    devices: the room's.
    As many find one as can. Where slots are short, spare microphones, which rest in theirs all day, have
    theirs first, then those in use in order of tags.
    """
    chargers = chargers_of(project, devices)
    # Microphones of one model take the same slots, and a hall may have hundreds of both.
    of_model = {
        device.model: _places(entry, chargers)
        for device in {one.model: one for one in devices if one.kind == "microphone"}.values()
        if isinstance(entry := project.library.entry(device.model) if device.model else None, Microphone)
    }
    requests = [
        _SlotRequest(device.tag, device.location == "charger", of_model[device.model])
        for device in devices
        if device.kind == "microphone" and device.model in of_model
    ]
    # Who has the least choice chooses first, so that numbers run as people would give them.
    requests.sort(key=lambda one: (len(one.places), one.spare, natural(one.tag)))
    issued = issued_of(project.issued, PREFIX)
    places = assign_places([(one.identity, one.places) for one in requests], issued)
    if len(places) < len(requests):
        places = _most(requests, issued)
    found = {one.tag: _slot(places[one.identity]) for one in requests if one.identity in places}
    return dict(sorted(found.items(), key=lambda item: natural(item[0])))


def _places(entry: Microphone, chargers: Mapping[str, Charger]) -> tuple[Place, ...]:
    """Return the slots that take a microphone: of chargers of its own system, for its form."""
    return tuple(
        Place(SlotAssignment(tag, slot).number, (f"{tag}/{slot}",))
        for tag, charger in chargers.items()
        if charger.works_with == entry.works_with
        for slot, forms in enumerate(charger.forms_by_slot, 1)
        if entry.form in forms
    )


def _most(requests: Sequence[_SlotRequest], issued: Mapping[str, Numbered]) -> dict[str, Place]:
    """Return slots for as many microphones as can have one, by augmenting paths.

    A path moves microphones to other slots and takes none away from any, so that who comes first keeps one.
    """
    given: dict[str, Place] = {}
    holder: dict[str, str] = {}
    by_identity = {one.identity: one for one in requests}
    used = {number.number for number in issued.values()}

    def wishes(one: _SlotRequest) -> list[Place]:
        before = issued.get(one.identity)
        kept = before.number if before and not before.retired else ""
        return sorted(one.places, key=lambda place: (place.number != kept, place.number in used))

    for one in sorted(requests, key=lambda request: (not request.spare, natural(request.tag))):
        came: dict[str, tuple[str, Place]] = {}
        waiting = deque([one.identity])
        while waiting:
            identity = waiting.popleft()
            for place in wishes(by_identity[identity]):
                if place.number in came:
                    continue
                came[place.number] = (identity, place)
                if place.number not in holder:
                    _move_along(place.number, came, given, holder)
                    waiting.clear()
                    break
                waiting.append(holder[place.number])
    _change_back(given, holder, by_identity, issued)
    return given


def _change_back(
    given: dict[str, Place],
    holder: dict[str, str],
    requests: Mapping[str, _SlotRequest],
    issued: Mapping[str, Numbered],
) -> None:
    """Give each microphone the slot that it had where who holds it has no claim to it and can change places.

    given, holder: slots by microphone and microphones by slot, which change.
    """
    for identity in sorted(given, key=natural):
        before = issued.get(identity)
        if before is None or before.retired or before.number == given[identity].number:
            continue
        other = holder.get(before.number)
        former = next((one for one in requests[identity].places if one.number == before.number), None)
        if other is None or former is None:
            continue
        claim = issued.get(other)
        if claim is not None and not claim.retired and claim.number == before.number:
            continue
        mine = given[identity]
        theirs = next((one for one in requests[other].places if one.number == mine.number), None)
        if theirs is not None:
            given[identity], given[other] = former, theirs
            holder[former.number], holder[mine.number] = identity, other


def _move_along(
    free: str, came: Mapping[str, tuple[str, Place]], given: dict[str, Place], holder: dict[str, str]
) -> None:
    """Give a free slot to who wanted it, that one's former slot to who wanted that, and so on."""
    number: str | None = free
    while number is not None:
        identity, place = came[number]
        before = given.get(identity)
        given[identity], holder[number] = place, identity
        number = before.number if before else None


def _slot(place: Place) -> SlotAssignment:
    charger, _, slot = place.number.rpartition("/")
    return SlotAssignment(charger, int(slot))
