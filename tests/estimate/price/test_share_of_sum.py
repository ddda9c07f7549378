"""What is a share of the whole sum, itself included: by hand, and against its own definition."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from proposal.estimate.price.share_of_sum import share_of_sum
from proposal.model.price.commercial import Surcharge
from tests.estimate.labour.test_labour import MINIMAL
from tests.estimate.price.test_price import price_of

F, D = Fraction, Decimal


@pytest.mark.independent
def test_a_bond_of_two_per_cent_is_two_per_cent_of_the_sum_with_itself() -> None:
    """98,000 · 0.02 / 0.98 = 2,000, and 2 % of 100,000 is 2,000."""
    assert share_of_sum(F(98_000), [(F(0), F(2, 100))]) == 2_000


@pytest.mark.independent
@pytest.mark.parametrize(
    ("rest", "amount"),
    [
        # 3 % of the first 100,000 and 1 % of what is above. The sum is 100,000 at a rest of 97,000.
        (48_500, 1_500),
        (97_000, 3_000),
        # A sum of 200,000 bears 3,000 + 1,000.
        (196_000, 4_000),
        (-500, 0),
    ],
)
def test_a_sliding_scale_by_hand(rest: int, amount: int) -> None:
    scale = [(F(0), F(3, 100)), (F(100_000), F(1, 100))]
    assert share_of_sum(F(rest), scale) == amount


@given(
    st.integers(0, 10**9),
    st.lists(st.integers(0, 900), min_size=1, max_size=5),
    st.lists(st.integers(1, 10**8), min_size=4, max_size=4, unique=True),
)
def test_the_amount_is_what_its_steps_make_of_the_sum(
    rest: int, shares: list[int], bounds: list[int]
) -> None:
    starts = [0, *sorted(bounds)][: len(shares)]
    scale = [(F(start), F(share, 1000)) for start, share in zip(starts, shares, strict=True)]
    amount = share_of_sum(F(rest), scale)
    whole = rest + amount
    due = F(0)
    for place, (above, share) in enumerate(scale):
        upto = scale[place + 1][0] if place + 1 < len(scale) else whole
        due += share * max(F(0), min(whole, upto) - above)
    assert amount == due


@pytest.mark.independent
def test_a_bond_is_the_last_line_of_the_price_and_nothing_else_changes() -> None:
    bond = {"name": "Performance bond", "share_of_sum": "2 %", "tax_kind": "exempt"}
    freight = {"name": "Freight", "share": "3 %", "of": ["equipment"]}
    without = price_of(MINIMAL, {"surcharges": {"freight": freight}})
    found = price_of(MINIMAL, {"surcharges": {"bond": bond, "freight": freight}})
    *others, last = found.lines
    assert tuple(others) == without.lines
    assert (last.item, last.price, last.cost) == ("bond", last.cost, last.price)
    exact = F(without.whole.price) * F(2, 100) / F(98, 100)
    assert abs(F(last.price) - exact) <= F(1, 200)
    # Two per cent of what is paid, itself included, to half a cent.
    assert abs(F(last.price) - F(2, 100) * F(found.whole.price)) <= F(1, 200)


@pytest.mark.parametrize(
    "wrong",
    [
        {"share": "2 %", "share_of_sum": "2 %"},
        {"share_of_sum": "2 %", "rule": {"margin": "10 %"}},
        {"share_of_sum": "100 %"},
        {"share": "2 %", "steps": {"more": {"above": "1 EUR", "share": "1 %"}}},
        {"share_of_sum": "2 %", "steps": {"more": {"above": "0 EUR", "share": "1 %"}}},
        {"share_of_sum": "2 %", "spread": True},
    ],
)
def test_sizes_that_contradict_each_other_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        Surcharge.model_validate({"name": "Bond", **wrong})
