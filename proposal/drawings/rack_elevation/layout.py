"""A sheet of rack elevations as SVG, to scale: front with notes beside it, and rear, for two racks."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from proposal.drawings.colours import FRAME, INK, MUTED, PAPER, Stroke
from proposal.drawings.drawing import figure_kind
from proposal.drawings.figure import field, finished, id_part, settings, whole_field
from proposal.drawings.figure.drawn_symbols import dashes
from proposal.drawings.legend import AreaSample, Foot, LegendEntry, LineSample
from proposal.drawings.lettering import plain
from proposal.drawings.rack_elevation import CLOSED, Box, RackElevationSpec, RackPicture, alternative, spec_of
from proposal.field_classes import dataclass

if TYPE_CHECKING:
    from matplotlib.axes import Axes

UNIT_MM, FRONT_MM = 44.45, 482.6
"""A rack unit and the width of a front (EIA-310)."""
SCALES = (5.0, 10.0, 12.5)
"""The first at which the racks of a sheet have room."""
RACKS = 2
_PITCH_MM = 195.0
_NOTES_MM, _NUMBERS_MM = 66.0, 6.0
_SUMS_MM, _HEAD_MM = 26.0, 13.0
_PT_A_MM = 72 / 25.4
_STRIP = "power strip"
_CLEAR_MM = 4.0
_TEXT_PT = 7.0
_FACE = "#dce8f1"
_BEHIND = Stroke(MUTED, "4 2", 0.5, "")
_PANELS = "panel or cable manager"
_CLEAR = {True: ("1 m", "0.6 m"), False: ("3 ft 3 in", "2 ft")}
"""What is free before and behind a rack (common practice), where lengths are metric and where not."""
_ENDS = ("patch panel", "fibre panel", "cable manager")
"""Kinds in which cables end or are led, drawn alike."""
_OWNER_CODE, OWNER = "OE", "owner's device"
_FACES = {"blank panel": "#eeeeee", "vent panel": "#ffffff", **dict.fromkeys((*_ENDS, _PANELS), "#f6efe0")}
_HATCHES = {"vent panel": "||||", "power strip": "....", "fan panel": "xx"}


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a rack is drawn: its left edge and lowest unit, and how large a unit and a front are, mm."""

    left: float
    foot: float
    unit: float
    width: float

    @property
    def front(self) -> float:
        """Left edge of what stands in front."""
        return self.left + _NUMBERS_MM

    @property
    def rear(self) -> float:
        """Left edge of the rack seen from behind."""
        return self.front + self.width + _NOTES_MM

    def at(self, unit: float) -> float:
        """Return the height on the sheet of the lower edge of a unit, counted from 1."""
        return self.foot + (unit - 1) * self.unit


def scale_of(spec: RackElevationSpec) -> float:
    """Return the denominator of the scale at which the racks of a sheet are drawn."""
    width, height = spec.strip.paper.field_mm
    up, across = height - _SUMS_MM - _HEAD_MM - 2 * _CLEAR_MM, width - 2 * _CLEAR_MM
    tallest = max((rack.units for rack in spec.racks), default=1)
    fitting = (
        scale
        for scale in SCALES
        if tallest * UNIT_MM / scale <= up and _width(len(spec.racks), FRONT_MM / scale) <= across
    )
    return next(fitting, SCALES[-1])


def _width(racks: int, front: float) -> float:
    """Return how wide some racks are with what stands beside them, mm.

    front: width of a front, mm.
    """
    one = _NUMBERS_MM + 2 * front + _NOTES_MM
    return max(_PITCH_MM, one) * (racks - 1) + one


def _places(spec: RackElevationSpec) -> list[_Place]:
    """Return where each rack is drawn: on one floor line, all of them in the middle of the field."""
    width, height = spec.strip.paper.field_mm
    scale = scale_of(spec)
    unit, front = UNIT_MM / scale, FRONT_MM / scale
    tallest = max((rack.units for rack in spec.racks), default=1) * unit
    foot = _SUMS_MM + (height - _SUMS_MM - tallest - _HEAD_MM) / 2
    left = (width - _width(len(spec.racks), front)) / 2
    return [_Place(left + number * _PITCH_MM, foot, unit, front) for number in range(len(spec.racks))]


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
        for rack, place in zip(spec.racks, _places(spec), strict=True):
            _rack(axes, rack, place)
        return finished(figure, f"Sheet {spec.strip.number}: {spec.strip.title}", alternative(spec), prefix)


