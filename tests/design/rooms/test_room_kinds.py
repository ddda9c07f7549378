"""Kinds of room: what is built alike is designed, drawn and taught once."""

from proposal.design.rooms.room_kinds import room_kinds
from proposal.model.project import FixedRoom
from tests.design.making import changed, minimal


def kinds_of(sizes: dict[str, FixedRoom]) -> dict[str, tuple[str, ...]]:
    """Return the rooms of each kind where three rooms of one type have sizes by hand."""
    one = minimal()
    rooms = {tag: one.rooms["B001"].model_copy(update={"x": n * 20.0}) for n, tag in enumerate(TAGS)}
    project = changed(changed(one, "rooms", rooms), "fixed.rooms", sizes)
    return {kind.key: kind.rooms for kind in room_kinds(project)}


TAGS = ("B001", "B002", "B003")


def test_rooms_with_the_same_sizes_by_hand_are_of_one_kind() -> None:
    (charger,) = sorted(minimal().library.chargers)[:1]
    two, three = FixedRoom(chargers={charger: 2}), FixedRoom(chargers={charger: 3})
    assert kinds_of({}) == {"meeting": TAGS}
    assert kinds_of(dict.fromkeys(TAGS, two)) == {"B001": TAGS}
    assert kinds_of({"B002": two, "B003": two}) == {"meeting": ("B001",), "B002": ("B002", "B003")}
    assert kinds_of({"B001": two, "B002": three, "B003": two}) == {
        "B001": ("B001", "B003"),
        "B002": ("B002",),
    }
