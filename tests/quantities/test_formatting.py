"""How quantities, money and dates read in the units and the locale of a project."""

import datetime
import re
import sys
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from babel.numbers import parse_decimal
from hypothesis import given
from hypothesis import strategies as st

from proposal.model.project import Brief
from proposal.quantities import formatting, percentages
from proposal.quantities.english_forms import ENGLISH
from proposal.quantities.locale_forms import forms_of
from proposal.quantities.units import KINDS, in_units

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.published
@pytest.mark.parametrize(
    ("value_m", "feet"),
    # 1 ft = 0.3048 m exactly (NIST SP 811, B.6), so 90 m = 295.28 ft and 100 m = 328.08 ft.
    [(90.0, "295 ft"), (100.0, "328 ft"), (0.3048, "1 ft"), (304.8, "1,000 ft"), (2.8956, "9 ft 6 in")],
)
def test_a_length_is_shown_in_feet(value_m: float, feet: str) -> None:
    assert formatting.length(value_m, "us_customary", "en_US") == feet


# Languages whose comma parts the decimals (the metrology of their countries), and some whose point does. What
# parts the groups is left to the release of the Unicode locale data.
COMMA, POINT = ("de_DE", "sv_SE", "fr_FR", "nl_NL", "es_ES"), ("en_AU", "en_IN", "ja_JP", "zh_CN", "he_IL")


def digits_of(shown: str, decimal: str) -> Decimal:
    """Return the number that a text shows, whatever parts its groups."""
    whole, _, places = shown.rpartition(decimal)
    return Decimal(f"{re.sub(r'[^0-9]', '', whole)}.{places}") * (-1 if shown.startswith(("-", "−")) else 1)


@pytest.mark.parametrize("locale", [*COMMA, *POINT])
def test_a_number_follows_the_locale(locale: str) -> None:
    decimal = "," if locale in COMMA else "."
    shown = formatting.length(1234.56, "metric", locale)
    assert shown.endswith(" m")
    assert digits_of(shown.removesuffix(" m"), decimal) == Decimal("1234.6")
    assert digits_of(formatting.number(-7654321.095, locale, 2).strip("\u200e"), decimal) == Decimal(
        "-7654321.10"
    )
    assert formatting.short_number(0.25, locale) == f"0{decimal}25"
    assert formatting.short_number(12.0, locale) == "12"


@pytest.mark.independent
@pytest.mark.parametrize("locale", [*COMMA, *POINT, "de_CH", "pt_BR", "pl_PL", "cs_CZ"])
@given(st.decimals(min_value=-(10**9), max_value=10**9, places=2))
def test_a_number_is_read_again_as_the_locale_reads_it(locale: str, value: Decimal) -> None:
    assert parse_decimal(formatting.number(value, locale, 2), locale) == value


@pytest.mark.parametrize("locale", [*COMMA, *POINT, "de_CH"])
def test_a_date_of_any_locale_tells_its_day_and_its_year(locale: str) -> None:
    day = datetime.date(2026, 3, 27)
    assert {"2026", "27"} <= set(re.findall("[0-9]+", formatting.date(day, locale)))
    assert "27" in re.findall("[0-9]+", formatting.short_date(day, locale))
    assert {"2026", "27"} <= set(re.findall("[0-9]+", formatting.weekday_date(day, locale)))
    assert len({formatting.weekday_date(day + datetime.timedelta(n), locale) for n in range(7)}) == 7
    assert {"9", "30"} <= {
        part.lstrip("0") for part in re.findall("[0-9]+", formatting.time_of_day(570, locale))
    }


