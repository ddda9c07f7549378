"""The field of a plan, its scale and what stands at its foot: north, scale bar, legend of what is on it."""

from collections.abc import Callable, Iterable, Sequence

from proposal.drawings.canvas import MM_PT, Canvas, Point
from proposal.drawings.colours import FRAME, INK
from proposal.drawings.figure.scale_bar import SCALES, round_scale, scale_bar
from proposal.drawings.label_ground import Box
from proposal.drawings.legend import DrawnSample, Foot, LegendEntry
from proposal.drawings.letter_widths import letters_pt
from proposal.drawings.plan.symbols import draw_symbol, place_in_order
from proposal.drawings.sheet import COMMON_FIELD_MM
from proposal.field_classes import dataclass

WIDTH, HEIGHT = (size * MM_PT for size in COMMON_FIELD_MM)
_EDGE = 10.0
FIELD: Box = (_EDGE, _EDGE, WIDTH - _EDGE, HEIGHT - _EDGE)
"""What is left for a drawing within the frame: left, top, right, bottom, pt."""
SMALL, NORMAL = 7.0, 7.5
_PADDING = 9.0
"""What a column of a table takes beside its texts, pt."""


@dataclass(frozen=True, slots=True)
class Scaled:
    """How points of a building stand on paper.

    scale: denominator.  west, south: corner of what is drawn, m.  left, bottom: where that is on paper, pt.
    """

    scale: int
    west: float
    south: float
    left: float
    bottom: float

    @property
    def pt_a_metre(self) -> float:
        """Points on paper for a metre in the building."""
        return 1000 * MM_PT / self.scale

    def on_paper(self, at: Point) -> Point:
        """Return where a point of the building is on paper, pt."""
        return (
            self.left + (at[0] - self.west) * self.pt_a_metre,
            self.bottom - (at[1] - self.south) * self.pt_a_metre,
        )

    def in_building(self, at: Point) -> Point:
        """Return which point of the building is at a place on paper, m."""
        return (
            self.west + (at[0] - self.left) / self.pt_a_metre,
            self.south + (self.bottom - at[1]) / self.pt_a_metre,
        )

    def all_on_paper(self, points: Iterable[Point]) -> list[Point]:
        """Return where points of the building are on paper, pt."""
        return [self.on_paper(point) for point in points]


def scaled(corners: tuple[Point, Point], field: Box, scale: int) -> Scaled:
    """Return how a piece of a building stands in the middle of a field at a scale.

    corners: south-western and north-eastern, m.
    """
    (west, south), (east, north) = corners
    metre = 1000 * MM_PT / scale
    left = (field[0] + field[2] - (east - west) * metre) / 2
    bottom = (field[1] + field[3] + (north - south) * metre) / 2
    return Scaled(scale, west, south, left, bottom)


def scales_that_fit(corners: tuple[Point, Point], field: Box, units: str, usual: int) -> tuple[int, ...]:
    """Return round scales at which a piece of a building fits a field, the usual one or the next first.

    corners: south-western and north-eastern, m.  units: metric or us_customary.
    usual: denominator; larger drawings come after it, for what does not fit on it.
    """
    (west, south), (east, north) = corners
    wanted = max(
        (east - west) * 1000 * MM_PT / (field[2] - field[0]),
        (north - south) * 1000 * MM_PT / (field[3] - field[1]),
    )
    least = round_scale(wanted, units)
    scales = SCALES["us_customary" if units == "us_customary" else "metric"]
    first = max(least, usual)
    return (first, *sorted((one for one in scales if least <= one < first), reverse=True))


def empty_field() -> Canvas:
    """Return the empty field of a sheet; its frame, its title block and its foot are drawn around it."""
    return Canvas(WIDTH, HEIGHT)


def foot(
    scale: int,
    units: str,
    locale: str,
    kinds: Iterable[str],
    others: Sequence[tuple[str, Callable[[Canvas, Point], None]]] = (),
    notes: Sequence[str] = (),
) -> Foot:
    """Return north, the scale bar and the legend at the foot of a sheet.

    scale: denominator.  units, locale: of the project.
    kinds: of devices that are marked on it.
    others: what else is explained: its name, and what draws a sample around a point.
    notes: sentences after the one that forbids to scale from the drawing.
    """
    shown = [(kind, _sample(kind)) for kind in sorted(set(kinds), key=place_in_order)]
    return Foot(
        entries=tuple(LegendEntry(_drawn(draw), name) for name, draw in (*shown, *others)),
        notes=(" ".join(("Do not scale from the drawing; check sizes on site.", *notes)),),
        scale=f"1:{scale}",
        bar=scale_bar(scale, units, locale),
        pointing="north",
    )


def _sample(kind: str) -> Callable[[Canvas, Point], None]:
    return lambda canvas, at: draw_symbol(canvas, kind, at)


def _drawn(draw: Callable[[Canvas, Point], None]) -> DrawnSample:
    canvas = Canvas(0.0, 0.0)
    draw(canvas, (0.0, 0.0))
    return DrawnSample(canvas.parts)


def table(canvas: Canvas, at: Point, headings: Sequence[str], rows: Sequence[Sequence[Sequence[str]]]) -> Box:
    """Draw a table and return its box.

    at: its upper left corner.  rows: lines of text of each cell.
    Columns are as wide as their texts; those that are empty in every row are left out.
    """
    kept = [n for n in range(len(headings)) if any(any(row[n]) for row in rows)]
    widths = [
        max(
            letters_pt(headings[n], NORMAL, bold=True),
            *(letters_pt(line, NORMAL) for row in rows for line in row[n]),
        )
        + _PADDING
        for n in kept
    ]
    x, y = at
    right = x + sum(widths)
    step = NORMAL * 1.25

    def line_of(cells: Sequence[Sequence[str]], top: float, *, bold: bool) -> float:
        left = x
        for n, width in zip(kept, widths, strict=True):
            for number, words in enumerate(cells[n]):
                canvas.text((left + 3, top + 9 + number * step), words, NORMAL, bold=bold)
            left += width
        return top + 5 + max([1, *(len(cells[n]) for n in kept)]) * step

    bottom = line_of([[heading] for heading in headings], y, bold=True)
    canvas.line(((x, bottom), (right, bottom)), INK, 0.8)
    for row in rows:
        bottom = line_of(row, bottom, bold=False)
        canvas.line(((x, bottom), (right, bottom)), FRAME, 0.4)
    return x, y, right, bottom


def table_size(headings: Sequence[str], rows: Sequence[Sequence[Sequence[str]]]) -> tuple[float, float]:
    """Return how wide and how high a table is drawn, pt.

    rows: lines of text of each cell.
    """
    left, top, right, bottom = table(Canvas(WIDTH, HEIGHT), (0.0, 0.0), headings, rows)
    return right - left, bottom - top
