"""Quantities: text with a unit in, SI inside, the project's units out."""

import math
import re
from decimal import Decimal
from typing import Annotated

import pytest
from babel.numbers import list_currencies
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, Field, ValidationError

from proposal.quantities.currencies import MINOR_UNITS
from proposal.quantities.money import WholeAmount
from proposal.quantities.parsing import (
    Colour,
    Length,
    Money,
    Quantity,
    TimeOfDay,
    in_units,
    json_pattern,
    parse,
)
from proposal.quantities.units import KINDS

# NIST SP 811 (2008), appendix B.8: the factors set in bold type there are exact.
SP_811 = [
    ("1 ft", "length", 0.3048),
    ("1 in", "length", 0.0254),
    ("12 ft 6 in", "length", 3.81),
    ("12' 6\"", "length", 3.81),
    ("12'-6\"", "length", 3.81),
    ("12′6″", "length", 3.81),
    ("12 ft 6 1/2 in", "length", 3.8227),
    ("3/4 in", "length", 0.01905),
    ("-4 ft 6 in", "length", -1.3716),
    ("1 sq ft", "area", 0.09290304),
    ("1 in²", "area", 0.00064516),
    ("1 lb", "mass", 0.45359237),
    ("1 oz", "mass", 0.028349523125),
    ("2 lb 8 oz", "mass", 1.133980925),
    ("1 lbf", "force", 4.4482216152605),
    ("32 °F", "temperature", 0.0),
    ("212 °F", "temperature", 100.0),
    ("68 F", "temperature", 20.0),
    ("-40 °F", "temperature", -40.0),
    ("273.15 K", "temperature", 0.0),
    ("9 °F", "temperature_rise", 5.0),
]

# Prefixes, minutes and hours of the SI brochure (9th edition, tables 7 and 8).
SI_BROCHURE = [
    ("7.2 m", "length", 7.2),
    ("  7.2m ", "length", 7.2),
    ("7.2\u2009m", "length", 7.2),
    ("1\u202f250 m", "length", 1250.0),
    ("−3.5 m", "length", -3.5),
    ("+3 m", "length", 3.0),
    ("1e3 mm", "length", 1.0),
    ("2.5 km", "length", 2500.0),
    ("25 cm²", "area", 0.0025),
    ("350 g", "mass", 0.35),
    ("1.2 kW", "power", 1200.0),
    ("250 mW", "power", 0.25),
    ("3 kVA", "apparent_power", 3000.0),
    ("1.5 kWh", "energy", 1500.0),
    ("2600 mAh", "charge", 2.6),
    ("350 mA", "current", 0.35),
    ("600 ohm", "resistance", 600.0),
    ("4.7 k\u2126", "resistance", 4700.0),
    ("1.9 GHz", "frequency", 1.9e9),
    ("20 ms", "duration", 0.02),
    ("125 \u03bcs", "duration", 0.000125),
    ("8 h 30 min", "duration", 30600.0),
    ("1 h 1 min 1 s", "duration", 3661.0),
    ("57 %", "fraction", 0.57),
    ("90°", "angle", 90.0),
    ("45 deg", "angle", 45.0),
    ("100 Mbit/s", "data_rate", 1e8),
    ("1 Gb/s", "data_rate", 1e9),
    ("65 dB(A)", "sound_level", 65.0),
    ("-3 dB", "level", -3.0),
    ("24 dBm", "level_dbm", 24.0),
    ("1 mW", "level_dbm", 0.0),
    ("1 W", "level_dbm", 30.0),
]


