"""Price: the rules by hand, half-up rounding and equal totals over random price books, payments, taxes."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from proposal.estimate.labour.labour import charged
from proposal.estimate.labour.labour_line import tasks_of_one
from proposal.estimate.price.markup_and_margin import price_by, unit_step
from proposal.estimate.price.price import (
    PriceEstimate,
    Sum,
    payments,
    price_estimate,
    room_sums,
    summed,
)
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.price.commercial import Price, PriceRule
from tests.estimate.labour.test_labour import EXAMPLE, MINIMAL, computed, labour_of
from tests.estimate.labour_data import shared_labour

D = Decimal
CENT = D("0.01")


def price_of(folder: str, rules: dict[str, Any], data: Labour | None = None) -> PriceEstimate:
    one = computed(folder)
    labour = data or shared_labour()
    return price_estimate(
        one.project, one.design, one.estimate, labour_of(folder, labour), labour, Price.model_validate(rules)
    )


def half_up(amount: Fraction, step: Decimal = CENT) -> Decimal:
    """Return an amount rounded half up by whole numbers alone, as one would on paper."""
    steps = amount / Fraction(step)
    whole = steps.numerator // steps.denominator
    return (whole + (1 if steps - whole >= Fraction(1, 2) else 0)) * step


@pytest.mark.independent
def test_a_margin_is_a_share_of_the_price_and_a_markup_one_of_the_cost() -> None:
    """On a cost of 60.00: a margin of 25 % makes 80.00, a markup of 25 % makes 75.00, by hand."""
    cost, listed = D("60.00"), D("100.00")
    assert price_by(PriceRule(margin=0.25), cost, listed, CENT) == D("80.00")
    assert price_by(PriceRule(markup=0.25), cost, listed, CENT) == D("75.00")
    assert price_by(PriceRule(discount=0.25), cost, listed, CENT) == D("75.00")
    assert price_by(PriceRule(margin=0.3), D("10.00"), listed, CENT) == D("14.29")
    # Exactly half a cent: 0.67 · 1.5 = 1.005.
    assert price_by(PriceRule(markup=0.5), D("0.67"), listed, CENT) == D("1.01")


@given(
    st.decimals(0, 100_000, places=2),
    st.integers(0, 99),
    st.sampled_from([D("1"), CENT, D("0.001")]),
)
def test_prices_are_rounded_half_up_from_the_exact_amount(cost: Decimal, percent: int, step: Decimal) -> None:
    share = percent / 100
    exact = Fraction(percent, 100)
    assert price_by(PriceRule(margin=share), cost, cost, step) == half_up(Fraction(cost) / (1 - exact), step)
    assert price_by(PriceRule(markup=share), cost, cost, step) == half_up(Fraction(cost) * (1 + exact), step)
    assert price_by(PriceRule(discount=share), cost, cost, step) == half_up(
        Fraction(cost) * (1 - exact), step
    )


PERCENT = st.integers(0, 60).map(lambda whole: f"{whole} %")
RULE = st.tuples(st.sampled_from(["margin", "markup", "discount"]), PERCENT).map(
    lambda pair: {pair[0]: pair[1]}
)
SURCHARGE = st.fixed_dictionaries(
    {
        "name": st.just("Freight"),
        "share": PERCENT,
        "of": st.lists(st.sampled_from(["equipment", "materials", "labour", "travel"]), unique=True),
        "spread": st.booleans(),
    }
)
BOOKS = st.fixed_dictionaries(
    {
        "rules": st.fixed_dictionaries(
            {
                "rest": RULE,
                "groups": st.dictionaries(
                    st.sampled_from(["equipment", "materials", "labour", "travel"]), RULE
                ),
                "kinds": st.dictionaries(st.sampled_from(["charger", "microphone", "cable", "rack"]), RULE),
            }
        ),
        "surcharges": st.dictionaries(st.sampled_from(["freight", "insurance", "contingency"]), SURCHARGE),
        "allowances": st.dictionaries(
            st.just("furniture"),
            st.fixed_dictionaries({"name": st.just("Table boxes"), "price": st.just("1234.56 EUR")}),
        ),
        "taxes": st.fixed_dictionaries(
            {
                "here": st.fixed_dictionaries(
                    {"name": st.just("VAT"), "goods": PERCENT, "services": PERCENT}
                ),
                "there": st.fixed_dictionaries(
                    {"name": st.just("Levy"), "goods": PERCENT, "services": PERCENT}
                ),
            }
        ),
        "place": st.just("here"),
        "places": st.dictionaries(st.sampled_from(["A001", "A101", "ER1", "B001"]), st.just("there")),
        "shared_items": st.sampled_from(["building group", "shared out"]),
        "retention": st.sampled_from(["0 %", "5 %", "7.5 %"]),
    }
)


@given(BOOKS, st.sampled_from([MINIMAL, EXAMPLE]))
@settings(max_examples=25)
def test_every_view_adds_to_the_total_to_the_cent(book: dict[str, Any], folder: str) -> None:
    found = price_of(folder, book)
    for view in (found.rooms, found.systems, found.phases, found.groups):
        for name in ("cost", "reserve", "price", "tax"):
            assert sum(getattr(one, name) for one in view) == getattr(found.whole, name)
    assert sum(line.price for line in found.lines) == found.whole.price
    assert sum(one.price for one in found.taxes) == found.whole.price
    assert sum(one.tax for one in found.taxes) == found.whole.tax
    paid = [one for one in found.payments if one.key != "retention"]
    assert sum(one.price for one in paid) == found.whole.price
    assert sum(one.tax for one in paid) == found.whole.tax
    assert sum(one.due for one in found.payments) == found.whole.total
    project = computed(folder).project
    if book["shared_items"] == "shared out":
        assert {one.key for one in found.rooms} == set(project.rooms)
    else:
        assert {one.key for one in found.rooms} <= {*project.rooms, ""}


@given(BOOKS)
@settings(max_examples=15)
def test_every_line_is_its_quantity_times_its_price_rounded_half_up(book: dict[str, Any]) -> None:
    for line in price_of(MINIMAL, book).lines:
        by_need = half_up(Fraction(line.quantity) * Fraction(line.unit_price))
        assert line.price == by_need + line.wholes + line.spread
        assert line.cost == half_up(Fraction(line.quantity) * Fraction(line.unit_cost)) + line.cost_of_wholes
        assert line.group == "materials" or line.wholes == line.cost_of_wholes == 0
        assert line.tax == half_up(Fraction(line.price) * Fraction(line.tax_rate))
        rates = book["taxes"]["there" if line.room in book["places"] else "here"]
        rate = rates["goods" if line.tax_kind == "goods and services" else line.tax_kind]
        assert Fraction(line.tax_rate) == Fraction(rate.removesuffix(" %")) / 100


@pytest.mark.independent
def test_a_small_price_by_hand() -> None:
    """The minimal project's access point, cable installer and travel, priced on paper."""
    one = computed(MINIMAL)
    (device,) = [each for each in one.design.devices if each.kind == "access_point"]
    cost = one.project.library.entry(device.model).cost.amount
    found = price_of(
        MINIMAL,
        {
            "rules": {"rest": {"markup": "10 %"}, "kinds": {"access_point": {"margin": "20 %"}}},
            "taxes": {"here": {"name": "VAT", "goods": "21 %", "services": "13.5 %"}},
            "place": "here",
        },
    )
    (line,) = [each for each in found.lines if each.kind == "access_point"]
    assert line.price == half_up(Fraction(cost) / Fraction(4, 5))
    assert line.tax == half_up(Fraction(line.price) * Fraction(21, 100))
    # Four hours of a minimum call at 54.00 for first fix: 216.00, tax 29.16; shared over two systems of one
    # room by their hours. The lead of 5 m is of the sound: 0.16 of 2.36 h, and 4 · 0.16 / 2.36 = 0.27 h at
    # 54.00 are 14.58, tax 1.97; the other 3.73 h, of the network, are 201.42, tax 27.19.
    pulled = [each for each in found.lines if (each.item, each.phase) == ("cable installer", "first fix")]
    assert sum(each.quantity for each in pulled) == 4
    assert [(each.price, each.tax) for each in pulled] == [
        (D("201.42"), D("27.19")),
        (D("14.58"), D("1.97")),
    ]
    # Two days of travel: 2 h at 54.00, and 28.00 with a markup of 10 % a day.
    ways = {
        each.kind: each.price
        for each in found.lines
        if (each.item, each.group) == ("cable installer", "travel")
    }
    assert ways == {"hours": D("108.00"), "expenses": D("61.60")}


