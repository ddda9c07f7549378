"""What changed is written with the quantity of its field: expected texts are worked by hand.

Conversions follow from 1 ft = 0.3048 m and 1 in = 0.0254 m; °F = 1.8 °C + 32, and 1 K = 1.8 °F of difference.
"""

import datetime
import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Literal

import pytest

from proposal.differences.changes import State, changes_between
from proposal.differences.details import details_of, unseen
from proposal.differences.difference import differences
from proposal.differences.inputs import inputs_of
from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.document.rows.alternates import AlternateRow
from proposal.document.rows.charging import MeetingDay, PackDay
from proposal.document.rows.findings import AssumptionRow
from proposal.document.rows.labour import LabourRow
from proposal.document.rows.programme import ActivityRow
from proposal.document.rows.radio import MarginRow
from proposal.document.rows.reels import ReelOrderRow, ReelRow
from proposal.document.rows.rooms import RoomSheet
from proposal.document.rows.sound import StreamRow
from proposal.document.rows.takeoff import TakeoffRow
from proposal.document.whole_proposal import OpenAlternate, Proposal
from proposal.editions import edition_of, edition_of_proposal, with_changes
from proposal.exports.comparison import comparison_json, comparison_markdown, comparison_text
from proposal.quantities.formatting import money
from tests.pages.site import page_of
from tests.sample_document import sample_document

SAMPLE = sample_document()
EURO = ("metric", "en_IE", "EUR")
DOLLAR = ("us_customary", "en_US", "USD")
Look = tuple[str, str, str]


def with_look(document: Document, look: Look) -> Document:
    units, locale, currency = look
    cover = document.cover.model_copy(update={"units": units, "locale": locale, "currency": currency})
    return document.model_copy(update={"cover": cover})


# The sample has none of these.
FIRST: Mapping[str, Shown] = {
    "takeoff": TakeoffRow(number="T1", section="equipment", item="QA-4", unit="each"),
    "margins": MarginRow(microphone="B101-M1"),
}


def with_row(field: str, updates: Mapping[str, Any], row: Shown | None = None) -> Document:
    """Return the sample with its first row of a collection, or its part, changed; or with another row."""
    held = getattr(SAMPLE, field)
    if isinstance(held, Shown):
        return SAMPLE.model_copy(update={field: held.model_copy(update=dict(updates))})
    changed = (row or FIRST.get(field) or held[0]).model_copy(update=dict(updates))
    return SAMPLE.model_copy(update={field: (changed, *held[1:])})


def plain(text: str) -> str:
    """Return a text with plain spaces: the locale's own do not break."""
    return text.replace("\u00a0", " ").replace("\u202f", " ")


def facts(before: Document, after: Document) -> dict[str, str]:
    """Return what changed in the one row that did, by what the field is called."""
    (detail,) = details_of(differences(before, after), before, after)
    assert detail.sign == "changed"
    return {fact.label: plain(f"{fact.before} → {fact.after}") for fact in detail.facts}


def fact(
    field: str, name: str, before: Any, after: Any, look: Look = EURO, row: Shown | None = None, **others: Any
) -> str:
    """Return how a change of one field is written.

    row: stands for the first of the collection; others: further fields, the same on both sides.
    """
    then, now = (with_look(with_row(field, {name: one, **others}, row), look) for one in (before, after))
    (written,) = facts(then, now).values()
    return written


@pytest.mark.parametrize(
    ("look", "before", "after", "written"),
    [
        (EURO, "3585.26", "3600", "€3,585.26 → €3,600.00"),
        (("metric", "en_US", "JPY"), "358526", "400000", "¥358,526 → ¥400,000"),
        (("metric", "en_GB", "KWD"), "3585.26", "3585.261", "KWD 3,585.260 → KWD 3,585.261"),
    ],
)
@pytest.mark.parametrize("name", ["price", "tax", "total", "cost", "reserve", "margin"])
def test_an_amount_is_written_in_its_currency(
    look: Look, name: str, before: str, after: str, written: str
) -> None:
    assert fact("price", name, Decimal(before), Decimal(after), look) == written


def test_an_amount_is_written_in_its_locale() -> None:
    before, after = Decimal("3585.26"), Decimal(-12)
    written = " → ".join(money(amount, "EUR", "de_DE") for amount in (before, after))
    assert fact("price", "total", before, after, ("metric", "de_DE", "EUR")) == written.replace("\xa0", " ")


