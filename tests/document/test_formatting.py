"""How quantities, money and dates read in the units and the locale of a project."""

import datetime
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.document import formatting
from proposal.model.kinds import KINDS, in_units


@pytest.mark.published
@pytest.mark.parametrize(
    ("value_m", "feet"),
    # 1 ft = 0.3048 m exactly (NIST SP 811, B.6), so 90 m = 295.28 ft and 100 m = 328.08 ft.
    [(90.0, "295.3 ft"), (100.0, "328.1 ft"), (0.3048, "1.0 ft"), (304.8, "1,000.0 ft")],
)
def test_a_length_is_shown_in_feet(value_m: float, feet: str) -> None:
    assert formatting.length(value_m, "us_customary", "en_US") == feet


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("locale", "shown"),
    # Decimal and group signs of the Unicode locale data, read by eye.
    [("en_GB", "1,234.6 m"), ("de_DE", "1.234,6 m"), ("sv_SE", "1\xa0234,6 m"), ("de_CH", "1’234.6 m")],
)
def test_a_length_follows_the_locale(locale: str, shown: str) -> None:
    assert formatting.length(1234.56, "metric", locale) == shown


@pytest.mark.independent
@given(st.integers(min_value=-(10**9), max_value=10**9), st.integers(min_value=0, max_value=3))
def test_rounding_is_half_up_in_decimal(thousandths: int, places: int) -> None:
    value = Decimal(thousandths).scaleb(-3)
    size = abs(Fraction(thousandths, 1000)) * 10**places
    expected = (int(size) + (size - int(size) >= Fraction(1, 2))) * (-1 if thousandths < 0 else 1)
    assert formatting.rounded(value, places) == Decimal(expected).scaleb(-places)


@pytest.mark.pinned
def test_a_half_is_rounded_as_it_is_written_and_not_as_it_is_stored() -> None:
    assert formatting.number(2.675, "en_GB", 2) == "2.68"
    assert formatting.number(-0.04, "en_GB", 1) == "0.0"


@pytest.mark.pinned
def test_a_span_of_equal_lengths_is_one_length() -> None:
    assert formatting.length_range(14.06, 38.0, "metric", "en_GB") == "14.1 to 38.0 m"
    assert formatting.length_range(14.06, 14.14, "metric", "en_GB") == "14.1 m"


@pytest.mark.parametrize("units", ["metric", "us_customary"])
@pytest.mark.parametrize("kind", [*KINDS, "short_length", "short_area", "volume", "latency", "frequency_mhz"])
def test_every_kind_of_quantity_has_a_number_of_places(kind: str, units: str) -> None:
    shown = formatting.quantity(1.0, kind, units, "en_GB")
    unit = in_units(1.0, kind, "metric" if units == "metric" else "us_customary")[1]
    assert shown.endswith(unit)
    assert formatting.unit_of(kind, units) == unit
    assert shown.startswith(formatting.bare(1.0, kind, units, "en_GB"))


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("value", "kind", "units", "shown"),
    [
        (0.2, "fraction", "metric", "20 %"),
        (2.75, "length", "metric", "2.75 m"),
        (20.0, "temperature", "us_customary", "68 °F"),
        (45.0, "angle", "metric", "45°"),
        (3.0, "", "metric", "3"),
        (True, "", "metric", "yes"),
        (None, "length", "metric", "not known"),
        ("cat6a", "", "metric", "cat6a"),
    ],
)
def test_an_assumed_value_reads_as_it_would_be_written(
    value: float | str | bool | None, kind: str, units: str, shown: str
) -> None:
    assert formatting.value_text(value, kind, units, "en_GB") == shown


@pytest.mark.pinned
def test_money_is_rounded_half_up_to_the_currency() -> None:
    assert formatting.money(Decimal("1234.565"), "EUR", "en_GB") == "€1,234.57"
    assert formatting.money(Decimal("1234.5"), "JPY", "en_US") == "¥1,235"


