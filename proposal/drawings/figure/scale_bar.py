"""Round scales and scale bars of drawings to scale."""

from typing import TYPE_CHECKING

from proposal.drawings.colours import INK, PAPER
from proposal.quantities import formatting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SCALES = {
    "metric": (20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 2500, 5000),
    "us_customary": (24, 32, 48, 64, 96, 120, 128, 192, 240, 384, 480, 600, 720, 960, 1200, 2400, 4800),
}
BARS_M = {
    "metric": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0),
    "us_customary": (1.524, 3.048, 6.096, 15.24, 30.48),
}


def round_scale(needed: float, units: str) -> int:
    """Return the denominator of the largest round scale that is no larger than what fits.

    needed: denominator at which the subject just fits.  units: metric or us_customary.
    """
    scales = SCALES["us_customary" if units == "us_customary" else "metric"]
    return next((scale for scale in scales if scale >= needed), int(-(-needed // 1000) * 1000))


def scale_bar(axes: "Axes", x: float, y: float, scale: int, units: str, locale: str) -> None:
    """Draw a scale bar with its length and the scale under it; axes are in mm at full size.

    scale: denominator.
    units, locale: of the project.
    x, y: left end and middle of the bar, mm.
    """
    bars = BARS_M["us_customary" if units == "us_customary" else "metric"]
    bar_m = max((bar for bar in bars if bar * 1000 / scale <= 60), default=bars[0])
    part_mm = bar_m * 1000 / scale / 4
    for n in range(4):
        colour = INK if n % 2 == 0 else PAPER
        axes.barh(y, part_mm, left=x + n * part_mm, height=2.4, color=colour, edgecolor=INK, linewidth=0.6)
    axes.text(x, y - 5, "0", fontsize=7.5, ha="center", va="center")
    words = formatting.short_quantity(bar_m, "length", units, locale)
    axes.text(x + 4 * part_mm, y - 5, words, fontsize=7.5, ha="center", va="center")
    axes.text(x, y - 12, f"1:{scale} on A3", fontsize=8, va="center")
