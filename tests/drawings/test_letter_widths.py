"""Widths of letters are those of the font that the program carries."""

import pytest

from proposal.drawings.letter_widths import letters_pt
from tests.drawings.painted import width_pt

SIGNS = [chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x180), *map(ord, "–—‘’“”…−•"))]


@pytest.mark.independent  # read from the font files by fontTools
@pytest.mark.parametrize("bold", [False, True])
def test_every_sign_is_as_wide_as_in_the_font(bold: bool) -> None:
    wrong = [
        sign
        for sign in SIGNS
        if letters_pt(sign, 1000, bold=bold) != pytest.approx(width_pt(sign, 1000, bold=bold), abs=0.5)
    ]
    assert wrong == []


def test_a_sign_that_the_table_lacks_counts_as_a_wide_one() -> None:
    assert letters_pt("界", 10) == 10
