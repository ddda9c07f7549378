import pytest

from proposal.pages.phrases import code_phrase, forms, natural, plural
from proposal.quantities.computed_figures import significant

pytestmark = pytest.mark.pinned


@pytest.mark.parametrize(
    ("codes", "phrase"),
    [
        ([], ""),
        (["M1"], "M1"),
        (["M1", "M2"], "M1 and M2"),
        (["M1", "M2", "M3"], "M1 to M3"),
        (["M1", "M2", "M3", "M5", "chair"], "M1 to M3, M5 and chair"),
        (["M08", "M09", "M10"], "M08 to M10"),
        (["M1", "S2", "S3", "S4"], "M1 and S2 to S4"),
    ],
)
def test_neighbouring_codes_are_joined(codes: list[str], phrase: str) -> None:
    assert code_phrase(codes) == phrase


def test_codes_sort_as_people_count() -> None:
    assert sorted(["M10", "M2", "chair", "M1", "2"], key=natural) == ["2", "M1", "M2", "M10", "chair"]


def test_forms_are_counted_in_the_right_number() -> None:
    assert forms([("gooseneck", 6), ("boundary", 1), ("handheld", 0)]) == "6 gooseneck and 1 boundary"
    assert plural("boundary") == "boundaries"
    assert plural("standby supply") == "standby supplies"
    assert plural("switch") == "switches"


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0.0, "0"),
        (91.25, "91.25"),
        (1.7241e-8, "1.724×10⁻⁸"),
        (0.017241, "0.01724"),
        (12345.678, "12,346"),
        (10_000_000.0, "10,000,000"),
        (-3.14159, "-3.142"),
        (9.99996, "10"),
    ],
)
def test_computed_numbers_keep_four_digits(value: float, shown: str) -> None:
    assert significant(value, "en_GB").replace("−", "-") == shown
