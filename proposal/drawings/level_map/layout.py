"""The level map as SVG: colours by margin under the plan of the room, to a round scale."""

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from proposal.drawings.colours import INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings
from proposal.drawings.figure.drawn_symbols import dashes
from proposal.drawings.figure.placed_texts import field_box, field_in_points
from proposal.drawings.figure.scale_bar import scale_bar
from proposal.drawings.figure.to_scale import axes_to_scale, extent, scale_that_fits
from proposal.drawings.legend import AreaSample, DrawnSample, Foot, LegendEntry, LineSample, symbol_entries
from proposal.drawings.level_map import (
    LevelMapSpec,
    Point,
    alternative,
    band_words,
    contours,
    dbm,
    reaches_limit,
    spare_db,
    spec_of,
)
from proposal.drawings.level_map.labels import MARKED, SEAT_M, draw_devices
from proposal.drawings.page_chart import is_narrow, paper_with_field
from proposal.drawings.plan.field import Scaled, scaled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_AROUND_MM, _AROUND_NARROW_MM = 8.0, 1.0
_WHATEVER_MM = 10_000.0
_UNNAMED = "Microphones have their names on the sheet, which opens in full size."
# From dark for little to spare to light for much, in lightness alone; dark print shows on the darkest.
_COLOURS, _DARKEST = "cividis", 0.42
_SEAT = f'<circle cx="0" cy="0" r="4.5" fill="{PAPER}" stroke="{MUTED}" stroke-width="0.6"/>'
_TOO_LITTLE, _HATCH = "#e8a79f", "xx"
_LIGHTEST_DB = 40.0
"""What is to spare where the colour is lightest, dB."""
_LIMIT = Stroke("#8f1d1d", "7 3", 2.2, "")


def scale_of(spec: LevelMapSpec) -> int:
    """Return the denominator of the largest round scale at which the room fits the sheet."""
    around = _AROUND_NARROW_MM if is_narrow(spec.strip.paper) else _AROUND_MM
    return scale_that_fits(_extent(spec), spec.strip.paper, spec.units, around)


def in_page(spec: LevelMapSpec, width_mm: float) -> float:
    """Return the height of the map in a page, mm, at a scale at which the room has its width.

    width_mm: of the page.
    """
    (_, south), (_, north) = _extent(spec)
    wide = paper_with_field(width_mm, _WHATEVER_MM)
    shown = replace(spec, strip=replace(spec.strip, paper=wide))
    return (north - south) * 1000 / scale_of(shown) + 4 * _AROUND_MM


def _extent(spec: LevelMapSpec) -> tuple[Point, Point]:
    return extent([*spec.outline, *(at for _, _, at in spec.marks), spec.worst_at])


def _on_paper(spec: LevelMapSpec) -> Scaled:
    return scaled(_extent(spec), field_box(spec.strip), scale_of(spec))


def render(spec: LevelMapSpec, prefix: str) -> bytes:
    """Return the level map as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    with settings():
        figure = field(spec.strip)
        scale = scale_of(spec)
        axes = axes_to_scale(figure, spec.strip.paper, _extent(spec), scale)
        named = _levels(axes, spec)
        _room(axes, spec)
        draw_devices(field_in_points(figure, spec.strip), spec, _on_paper(spec), named)
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def colour_of(low: float, high: float) -> str:
    """Return the colour of a band, the same on every map: lighter where the margin is larger.

    low, high: what is to spare at its edges, dB.
    """
    from matplotlib import colormaps
    from matplotlib.colors import to_hex

    if high <= 0:
        return _TOO_LITTLE
    share = min(1.0, max(0.0, low / _LIGHTEST_DB))
    return to_hex(colormaps[_COLOURS](_DARKEST + (1 - _DARKEST) * share))


def _levels(axes: "Axes", spec: LevelMapSpec) -> list[tuple[str, list[Point]]]:
    """Fill the room by what is to spare, and draw contours and the limit, nothing outside its walls.

    Returns the contours, each with its name.
    """
    from matplotlib.patches import Polygon

    edges, spare = contours(spec), spare_db(spec)
    rows, columns = len(spare), len(spare[0])
    xs = [spec.low[0] + (spec.high[0] - spec.low[0]) * n / (columns - 1) for n in range(columns)]
    ys = [spec.low[1] + (spec.high[1] - spec.low[1]) * n / (rows - 1) for n in range(rows)]
    bands = list(pairwise(edges))
    filled = axes.contourf(
        xs, ys, spare, levels=edges, colors=[colour_of(*band) for band in bands], zorder=1,
        hatches=[_HATCH if high <= 0 else None for _, high in bands],
    )  # fmt: skip
    lines = axes.contour(
        xs, ys, spare, levels=edges, colors=[_LIMIT.colour if edge == 0 else INK for edge in edges], zorder=2,
        linewidths=[_LIMIT.width if edge == 0 else 0.7 for edge in edges],
        linestyles=[dashes(_LIMIT) if edge == 0 else "solid" for edge in edges],
    )  # fmt: skip
    room = Polygon(spec.outline, closed=True, transform=axes.transData)
    for drawn in (filled, lines):
        drawn.set_clip_path(room)
    return [
        (_contour_words(edge), [(float(x), float(y)) for x, y in points])
        for edge, segments in zip(edges, lines.allsegs, strict=True)
        for points in segments
        if len(points)
    ]


def _contour_words(spare: float) -> str:
    return "limit" if spare == 0 else f"{spare:g} dB".replace("-", "−")


def _room(axes: "Axes", spec: LevelMapSpec) -> None:
    from matplotlib.patches import Circle, Polygon

    for _, corners in spec.furniture:
        axes.add_artist(Polygon(corners, closed=True, fill=False, edgecolor=INK, linewidth=1.0, zorder=3))
    for at in spec.seats:
        axes.add_artist(Circle(at, SEAT_M, fill=False, edgecolor=MUTED, linewidth=0.6, zorder=3))
    axes.add_artist(Polygon(spec.outline, closed=True, fill=False, edgecolor=INK, linewidth=2.0, zorder=5))


def _foot(spec: LevelMapSpec) -> Foot:
    """Return the axes of the room, which its schedules use, scale bar, marks and levels."""
    scale = scale_of(spec)
    shown = [kind for kind, _, _ in spec.marks if kind in MARKED]
    bands = [
        LegendEntry(
            AreaSample(colour_of(low, high), INK, 0.6, _HATCH if high <= 0 else ""), band_words(low, high)
        )
        for low, high in pairwise(contours(spec))
    ]
    limit = f"{dbm(spec.wanted_dbm, 1)} received"
    reached = reaches_limit(spec)
    return Foot(
        entries=(
            *symbol_entries(*shown, "weakest microphone"),
            *([LegendEntry(AreaSample(PAPER, INK, 1.0), "furniture")] if spec.furniture else []),
            *([LegendEntry(DrawnSample(_SEAT), "seat")] if spec.seats else []),
            *([LegendEntry(LineSample(_LIMIT), f"limit: {limit}")] if reached else []),
            *bands,
        ),
        notes=(
            *(() if reached else (f"Limit: {limit}, reached nowhere in the room.",)),
            *((_UNNAMED,) if is_narrow(spec.strip.paper) else ()),
        ),
        scale=f"1:{scale}",
        bar=scale_bar(scale, spec.units, spec.locale),
        pointing="north" if spec.as_on_plan else "room",
    )


KIND = figure_kind(spec_of, alternative, render, _foot, in_page)
