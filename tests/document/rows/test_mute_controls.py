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
    # Each meeting room has a jack left at its breakout; the chamber has none, ER1's switch three. The two
    # committee rooms and the training room have a port each of the last ones of ER2's switch of 24.
    assert meeting.joined_at == tuple(f"A20{n}-BO1 N5" for n in range(1, 7))
    assert chamber.joined_at == ("ER1-SW1 16",)
    rooms_on_er2 = [found[("A101",)], found[("A102",)], found[("A110",)]]
    assert [one.joined_at for one in rooms_on_er2] == [("ER2-SW1 24",), ("ER2-SW1 23",), ("ER2-SW1 22",)]
    # In a meeting room the port is at hand. The others' cables go as far as ours from there, through the
    # floor of the second storey, as the rooms lie on the first one.
    assert (meeting.run_m, meeting.passes) == (None, ())
    longest = {
        room: max(one.length_m for one in document.cables if one.room == room and one.signal == "network")
        for room in ("A101", "A102", "A110")
    }
    assert {one.rooms[0]: one.run_m for one in rooms_on_er2} == longest
    assert [one.passes for one in rooms_on_er2] == [("R12-F1",)] * 3
    # ER1's switch of 16 has 3 ports left and keeps 1, ER2's of 24 and of 16 have 4 and 8 and keep 3: 11 stay.
    free = {row.tag: (row.free, row.for_panels) for row in document.switch_traffic if "ER" in row.tag}
    assert sum(one for one, _ in free.values()) == 15
    assert sum(one - kept for one, kept in free.values()) == 11
    # Of six that the client asks to stay free.
    (value,) = (
        one.value for one in document.requirement_answers if one.requirement == "R-12" and one.limit == 6
    )
    assert value == 11
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
