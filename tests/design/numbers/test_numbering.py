"""Numbers stay: fixed by hand, else as issued, else the lowest never used."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.numbers.numbering import assign, natural, question_numbers, sheet_numbers
from proposal.model.project import Numbered

names = st.lists(st.sampled_from([f"D{n}" for n in range(12)]), unique=True, max_size=10)
number = st.integers(min_value=1, max_value=14).map(str)
fixed_numbers = st.dictionaries(st.sampled_from([f"D{n}" for n in range(12)]), number, max_size=4)
issued_numbers = st.dictionaries(
    st.sampled_from([f"D{n}" for n in range(16)]),
    st.builds(Numbered, number=number, retired=st.booleans()),
    max_size=8,
).filter(lambda issued: len({one.number for one in issued.values()}) == len(issued))
candidates = st.integers(min_value=0, max_value=16).map(lambda most: [str(n) for n in range(1, most + 1)])


@settings(deadline=None)
@given(names, fixed_numbers, issued_numbers, candidates)
def test_a_number_fixed_by_hand_wins(
    wanted: list[str], fixed: dict[str, str], issued: dict[str, Numbered], free: list[str]
) -> None:
    numbers = assign(wanted, fixed, issued, free)
    for name in set(wanted) & set(fixed):
        assert numbers[name] == fixed[name]


@settings(deadline=None)
@given(names, fixed_numbers, issued_numbers, candidates)
def test_an_issued_number_is_kept_unless_somebody_is_fixed_to_it(
    wanted: list[str], fixed: dict[str, str], issued: dict[str, Numbered], free: list[str]
) -> None:
    numbers = assign(wanted, fixed, issued, free)
    by_hand = {fixed[name] for name in wanted if name in fixed}
    for name in set(wanted) & set(issued) - set(fixed):
        before = issued[name]
        if not before.retired and before.number in free and before.number not in by_hand:
            assert numbers[name] == before.number


@settings(deadline=None)
@given(names, fixed_numbers, issued_numbers, candidates)
def test_nobody_new_gets_a_number_that_was_ever_issued(
    wanted: list[str], fixed: dict[str, str], issued: dict[str, Numbered], free: list[str]
) -> None:
    numbers = assign(wanted, fixed, issued, free)
    for name, given_number in numbers.items():
        if name not in fixed and given_number in {one.number for one in issued.values()}:
            assert issued[name].number == given_number
            assert not issued[name].retired


@settings(deadline=None)
@given(names, fixed_numbers, issued_numbers, candidates)
def test_others_get_the_lowest_never_used_in_order(
    wanted: list[str], fixed: dict[str, str], issued: dict[str, Numbered], free: list[str]
) -> None:
    numbers = assign(wanted, fixed, issued, free)
    used = {one.number for one in issued.values()} | {fixed[name] for name in wanted if name in fixed}
    fresh = [one for one in free if one not in used]
    new = [name for name in wanted if numbers.get(name) in fresh]
    assert [numbers[name] for name in new] == fresh[: len(new)]
    left = [name for name in wanted if name not in numbers]
    assert not left or len(new) == len(fresh)


@settings(deadline=None)
@given(names, fixed_numbers, issued_numbers, candidates)
def test_no_number_is_given_twice_but_by_hand(
    wanted: list[str], fixed: dict[str, str], issued: dict[str, Numbered], free: list[str]
) -> None:
    numbers = assign(wanted, fixed, issued, free)
    for one, other in itertools.combinations(numbers, 2):
        if numbers[one] == numbers[other]:
            assert one in fixed
            assert other in fixed


def test_sheets_are_numbered_by_series_and_keep_their_numbers() -> None:
    issued = {
        "sheet/S/boardroom/1": Numbered(number="S-01", retired=True),
        "sheet/S/hall/1": Numbered(number="S-03"),
    }
    wanted = [("R", "sheet/R//1"), ("S", "sheet/S/hall/1"), ("S", "sheet/S/office/1"), ("S", "sheet/S/x/1")]
    assert sheet_numbers(wanted, issued) == {
        "sheet/R//1": "R-01",
        "sheet/S/hall/1": "S-03",
        "sheet/S/office/1": "S-02",
        "sheet/S/x/1": "S-04",
    }


def test_natural_order_counts_digits_as_numbers() -> None:
    assert sorted(["M10", "M2", "AP1", "M1-B", "M1", "10", "9"], key=natural) == [
        *("9", "10", "AP1", "M1", "M1-B", "M2", "M10"),
    ]


@settings(deadline=None)
@given(st.lists(st.text(max_size=8), max_size=8))
def test_natural_order_is_a_total_order_of_any_text(texts: list[str]) -> None:
    in_order = sorted(texts, key=natural)
    turned = texts[::-1]
    assert sorted(turned, key=lambda text: (natural(text), text)) == sorted(
        in_order, key=lambda text: (natural(text), text)
    )


def test_questions_keep_their_numbers_and_new_ones_take_none_that_was_given() -> None:
    paths = [("building", "storeys", "L1", "height"), ("brief", "units"), ("rooms", "B101", "seats")]
    issued = {
        "question/brief.units": Numbered(number="Q1"),
        "question/brief.currency": Numbered(number="Q2", retired=True),
    }
    assert question_numbers(paths, issued) == {
        "question/building.storeys.L1.height": "Q3",
        "question/brief.units": "Q1",
        "question/rooms.B101.seats": "Q4",
    }
