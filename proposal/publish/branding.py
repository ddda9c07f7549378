"""Colours for a site from the client's one colour, with their contrast checked."""

import re
from collections.abc import Sequence

from proposal.errors import BuildError
from proposal.field_classes import dataclass

TEXT_CONTRAST = 4.5  # WCAG 2.2, success criterion 1.4.3, text below 18 pt
_PAPER = (255, 255, 255)
_BLACK = (0, 0, 0)
_TINT_SHARE = 0.08
# What the style sheet has behind text where readers prefer dark: the page, and what is set off from it.
_DARK_PAPER, _DARK_WASH = (0x15, 0x19, 0x1D), (0x1E, 0x23, 0x29)
_DARK_TINT_SHARE = 0.18

Rgb = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours that a site takes from the client's.

    brand: as the client gave it, for areas and rules that carry no text.
    ink: the same hue, as dark as text on white and on the tint needs.
    on_brand: black or white, whichever can be read on the brand colour.
    tint: a light wash of it behind text.
    dark_ink, dark_tint: the same for readers who prefer light text on dark pages.
    """

    brand: str
    ink: str
    on_brand: str
    tint: str
    dark_ink: str
    dark_tint: str


def brand_palette(colour: str) -> Palette:
    """Return the palette of a colour written as `#rrggbb`; raises BuildError for anything else."""
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", colour):
        raise BuildError(f"the client's colour is wanted as #rrggbb, such as #2f4858; found {colour!r}")
    brand = _rgb(colour)
    tint = _mixed(brand, _PAPER, _TINT_SHARE)
    dark_tint = _mixed(brand, _DARK_PAPER, _DARK_TINT_SHARE)
    return Palette(
        brand=_hex(brand),
        ink=_hex(_readable(brand, _BLACK, (_PAPER, tint))),
        on_brand=_hex(max((_PAPER, _BLACK), key=lambda text: contrast(text, brand))),
        tint=_hex(tint),
        dark_ink=_hex(_readable(brand, _PAPER, (_DARK_PAPER, _DARK_WASH, dark_tint))),
        dark_tint=_hex(dark_tint),
    )


def contrast(one: Rgb, other: Rgb) -> float:
    """Return the contrast ratio of two colours, 1 to 21 [-]; WCAG 2.2, definition of contrast ratio."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: Rgb) -> float:
    # WCAG 2.2, definition of relative luminance.
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
        for share in (level / 255 for level in colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _readable(brand: Rgb, towards: Rgb, behind: Sequence[Rgb]) -> Rgb:
    """Return the colour, moved in the fewest of 100 equal steps until it can be read on all behind it."""
    for step in range(101):
        candidate = _mixed(towards, brand, step / 100)
        if min(contrast(candidate, one) for one in behind) >= TEXT_CONTRAST:
            return candidate
    return towards


def _mixed(one: Rgb, other: Rgb, share: float) -> Rgb:
    red, green, blue = (round(a * share + b * (1 - share)) for a, b in zip(one, other, strict=True))
    return red, green, blue


def _rgb(colour: str) -> Rgb:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _hex(colour: Rgb) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)