@pytest.mark.published
@pytest.mark.parametrize(
    ("currency", "locale", "shown"),
    [
        # ISO 4217 gives the forint two places, which locales leave out, and the dinar of Kuwait three.
        # Between letters and digits stands a space that does not break (UTS 35, currency spacing).
        ("HUF", "en_GB", "HUF\N{NO-BREAK SPACE}1,234.57"),
        ("KWD", "en_US", "KWD\N{NO-BREAK SPACE}1,234.565"),
        ("KWD", "de_DE", "1.234,565\N{NO-BREAK SPACE}KWD"),
        ("ISK", "en_GB", "ISK\N{NO-BREAK SPACE}1,235"),
        ("JPY", "en_US", "¥1,235"),
        ("JPY", "ja_JP", "\N{FULLWIDTH YEN SIGN}1,235"),
        ("JPY", "de_DE", "1.235\N{NO-BREAK SPACE}¥"),
        ("EUR", "de_DE", "1.234,57\N{NO-BREAK SPACE}€"),
        ("CHF", "de_CH", "CHF\N{NO-BREAK SPACE}1’234.57"),
    ],
)
def test_money_has_the_places_of_its_currency_whatever_the_locale(
    currency: str, locale: str, shown: str
) -> None:
    assert formatting.money(Decimal("1234.565"), currency, locale) == shown


@pytest.mark.pinned
def test_a_credit_is_a_charge_with_its_sign_turned() -> None:
    for currency, shown in (
        ("EUR", "€1,234.57"),
        ("JPY", "¥1,235"),
        ("KWD", "KWD\N{NO-BREAK SPACE}1,234.565"),
    ):
        assert formatting.money(Decimal("1234.565"), currency, "en_US") == shown
        assert formatting.money(Decimal("-1234.565"), currency, "en_US") == f"-{shown}"
    assert formatting.money(Decimal("-0.4"), "JPY", "en_US") == "¥0"


@pytest.mark.pinned
def test_millions_are_grouped_where_the_sign_of_groups_is_an_apostrophe() -> None:
    assert formatting.money(Decimal(1234567), "CHF", "de_CH") == "CHF\N{NO-BREAK SPACE}1’234’567.00"
    assert formatting.number(1234567, "it_CH") == "1’234’567"


@pytest.mark.pinned
def test_the_price_of_one_unit_keeps_all_its_digits() -> None:
    assert formatting.unit_money(Decimal("0.0552"), "EUR", "en_GB") == "€0.0552"
    assert formatting.unit_money(Decimal("0.3120"), "EUR", "en_GB") == "€0.312"
    assert formatting.unit_money(Decimal("12.5"), "EUR", "en_GB") == "€12.50"
    assert formatting.unit_money(Decimal("1200"), "JPY", "en_GB") == "JP¥1,200"
    assert formatting.percentage(Decimal("0.135"), "en_GB") == "13.5 %"
    assert formatting.percentage(Decimal("0.23"), "de_DE") == "23 %"


@pytest.mark.pinned
def test_dates_and_times_follow_the_locale() -> None:
    assert formatting.date(datetime.date(2026, 3, 2), "en_GB") == "2 March 2026"
    assert formatting.date(datetime.date(2026, 3, 2), "en_US") == "March 2, 2026"
    assert formatting.time_of_day(570, "en_GB") == "09:30"


@pytest.mark.pinned
def test_counts_and_lists_read_as_phrases() -> None:
    assert formatting.count_of(1, "cable") == "1 cable"
    assert formatting.count_of(3, "cable") == "3 cables"
    assert formatting.listed(("A", "B", "C")) == "A, B and C"
    assert formatting.listed(("A",)) == "A"


def test_units_are_one_of_two_systems() -> None:
    with pytest.raises(ValueError, match="metric or us_customary"):
        formatting.length(1.0, "imperial", "en_GB")