CONTINGENCY = {"contingency": {"name": "Contingency", "share": "5 %", "spread": "yes"}}


def test_what_is_spread_is_on_lumps_and_in_no_unit_price() -> None:
    """5 % of all lines together goes over them by their prices; cost, unit price and rate stay."""
    plain, spread = (price_of(MINIMAL, {"surcharges": one}) for one in ({}, CONTINGENCY))
    assert [line.item for line in plain.lines] == [line.item for line in spread.lines]
    for before, after in zip(plain.lines, spread.lines, strict=True):
        assert (after.cost, after.unit_price) == (before.cost, before.unit_price)
        assert after.price == before.price + after.spread
        assert abs(after.spread - before.price * D("0.05")) <= CENT
    assert spread.whole.price - plain.whole.price == half_up(Fraction(plain.whole.price) / 20)
    assert spread.whole.reserve == half_up(Fraction(plain.whole.cost) / 20)


def test_what_a_contract_fixes_takes_nothing_of_what_is_spread() -> None:
    """The access point's price is stated and chargers have an agreed discount: others take their parts."""
    (point,) = [each for each in computed(MINIMAL).design.devices if each.kind == "access_point"]
    book = {
        "rules": {"kinds": {"charger": {"discount": "10 %"}}},
        "selling": {point.model: "1015.00 EUR"},
    }
    plain = price_of(MINIMAL, book)
    spread = price_of(MINIMAL, {**book, "surcharges": CONTINGENCY})
    fixed = [n for n, line in enumerate(spread.lines) if line.rule in ("stated", "discount")]
    assert {spread.lines[n].kind for n in fixed} == {"access_point", "charger"}
    assert all(spread.lines[n] == plain.lines[n] for n in fixed)
    assert {line.unit_price for line in spread.lines if line.item == point.model} == {D("1015.00")}
    assert spread.whole.price - plain.whole.price == half_up(Fraction(plain.whole.price) / 20)