@pytest.mark.parametrize(
    ("field", "name"),
    [
        ("unit_costs", "supply"),
        ("unit_costs", "work"),
        ("unit_prices", "price"),
        ("takeoff", "unit_cost"),
        ("equipment", "unit_list"),
        ("price_lines", "unit_price"),
        ("trades", "selling"),
    ],
)
def test_the_price_of_one_keeps_all_its_digits(field: str, name: str) -> None:
    assert fact(field, name, Decimal("0.0125"), Decimal("1.3")) == "€0.0125 → €1.30"


@pytest.mark.parametrize(
    ("field", "name", "before", "after", "written"),
    [
        ("taxes", "rate", Decimal("0.19"), Decimal("0.2"), "19 % → 20 %"),
        ("price", "retention", Decimal("0.05"), Decimal("0.075"), "5 % → 7.5 %"),
        ("payments", "share", Decimal("0.3"), Decimal("0.35"), "30 % → 35 %"),
        ("labour_conditions", "addition", Decimal("-0.15"), Decimal("0.2"), "-15 % → 20 %"),
        ("pathways", "fill", 0.382, 0.4, "38.2 % → 40 %"),
    ],
)
def test_a_share_is_written_in_percent(field: str, name: str, before: Any, after: Any, written: str) -> None:
    assert fact(field, name, before, after) == written


def test_an_exchange_rate_is_no_share() -> None:
    assert fact("exchange_rates", "rate", Decimal("0.0885"), Decimal("1.0901")) == "0.0885 → 1.0901"


def test_a_factor_is_no_share() -> None:
    assert fact("takeoff", "condition_factor", Decimal("1.0625"), Decimal("0.9")) == "1.0625 → 0.9"


PACK = PackDay(
    form="handheld",
    in_use=("M1",),
    spares=(),
    without_slot=(),
    verdict="alone",
    run_time_h=8.0,
    fresh_lowest=0.5,
    aged_lowest=0.25,
    lowest_at=990.0,
    empty_minutes=0.0,
    full_after_h=2.0,
    held_lowest=0.25,
    held_swaps=0,
    pool=0,
    pool_swaps=0,
    more_slots=0,
    longer_breaks_min=None,
    last_end=1020.0,
    charge_w=None,
    charged_w=5.0,
    fresh=(),
    aged=(),
    slotless=(),
)
DAY = MeetingDay(
    reserve=0.2, docked_share=0.5, in_use_share=0.3, night_h=12.0, sessions=((540.0, 720.0),), packs=(PACK,)
)


def with_day(**updates: Any) -> RoomSheet:
    pack = PACK.model_copy(update=updates)
    return SAMPLE.room_sheets[0].model_copy(update={"day": DAY.model_copy(update={"packs": (pack,)})})


def day_fact(name: str, before: Any, after: Any, look: Look = EURO) -> str:
    then, now = (
        with_look(with_row("room_sheets", {}, with_day(**{name: one})), look) for one in (before, after)
    )
    (written,) = facts(then, now).values()
    return written


def test_a_time_of_day_is_no_number_of_minutes() -> None:
    assert day_fact("lowest_at", 990.0, 1005.0) == "16:30 → 16:45"
    assert day_fact("last_end", 540.0, 1020.0, DOLLAR) == "9:00 AM → 5:00 PM"


def test_sessions_have_times_of_day() -> None:
    sessions = (("morning", 540, 720), ("noon", 780, 1080)), (("morning", 540, 720), ("noon", 810, 1080))
    assert fact("room_sheets", "sessions", *sessions) == "with noon 13:00 to 18:00 → with noon 13:30 to 18:00"


def test_minutes_and_charge_of_a_day() -> None:
    assert day_fact("empty_minutes", 12.0, 0.0) == "12 min → 0 min"
    assert day_fact("longer_breaks_min", None, 15) == "none → 15 min"
    assert day_fact("aged_lowest", 0.25, 0.5) == "25 % → 50 %"
    assert day_fact("charge_w", 5.0, 7.25) == "5.0 W → 7.3 W"
    assert day_fact("run_time_h", 8.0, 7.25) == "8.00 h → 7.25 h"


