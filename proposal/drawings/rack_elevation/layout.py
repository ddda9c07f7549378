"""A sheet of rack elevations as SVG, 1:10: front with notes beside it, and rear, for two racks."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from proposal.drawings.colours import FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, id_part, settings, whole_field
from proposal.drawings.figure.drawn_symbols import dashes
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample
from proposal.drawings.lettering import plain
from proposal.drawings.rack_elevation import CLOSED, Box, RackElevationSpec, RackPicture, alternative, spec_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SCALE = 10
UNIT_MM = 44.45 / SCALE
WIDTH_MM = 482.6 / SCALE
RACKS = 2
_PITCH_MM = 195.0
_LEFT_MM, _NOTES_MM, _NUMBERS_MM = 10.0, 66.0, 6.0
_FOOT_MM = 20.0
_TEXT_PT = 7.0
_FACE = "#dce8f1"
_BEHIND = Stroke(MUTED, "4 2", 0.5, "")
_FACES = {"blank panel": "#eeeeee", "vent panel": "#ffffff"}
_HATCHES = {"vent panel": "||||", "power strip": "....", "fan panel": "xx"}


def render(spec: RackElevationSpec, prefix: str) -> bytes:
    """Return a sheet of rack elevations as SVG, the same bytes for equal specs.

    prefix: makes its ids its own.
    Raises ValueError where the racks are more than the sheet holds.
    """
    if len(spec.racks) > RACKS:
        raise ValueError(f"wanted at most {RACKS} racks on a sheet; found {len(spec.racks)}")
    with settings():
        figure = field(spec.strip)
        axes = whole_field(figure, spec.strip)
        for number, rack in enumerate(spec.racks):
            _rack(axes, rack, _LEFT_MM + number * _PITCH_MM)
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _rack(axes: "Axes", rack: RackPicture, left: float) -> None:
    """Draw a rack: front, what stands beside it in words, and rear, its sums below the heading."""
    front, rear = left + _NUMBERS_MM, left + _NUMBERS_MM + WIDTH_MM + _NOTES_MM
    top = _FOOT_MM + rack.units * UNIT_MM
    axes.text(
        left, top + 9, plain(f"{rack.tag}  {rack.model}"), fontsize=10, weight="bold", va="center", zorder=6
    )
    for place, line in enumerate(rack.sums):
        column, row = divmod(place, 3)
        axes.text(
            left + column * 80, _FOOT_MM - 4.5 - row * 3.7, plain(line), fontsize=8, va="center", zorder=6
        )
    for start, title, boxes in ((front, "Front", rack.front), (rear, "Rear", rack.rear)):
        axes.text(start + WIDTH_MM / 2, top + 3, title, fontsize=8, ha="center", va="center", color=MUTED)
        _outline(axes, rack, start)
        for box in boxes:
            _box(axes, rack, box, start)
    _behind(axes, rack, rear)
    for unit in range(1, rack.units + 1):
        y = _FOOT_MM + (unit - 0.5) * UNIT_MM
        axes.text(front - 1.5, y, str(unit), fontsize=_TEXT_PT, ha="right", va="center", color=MUTED)
    _notes(axes, rack.front, front + WIDTH_MM + 2)


def _outline(axes: "Axes", rack: RackPicture, start: float) -> None:
    from matplotlib.patches import Rectangle

    axes.add_patch(
        Rectangle(
            (start, _FOOT_MM), WIDTH_MM, rack.units * UNIT_MM, facecolor=PAPER, edgecolor=INK, linewidth=1.2
        )
    )


def _across(box: Box) -> tuple[float, float]:
    """Return where a box begins across the rack and how wide it is, mm."""
    half = WIDTH_MM / 2
    return {"left": (0.0, half), "right": (half, half)}.get(box.side, (0.0, WIDTH_MM))


def _box(axes: "Axes", rack: RackPicture, box: Box, start: float) -> None:
    from matplotlib.patches import Rectangle

    across, width = _across(box)
    y = _FOOT_MM + (box.unit - 1) * UNIT_MM
    found = axes.add_patch(
        Rectangle(
            (start + across, y),
            width,
            box.units * UNIT_MM,
            facecolor=_FACES.get(box.kind, _FACE),
            edgecolor=FRAME,
            linewidth=0.6,
            hatch=_HATCHES.get(box.kind, ""),
            zorder=3,
        )
    )
    found.set_gid(f"place-{id_part(rack.tag)}-{id_part(box.name)}")
    if box.kind in CLOSED:
        return
    axes.text(
        start + across + width / 2,
        y + box.units * UNIT_MM / 2,
        plain(box.name),
        fontsize=_TEXT_PT,
        ha="center",
        va="center",
        zorder=5,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.6} if box.kind in _HATCHES else None,
    )


def _behind(axes: "Axes", rack: RackPicture, rear: float) -> None:
    """Draw at the rear the outline of what stands in front, mirrored."""
    from matplotlib.patches import Rectangle

    taken = {unit for box in rack.rear for unit in range(box.unit, box.unit + box.units)}
    for box in rack.front:
        if box.kind in CLOSED or taken & set(range(box.unit, box.unit + box.units)):
            continue
        across, width = _across(box)
        y = _FOOT_MM + (box.unit - 1) * UNIT_MM
        axes.add_patch(
            Rectangle(
                (rear + WIDTH_MM - across - width, y),
                width,
                box.units * UNIT_MM,
                facecolor="none",
                edgecolor=MUTED,
                linewidth=0.5,
                linestyle=dashes(_BEHIND),
                zorder=2,
            )
        )
        axes.text(
            rear + WIDTH_MM - across - width / 2,
            y + box.units * UNIT_MM / 2,
            plain(box.name),
            fontsize=_TEXT_PT,
            ha="center",
            va="center",
            color=MUTED,
        )


def _notes(axes: "Axes", boxes: Sequence[Box], left: float) -> None:
    """Write beside each level what stands there with its weight, heat and outlets."""
    levels: dict[int, list[Box]] = {}
    for box in boxes:
        if box.note:
            levels.setdefault(box.unit, []).append(box)
    for unit, level in levels.items():
        y = _FOOT_MM + (unit - 1 + level[0].units / 2) * UNIT_MM
        words = "; ".join(box.note for box in sorted(level, key=lambda one: one.side))
        axes.text(left, y, plain(words), fontsize=_TEXT_PT, va="center")


def _foot(spec: RackElevationSpec) -> Foot:
    shown = {box.kind for rack in spec.racks for box in (*rack.front, *rack.rear)}
    kinds = [kind for kind in ("blank panel", "vent panel", "power strip", "fan panel") if kind in shown]
    entries = [
        LegendEntry(AreaSample(_FACES.get(kind, _FACE), FRAME, 0.6, _HATCHES.get(kind, "")), kind)
        for kind in kinds
    ]
    entries.append(LegendEntry(AreaSample(_FACE, FRAME), "equipment"))
    entries.append(LegendEntry(LineSample(_BEHIND), "stands in front, seen from behind"))
    return Foot(entries=tuple(entries), notes=("Units are counted from below.",), scale=f"1:{SCALE}")


KIND = figure_kind(spec_of, alternative, render, _foot)