def test_what_is_spread_keeps_to_the_lumps_it_is_of() -> None:
    only = {"contingency": {**CONTINGENCY["contingency"], "of": ["labour"]}}
    found = price_of(MINIMAL, {"surcharges": only})
    assert {line.group for line in found.lines if line.spread} == {"labour"}
    labour = [line for line in found.lines if line.group == "labour"]
    before = sum(line.price - line.spread for line in labour)
    assert sum(line.spread for line in labour) == half_up(Fraction(before) / 20)
    # Where all of them are fixed, other lumps take it.
    models = {line.item for line in found.lines if line.group == "equipment"}
    of_equipment = {"contingency": {**CONTINGENCY["contingency"], "of": ["equipment"]}}
    book = {"selling": dict.fromkeys(models, "500.00 EUR"), "surcharges": of_equipment}
    found = price_of(MINIMAL, book)
    assert sum(line.spread for line in found.lines) == half_up(
        Fraction(sum(line.price for line in found.lines if line.group == "equipment")) / 20
    )
    assert not [line for line in found.lines if line.spread and line.group == "equipment"]


def test_a_stated_price_stands_whatever_a_device_costs() -> None:
    (point,) = [each for each in computed(MINIMAL).design.devices if each.kind == "access_point"]
    found = price_of(MINIMAL, {"selling": {point.model: "1015.00 EUR"}})
    (line,) = [each for each in found.lines if each.item == point.model]
    assert (line.rule, line.unit_price, line.price) == ("stated", D("1015.00"), D("1015.00"))


def test_prices_for_changes_are_those_stated_and_no_others() -> None:
    (point,) = [each for each in computed(MINIMAL).design.devices if each.kind == "access_point"]
    changes = {
        "devices": {point.model: "1050.00 EUR"},
        "cables": {"CC-5U-L": "4.50 EUR"},
        "ends": {"CC-5U-L": "35.00 EUR"},
        "hours": {"installer": "70.00 EUR"},
    }
    found = price_of(MINIMAL, {"changes": changes}).unit_prices
    stated = {(one.to, one.item): one.stated for one in found if one.stated is not None}
    assert stated == {
        ("device", point.model): D("1050.00"),
        ("metre of cable", "CC-5U-L"): D("4.50"),
        ("ends of a cable", "CC-5U-L"): D("35.00"),
        ("hour", "installer"): D("70.00"),
    }


def test_where_the_law_sees_one_supply_goods_and_work_are_taxed_alike() -> None:
    rates = {"name": "VAT", "goods": "20 %", "services": "10 %", "one_supply": "goods"}
    surcharges = {"permit": {"name": "Permit", "amount": "100.00 EUR", "tax_kind": "exempt"}}
    found = price_of(MINIMAL, {"taxes": {"here": rates}, "place": "here", "surcharges": surcharges})
    assert [(one.kind, one.rate) for one in found.taxes] == [("exempt", 0), ("goods", D("0.2"))]
    assert found.taxes[1].price == found.whole.price - 100


