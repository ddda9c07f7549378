"""Colours stand out from what they are drawn on."""

import pytest

from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, stroke


def luminance(colour: str) -> float:
    """Return relative luminance, WCAG 2.2."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    light, dark = sorted((luminance(first), luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.published
def test_colours_stand_out_from_paper_and_bands() -> None:
    # WCAG 2.2: 4.5:1 for text (1.4.3), 3:1 for graphical objects (1.4.11).
    signals = ("network", "radio", "analogue", "USB", "loudspeaker line", "anything else")
    for colour in (INK, MUTED, *(stroke(signal).colour for signal in signals)):
        assert contrast(colour, PAPER) >= 4.5
        assert contrast(colour, BAND) >= 4.5
    assert contrast(FRAME, PAPER) >= 3
    assert contrast(FRAME, BAND) >= 3
