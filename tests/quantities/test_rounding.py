"""Rounding to steps, half up away from zero, and sharing out by largest remainder."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.quantities.rounding import places_in, rounded, rounded_up, shared_out

D = Decimal
STEPS = st.sampled_from([D(1), D("0.01"), D("0.001")])


def by_whole_numbers(amount: Fraction, step: Decimal) -> Fraction:
    """Return an amount rounded half away from zero by whole numbers alone, as one would on paper."""
    steps = abs(amount) / Fraction(step)
    whole, rest = divmod(steps.numerator, steps.denominator)
    up = 2 * rest >= steps.denominator
    return (whole + up) * Fraction(step) * (-1 if amount < 0 else 1)


@pytest.mark.independent
@given(st.decimals(-(10**9), 10**9, places=6), STEPS)
def test_halves_go_away_from_zero_for_charges_and_credits_alike(amount: Decimal, step: Decimal) -> None:
    assert Fraction(rounded(amount, step)) == by_whole_numbers(Fraction(amount), step)
    assert rounded(Fraction(amount), step) == rounded(amount, step)
    assert rounded(-amount, step) == -rounded(amount, step)


@pytest.mark.parametrize(
    ("amount", "step", "text"),
    [
        ("1234.5", "1", "1235"),
        ("-1234.5", "1", "-1235"),
        ("0.0005", "0.001", "0.001"),
        ("-0.0004", "0.001", "0.000"),
        ("-0.4", "1", "0"),
        ("7", "0.01", "7.00"),
    ],
)
def test_an_amount_is_written_with_the_places_of_its_step(amount: str, step: str, text: str) -> None:
    assert f"{rounded(D(amount), D(step)):f}" == text


def test_an_amount_of_thirty_digits_is_rounded_like_any_other() -> None:
    assert rounded(D("123456789012345678901234567890.5"), D(1)) == D("123456789012345678901234567891")


def test_a_need_is_rounded_up() -> None:
    assert [rounded_up(D(one), D(1)) for one in ("2.01", "2.00", "0.001")] == [3, 2, 1]


@pytest.mark.parametrize(("number", "places"), [("12", 0), ("1200", 0), ("12.00", 0), ("0.125", 3)])
def test_a_number_has_the_places_that_it_needs(number: str, places: int) -> None:
    assert places_in(D(number)) == places


@pytest.mark.independent
@given(
    st.integers(-(10**6), 10**6),
    st.lists(st.decimals(0, 1000, places=3), min_size=1, max_size=12),
    STEPS,
)
def test_parts_of_a_total_add_up_and_are_less_than_a_step_from_their_share(
    steps: int, weights: list[Decimal], step: Decimal
) -> None:
    total = steps * step
    parts = shared_out(total, weights, step)
    assert sum(parts) == total
    whole = sum(map(Fraction, weights))
    for part, weight in zip(parts, weights, strict=True):
        share = Fraction(weight) / whole if whole else Fraction(1, len(weights))
        assert abs(Fraction(part) - Fraction(total) * share) < Fraction(step)
    assert parts == tuple(-part for part in shared_out(-total, weights, step))


@pytest.mark.independent
def test_the_largest_remainders_get_the_steps_left() -> None:
    """1000 yen in sevenths: 142.857 each; six of the seven remainders get a yen. A credit is shared alike."""
    assert shared_out(D(1000), [D(1)] * 7, D(1)) == (143, 143, 143, 143, 143, 143, 142)
    assert shared_out(D(-1000), [D(1)] * 7, D(1)) == (-143, -143, -143, -143, -143, -143, -142)
    # 0.010 dinars by 1 : 2 : 4 are 1.43, 2.86 and 5.71 thousandths.
    assert shared_out(D("0.010"), [D(1), D(2), D(4)], D("0.001")) == (D("0.001"), D("0.003"), D("0.006"))
