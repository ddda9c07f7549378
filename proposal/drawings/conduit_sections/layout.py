"""Cross-sections of conduits as SVG: all at one round scale."""

from typing import TYPE_CHECKING

from proposal.drawings.colours import BAND, INK, PAPER, stroke
from proposal.drawings.conduit_sections import Section, SectionsSpec, alternative, spec_of, summary
from proposal.drawings.conduit_sections.circles import packed
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, settings, whole_field
from proposal.drawings.legend import AreaSample, Foot, LegendEntry
from proposal.drawings.lettering import plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes

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
    with settings():
        figure = field(spec.strip)
        axes = whole_field(figure, spec.strip)
        scale = scale_of(spec)
        columns, (width, height) = places(spec)
        for n, section in enumerate(spec.sections):
            left = _FRAME_MM + (n % columns) * width
            top = spec.strip.paper.field_mm[1] - _FRAME_MM - (n // columns) * height
            middle = (left + width / 2, top - (height - _WORDS_MM) / 2)
            _section(axes, spec, section, middle, scale)
            below = middle[1] - section.internal_diameter_m * 1000 * scale / 2 - 6
            for line, (words, weight) in enumerate(
                zip(summary(spec, section), ("bold", "normal"), strict=True)
            ):
                axes.text(
                    middle[0], below - line * 5, plain(words), fontsize=7.5,
                    weight=weight, ha="center", va="center",
                )  # fmt: skip
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def _section(
    axes: "Axes", spec: SectionsSpec, section: Section, middle: tuple[float, float], scale: float
) -> None:
    from matplotlib.patches import Circle

    mm = 1000 * scale
    around = section.internal_diameter_m / 2
    axes.add_artist(Circle(middle, around * mm, facecolor=PAPER, edgecolor=INK, linewidth=2.2, zorder=2))
    cables = [content for content in section.contents for _ in range(content.count)]
    left_out = 0
    for content, place in zip(
        cables, packed([content.diameter_m / 2 for content in cables], around), strict=True
    ):
        if place is None:
            left_out += 1
            continue
        x, y, radius = place
        axes.add_artist(
            Circle(
                (middle[0] + x * mm, middle[1] + y * mm),
                radius * mm,
                facecolor=BAND,
                edgecolor=stroke(content.signal).colour,
                linewidth=1.0,
                hatch=_HATCHES.get(content.signal),
                zorder=3,
            )
        )
    if left_out:
        axes.text(
            *middle, f"{left_out} more find no room", fontsize=7.5, ha="center", va="center", zorder=5,
            bbox={"facecolor": PAPER, "edgecolor": INK, "pad": 2.0},
        )  # fmt: skip


def _foot(spec: SectionsSpec) -> Foot:
    scale = scale_of(spec)
    signals = sorted({content.signal for section in spec.sections for content in section.contents})
    return Foot(
        entries=tuple(
            LegendEntry(AreaSample(BAND, stroke(signal).colour, 1.0, _HATCHES.get(signal, "")), signal)
            for signal in signals
        ),
        notes=(
            "The fullest conduits and sleeves, among them those in rated floors and walls; other sleeves in "
            "walls are sized by the same rule and listed on the sheets of devices and cables.",
            "Cables are drawn as they may come to rest; their positions are not prescribed.",
        ),
        scale=f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}",
    )


KIND = figure_kind(spec_of, alternative, render, _foot)