def test_a_date_is_written_in_words() -> None:
    days = datetime.date(2031, 4, 30), datetime.date(2031, 5, 1)
    assert fact("cover", "valid_until", *days) == "30 April 2031 → 1 May 2031"
    assert fact("cover", "valid_until", *days, DOLLAR) == "April 30, 2031 → May 1, 2031"
    assert fact("payments", "due_date", None, days[0]) == "none → 30 April 2031"


@pytest.mark.parametrize(
    ("field", "name"),
    [("devices", "at"), ("rooms", "origin"), ("equipment_rooms", "at"), ("nodes", "at")],
)
def test_a_place_is_written_in_the_units_of_the_project(field: str, name: str) -> None:
    places = (1.0, 2.5), (1.5, 2.5)
    assert fact(field, name, *places) == "1 m, 2.5 m → 1.5 m, 2.5 m"
    assert fact(field, name, *places, DOLLAR) == "3 ft 3 in, 8 ft 2 in → 4 ft 11 in, 8 ft 2 in"


def test_an_outline_is_a_list_of_places() -> None:
    corners = ((0.0, 0.0), (3.048, 0.0), (3.048, 6.096)), ((0.0, 0.0), (3.048, 0.0), (3.048, 3.048))
    assert (
        fact("rooms", "outline", *corners)
        == "0 m, 0 m; 3.05 m, 0 m; 3.05 m, 6.1 m → 0 m, 0 m; 3.05 m, 0 m; 3.05 m, 3.05 m"
    )
    assert (
        fact("rooms", "outline", *corners, DOLLAR)
        == "0 ft, 0 ft; 10 ft, 0 ft; 10 ft, 20 ft → 0 ft, 0 ft; 10 ft, 0 ft; 10 ft, 10 ft"
    )


def test_a_seat_is_told_with_its_place() -> None:
    seats = (("S1", "Head", (1.524, 0.0)), ("S2", "Left", (0.0, 0.0)))
    moved = (("S1", "Head", (3.048, 0.0)), ("S2", "Left", (0.0, 0.0)))
    assert fact("room_sheets", "seats", seats, moved, DOLLAR) == (
        "with S1 Head 5 ft, 0 ft → with S1 Head 10 ft, 0 ft"
    )


def test_a_microphone_that_moves_is_told_by_its_place() -> None:
    sheet = next(one for one in SAMPLE.room_sheets if one.microphones)
    first = sheet.microphones[0]
    documents = []
    for at in ((1.0, 1.0), (1.0, 2.0)):
        moved = sheet.model_copy(update={"microphones": (first.model_copy(update={"at": at}),)})
        documents.append(with_look(SAMPLE.model_copy(update={"room_sheets": (moved,)}), DOLLAR))
    assert facts(*documents) == {"position": "3 ft 3 in, 3 ft 3 in → 3 ft 3 in, 6 ft 7 in"}


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (("A", "B", "C"), "with A, B, C"),
        (("A", "B", "C", "D"), "with A, B, C and 1 more"),
        (("A", "B", "C", "D", "E"), "with A, B, C and 2 more"),
    ],
)
def test_of_many_names_three_are_told_and_how_many_more_there_are(names: tuple[str, ...], told: str) -> None:
    assert fact("cables", "pathways", ("Y", "Z"), (*names, "Y", "Z")) == f"without → {told}"


@pytest.mark.parametrize("field", ["cables", "pathways"])
def test_a_temperature_is_no_difference(field: str) -> None:
    assert fact(field, "temperature_c", 20.0, 45.0) == "20.0 °C → 45.0 °C"
    assert fact(field, "temperature_c", 20.0, 45.0, DOLLAR) == "68.0 °F → 113.0 °F"


@pytest.mark.parametrize(
    ("kind", "before", "after", "metric", "us"),
    [
        ("temperature", 20.0, 25.0, "20 °C → 25 °C", "68 °F → 77 °F"),
        ("temperature_rise", 15.0, 20.0, "15 K → 20 K", "27 °F → 36 °F"),
        ("length", 3.048, 6.096, "3.05 m → 6.1 m", "10 ft → 20 ft"),
        ("fraction", 0.2, 0.25, "20 % → 25 %", "20% → 25%"),
        ("", 2.0, 3.0, "2 → 3", "2 → 3"),
        ("", False, True, "no → yes", "no → yes"),
    ],
)
def test_an_assumption_is_of_the_kind_of_quantity_that_it_names(
    kind: str, before: Any, after: Any, metric: str, us: str
) -> None:
    row = AssumptionRow(number="A1", title="Taken", subject="building", value=before, kind=kind, source="us")
    assert fact("assumptions", "value", before, after, row=row) == metric
    assert fact("assumptions", "value", before, after, DOLLAR, row) == us


