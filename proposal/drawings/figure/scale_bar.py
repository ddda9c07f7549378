"""Round scales and scale bars of drawings to scale."""

from proposal.drawings.legend import ScaleBar
from proposal.quantities import formatting

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


def scale_bar(scale: int, units: str, locale: str) -> ScaleBar:
    """Return the scale bar of a drawing, no longer than 60 mm.

    scale: denominator.
    units, locale: of the project.
    """
    bars = BARS_M["us_customary" if units == "us_customary" else "metric"]
    bar_m = max((bar for bar in bars if bar * 1000 / scale <= 60), default=bars[0])
    return ScaleBar(bar_m * 1000 / scale / 4, formatting.short_quantity(bar_m, "length", units, locale))
