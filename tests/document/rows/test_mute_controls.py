"""What the client's panels or computers mute, room by room, and from whom it is known."""

from dataclasses import replace

from proposal.document.making.document import document_of
from proposal.document.making.owner_equipment import control_processors
from proposal.document.rows.mute_controls import mute_controls
from proposal.pages.what_people_do import what_people_do
from tests.test_projects import EXAMPLE, computed


def test_each_kind_of_room_says_which_groups_are_muted_and_by_whom() -> None:
    # Groups and who mutes them stand in the room types; rooms/A102.yaml makes a kind of its own.
    document = document_of(computed(EXAMPLE))
    found = {row.rooms: row for row in document.mute_controls}
    assert set(found) == {
        ("A001",), ("A101",), ("A102",), ("A110",), ("A201", "A202", "A203", "A204", "A205", "A206"),
    }  # fmt: skip
    chamber = found[("A001",)]
    assert chamber.groups == ("presiding", "officials", "speakers", "members", "gallery", "all")
    assert "gallery: an usher" in chamber.operators
    meeting = found[("A201", "A202", "A203", "A204", "A205", "A206")]
    assert meeting.groups == ("all",)
    # Each meeting room has a jack left at its breakout; the chamber has none, ER1's switch three.
    assert meeting.joined_at == tuple(f"A20{n}-BO1 N5" for n in range(1, 7))
    assert chamber.joined_at == ("ER1-SW1 16",)
    ports = {(row.switch, row.port): row.device for row in document.ports}
    assert {ports[tuple(one.split())] for row in found.values() for one in row.joined_at} == {""}
    # The amplifier AM1 has a mute, too, but it silences the far end as well: it is no mute of a group.
    hearings = next(one for one in document.room_sheets if one.rooms == ("A102",))
    assert hearings.mute_points == (("AP1", "mute all"), ("MX1", "mute"))
    step = next(one for one in document.client_steps if one.key == "ready for commissioning: IT")
    assert "mute groups of microphones in 10 rooms, which are listed under who does what" in step.what


def test_a_room_in_which_nothing_mutes_groups_needs_no_panel() -> None:
    document = document_of(computed(EXAMPLE))
    sheets = [one.model_copy(update={"mute_points": ()}) for one in document.room_sheets]
    assert list(mute_controls(sheets)) == []


def test_a_control_processor_of_the_client_is_named_in_the_rooms_that_it_serves() -> None:
    owners = computed(EXAMPLE).design.owners
    written = owners[0].written.model_copy(update={"kind": "control processor", "name": "House control"})
    (room,) = owners[0].rooms
    known = [replace(owners[0], written=written)]
    assert control_processors(known, [room]) == ("House control",)
    assert control_processors(known, ["elsewhere"]) == ()
    assert control_processors(owners, [room]) == ()
    sheet = next(one for one in document_of(computed(EXAMPLE)).room_sheets if room in one.rooms)
    told = what_people_do(sheet.model_copy(update={"mute_controls": ("House control",)}))
    words = " ".join(sentence for part in told for sentence in part.sentences)
    assert "from your own equipment: House control" in words
    assert "not part of this proposal" not in words