def test_levels_are_in_decibels() -> None:
    assert fact("margins", "margin_db", 6.5, 5.25) == "6.5 dB → 5.3 dB"
    assert fact("margins", "received_dbm", -70.5, -71.0) == "-70.5 dBm → -71.0 dBm"


def test_counts_are_grouped_and_numbers_that_name_are_not() -> None:
    assert fact("rooms", "seats", 1200, 12) == "1,200 → 12"
    assert fact("ports", "vlan", 1010, 1020) == "1010 → 1020"
    assert fact("streams", "channels", 8, 1600) == "8 → 1,600"


def test_lengths_are_in_feet_and_small_ones_in_inches() -> None:
    assert fact("cables", "length_m", 30.48, 33.528) == "30.5 m → 33.5 m"
    assert fact("cables", "length_m", 30.48, 33.528, DOLLAR) == "100 ft → 110 ft"
    assert fact("storeys", "height_m", 0.0, 3.6576, DOLLAR) == "0 ft → 12 ft"
    assert fact("pathway_contents", "diameter_m", 0.00762, 0.0127) == "7.6 mm → 12.7 mm"
    assert fact("pathway_contents", "diameter_m", 0.00762, 0.0127, DOLLAR) == "0.30 in → 0.50 in"
    assert fact("pathways", "radius_m", 0.254, 0.508, DOLLAR) == "10.00 in → 20.00 in"
    assert fact("room_sheets", "area_m2", 9.290304, 18.580608, DOLLAR) == "100 ft² → 200 ft²"


def test_electricity_weight_and_data() -> None:
    assert fact("ports", "device_v", 48.0, 47.25) == "48.0 V → 47.3 V"
    assert fact("ports", "loop_ohm", 12.5, 12.25) == "12.50 Ω → 12.25 Ω"
    assert fact("switches", "drawn_w", 12.5, 13.0) == "12.5 W → 13.0 W"
    assert fact("devices", "weight_kg", 2.0, 3.0) == "2.0 kg → 3.0 kg"
    stream = StreamRow(number=1, name="one", bandwidth_bit_s=1.0)
    assert fact("streams", "bandwidth_bit_s", 1_152_000.0, 2e6, row=stream) == "1.152 Mbit/s → 2.000 Mbit/s"


def test_days_are_days_and_those_of_the_programme_say_which() -> None:
    assert fact("devices", "lead_time_days", 1, 12) == "1 day → 12 days"
    activity = ActivityRow(
        key="first fix",
        name="First fix",
        kind="first fix",
        storey="",
        days=3,
        calendar="site",
        start=datetime.date(2031, 1, 1),
        finish=datetime.date(2031, 1, 3),
        latest=datetime.date(2031, 1, 3),
        total_float=0,
        free_float=0,
        critical=True,
        driving=True,
        after=(),
    )
    assert fact("activities", "days", 1, 3, row=activity) == "1 day on site → 3 days on site"
    crew = (
        (("Installer", 2, Decimal("12.5")), ("Driver", 1, Decimal(4))),
        (("Installer", 2, Decimal(13)), ("Driver", 1, Decimal(4))),
    )
    assert (
        fact("activities", "crew", *crew, row=activity)
        == "with 2 × Installer, 12.50 h → with 2 × Installer, 13.00 h"
    )


