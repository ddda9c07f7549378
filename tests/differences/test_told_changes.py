"""What changed is told in sentences: asked for first, with prices that come to the whole difference."""

import datetime
from decimal import Decimal

import pytest

from proposal.differences.changes import State
from proposal.differences.inputs import InputRow, Inputs, inputs_of
from proposal.differences.told_changes import ToldChange, told_changes
from proposal.document.document import Document
from proposal.document.figures import settled
from proposal.document.readers import READERS, Reader
from proposal.document.rows.alternates import AlternateRow
from proposal.document.rows.price import OfferRow
from proposal.editions import changes_for
from tests.sample_document import sample_document

DAY = datetime.date(2026, 1, 5)
DOCUMENT = settled(sample_document())
CHAMBER, MEETING = "B001", "B101"


def input_of(*path: str) -> InputRow:
    return InputRow(path=path, file="a.yaml", line=1, kind="changed")


def told(
    before: Document, after: Document, reader: Reader = "client", inputs: Inputs | None = None
) -> tuple[ToldChange, ...]:
    states = (State(label=name, document=one, date=DAY) for name, one in (("A", before), ("B", after)))
    return told_changes(changes_for(reader, *states, inputs or Inputs()))


def sentences(changes: tuple[ToldChange, ...]) -> list[str]:
    return [sentence for one in changes for sentence in one.sentences]


def with_room(document: Document, tag: str, **fields: object) -> Document:
    return document.model_copy(
        update={
            "rooms": tuple(
                room.model_copy(update=fields) if room.tag == tag else room for room in document.rooms
            )
        }
    )


def access_point_of(room: str) -> str:
    return next(row.tag for row in DOCUMENT.devices if row.room == room and row.kind == "access point")


def with_place(document: Document, tag: str, at: tuple[float, float]) -> Document:
    return document.model_copy(
        update={
            "devices": tuple(
                row.model_copy(update={"at": at}) if row.tag == tag else row for row in document.devices
            )
        }
    )


def test_nothing_is_told_where_nothing_changed() -> None:
    assert told(DOCUMENT, DOCUMENT) == ()


def test_an_access_point_that_was_placed_by_agreement_comes_first() -> None:
    tag = access_point_of(MEETING)
    before = with_place(with_room(DOCUMENT, CHAMBER, seats=1), tag, (1.0, 2.0))
    after = with_place(DOCUMENT, tag, (1.0, 3.5))
    inputs = inputs_of((input_of("rooms", CHAMBER, "seats"), input_of("fixed", "devices", tag, "at")))
    first, second = told(before, after, inputs=inputs)
    assert first.sentences == (f"Access point {tag} was placed by agreement, 1.5 m from its old place.",)
    assert (first.cause, second.cause) == ("asked", "asked")
    assert MEETING in first.about
    assert CHAMBER in second.about


def test_devices_that_moved_in_their_room_are_told_and_those_in_racks_are_not() -> None:
    """LS1 stands at 8 m and LS2 at 9 m east; the amplifier and the mixer of the room stand in a rack."""
    before = with_place(with_place(DOCUMENT, "B001-LS1", (7.7, 3.0)), "B001-LS2", (8.4, 3.0))
    before = with_place(with_place(before, "B001-AM1", (0.0, 0.0)), "B001-AP1", (4.0, 1.0))
    assert sentences(told(before, DOCUMENT)) == [
        "Access point B001-AP1 is now 2.0 m from its old place in the room.",
        "2 loudspeakers are now up to 0.6 m from their old places in the room.",
    ]


def test_a_device_that_stands_otherwise_is_told() -> None:
    tag = access_point_of(MEETING)
    before = DOCUMENT.model_copy(
        update={
            "devices": tuple(
                row.model_copy(update={"location": "wall"}) if row.tag == tag else row
                for row in DOCUMENT.devices
            )
        }
    )
    assert "1 access point: ceiling now, wall before." in sentences(told(before, DOCUMENT))


def test_a_room_tells_of_its_place_and_seats() -> None:
    room = next(one for one in DOCUMENT.rooms if one.tag == MEETING)
    x, y = room.origin
    before = with_room(DOCUMENT, MEETING, origin=(x + 3.0, y + 4.0), seats=room.seats + 2)
    found = sentences(told(before, DOCUMENT))
    assert "The room moved by 5.0 m." in found
    assert f"It has {room.seats} seats; before, {room.seats + 2}." in found


def test_rooms_that_come_and_go_are_told_in_a_sentence() -> None:
    before = DOCUMENT.model_copy(update={"rooms": DOCUMENT.rooms[1:]})
    (new,) = sentences(told(before, DOCUMENT))
    (gone,) = sentences(told(DOCUMENT, before))
    assert new.startswith(f"This room is new: {DOCUMENT.rooms[0].type}, {DOCUMENT.rooms[0].seats} seats")
    assert gone == "This room is no longer part of the proposal."