def test_goods_and_services_of_one_rate_are_told_as_one() -> None:
    """Two rows of one rate would tell how much of the price is goods, and nobody needs it."""
    rates = {"name": "VAT", "goods": "20 %", "services": "20 %"}
    found = price_of(MINIMAL, {"taxes": {"here": rates}, "place": "here"})
    assert [(one.kind, one.rate, one.price) for one in found.taxes] == [
        ("goods and services", D("0.2"), found.whole.price)
    ]


def test_freight_is_a_line_of_the_building_on_what_it_is_reckoned_on() -> None:
    found = price_of(
        MINIMAL,
        {
            "surcharges": {
                "f": {"name": "Freight", "share": "2 %", "of": ["equipment"], "rule": {"markup": "50 %"}}
            }
        },
    )
    (line,) = [each for each in found.lines if each.group == "surcharge"]
    base = sum(each.cost for each in found.lines if each.group == "equipment")
    assert line.cost == half_up(Fraction(base) / 50)
    assert line.price == half_up(Fraction(line.cost) * Fraction(3, 2))
    assert line.room == ""


def test_shared_items_go_to_rooms_in_proportion_to_their_own_price() -> None:
    group = price_of(EXAMPLE, {}).rooms
    out = price_of(EXAMPLE, {"shared_items": "shared out"}).rooms
    own = {one.key: one.price for one in group}
    shared = own.pop("")
    for one in out:
        share = Fraction(shared) * Fraction(own[one.key]) / Fraction(sum(own.values()))
        assert abs(Fraction(one.price - own[one.key]) - share) < Fraction(1, 100)


def test_rooms_without_a_price_share_alike() -> None:
    lines = [line for line in price_of(MINIMAL, {}).lines if line.room == ""]
    found = room_sums(lines, ["R1", "R2", "R3"], "shared out", CENT)
    assert sum(one.price for one in found) == summed("", lines).price
    assert max(one.price for one in found) - min(one.price for one in found) <= CENT


@pytest.mark.independent
def test_a_room_that_is_a_credit_bears_nothing_of_what_is_shared() -> None:
    """R1 sells for 300.00, R2 for 100.00, R3 gives 50.00 back; 10.01 of the building go 3 : 1 : 0."""
    (like,) = [line for line in price_of(MINIMAL, {}).lines if line.kind == "access_point"]
    prices = {"R1": D("300.00"), "R2": D("100.00"), "R3": D("-50.00"), "": D("10.01")}
    lines = [
        replace(like, room=room, price=price, cost=price, tax=D("0.00")) for room, price in prices.items()
    ]
    found = room_sums(lines, ["R1", "R2", "R3"], "shared out", CENT)
    assert [one.price for one in found] == [D("307.51"), D("102.50"), D("-50.00")]


@pytest.mark.independent
def test_payments_of_a_hundred_in_three_add_up() -> None:
    """100.00 in shares of 33.3, 33.3 and 33.4 %, and 10.01 of tax, 5 % kept, by hand."""
    rules = Price.model_validate(
        {
            "payments": {
                "a": {"name": "A", "share": "33.3 %", "event": "order", "days": "0"},
                "b": {"name": "B", "share": "33.3 %", "event": "delivery", "days": "14"},
                "c": {"name": "C", "share": "33.4 %", "event": "accepted"},
            },
            "retention": "5 %",
        }
    )
    nothing = summed("", [])
    whole = type(nothing)(key="", cost=D(0), reserve=D(0), price=D("100.00"), tax=D("10.01"))
    found = payments(rules, whole, CENT)
    assert [one.price for one in found[:3]] == [D("33.30"), D("33.30"), D("33.40")]
    # 3.33333, 3.33333 and 3.34334: the cent left over goes to the largest remainder.
    assert [one.tax for one in found[:3]] == [D("3.33"), D("3.33"), D("3.35")]
    assert [one.retained for one in found[:3]] == [D("1.83"), D("1.83"), D("1.84")]
    assert found[3].due == D("5.50")
    assert [(one.event, one.days) for one in found] == [
        ("order", 0),
        ("delivery", 14),
        ("accepted", 30),
        ("accepted", 365),
    ]


def test_what_the_rules_make_of_a_change_is_supply_and_work() -> None:
    found = {(one.to, one.item): one for one in price_of(MINIMAL, {}).unit_prices}
    one = computed(MINIMAL)
    (device,) = [each for each in one.design.devices if each.kind == "access_point"]
    point = found["device", device.model]
    assert point.hours == D("1.25")
    assert point.work == D("72.50")  # 1.25 h at 58.00
    assert point.supply == half_up(
        Fraction(one.project.library.entry(device.model).cost.amount) * Fraction(4, 3)
    )
    assert point.computed == point.supply + point.work
    assert point.stated is None
    ends = found["ends of a cable", "CC-5U-L"]
    assert ends.hours == D("0.41")  # 0.33 h terminated, two labels at 0.04 h
    assert found["metre of cable", "CC-5U-L"].hours == D("0.03609")