def test_what_is_counted_is_in_the_unit_of_its_row() -> None:
    metres = TakeoffRow(number="T1", section="cable", item="NC", unit="m", is_length=True)
    assert fact("takeoff", "quantity", Decimal("30.48"), Decimal("60.96"), row=metres) == "30.5 m → 61.0 m"
    assert (
        fact("takeoff", "quantity", Decimal("30.48"), Decimal("60.96"), DOLLAR, metres) == "100 ft → 200 ft"
    )
    each = TakeoffRow(number="T1", section="equipment", item="QA-4", unit="each")
    assert fact("takeoff", "quantity", Decimal(2), Decimal(3), row=each) == "2 → 3"
    hours = LabourRow(number="H1", task="Manage", trade="Manager", phase="management", unit="h")
    assert fact("labour", "units", Decimal("12.5"), Decimal(13), row=hours) == "12.50 h → 13.00 h"
    assert fact("labour", "hours_a_unit", Decimal("0.1"), Decimal("0.15"), row=hours) == "10 % → 15 %"
    pulled = hours.model_copy(update={"unit": "m"})
    assert fact("labour", "hours_a_unit", Decimal("0.03"), Decimal("0.06"), row=pulled) == "0.03 h → 0.06 h"
    # A foot is 0.3048 m, and takes that part of the hours of a metre.
    assert (
        fact("labour", "hours_a_unit", Decimal("0.03"), Decimal("0.06"), DOLLAR, pulled)
        == "0.00914 h → 0.01829 h"
    )
    assert fact(
        "labour", "additions", (("Night", Decimal("0.2")),), (("Night", Decimal("0.25")),), row=hours
    ) == ("Night +20 % → Night +25 %")


@pytest.mark.parametrize(
    ("rule", "written"),
    [
        ("margin", "25 % → 30 %"),
        ("discount", "25 % → 30 %"),
        ("rate", "€0.25 → €0.30"),
        ("stated", "€0.25 → €0.30"),
    ],
)
def test_the_value_of_a_rule_is_what_its_rule_says(rule: str, written: str) -> None:
    assert fact("price_lines", "rule_value", Decimal("0.25"), Decimal("0.3"), rule=rule) == written


def test_a_rule_that_changes_with_its_value_is_read_on_each_side() -> None:
    then = with_row("price_lines", {"rule": "margin", "rule_value": Decimal("0.25")})
    now = with_row("price_lines", {"rule": "rate", "rule_value": Decimal(88)})
    assert facts(then, now)["share or amount"] == "25 % → €88.00"


def test_a_calculation_is_in_the_units_of_the_project() -> None:
    assert fact("workings", "result", 30.48, 60.96, unit="m") == "30.48 m → 60.96 m"
    us = "100 ft → 200 ft"
    assert fact("workings", "result", 30.48, 60.96, DOLLAR, unit="m") == us
    assert fact("workings", "result", 20.0, 45.0, DOLLAR, unit="°C") == "68.0 °F → 113.0 °F"
    assert fact("workings", "result", 15.0, 20.0, DOLLAR, unit="K") == "27.0 °F → 36.0 °F"
    assert fact("findings", "limit", 0.38, 0.4, unit="-") == "0.38 → 0.4"


def test_values_of_a_calculation_have_each_its_unit() -> None:
    values = tuple((("L", "length", one, "m"), ("n", "pairs", 2.0, "-")) for one in (1.524, 3.048))
    assert fact("workings", "values", *values, DOLLAR) == ("with L length 5 ft → with L length 10 ft")


def test_cuts_of_a_reel_have_lengths() -> None:
    cuts = (("A/1/B", Decimal("30.48"), "L0"), ("A/2/B", Decimal("3.048"), "L0"))
    reel = ReelRow(number=1, stock="305 m", length_m=Decimal(305), cuts=cuts)
    longer = reel.model_copy(update={"cuts": (("A/1/B", Decimal("60.96"), "L0"), cuts[1])})
    then, now = (
        with_look(with_row("reel_orders", {"reels": (one,)}, ReelOrderRow(type="NC")), DOLLAR)
        for one in (reel, longer)
    )
    assert list(facts(then, now).values()) == ["with A/1/B 100 ft L0 → with A/1/B 200 ft L0"]


def test_what_no_program_knows_is_a_bare_number() -> None:
    """A record may be another program's, or altered."""
    row = AssumptionRow(number="A1", title="Taken", subject="x", value=1.0, kind="loudness", source="us")
    assert fact("assumptions", "value", 1.0, 2.0, row=row) == "1 → 2"
    (activity,) = [one for one in SAMPLE.activities if one.days][:1]
    odd = activity.model_copy(update={"calendar": "lunar"})
    assert fact("activities", "days", 1, 2, row=odd) == "1 day → 2 days"


