"""Cross-sections of conduits as SVG: all at one round scale."""

from proposal.drawings.colours import BAND, INK, PAPER, stroke
from proposal.drawings.conduit_sections import Section, SectionsSpec, alternative, spec_of, summary
from proposal.drawings.conduit_sections.circles import packed
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import Figure
from proposal.drawings.figure.axes import Axes, Behind, Look
from proposal.drawings.legend import AreaSample, Foot, LegendEntry

# Columns and rows of the sheet, by how many conduits it has places for.
_GRIDS = {2: (2, 1), 4: (2, 2), 6: (3, 2), 12: (4, 3)}
_FRAME_MM = 6.0
_WORDS_MM = 16.0
_SCALES = (5.0, 4.0, 3.0, 2.0, 1.5, 1.0, 0.5, 0.25)
_HATCHES = {"loudspeaker line": "////", "analogue": "...."}


def places(spec: SectionsSpec) -> tuple[int, tuple[float, float]]:
    """Return the columns of a sheet, and width and height of the place of one conduit, mm."""
    columns, rows = next(grid for most, grid in _GRIDS.items() if len(spec.sections) <= most)
    width, height = (size - 2 * _FRAME_MM for size in spec.strip.paper.field_mm)
    return columns, (width / columns, height / rows)


def scale_of(spec: SectionsSpec) -> float:
    """Return the largest round scale at which every conduit fits its place on the sheet."""
    widest_mm = max((section.internal_diameter_m * 1000 for section in spec.sections), default=1.0)
    _, (width, height) = places(spec)
    free_mm = min(width, height - _WORDS_MM) - 4.0
    return next((scale for scale in _SCALES if widest_mm * scale <= free_mm), _SCALES[-1])


def render(spec: SectionsSpec, prefix: str) -> bytes:
    """Return the sheet as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    figure = Figure(spec.strip, prefix)
    axes = figure.in_mm()
    scale = scale_of(spec)
    columns, (width, height) = places(spec)
    for n, section in enumerate(spec.sections):
        left = _FRAME_MM + (n % columns) * width
        top = spec.strip.paper.field_mm[1] - _FRAME_MM - (n // columns) * height
        middle = (left + width / 2, top - (height - _WORDS_MM) / 2)
        _section(axes, section, middle, scale)
        below = middle[1] - section.internal_diameter_m * 1000 * scale / 2 - 6
        for line, words in enumerate(summary(spec, section)):
            axes.text((middle[0], below - line * 5), words, 7.5, bold=line == 0, anchor="middle")
    return figure.finished(alternative(spec))


def _section(axes: Axes, section: Section, middle: tuple[float, float], scale: float) -> None:
    mm = 1000 * scale
    around = section.internal_diameter_m / 2
    axes.circle(middle, around * mm, Look(PAPER, INK, 2.2), layer=2)
    cables = [content for content in section.contents for _ in range(content.count)]
    left_out = 0
    for content, place in zip(
        cables, packed([content.diameter_m / 2 for content in cables], around), strict=True
    ):
        if place is None:
            left_out += 1
            continue
        x, y, radius = place
        look = Look(BAND, stroke(content.signal).colour, 1.0, hatch=_HATCHES.get(content.signal, ""))
        axes.circle((middle[0] + x * mm, middle[1] + y * mm), radius * mm, look, layer=3)
    if left_out:
        words = f"{left_out} more find no room"
        axes.text(middle, words, 7.5, anchor="middle", layer=5, behind=Behind(2.0, INK))


def _foot(spec: SectionsSpec) -> Foot:
    scale = scale_of(spec)
    signals = sorted({content.signal for section in spec.sections for content in section.contents})
    return Foot(
        entries=tuple(
            LegendEntry(AreaSample(BAND, stroke(signal).colour, 1.0, _HATCHES.get(signal, "")), signal)
            for signal in signals
        ),
        notes=("Cables are drawn as they may come to rest; their positions are not prescribed.",),
        scale=f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}",
    )


KIND = figure_kind(spec_of, alternative, render, _foot)