def _rack(axes: "Axes", rack: RackPicture, place: _Place) -> None:
    """Draw a rack: front, what stands beside it in words, and rear, its sums below."""
    top = place.at(rack.units + 1)
    axes.text(
        place.left, top + 9, plain(f"{rack.tag}  {rack.model}"), fontsize=10, weight="bold", va="center",
        zorder=6,
    )  # fmt: skip
    for number, line in enumerate(rack.sums):
        # What is longer than a column stands below both.
        column, row = divmod(number, 3) if number < 2 * 3 else (0, number - 3)
        axes.text(
            place.left + column * 80, place.foot - 4.5 - row * 3.7, plain(line), fontsize=8, va="center",
            zorder=6,
        )  # fmt: skip
    for start, title, boxes in ((place.front, "Front", rack.front), (place.rear, "Rear", rack.rear)):
        axes.text(start + place.width / 2, top + 3, title, fontsize=8, ha="center", va="center", color=MUTED)
        _outline(axes, rack, place, start)
        for box in boxes:
            _box(axes, rack, box, place, start)
    _behind(axes, rack, place)
    for unit in range(1, rack.units + 1):
        axes.text(
            place.front - 1.5, place.at(unit + 0.5), str(unit), fontsize=_TEXT_PT, ha="right", va="center",
            color=MUTED,
        )  # fmt: skip
    _notes(axes, rack.front, place)


def _outline(axes: "Axes", rack: RackPicture, place: _Place, start: float) -> None:
    from matplotlib.patches import Rectangle

    axes.add_artist(
        Rectangle(
            (start, place.foot), place.width, rack.units * place.unit, facecolor="none", edgecolor=INK,
            linewidth=1.2, zorder=6,
        )
    )  # fmt: skip


def _across(box: Box, whole: float) -> tuple[float, float]:
    """Return where a box begins across the rack and how wide it is, mm.

    whole: the width of a front.
    """
    half = whole / 2
    return {"left": (0.0, half), "right": (half, half)}.get(box.side, (0.0, whole))