def test_an_amount_before_a_change_of_currency_keeps_its_own() -> None:
    then = with_look(with_row("price", {"price": Decimal(100)}), ("metric", "en_US", "USD"))
    now = with_look(with_row("price", {"price": Decimal(90)}), ("metric", "en_US", "EUR"))
    lines = comparison_text(changes(then, now), "estimator")
    assert "price: price before tax $100.00 → €90.00" in lines
    (total,) = [one for one in lines.splitlines() if "Price: price before tax" in one]
    assert " ".join(total.split()) == "Price: price before tax $100.00 → €90.00"


def test_a_total_in_another_currency_says_so_on_the_page() -> None:
    then, now = (with_look(SAMPLE, ("metric", "en_US", currency)) for currency in ("USD", "EUR"))
    earlier = State(label="revision A", document=then, date=datetime.date(2031, 1, 1))
    edition = with_changes(edition_of(now, "client"), earlier, inputs_of(()))
    page = page_of(edition, "changes.md")
    (total,) = [line for line in page.splitlines() if line.startswith("<tr") and "Price before tax" in line]
    assert "in another currency" in total
    assert "$" in total
    assert "€" in total


def test_a_part_that_comes_or_goes_is_new_or_removed() -> None:
    without = SAMPLE.model_copy(update={"finding_count": None})
    for documents, sign in (((without, SAMPLE), "new"), ((SAMPLE, without), "removed")):
        difference = differences(*documents)
        (detail,) = details_of(difference, *documents)
        assert (detail.sign, detail.name, detail.facts) == (sign, "findings", ())
        assert unseen(difference, (detail,)) == 0


def changes(before: Document, after: Document) -> Any:
    date = datetime.date(2031, 3, 3)
    states = (State(label=label, document=one, date=date) for label, one in (("one", before), ("two", after)))
    return changes_between(*states, inputs_of(()))


def edited(document: Document) -> Document:
    """Return a document in which one thing of each kind is otherwise."""
    assert document.price is not None
    updates = {
        "price": document.price.model_copy(update={"reserve": Decimal("3585.26")}),
        "exchange_rates": (document.exchange_rates[0].model_copy(update={"rate": Decimal("0.0885")}),),
        "devices": (document.devices[0].model_copy(update={"at": (3.048, 6.096)}), *document.devices[1:]),
    }
    return document.model_copy(update=updates)


BEFORE = with_look(SAMPLE, DOLLAR)
AFTER = edited(BEFORE)
WRITTEN = ("→ $3,585.26", "→ 0.0885", "→ 10 ft, 20 ft")


def test_text_and_markdown_write_what_was_declared() -> None:
    for write in (comparison_text, comparison_markdown):
        told = plain(write(changes(BEFORE, AFTER), "estimator")).replace("\\", "")
        for written in WRITTEN:
            assert written in told, written


def test_json_names_the_quantity_of_every_change() -> None:
    told = json.loads(comparison_json(changes(BEFORE, AFTER), "estimator"))
    quantities = {tuple(one["path"][-1:]): one["quantities"] for one in told["difference"]["changes"]}
    assert quantities == {("reserve",): ["money"], ("rate",): ["exchange rate"], ("at",): ["coordinates"]}
    assert {one["quantity"] for one in told["consequences"]} >= {"count", "money", "hours", "date", "length"}


@pytest.mark.parametrize("shown", ["changes.md", "alternates/cheaper.md"])
def test_pages_write_what_was_declared(shown: Literal["changes.md", "alternates/cheaper.md"]) -> None:
    if shown == "changes.md":
        earlier = State(label="revision A", document=BEFORE, date=datetime.date(2031, 1, 1))
        edition = with_changes(edition_of(AFTER, "estimator"), earlier, inputs_of(()))
    else:
        row = AlternateRow(key="cheaper", name="Cheaper", description="Less.")
        offered = Proposal(document=BEFORE, alternates=(OpenAlternate(row=row, document=AFTER),))
        edition = edition_of_proposal(offered, "estimator")
    page = plain(page_of(edition, shown))
    for written in WRITTEN:
        assert written in page, written


def test_a_list_of_absurd_length_is_told_to_have_changed_without_being_written_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    short, long = (with_row("takeoff", {"reels": tuple(range(1, count))}) for count in (4, 20))
    assert facts(short, long) == {"reels": "1, 2, 3 → " + ", ".join(str(n) for n in range(1, 20))}
    monkeypatch.setattr("proposal.differences.details._MOST_ITEMS", 10)
    assert facts(short, long) == {"reels": " → "}
