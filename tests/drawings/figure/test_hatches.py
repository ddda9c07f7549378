"""Hatches: what lines and dots stand in a tile, by hand, and one pattern for what looks the same."""

import re

from proposal.drawings.figure.hatches import Hatches


def test_what_looks_the_same_is_one_pattern() -> None:
    hatches = Hatches("x")
    assert hatches.svg == ""
    one = hatches.filling("//", "#ffffff", "#1c2530", 0.5)
    assert one == hatches.filling("//", "#ffffff", "#1c2530", 0.5) == "url(#x-h0)"
    assert hatches.filling("\\\\", "#ffffff", "#1c2530", 0.5) == "url(#x-h1)"
    assert len(re.findall("<pattern", hatches.svg)) == 2


def test_lines_lie_evenly_in_a_tile_of_24_points() -> None:
    """Two signs: level lines 6 pt apart, slanting ones 12 pt apart, upwards to the right for a stroke."""
    hatches = Hatches("x")
    for hatch in ("--", "//", "\\\\", "x", ".."):
        hatches.filling(hatch, "none", "#1c2530", 1.0)
    level, up, down, both, dots = re.findall(r"<pattern.*?</pattern>", hatches.svg)
    assert re.findall(r"M0 ([\d.]+)H24", level) == ["3", "9", "15", "21"]
    assert re.findall(r"M(-?\d+) 25L(-?\d+) -1", up) == [
        (str(at - 1), str(at + 25)) for at in range(-24, 25, 12)
    ]
    assert re.findall(r"M(-?\d+) -1L(-?\d+) 25", down) == re.findall(r"M(-?\d+) 25L(-?\d+) -1", up)
    assert len(re.findall("M", both)) == 6
    assert len(re.findall("<circle", dots)) == 16
    assert "<rect" not in level