@pytest.mark.parametrize(
    ("rules", "message"),
    [
        ({"rules": {"rest": {"margin": "20 %", "markup": "20 %"}}}, "one of margin, markup, discount"),
        ({"rules": {"rest": {}}}, "one of margin, markup, discount"),
        ({"rules": {"rest": {"margin": "100 %"}}}, "less than"),
        ({"payments": {"a": {"name": "A", "share": "90 %", "event": "order"}}}, "add up to 100 %"),
        ({"taxes": {"here": {"name": "VAT", "goods": "20 %", "services": "20 %"}}}, "the place"),
        ({"place": "nowhere"}, "a place of taxes"),
        ({"surcharges": {"f": {"name": "F"}}}, "one of a share, an amount"),
        ({"surcharges": {"f": {"name": "F", "amount": "5 EUR", "spread": "yes"}}}, "a share without"),
    ],
)
def test_a_price_that_cannot_be_is_refused(rules: dict[str, Any], message: str) -> None:
    with pytest.raises(ValidationError, match=message):
        Price.model_validate(rules)


def test_three_thirds_are_the_whole() -> None:
    third = {"name": "A third", "share": "33 1/3 %", "event": "order"}
    price = Price.model_validate({"payments": {"a": third, "b": third, "c": third}})
    whole = Sum(key="", cost=D(70), reserve=D(0), price=D("100.00"), tax=D("20.00"))
    assert [one.price for one in payments(price, whole, D("0.01"))] == [D("33.34"), D("33.33"), D("33.33")]
    assert sum(one.tax for one in payments(price, whole, D("0.01"))) == D("20.00")


def test_what_the_owner_furnishes_is_installed_but_not_priced() -> None:
    one = computed(MINIMAL)
    labour = shared_labour()
    points = {
        code: entry.model_copy(update={"furnished_by": "owner"})
        for code, entry in one.project.library.access_points.items()
    }
    library = one.project.library.model_copy(update={"access_points": points})
    project = one.project.model_copy(update={"library": library})
    hours = labour_of(MINIMAL, labour)
    found = price_estimate(project, one.design, one.estimate, hours, labour, Price())
    before = price_of(MINIMAL, {})
    assert [line for line in before.lines if line.kind == "access_point"]
    assert not [line for line in found.lines if line.kind == "access_point"]
    assert [line for line in found.lines if line.group == "labour"] == [
        line for line in before.lines if line.group == "labour"
    ]


def test_a_device_that_names_its_task_takes_the_hours_of_that_one_in_place_of_its_kinds() -> None:
    # An access point takes 1.25 h, a charger 0.6 h.
    labour = shared_labour()
    point = next(iter(computed(MINIMAL).project.library.access_points.values()))
    charging = point.model_copy(update={"labour_task": "install a charger"})
    assert {one.trade: one.hours for one in tasks_of_one(labour, point)} == {"installer": D("1.25")}
    assert {one.trade: one.hours for one in tasks_of_one(labour, charging)} == {"installer": D("0.6")}


def test_what_costs_less_than_a_hundred_steps_is_priced_in_finer_ones() -> None:
    finer = D("0.0001")
    assert unit_step(D("0.995"), CENT, finer) == finer
    assert unit_step(D("0.99"), CENT, finer) == CENT
    assert unit_step(D("1.005"), CENT, finer) == CENT


@pytest.mark.independent
def test_overtime_is_paid_by_the_rooms_whose_work_it_pays() -> None:
    """Two rooms of 30 h and 10 h of one trade with 10 % overtime: 3 h and 1 h at half of 54.00 more."""
    data = shared_labour()
    line = next(one for one in labour_of(MINIMAL, data).lines if one.trade == "cable installer")
    lines = tuple(
        replace(line, room=room, storey="L1", hours=D(hours), units=D(1), hours_a_unit=D(hours))
        for room, hours in (("B001", "30.00"), ("ER1", "10.00"))
    )
    estimate = charged(lines, data, LabourChoices(overtime=0.1), D(8))
    one = computed(MINIMAL)
    found = price_estimate(one.project, one.design, one.estimate, estimate, data, Price())
    paid = {each.room: (each.quantity, each.price) for each in found.lines if each.kind == "overtime"}
    assert paid == {"B001": (D("3.00"), D("81.00")), "ER1": (D("1.00"), D("27.00"))}
