"""What is drawn to scale: by hand, on a field of 390 mm by 231 mm (A3 less margins, foot and inset)."""

import pytest

from proposal.drawings.figure import field, settings
from proposal.drawings.figure.to_scale import Point, axes_to_scale, extent, field_to_scale_mm, scale_that_fits
from proposal.drawings.sheet import A3, TitleBlock

STRIP = TitleBlock(number="P-01", title="Plan", part="", project="Hall", revision="A", purpose="for comment")


@pytest.mark.independent
@pytest.mark.parametrize(
    ("corner", "around_mm", "scale"),
    [
        ((19.5, 1.0), 0.0, 50),  # 390 mm at 1:50 are 19.5 m
        ((19.6, 1.0), 0.0, 75),
        ((1.0, 11.55), 0.0, 50),  # 231 mm at 1:50 are 11.55 m
        ((1.0, 11.6), 0.0, 75),
        ((18.1, 1.0), 14.0, 50),  # 362 mm at 1:50 are 18.1 m
        ((18.2, 1.0), 14.0, 75),
    ],
)
def test_the_largest_round_scale_that_fits_is_taken(corner: Point, around_mm: float, scale: int) -> None:
    assert field_to_scale_mm(A3) == (390.0, 231.0)
    assert scale_that_fits(((0.0, 0.0), corner), A3, "metric", around_mm) == scale


def test_what_is_drawn_stands_in_the_middle_of_axes_in_metres() -> None:
    corners = extent([(2.0, 3.0), (10.0, 1.0), (4.0, 5.0)])
    assert corners == ((2.0, 1.0), (10.0, 5.0))
    with settings():
        axes = axes_to_scale(field(STRIP), A3, corners, 100)
    # 390 mm and 231 mm at 1:100 are 39.0 m and 23.1 m, about (6, 3).
    assert axes.get_xlim() == pytest.approx((6 - 19.5, 6 + 19.5))
    assert axes.get_ylim() == pytest.approx((3 - 11.55, 3 + 11.55))