def test_equipment_that_was_exchanged_is_told_by_what_it_is() -> None:
    tag = access_point_of(MEETING)
    before = DOCUMENT.model_copy(
        update={
            "devices": tuple(
                row.model_copy(update={"model": "X", "description": "Small one"}) if row.tag == tag else row
                for row in DOCUMENT.devices
            )
        }
    )
    name = next(row.description for row in DOCUMENT.devices if row.tag == tag)
    assert f"Access point: 1 × {name} instead of 1 × Small one." in sentences(told(before, DOCUMENT))


def test_an_alternate_that_was_chosen_comes_before_all_else() -> None:
    row = AlternateRow(key="spare", name="A spare", description="So that nobody waits.")
    after = with_room(DOCUMENT, MEETING, seats=99).model_copy(update={"included_alternates": (row,)})
    first, *others = told(DOCUMENT, after)
    assert (first.cause, first.about, first.sentences[0]) == ("chosen", "A spare", row.description)
    assert others


def offer(*prices: tuple[str, str]) -> tuple[OfferRow, ...]:
    return tuple(
        OfferRow(room=room, group="lump", description="All of it", price=Decimal(price))
        for room, price in prices
    )


def test_prices_of_rooms_come_to_the_difference_of_the_whole_price() -> None:
    before = DOCUMENT.model_copy(
        update={"offer": offer((CHAMBER, "100.10"), (MEETING, "50.00"), ("", "7.00"))}
    )
    after = DOCUMENT.model_copy(
        update={"offer": offer((CHAMBER, "130.00"), (MEETING, "50.00"), ("", "6.00"))}
    )
    changes = told(before, after)
    assert [one.price_difference for one in changes] == [Decimal("29.90"), Decimal("-1.00")]
    assert [one.price_difference for one in told(before, after, "reviewer")] == []


def test_the_rows_of_one_kind_that_changed_alike_are_told_once() -> None:
    tags = [room.tag for room in DOCUMENT.rooms if room.type == "Meeting room"]
    before = DOCUMENT
    for tag in tags:
        before = with_room(before, tag, seats=3)
    (one,) = told(before, DOCUMENT)
    assert one.about == "Meeting room: B101, B102 and B103"


def test_days_and_terms_are_told() -> None:
    programme = DOCUMENT.programme
    assert programme is not None
    event = programme.events[-1]
    later = event.model_copy(update={"date": event.date + datetime.timedelta(days=2)})
    after = DOCUMENT.model_copy(
        update={
            "programme": programme.model_copy(update={"events": (*programme.events[:-1], later)}),
            "exclusions": ("Scaffolding.",),
            "questions": DOCUMENT.questions[1:],
        }
    )
    found = sentences(told(DOCUMENT, after))
    assert any(one.startswith(f"{event.name}: ") and "2 days later than before." in one for one in found)
    assert any(one.startswith("Questions that are answered: ") for one in found)
    # The author's text on exclusions stands in the place of the standing lines, which nobody can open then.
    assert "exclusions" in DOCUMENT.wording
    assert "New in the exclusions: Scaffolding." not in found
    unwritten = after.model_copy(update={"wording": {}})
    assert "New in the exclusions: Scaffolding." in sentences(told(DOCUMENT, unwritten))


def test_a_text_that_was_rewritten_tells_what_is_new_and_gone_in_it() -> None:
    words = {"exclusions": "- scaffolding\n- paint", "scope": "As before."}
    before = DOCUMENT.model_copy(update={"wording": words})
    after = DOCUMENT.model_copy(update={"wording": {**words, "exclusions": "- scaffolding\n- carpets"}})
    (one,) = told(before, after)
    assert (one.cause, one.about) == ("texts", "What is not included")
    assert one.sentences == ("New: carpets", "No longer: paint")


@pytest.mark.parametrize("reader", READERS)
def test_what_was_asked_for_names_things_and_no_values(reader: Reader) -> None:
    inputs = inputs_of(
        (
            InputRow(
                path=("rooms", CHAMBER, "x"), before="1 m", after="qzx", file="rooms.csv", kind="changed"
            ),
            InputRow(path=("rooms", MEETING, "internal_note"), after="qzx", file="rooms.csv", kind="added"),
            InputRow(path=("fixed", "devices", "B101-AP1", "address"), after="qzx", file="f", kind="added"),
        )
    )
    state = State(label="A", document=DOCUMENT, date=DAY)
    seen = changes_for(reader, state, state, inputs).inputs
    assert [(one.kind, one.name) for one in seen.asked] == [("room", CHAMBER)]
    assert "qzx" not in repr(seen.asked)
