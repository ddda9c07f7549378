"""Where everything that carries a name stands: once, and only for what the edition holds."""

from proposal.editions import edition_of
from proposal.pages.link_targets import targets_of
from tests.sample_document import sample_document

SAMPLE = sample_document()


def test_a_room_a_kind_of_room_and_a_working_stand_on_their_pages() -> None:
    targets = targets_of(SAMPLE, {"W1": "calculations/radio.md"})
    room, sheet = SAMPLE.rooms[0].tag, SAMPLE.room_sheets[0].key
    page, _, place = targets["tag", room].partition("#")
    assert page == "rooms.md"
    assert room.lower() in place.lower()
    assert targets["sheet", sheet].startswith("rooms/")
    assert targets["number", "W1"].startswith("calculations/radio.md#")


def test_what_a_reader_does_not_hold_stands_nowhere() -> None:
    whole, client = (
        targets_of(edition_of(SAMPLE, reader).document, {}) for reader in ("estimator", "client")
    )
    own = {row.number for row in edition_of(SAMPLE, "estimator").document.labour}
    assert own
    assert {("number", number) for number in own} <= set(whole)
    assert not {("number", number) for number in own} & set(client)


def test_the_first_to_carry_a_name_keeps_it() -> None:
    """A device that is called as a room is does not take the room's links away."""
    room = SAMPLE.rooms[0]
    named = SAMPLE.model_copy(
        update={"devices": (SAMPLE.devices[0].model_copy(update={"tag": room.tag}), *SAMPLE.devices[1:])}
    )
    targets = targets_of(named, {})
    assert targets["tag", room.tag] == targets_of(SAMPLE, {})["tag", room.tag]
