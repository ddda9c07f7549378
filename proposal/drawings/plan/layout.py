"""The plan of a storey as SVG: drawn to a round scale on A3."""

from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import SHEET_MM, STRIP_MM, finished, settings, sheet
from proposal.drawings.figure.scale_bar import scale_bar
from proposal.drawings.figure.to_scale import axes_to_scale, extent, scale_that_fits
from proposal.drawings.lettering import plain
from proposal.drawings.plan import PlanMark, PlanRoom, PlanSpec, Point, alternative, spec_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_MARKS: dict[str, tuple[str, str, float]] = {
    "access point": ("^", "#00694f", 7.0),
    "charger": ("s", "#7b3f8c", 6.0),
    "owner's device": ("p", "#5a5a5a", 6.0),
    "breakout": ("D", "#0a5a9c", 5.5),
    "loudspeaker": ("o", "#a33d00", 4.5),
    "microphone": (".", INK, 3.5),
}
_PATHWAYS = {"tray": ("-", 2.4), "conduit": ("--", 1.2), "hooks": (":", 1.8), "sleeve": ("-", 4.0)}
_OTHER_PATHWAY = ("-.", 1.2)
_RUN = "#0a5a9c"
_LEGEND_ORDER = ("access point", "charger", "breakout", "loudspeaker", "microphone", "owner's device")
_OPEN = ("loudspeaker",)


def scale_of(spec: PlanSpec) -> int:
    """Return the denominator of the largest round scale at which the storey fits the sheet."""
    return scale_that_fits(_extent(spec), spec.units)


def _extent(spec: PlanSpec) -> tuple[Point, Point]:
    points = [point for room in spec.rooms for point in room.outline]
    points += [place.at for place in spec.places] + [mark.at for mark in spec.marks]
    points += [point for pathway in spec.pathways for point in pathway.points]
    if not points:
        points = [(0.0, 0.0), (1.0, 1.0)]
    (west, south), (east, north) = extent(points)
    return (west - 1.0, south - 1.0), (east + 1.0, north + 1.0)


def render(spec: PlanSpec, prefix: str) -> bytes:
    """Return the plan as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    """
    with settings():
        figure = sheet(spec.strip)
        scale = scale_of(spec)
        axes = axes_to_scale(figure, _extent(spec), scale)
        _rooms(axes, spec)
        _runs(axes, spec)
        _pathways(axes, spec)
        _places(axes, spec, scale)
        _marks(axes, spec)
        _foot(figure, spec, scale)
        title = f"Sheet {spec.strip.number}: {spec.strip.title}"
        return finished(figure, title, alternative(spec), prefix)


def _rooms(axes: "Axes", spec: PlanSpec) -> None:
    from matplotlib.patches import Polygon

    for room in spec.rooms:
        axes.add_patch(Polygon(room.outline, closed=True, facecolor=BAND, edgecolor=INK, linewidth=1.4))
        at, across, upright = _quiet_corner(spec, room)
        axes.annotate(
            plain(f"{room.tag} {room.name}"),
            at,
            xytext=(4 if across == "left" else -4, -4 if upright == "top" else 4),
            textcoords="offset points",
            fontsize=8.5,
            weight="bold",
            ha=across,
            va=upright,
            bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 1.5, "alpha": 0.85},
            zorder=6,
        )


def _quiet_corner(spec: PlanSpec, room: PlanRoom) -> tuple[Point, str, str]:
    """Return the corner of a room with the fewest marks near it, and how a text is set from there."""
    xs, ys = [x for x, _ in room.outline], [y for _, y in room.outline]
    width, height = (max(xs) - min(xs)) * 0.6, (max(ys) - min(ys)) * 0.25
    corners: list[tuple[int, int, tuple[Point, str, str]]] = []
    choices = [("left", "top"), ("left", "bottom"), ("right", "top"), ("right", "bottom")]
    for order, (across, upright) in enumerate(choices):
        x = min(xs) if across == "left" else max(xs)
        y = max(ys) if upright == "top" else min(ys)
        near = sum(abs(mark.at[0] - x) < width and abs(mark.at[1] - y) < height for mark in spec.marks)
        corners.append((near, order, ((x, y), across, upright)))
    return min(corners)[2]


def _runs(axes: "Axes", spec: PlanSpec) -> None:
    """Draw runs outside pathways thinly; devices of one place share a line."""
    for run in spec.runs:
        xs, ys = [x for x, _ in run.corners], [y for _, y in run.corners]
        axes.plot(xs, ys, linestyle="-", linewidth=0.6, color=_RUN, zorder=2)