def test_english_does_not_ask_the_locale_data_of_others(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("babel", "babel.dates", "babel.numbers", "proposal.quantities.unicode_forms"):
        monkeypatch.setitem(sys.modules, name, None)
    forms_of.cache_clear()
    for locale in ENGLISH:
        assert formatting.money(Decimal("-1234.5"), "CHF", locale) == "-CHF\N{NO-BREAK SPACE}1,234.50"
    with pytest.raises(ImportError):
        formatting.number(1, "de_CH")


def test_projects_of_these_tests_are_written_in_english_of_the_table() -> None:
    """Pages that are kept whole as expected ones do not change with another release of locale data."""
    written = {
        path: re.findall(r"^locale: *(\S+)", path.read_text("utf-8"), re.MULTILINE)
        for folder in ("example_project", "tests/projects", "shared/starter")
        for path in sorted((ROOT / folder).rglob("project.yaml"))
    }
    assert len(written) > 4
    for path, locales in written.items():
        assert {*locales, Brief.model_fields["locale"].default} <= set(ENGLISH), path


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
@pytest.mark.parametrize(
    "kind",
    [
        *KINDS,
        "short_length",
        "short_area",
        "volume",
        "latency",
        "frequency_mhz",
        "small_current",
        "yearly_energy",
    ],
)
def test_every_kind_of_quantity_has_a_number_of_places(kind: str, units: str) -> None:
    shown = formatting.quantity(1.0, kind, units, "en_GB")
    unit = in_units(1.0, kind, "metric" if units == "metric" else "us_customary")[1]
    if (kind, units) == ("length", "us_customary"):
        # Feet have inches where they are told with their unit.
        assert (shown, unit) == ("3 ft 3 in", "ft")
        return
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
        ("ISK", "en_GB", "ISK\N{NO-BREAK SPACE}1,235"),
        ("JPY", "en_US", "¥1,235"),
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


@pytest.mark.parametrize(
    ("currency", "locale", "written"),
    [("JPY", "ja_JP", r"[¥\N{FULLWIDTH YEN SIGN}]1,235"), ("JPY", "de_DE", r"1\D235\s(¥|JPY)")],
)
def test_yen_have_no_places_in_any_locale(currency: str, locale: str, written: str) -> None:
    assert re.fullmatch(written, formatting.money(Decimal("1234.565"), currency, locale))


def test_millions_are_grouped_where_the_sign_of_groups_is_an_apostrophe() -> None:
    assert re.fullmatch(
        r"CHF\s1(?P<sign>\D)234(?P=sign)567\.00", formatting.money(Decimal(1234567), "CHF", "de_CH")
    )
    assert re.fullmatch(r"1(?P<sign>\D)234(?P=sign)567", formatting.number(1234567, "it_CH"))


@pytest.mark.parametrize(
    ("currency", "locale", "sign", "decimal", "amount"),
    [
        ("HUF", "de_DE", "HUF", ",", "1234.57"),
        ("KWD", "de_DE", "KWD", ",", "1234.565"),
        ("KWD", "sv_SE", "KWD", ",", "1234.565"),
        ("EUR", "de_DE", "€", ",", "1234.57"),
        ("CHF", "de_CH", "CHF", ".", "1234.57"),
    ],
)
def test_money_of_any_locale_tells_its_currency_and_its_amount(
    currency: str, locale: str, sign: str, decimal: str, amount: str
) -> None:
    shown = formatting.money(Decimal("1234.565"), currency, locale)
    assert sign in shown
    number = shown.replace(sign, "").strip()
    assert digits_of(number, decimal) == Decimal(amount)
    assert len(number.rpartition(decimal)[2]) == len(amount.partition(".")[2])


@pytest.mark.pinned
def test_the_price_of_one_unit_keeps_all_its_digits() -> None:
    assert formatting.unit_money(Decimal("0.0552"), "EUR", "en_GB") == "€0.0552"
    assert formatting.unit_money(Decimal("0.3120"), "EUR", "en_GB") == "€0.312"
    assert formatting.unit_money(Decimal("12.5"), "EUR", "en_GB") == "€12.50"
    assert formatting.unit_money(Decimal("1200"), "JPY", "en_GB") == "JP¥1,200"
    assert percentages.percentage(Decimal("0.135"), "en_GB") == "13.5 %"
    assert percentages.percentage(Decimal("0.23"), "de_DE") == "23 %"
    assert percentages.percentage(Decimal("0.3333333333333333"), "en_GB") == "33 1/3 %"
    assert percentages.percentage(Decimal("0.2833333333333333"), "en_US") == "28 1/3%"
    assert percentages.percentage(Decimal("0.3333"), "en_GB") == "33.33 %"
    # The international standard of quantities leaves a space, usage in the United States does not.
    assert percentages.percentage(Decimal("0.23"), "en_US") == "23%"
    assert formatting.quantity(0.05, "fraction", "us_customary", "en_US") == "5.0%"


@pytest.mark.pinned
def test_dates_and_times_follow_the_locale() -> None:
    assert formatting.date(datetime.date(2026, 3, 2), "en_GB") == "2 March 2026"
    assert formatting.date(datetime.date(2026, 3, 2), "en_US") == "March 2, 2026"
    assert formatting.short_date(datetime.date(2026, 9, 2), "en_GB") == "2 Sept"
    assert formatting.short_date(datetime.date(2026, 9, 2), "en_US") == "Sep 2"
    assert formatting.weekday_date(datetime.date(2026, 9, 6), "en_GB") == "Sun, 6 Sept 2026"
    assert formatting.weekday_date(datetime.date(2026, 8, 31), "en_IE") == "Mon 31 Aug 2026"
    assert formatting.weekday_date(datetime.date(2026, 12, 1), "en_US") == "Tue, Dec 1, 2026"
    assert formatting.time_of_day(570, "en_GB") == "09:30"
    assert [formatting.time_of_day(minutes, "en_US") for minutes in (0, 570, 720, 1439)] == [
        "12:00\N{NARROW NO-BREAK SPACE}AM",
        "9:30\N{NARROW NO-BREAK SPACE}AM",
        "12:00\N{NARROW NO-BREAK SPACE}PM",
        "11:59\N{NARROW NO-BREAK SPACE}PM",
    ]


@pytest.mark.pinned
@pytest.mark.parametrize("locale", ["en_GB", "en_IE", "en_US"])
def test_numbers_and_money_read_as_in_english(locale: str) -> None:
    assert formatting.number(1234567.25, locale, 1) == "1,234,567.3"
    assert formatting.number(999, locale) == "999"
    assert formatting.short_number(-1200.50, locale) == "-1,200.5"
    assert formatting.short_number(1000, locale) == "1,000"
    assert formatting.money(Decimal("-0.5"), "EUR", locale) == "-€0.50"
    assert formatting.money(Decimal(12), "USD", locale) == ("$12.00" if locale == "en_US" else "US$12.00")


@pytest.mark.pinned
def test_counts_and_lists_read_as_phrases() -> None:
    assert formatting.count_of(1, "cable") == "1 cable"
    assert formatting.count_of(3, "cable") == "3 cables"
    assert formatting.listed(("A", "B", "C")) == "A, B and C"
    assert formatting.listed(("A",)) == "A"


def test_units_are_one_of_two_systems() -> None:
    with pytest.raises(ValueError, match="metric or us_customary"):
        formatting.length(1.0, "imperial", "en_GB")


@pytest.mark.parametrize(
    ("value", "kind", "shown"),
    [
        (0.001, "duration", "1 ms"),
        (0.05, "duration", "50 ms"),
        (0.0, "duration", "0 s"),
        (1.0, "duration", "1 s"),
        (1_400_000.0, "frequency", "1.4 MHz"),
        (50.0, "frequency", "50 Hz"),
    ],
)
def test_small_times_and_high_frequencies_have_the_unit_that_people_use(
    value: float, kind: str, shown: str
) -> None:
    assert formatting.short_quantity(value, kind, "metric", "en_GB") == shown


@pytest.mark.parametrize(
    ("names", "wanted"),
    [
        (["codec"], "the codec"),
        (["codec", "recorder"], "the codec and recorder"),
        (["The client's loudspeakers"], "the client's loudspeakers"),
        (["codec", "the town's recorder"], "the codec and the town's recorder"),
        (["our codec"], "our codec"),
        (["Harrow's codec"], "Harrow's codec"),
        (["owner's amplifier"], "the owner's amplifier"),
        (["theatre lamp"], "the theatre lamp"),
    ],
)
def test_names_get_an_article_where_they_bring_none(names: list[str], wanted: str) -> None:
    assert formatting.with_the(names) == wanted
