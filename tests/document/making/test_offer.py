"""The offer as a client reads it: lumps that tell no more than the whole, and what stands beside them."""

import random
from collections.abc import Mapping
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.document.document import Document
from proposal.document.making.price import price_parts
from proposal.document.offer_totals import offered_rooms, offered_systems
from proposal.editions import edition_of
from proposal.model.price.commercial import Price
from tests.attacker.knowledge import list_prices
from tests.document.test_labour_and_price import EXAMPLE, computed_of, document

D = Decimal
CENT = D("0.01")


def used(kind: str) -> str:
    """Return the model of which the example has most of a kind."""
    rows = [row for row in document(EXAMPLE).equipment if row.kind == kind]
    return max(rows, key=lambda row: (row.quantity, row.model)).model


@cache
def stated() -> dict[str, str]:
    """Return the prices stated for models of which the example has most."""
    return {
        used("access point"): "1395.00 EUR",
        used("microphone"): "620.00 EUR",
        used("charger"): "925.00 EUR",
    }


SURCHARGES = {
    "freight": {"name": "Freight", "share": "2 %", "of": ["equipment"], "rule": {"markup": "8 %"}},
    "permit": {"name": "Permit", "amount": "640.00 EUR"},
    "storage": {"name": "Storage", "amount": "100.00 EUR", "rule": {"margin": "10 %"}},
    "contingency": {"name": "Contingency", "share": "3 %", "spread": "yes"},
}


@cache
def usual_book() -> dict[str, Any]:
    """Return the price book that the cases below change."""
    return {
        "selling": stated(),
        "rules": {"models": {used("mixer"): {"discount": "12 %"}}},
        "surcharges": SURCHARGES,
        "allowances": {"signs": {"name": "Signs", "price": "850.00 EUR"}},
    }


def offered(book: Mapping[str, Any]) -> Document:
    """Return what the client of the example reads under another price book."""
    before = computed_of(EXAMPLE)
    brief = before.project.brief.model_copy(update={"price": Price.model_validate({**usual_book(), **book})})
    after = replace(before, project=before.project.model_copy(update={"brief": brief}))
    vars(after).update(estimate=before.estimate, labour=before.labour, programme=before.programme)
    whole = document(EXAMPLE).model_copy(update=price_parts(after))
    return edition_of(whole, "client").document


def shares(total: Decimal, weights: Mapping[str, float]) -> dict[str, Decimal]:
    """Return shares of a total in whole cents, those left over to the largest remainders, on paper."""
    cents, whole = int(total * 100), Fraction(sum(map(Fraction, weights.values())))
    exact = {name: cents * Fraction(weight) / whole for name, weight in weights.items()}
    found = {name: int(part) for name, part in exact.items()}
    order = sorted(exact, key=lambda name: -(exact[name] - found[name]))
    for name in order[: cents - sum(found.values())]:
        found[name] += 1
    return {name: D(part) / 100 for name, part in found.items()}


@pytest.mark.independent
def test_prices_of_rooms_tell_nothing_that_the_whole_does_not() -> None:
    """From the whole, the printed allowances and the library's list prices alone, to the cent."""
    client = offered({})
    assert client.price is not None
    rooms = {room.tag for room in client.rooms}
    weights: dict[str, float] = {}
    for device in client.devices:
        room = device.room if device.room in rooms else ""
        # What the owner furnishes has no model, and no share of the price.
        weights[room] = weights.get(room, 0.0) + (list_prices()[device.model] if device.model else 0.0)
    stated = sum((row.price for row in client.offer if row.group == "allowance"), D(0))
    wanted = shares(client.price.price - stated, weights)
    lumps = {row.room: row.price for row in client.offer if row.group == "lump"}
    assert lumps == wanted
    assert len(lumps) == len(rooms) + 1


def test_rooms_alone_are_told_unless_more_is_wanted() -> None:
    client = offered({})
    assert {row.group for row in client.offer} == {"lump", "allowance"}
    assert {row.item for row in client.offer} == {""}
    assert offered_systems(client.offer) == ()
    of_room = [row for row in client.offer if row.room == "A101"]
    assert [row.description for row in of_room] == ["Equipment, materials and work"]


def test_systems_of_a_room_are_told_where_they_are_wanted() -> None:
    client = offered({"client_detail": "system"})
    systems = {row.key for row in offered_systems(client.offer)}
    assert {"microphones and radio", "loudspeakers", "network and cabling"} <= systems
    assert all(row.unit == "lot" for row in client.offer if row.group == "lump")
    assert len([row for row in client.offer if row.room == "A101"]) > 2


def test_line_by_line_only_what_is_stated_or_passed_on_at_cost_is_told() -> None:
    """What has a rule, work, materials, freight by share and storage with a margin lie in the lump."""
    client = offered({"client_detail": "line"})
    mixer, library = used("mixer"), computed_of(EXAMPLE).project.library
    told = {row.item: row.unit_price for row in client.offer if row.item}
    assert told == {model: D(price.removesuffix(" EUR")) for model, price in stated().items()} | {
        mixer: (library.mixers[mixer].list_price.amount * D("0.88")).quantize(CENT, ROUND_HALF_UP)
    }
    others = {row.description for row in client.offer if not row.item}
    assert others == {"Permit", "Signs", "Materials, work and all that is not listed"}
    lumps = [row for row in client.offer if row.group == "lump"]
    assert len({row.room for row in lumps}) == len(lumps)


@given(st.integers(0, 10**6), st.sampled_from(["room", "system", "line"]), st.booleans())
@settings(max_examples=12, deadline=None)
def test_however_it_is_told_it_comes_to_the_same(seed: int, detail: str, shared: bool) -> None:
    chance = random.Random(seed)
    book = {
        "client_detail": detail,
        "shared_items": "shared out" if shared else "building group",
        "selling": {model: f"{chance.randint(1, 900)}.00 EUR" for model in stated()},
    }
    client, plain = offered(book), offered({"selling": book["selling"]})
    assert client.price is not None
    assert plain.price is not None
    assert sum(row.price for row in client.offer) == client.price.price == plain.price.price
    assert sum(row.tax for row in client.offer) == client.price.tax
    assert sum(row.price for row in offered_rooms(client.offer)) == client.price.price
    if shared:
        assert {row.room for row in client.offer if not row.room} == {
            row.room for row in client.offer if row.group == "allowance"
        }


def test_what_is_spread_stands_in_no_price_of_one() -> None:
    """The same unit prices with and without a contingency, line by line."""
    without = {key: one for key, one in SURCHARGES.items() if key != "contingency"}
    both = [offered({"client_detail": "line", "surcharges": one}) for one in (SURCHARGES, without)]
    told = [{(row.room, row.item): row.unit_price for row in one.offer if row.item} for one in both]
    assert told[0] == told[1] != {}
    assert both[0].price is not None
    assert both[1].price is not None
    assert both[0].price.price > both[1].price.price
    assert both[0].unit_prices == both[1].unit_prices
