"""What is drawn to scale: by hand, on a field of 384 mm by 235 mm (A3 less margins and title block)."""

import pytest

from proposal.drawings.figure import settings, sheet
from proposal.drawings.figure.to_scale import FIELD_MM, Point, axes_to_scale, extent, scale_that_fits
from proposal.drawings.sheet import TitleBlock

STRIP = TitleBlock(number="P-01", title="Plan", part="", project="Hall", revision="A", purpose="for comment")


@pytest.mark.independent
@pytest.mark.parametrize(
    ("corner", "around_mm", "scale"),
    [
        ((19.2, 1.0), 0.0, 50),  # 384 mm at 1:50 are 19.2 m
        ((19.3, 1.0), 0.0, 75),
        ((1.0, 11.75), 0.0, 50),  # 235 mm at 1:50 are 11.75 m
        ((1.0, 11.8), 0.0, 75),
        ((17.8, 1.0), 14.0, 50),  # 356 mm at 1:50 are 17.8 m
        ((17.9, 1.0), 14.0, 75),
    ],
)
def test_the_largest_round_scale_that_fits_is_taken(corner: Point, around_mm: float, scale: int) -> None:
    assert FIELD_MM == (384.0, 235.0)
    assert scale_that_fits(((0.0, 0.0), corner), "metric", around_mm) == scale


def test_what_is_drawn_stands_in_the_middle_of_axes_in_metres() -> None:
    corners = extent([(2.0, 3.0), (10.0, 1.0), (4.0, 5.0)])
    assert corners == ((2.0, 1.0), (10.0, 5.0))
    with settings():
        axes = axes_to_scale(sheet(STRIP), corners, 100)
    # 384 mm and 235 mm at 1:100 are 38.4 m and 23.5 m, about (6, 3).
    assert axes.get_xlim() == pytest.approx((6 - 19.2, 6 + 19.2))
    assert axes.get_ylim() == pytest.approx((3 - 11.75, 3 + 11.75))