@pytest.mark.published
@pytest.mark.parametrize(("text", "kind", "value"), SP_811 + SI_BROCHURE)
def test_a_quantity_has_its_published_value(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == value  # computed exactly, so not one bit off


@pytest.mark.parametrize(("text", "kind", "value"), SP_811 + SI_BROCHURE)
def test_the_pattern_for_editors_takes_what_the_program_takes(text: str, kind: str, value: float) -> None:
    typographic = set("′″\u03bc\u2126\u202f")
    assert re.search(json_pattern(kind), text) or typographic & set(text)


@pytest.mark.parametrize("kind", KINDS)
def test_the_examples_of_a_kind_are_taken(kind: str) -> None:
    for example in KINDS[kind].examples:
        assert math.isfinite(parse(example, kind))
        assert re.search(json_pattern(kind), example)


@pytest.mark.published
def test_a_level_may_be_written_as_a_power() -> None:
    # ETSI EN 300 175-2: 250 mW is stated as 24 dBm.
    assert parse("250 mW", "level_dbm") == pytest.approx(24, abs=0.5)


REFUSED = [
    ("7.2", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 7.2"),
    ("", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found an empty text"),
    ("7.2 ms", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 7.2 ms"),
    ("3 m2", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 3 m2"),
    ("nan m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found nan m"),
    ("inf m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found inf m"),
    ("٣ m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found ٣ m"),
    ("३.२ m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found ३.२ m"),
    ("1_000 m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 1_000 m"),
    ("1/0 in", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 1/0 in"),
    ("12 ft 14 in", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 12 ft 14 in"),
    ("6 in 12 ft", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 6 in 12 ft"),
    ("12.5 ft 6 in", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 12.5 ft 6 in"),
    ("3 m 20 cm", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found 3 m 20 cm"),
    ("--3 m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found --3 m"),
    ("{message} m", "length", "wanted a length with its unit, such as 7.2 m or 24 ft; found {message} m"),
    ("3 m\n", "area", "wanted an area with its unit, such as 42 m² or 450 ft²; found 3 m\\n"),
    (
        "1,250 m",
        "length",
        "wanted a length with a decimal point and no comma, such as 7.2 m or 24 ft; found 1,250 m",
    ),
    ("1e999 m", "length", "wanted a length from -100000 to 100000 m, such as 7.2 m or 24 ft; found 1e999 m"),
    (
        "1e-999 m",
        "length",
        "wanted a length of a size that can be told from 0, such as 7.2 m or 24 ft; found 1e-999 m",
    ),
    (
        "-274 °C",
        "temperature",
        "wanted a temperature from -273.15 to 10000 °C, such as 20 °C or 68 °F; found -274 °C",
    ),
    ("0 mW", "level_dbm", "wanted a power level above 0 mW, such as 24 dBm or 250 mW; found 0 mW"),
    ("0.2", "fraction", "wanted a share with its unit, such as 20 % or 7.5 %; found 0.2"),
    (
        "7" * 100,
        "length",
        f"wanted a length of at most 64 characters, such as 7.2 m or 24 ft; found {'7' * 60}…",
    ),
]


class Shelf(BaseModel):
    width: Annotated[Length, Field(gt=0)] = 1.0
    cost: Money | None = None
    opens: TimeOfDay = 0
    colour: Colour = "#000000"


def _message(model: type[BaseModel], **values: object) -> str:
    with pytest.raises(ValidationError) as caught:
        model(**values)
    return str(caught.value.errors()[0]["msg"])


@pytest.mark.parametrize(("text", "kind", "message"), REFUSED)
def test_a_wrong_quantity_says_what_was_wanted_and_found(text: str, kind: str, message: str) -> None:
    class Holder(BaseModel):
        value: Annotated[float, Quantity(kind)]

    assert _message(Holder, value=text) == message


@pytest.mark.parametrize(
    "value", [True, None, [1], {"a": 1}, float("nan"), float("inf"), 10**400, "\ud800 m"]
)
def test_what_is_no_quantity_is_refused_without_another_exception(value: object) -> None:
    assert _message(Shelf, width=value).startswith("wanted a length")


def test_a_number_is_taken_as_si_and_limits_hold_in_si() -> None:
    assert Shelf(width=2).width == 2.0
    assert Shelf(width="2 ft").width == 0.6096
    assert "greater than 0" in _message(Shelf, width="-1 ft")
    assert "greater than 0" in _message(Shelf, width="0 m")


UNIT_OF_KIND = [(kind, unit) for kind, known in KINDS.items() for unit in known.units]


@given(st.decimals(min_value=-200, max_value=2000, places=4, allow_nan=False), st.sampled_from(UNIT_OF_KIND))
def test_a_written_value_comes_back_in_proportion(number: Decimal, kind_unit: tuple[str, str]) -> None:
    kind, unit = kind_unit
    text = f"{number} {unit}"
    try:
        value = parse(text, kind)
    except ValueError:
        known = KINDS[kind]
        rough = float(number) * float(known.units[unit]) + float(known.offsets.get(unit, 0))
        assert not known.smallest < rough < known.largest or abs(rough) < 1e-11
        return
    one, zero = parse(f"1 {unit}", kind), parse(f"0 {unit}", kind)
    assert value == pytest.approx(zero + float(number) * (one - zero), rel=1e-12, abs=1e-9)


@given(st.integers(0, 5000), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_add_up(feet: int, inches: int, sixteenths: int) -> None:
    # Inches counted in whole sixteenths of 25.4 mm: integers only, another way than the parser's.
    tenths_of_micrometres = (feet * 192 + inches * 16 + sixteenths) * 15875
    assert parse(f"{feet} ft {inches} {sixteenths}/16 in", "length") == tenths_of_micrometres / 10_000_000


@pytest.mark.published
@pytest.mark.parametrize(
    ("value", "kind", "us"),
    [
        (0.3048, "length", (1.0, "ft")),
        (0.0254, "short_length", (1.0, "in")),
        (0.09290304, "area", (1.0, "ft²")),
        (0.45359237, "mass", (1.0, "lb")),
        (4.4482216152605, "force", (1.0, "lbf")),
        (20.0, "temperature", (68.0, "°F")),
        (5.0, "temperature_rise", (9.0, "°F")),
        (0.028316846592, "volume", (1.0, "ft³")),
    ],
)
def test_values_are_shown_in_us_customary_units(value: float, kind: str, us: tuple[float, str]) -> None:
    number, unit = in_units(value, kind, "us_customary")
    assert (pytest.approx(number, rel=1e-15), unit) == us


def test_values_are_shown_in_metric_units() -> None:
    assert in_units(7.2, "length", "metric") == (7.2, "m")
    assert in_units(0.25, "short_length", "metric") == (250.0, "mm")
    assert in_units(0.25, "fraction", "metric") == (25.0, "%")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("units", ["metric", "us_customary"])
def test_every_kind_is_shown_in_both_systems(kind: str, units: str) -> None:
    number, unit = in_units(1.0, kind, units)  # type: ignore[arg-type]
    assert unit
    assert math.isfinite(number)


def test_money_is_read_with_the_currency_on_either_side_and_written_after_it() -> None:
    assert Shelf(cost="1250.00 EUR").cost == Money(Decimal("1250.00"), "EUR")
    assert Shelf(cost="USD −3.50").cost == Money(Decimal("-3.50"), "USD")
    assert Shelf(cost="1250.00 EUR").model_dump_json(include={"cost"}) == '{"cost":"1250.00 EUR"}'
    assert str(Money(Decimal("1E+3"), "EUR")) == "1000 EUR"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1250", "wanted an amount with its currency, such as 1250.00 EUR; found 1250"),
        (
            "1,250.00 EUR",
            "wanted an amount with a decimal point and no comma, such as 1250.00 EUR; found 1,250.00 EUR",
        ),
        ("5 EURO", "wanted an amount with its currency, such as 1250.00 EUR; found 5 EURO"),
        ("5 QQQ", "wanted a currency by its three letters of ISO 4217, such as EUR or USD; found QQQ"),
        ("nan EUR", "wanted an amount with its currency, such as 1250.00 EUR; found nan EUR"),
        ("1e99 EUR", "wanted an amount with its currency, such as 1250.00 EUR; found 1e99 EUR"),
    ],
)
def test_wrong_money_says_what_was_wanted_and_found(text: str, message: str) -> None:
    class Bill(BaseModel):
        cost: Money

    assert _message(Bill, cost=text) == message


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1000.5 JPY", "wanted an amount in steps of 1 JPY, such as 101 JPY; found 1000.5 JPY"),
        ("-0.005 EUR", "wanted an amount in steps of 0.01 EUR, such as 100.01 EUR; found -0.005 EUR"),
        ("0.0005 KWD", "wanted an amount in steps of 0.001 KWD, such as 100.001 KWD; found 0.0005 KWD"),
    ],
)
def test_a_sum_finer_than_its_currency_is_refused_and_the_price_of_one_unit_is_not(
    text: str, message: str
) -> None:
    class Bill(BaseModel):
        whole: WholeAmount | None = None
        each: Money | None = None

    assert _message(Bill, whole=text) == message
    assert Bill.model_validate({"each": text}).each == Money.read(text)
    for payable in ("1000 JPY", "1000.00 JPY", "12.34 EUR", "0.125 KWD"):
        assert str(Bill.model_validate({"whole": payable}).whole) == payable


@pytest.mark.independent
def test_every_currency_code_is_known_to_the_unicode_locale_data() -> None:
    assert set(MINOR_UNITS) - set(list_currencies()) <= {"XCG", "ZWG"}  # newer than most locale data
    assert len(MINOR_UNITS) > 150


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("00:00", 0), ("09:30", 570), ("9:30", 570), ("24:00", 1440), ("9:30 pm", 1290), ("12:15 am", 15)],
)
def test_a_time_of_day_is_minutes_since_midnight(text: str, minutes: int) -> None:
    assert Shelf(opens=text).opens == minutes


@pytest.mark.parametrize("text", ["24:01", "9:60", "25:00", "930", "13:00 pm", "0:30 am", "٠٩:٣٠", ""])
def test_a_wrong_time_of_day_is_refused(text: str) -> None:
    assert _message(Shelf, opens=text).startswith(
        "wanted a time of day from 00:00 to 24:00, such as 09:30 or 9:30 am; found "
    )


def test_a_colour_is_six_hexadecimal_digits() -> None:
    assert Shelf(colour="#1F4E79").colour == "#1f4e79"
    assert _message(Shelf, colour="teal") == (
        'wanted a colour in quotes, # and six hexadecimal digits, such as "#1f4e79"; found teal'
    )


def test_an_integer_too_long_to_write_out_is_refused() -> None:
    assert _message(Shelf, width=-(10**9999)) == (
        "wanted a length from -100000 to 100000 m, such as 7.2 m or 24 ft; found a very large number"
    )