def _pathways(axes: "Axes", spec: PlanSpec) -> None:
    """Draw pathways as lines with tag and number of cables, and those that rise as crossed circles."""
    risers: dict[Point, list[str]] = {}
    for pathway in spec.pathways:
        if len(pathway.points) == 1:
            risers.setdefault(pathway.points[0], []).append(pathway.tag)
            continue
        style, width = _PATHWAYS.get(pathway.kind, _OTHER_PATHWAY)
        (x1, y1), (x2, y2) = pathway.points[0], pathway.points[-1]
        axes.plot([x1, x2], [y1, y2], linestyle=style, linewidth=width, color=MUTED, zorder=3)
        upright = abs(y2 - y1) > abs(x2 - x1)
        axes.annotate(
            plain(pathway.tag),
            ((x1 + x2) / 2, (y1 + y2) / 2),
            xytext=(-2, 0) if upright else (0, 2),
            textcoords="offset points",
            fontsize=7,
            color=MUTED,
            ha="right" if upright else "center",
            va="center" if upright else "bottom",
            rotation=90 if upright else 0,
            zorder=5,
        )
    for at, tags in risers.items():
        axes.plot([at[0]], [at[1]], marker="o", markersize=8, color=MUTED, markerfacecolor=PAPER, zorder=4)
        axes.plot([at[0]], [at[1]], marker="x", markersize=6, color=MUTED, zorder=4)
        axes.annotate(
            plain(", ".join(tags)),
            at,
            xytext=(7, -7),
            textcoords="offset points",
            fontsize=7,
            color=MUTED,
            va="top",
            zorder=5,
        )


def _places(axes: "Axes", spec: PlanSpec, scale: int) -> None:
    from matplotlib.patches import Rectangle

    side = max(0.6, 4.0 * scale / 1000)
    for place in spec.places:
        x, y = place.at
        axes.add_patch(
            Rectangle((x - side / 2, y - side / 2), side, side, facecolor=INK, edgecolor=INK, zorder=5)
        )
        axes.annotate(
            plain(f"{place.tag} {place.name}"), place.at, xytext=(0, 8), textcoords="offset points",
            fontsize=8, weight="bold", va="bottom", ha=_side(axes, x), zorder=7,
            bbox={"facecolor": PAPER, "edgecolor": FRAME, "pad": 1.5, "linewidth": 0.6},
        )  # fmt: skip


def _side(axes: "Axes", x: float) -> str:
    """Return on which side of a point its text is kept within the sheet."""
    low, high = axes.get_xlim()
    share = (x - low) / (high - low)
    return "left" if share < 0.25 else "right" if share > 0.75 else "center"


def _marks(axes: "Axes", spec: PlanSpec) -> None:
    """Draw the marks; those at one point stand side by side under one label."""
    together: dict[Point, list[PlanMark]] = {}
    for mark in spec.marks:
        together.setdefault(mark.at, []).append(mark)
    for at, marks in together.items():
        labelled = [mark for mark in marks if mark.label]
        for mark in marks:
            shift_pt = 9.0 * labelled.index(mark) if mark in labelled else 0.0
            _mark(axes, mark.kind, at, shift_pt=shift_pt)
        if labelled:
            axes.annotate(
                plain(", ".join(mark.label for mark in labelled)),
                at,
                xytext=(5 + 9 * (len(labelled) - 1), 4),
                textcoords="offset points",
                fontsize=7,
                zorder=8,
                bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.4, "alpha": 0.75},
            )


def _mark(axes: "Axes", kind: str, at: Point, *, shift_pt: float = 0.0) -> None:
    from matplotlib.transforms import ScaledTranslation

    shape, colour, size = _MARKS[kind]
    assert axes.figure is not None
    moved = axes.transData + ScaledTranslation(shift_pt / 72, 0, axes.figure.dpi_scale_trans)
    axes.plot(
        [at[0]], [at[1]], marker=shape, markersize=size, color=colour, linestyle="none", zorder=7,
        markerfacecolor=PAPER if kind in _OPEN else colour, markeredgewidth=1.0, transform=moved,
    )  # fmt: skip


def _foot(figure: Any, spec: PlanSpec, scale: int) -> None:
    """Draw scale bar, north and legend beside the title strip, all at full size."""
    width_mm = SHEET_MM[0] - STRIP_MM[0] - 12
    axes = figure.add_axes(
        (4 / SHEET_MM[0], 2 / SHEET_MM[1], width_mm / SHEET_MM[0], STRIP_MM[1] / SHEET_MM[1])
    )
    axes.set(xlim=(0, width_mm), ylim=(0, STRIP_MM[1]))
    axes.set_axis_off()
    axes.annotate("", (6, 24), (6, 10), arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 1.2})
    axes.text(6, 6, "N", fontsize=9, weight="bold", ha="center", va="center")
    scale_bar(axes, 18, 19, scale, spec.units, spec.locale)
    shown = [kind for kind in _LEGEND_ORDER if any(mark.kind == kind for mark in spec.marks)]
    for n, kind in enumerate(shown):
        x, y = _legend_place(n)
        _mark(axes, kind, (x, y))
        axes.text(x + 4, y, kind, fontsize=8, va="center")
    pathways = sorted({pathway.kind for pathway in spec.pathways if len(pathway.points) > 1})
    if spec.runs:
        pathways.append("cables outside pathways")
    for n, kind in enumerate(pathways, len(shown)):
        x, y = _legend_place(n)
        style, width = _PATHWAYS.get(kind, _OTHER_PATHWAY)
        if kind == "cables outside pathways":
            axes.plot([x - 4, x + 3], [y, y], linestyle="-", linewidth=0.6, color=_RUN)
        else:
            axes.plot([x - 4, x + 3], [y, y], linestyle=style, linewidth=width, color=MUTED)
        axes.text(x + 5, y, kind, fontsize=8, va="center")


def _legend_place(number: int) -> Point:
    """Return where the sign of a line of the legend stands, mm: four lines one below the other.

    number: of the line, from 0.
    """
    return 96 + (number // 4) * 46, 22.5 - (number % 4) * 6


KIND = figure_kind(spec_of, alternative, render)
