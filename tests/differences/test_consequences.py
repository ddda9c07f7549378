"""Totals of two documents side by side: worked by hand on the sample, and left out where withheld."""

import datetime
from decimal import Decimal
from typing import Any

import pytest

from proposal.differences import Consequence, consequences
from proposal.differences.details import change_text
from proposal.document.document import Document
from proposal.document.readers import READERS, Reader
from proposal.document.values import values_of
from proposal.editions import edition_of
from tests.sample_document import sample_document

SAMPLE = sample_document()


def totals(before: Document, after: Document) -> dict[tuple[str, str], Consequence]:
    return {(one.group_title, one.title): one for one in consequences(before, after)}


def changed(before: Document, after: Document) -> dict[str, tuple[Any, Any]]:
    return {one.title: (one.before, one.after) for one in consequences(before, after) if one.changed}


def test_a_document_against_itself_changes_no_total() -> None:
    assert not changed(SAMPLE, SAMPLE)
    assert totals(SAMPLE, SAMPLE)


def test_a_room_that_goes_takes_its_seats_and_microphones_along() -> None:
    room = SAMPLE.rooms[0]
    after = SAMPLE.model_copy(update={"rooms": SAMPLE.rooms[1:]})
    seats = sum(one.seats for one in SAMPLE.rooms)
    microphones = sum(one.microphones for one in SAMPLE.rooms)
    assert changed(SAMPLE, after) == {
        "rooms": (len(SAMPLE.rooms), len(SAMPLE.rooms) - 1),
        "seats": (seats, seats - room.seats),
        "microphones in use at once": (microphones, microphones - room.microphones),
    }


def test_charge_slots_are_those_that_the_rooms_can_use_times_rooms() -> None:
    (found,) = [one for one in consequences(SAMPLE, SAMPLE) if one.name == "charge_slots"]
    by_hand = 0
    for sheet in SAMPLE.room_sheets:
        for size in sheet.sizes:
            if size.kind == "charger":
                by_hand += size.quantity * size.capacity * len(sheet.rooms)
    assert found.before == by_hand > 0


def test_a_cable_ten_metres_longer_is_ten_metres_more() -> None:
    row = SAMPLE.cable_totals[0]
    longer = row.model_copy(update={"length_m": row.length_m + 10})
    after = SAMPLE.model_copy(update={"cable_totals": (longer, *SAMPLE.cable_totals[1:])})
    found = totals(SAMPLE, after)
    for name in ("length of all cables", f"{row.type} length"):
        assert found["Cables", name].by == pytest.approx(10, abs=1e-9)
        assert found["Cables", name].quantity == "length"


def test_a_kind_of_device_that_is_new_was_none_before() -> None:
    new = SAMPLE.devices[0].model_copy(update={"tag": "X-1", "kind": "gateway"})
    after = SAMPLE.model_copy(update={"devices": (*SAMPLE.devices, new)})
    assert changed(SAMPLE, after) == {"gateway": (0, 1)}
    assert changed(after, SAMPLE) == {"gateway": (1, 0)}


def test_a_programme_that_ends_later_says_by_how_many_days() -> None:
    assert SAMPLE.programme is not None
    later = SAMPLE.programme.finish + datetime.timedelta(days=9)
    after = SAMPLE.model_copy(update={"programme": SAMPLE.programme.model_copy(update={"finish": later})})
    found = totals(SAMPLE, after)["Programme", "acceptance"]
    assert (found.quantity, found.by) == ("date", 9)


def test_money_stays_exact() -> None:
    assert SAMPLE.price is not None
    dearer = SAMPLE.price.model_copy(update={"price": SAMPLE.price.price + Decimal("0.01")})
    found = totals(SAMPLE, SAMPLE.model_copy(update={"price": dearer}))
    assert found["Price", "price before tax"].by == Decimal("0.01")


def test_amounts_of_two_currencies_have_no_difference() -> None:
    cover = SAMPLE.cover.model_copy(update={"currency": "JPY"})
    found = totals(SAMPLE, SAMPLE.model_copy(update={"cover": cover}))
    price, rooms = found["Price", "price before tax"], found["Rooms", "rooms"]
    assert price.currencies == (SAMPLE.cover.currency, "JPY")
    assert (price.changed, price.by) == (True, None)
    assert (rooms.changed, rooms.by) == (False, 0)


def groups(reader: Reader) -> set[str]:
    document = edition_of(SAMPLE, reader).document
    return {one.group_title for one in consequences(document, document)}


@pytest.mark.parametrize("reader", READERS)
def test_totals_that_a_reader_may_not_see_are_left_out(reader: Reader) -> None:
    found = groups(reader)
    assert ("Price" in found) == (reader in ("client", "estimator"))
    assert ("Labour" in found) == (reader in ("reviewer", "estimator"))
    assert ("Power" in found) == (reader != "client")


@pytest.mark.parametrize("reader", READERS)
def test_cost_and_margin_are_the_estimators_alone(reader: Reader) -> None:
    document = edition_of(SAMPLE, reader).document
    names = {one.title for one in consequences(document, document)}
    house = {"cost", "margin", "cost of equipment", "cost of equipment and materials"}
    assert ({"cost", "margin"} <= names) if reader == "estimator" else not names & house


@pytest.mark.parametrize(
    ("quantity", "before", "after", "told"),
    [
        ("count", 4, 5, "+1"),
        ("count", 5, 4, "−1"),
        ("count", 4, 4, "±0"),
        ("money", Decimal("10.00"), Decimal("9.50"), "−€0.50"),
        ("date", datetime.date(2031, 3, 3), datetime.date(2031, 3, 2), "1 day earlier"),
    ],
)
def test_less_is_told_with_a_minus_sign(quantity: Any, before: Any, after: Any, told: str) -> None:
    one = Consequence(
        group="price",
        name="tax",
        group_title="Price",
        title="tax",
        quantity=quantity,
        before=before,
        after=after,
        currencies=("EUR", "EUR"),
    )
    assert change_text(one, values_of(SAMPLE)) == told
