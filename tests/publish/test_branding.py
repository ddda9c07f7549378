"""The client's colour is kept where nothing is read on it, and can be read where it is text."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.errors import BuildError
from proposal.publish.branding import brand_palette, contrast

SITE = Path(__file__).parents[2] / "shared/site/theme/assets/proposal"
INK_ON_DARK = "#e6e9ec"
levels = st.integers(0, 255)
colours = st.tuples(levels, levels, levels).map(lambda levels: "#{:02x}{:02x}{:02x}".format(*levels))


def rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def ratio(one: str, other: str) -> float:
    """Return the contrast ratio, written from the text of WCAG 2.2 alone and not from our code."""

    def luminance(colour: str) -> float:
        total = 0.0
        for level, weight in zip(rgb(colour), (0.2126, 0.7152, 0.0722), strict=True):
            share = level / 255
            total += weight * (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
        return total

    first, second = luminance(one), luminance(other)
    return (max(first, second) + 0.05) / (min(first, second) + 0.05)


# WCAG 2.2, 1.4.3 and its Understanding document: black on white is 21:1; #767676 on white is the lightest
# grey that passes, 4.54:1, and #777777 fails with 4.48:1 (memory).
@pytest.mark.published
@pytest.mark.parametrize(("colour", "expected"), [("#000000", 21.0), ("#767676", 4.54), ("#777777", 4.48)])
def test_contrast_with_white_is_that_of_the_guidelines(colour: str, expected: float) -> None:
    assert contrast(rgb(colour), (255, 255, 255)) == pytest.approx(expected, abs=0.005)


@pytest.mark.independent
@given(colours)
def test_text_in_the_clients_colour_can_be_read(colour: str) -> None:
    palette = brand_palette(colour)
    assert palette.brand == colour
    assert ratio(palette.ink, "#ffffff") >= 4.5
    assert ratio(palette.ink, palette.tint) >= 4.5
    assert ratio(palette.on_brand, palette.brand) >= 4.5


@pytest.mark.independent
@given(colours)
def test_it_can_be_read_on_dark_pages_too(colour: str) -> None:
    palette = brand_palette(colour)
    css = (SITE / "proposal.css").read_text("utf-8")
    dark = css[css.index("prefers-color-scheme: dark") :]
    behind = [re.search(rf"--{name}: (#[0-9a-f]{{6}});", dark) for name in ("paper", "wash")]
    assert all(behind)
    for one in (*(found[1] for found in behind if found), palette.dark_tint):
        assert ratio(palette.dark_ink, one) >= 4.5
        assert ratio(INK_ON_DARK, one) >= 4.5


@pytest.mark.independent
@given(colours)
def test_a_colour_that_can_be_read_is_not_changed(colour: str) -> None:
    palette = brand_palette(colour)
    if ratio(colour, "#ffffff") >= 4.5 and ratio(colour, palette.tint) >= 4.5:
        assert palette.ink == colour
    else:
        assert palette.ink != colour


def test_a_colour_is_darkened_no_more_than_it_needs() -> None:
    ink = brand_palette("#ffcc00").ink
    assert 4.5 <= ratio(ink, brand_palette("#ffcc00").tint) < 4.7


@pytest.mark.parametrize("colour", ["red", "#fff", "#12345g", "#1234567", "", "123456", "#12345\n"])
def test_what_is_no_colour_is_refused(colour: str) -> None:
    with pytest.raises(BuildError, match="wanted as #rrggbb"):
        brand_palette(colour)


def test_white_is_white_and_black_is_black() -> None:
    dark, light = brand_palette("#2f4858"), brand_palette("#ffffff")
    assert (dark.on_brand, light.on_brand) == ("#ffffff", "#000000")
    assert light.tint == "#ffffff"