def _box(axes: "Axes", rack: RackPicture, box: Box, place: _Place, start: float) -> None:
    from matplotlib.patches import Rectangle

    across, width = _across(box, place.width)
    y = place.at(box.unit)
    found = axes.add_artist(
        Rectangle(
            (start + across, y),
            width,
            box.units * place.unit,
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
    shares = 1 + len(box.holds)
    named = f"{box.name} {box.model}" if box.kind == _STRIP and box.model else box.name
    first = f"{named}, mains {box.mains}" if box.mains else named
    for number, name in enumerate((first, *box.holds)):
        left = start + across + number * width / shares
        if number:
            axes.plot((left, left), (y, y + box.units * place.unit), color=FRAME, linewidth=0.6, zorder=4)
        axes.text(
            left + width / shares / 2,
            y + box.units * place.unit / 2,
            plain(name),
            fontsize=_TEXT_PT,
            ha="center",
            va="center",
            zorder=5,
            bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.6} if box.kind in _HATCHES else None,
        )


def _behind(axes: "Axes", rack: RackPicture, place: _Place) -> None:
    """Draw at the rear the outline of what stands in front, mirrored."""
    from matplotlib.patches import Rectangle

    taken = {unit for box in rack.rear for unit in range(box.unit, box.unit + box.units)}
    for box in rack.front:
        if box.kind in CLOSED or taken & set(range(box.unit, box.unit + box.units)):
            continue
        across, width = _across(box, place.width)
        left, y = place.rear + place.width - across - width, place.at(box.unit)
        axes.add_artist(
            Rectangle(
                (left, y),
                width,
                box.units * place.unit,
                facecolor="none",
                edgecolor=MUTED,
                linewidth=0.5,
                linestyle=dashes(_BEHIND),
                zorder=2,
            )
        )
        axes.text(
            left + width / 2,
            y + box.units * place.unit / 2,
            plain(box.name),
            fontsize=_TEXT_PT,
            ha="center",
            va="center",
            color=MUTED,
        )


def _notes(axes: "Axes", boxes: Sequence[Box], place: _Place) -> None:
    """Write beside each level what stands there with its model, weight, heat and outlets."""
    levels: dict[int, list[Box]] = {}
    for box in boxes:
        if box.note or box.outlets:
            levels.setdefault(box.unit, []).append(box)
    for unit, level in levels.items():
        words = beside(sorted(level, key=lambda one: one.side))
        axes.text(
            place.front + place.width + 2, place.at(unit + level[0].units / 2), plain(words),
            fontsize=_TEXT_PT, va="center",
        )  # fmt: skip


def beside(level: Sequence[Box]) -> str:
    """Return what is written beside a level: two alike are told once, with the outlets of both.

    level: what stands on it, from the left.
    """
    alike = len({box.note for box in level}) == 1 and len(level) > 1
    groups = [level] if alike else [[box] for box in level]
    told = [
        ", ".join(
            (
                f"{len(group)} × {group[0].note}" if alike else group[0].note,
                *(outlet for box in group for outlet in box.outlets),
            )
        )
        for group in groups
    ]
    if cords := dict.fromkeys(cord for box in level for cord in box.cords):
        told[-1] += f", cord {' and '.join(cords)}"
    return "; ".join(told)


def _counted(spec: RackElevationSpec) -> str:
    before, behind = _CLEAR[spec.strip.units == "m"]
    return (
        f"Units are counted from below. Keep at least {before} free before a rack and {behind} behind it, "
        "and more where local codes ask for it."
    )


HELD = (
    "What stands in a rack is held by the ears that come with it; of half the width, two are joined by their "
    "plates, and one alone leaves the other half free. Equipment of the owner comes with ears or a shelf of "
    "its own: its owner tells weight and depth before the rack is built."
)


def _boxes(spec: RackElevationSpec) -> Iterator[Box]:
    for rack in spec.racks:
        yield from (*rack.front, *rack.rear)


def _with_models(spec: RackElevationSpec, kind: str) -> str:
    """Return a kind of part with the models of it that close a front, which are told nowhere else."""
    models = {box.model for box in _boxes(spec) if box.kind == kind and box.kind in CLOSED and box.model}
    return " ".join((kind, *sorted(models)))


def _codes(spec: RackElevationSpec) -> tuple[str, ...]:
    """Return what the letters before the numbers of what stands in racks mean, as a note."""
    kinds: dict[str, str] = {}
    for box in _boxes(spec):
        letters = box.name.rpartition("-")[2].rstrip("0123456789")
        if box.kind not in CLOSED and letters.isupper():
            kinds.setdefault(letters, OWNER if letters == _OWNER_CODE else box.kind)
    told = ", ".join(f"{letters} {kind}" for letters, kind in sorted(kinds.items()))
    return (f"{told}.",) if told else ()


def _foot(spec: RackElevationSpec) -> Foot:
    shown = {box.kind for rack in spec.racks for box in (*rack.front, *rack.rear)}
    kinds = [kind for kind in ("blank panel", "vent panel", _STRIP, "fan panel") if kind in shown]
    entries = [
        LegendEntry(
            AreaSample(_FACES.get(kind, _FACE), FRAME, 0.6, _HATCHES.get(kind, "")), _with_models(spec, kind)
        )
        for kind in kinds
    ]
    if shown & set(_ENDS):
        entries.append(LegendEntry(AreaSample(_FACES[_PANELS], FRAME), _PANELS))
    entries.append(LegendEntry(AreaSample(_FACE, FRAME), "equipment"))
    entries.append(LegendEntry(LineSample(_BEHIND), "stands in front, seen from behind"))
    notes = tuple(filter(None, (_counted(spec), HELD, spec.cords, *_codes(spec))))
    return Foot(entries=tuple(entries), notes=notes, scale=f"1:{scale_of(spec):g}")


KIND = figure_kind(spec_of, alternative, render, _foot)
