"""The legend of a sheet: what stands beside the title block, drawn alike on all sheets."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from html import escape
from typing import TypeAlias

from proposal.drawings.colours import INK, MUTED, PAPER, Stroke, dash_of
from proposal.drawings.lettering import plain, width_pt, wrapped
from proposal.drawings.symbol_table import SYMBOLS, symbol_of, symbol_svg
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True)
class LineSample:
    """A piece of a line as a drawing shows it: how it is drawn, and whether it is that of return audio."""

    drawn: Stroke
    returning: bool = False


@dataclass(frozen=True, slots=True)
class MarkSample:
    """A symbol of the table of symbols, by its name."""

    name: str


@dataclass(frozen=True, slots=True)
class AreaSample:
    """A field: its fill, its edge, the width of the edge, pt, and its hatch as matplotlib names it."""

    fill: str
    edge: str = MUTED
    width: float = 0.6
    hatch: str = ""


@dataclass(frozen=True, slots=True)
class DrawnSample:
    """What a drawing shows, as SVG around the point 0, 0."""

    svg: str


Sample: TypeAlias = LineSample | MarkSample | AreaSample | DrawnSample


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """A line of the legend: what is shown, and what it stands for."""

    sample: Sample
    meaning: str


@dataclass(frozen=True, slots=True)
class ScaleBar:
    """A bar of four parts: width of a part, mm on paper, and the length of the whole in words."""

    part_mm: float
    words: str


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands below a drawing besides its title block.

    entries: of the legend, only what the sheet shows.  notes: sentences below it.
    scale: such as `1:50`; empty where it is not to scale.  bar: its scale bar.
    pointing: `north` where an arrow shows it, `room` where the axes of the room are shown.
    """

    entries: tuple[LegendEntry, ...] = ()
    notes: tuple[str, ...] = ()
    scale: str = ""
    bar: ScaleBar | None = None
    pointing: str = ""


_SAMPLE_PT, _BESIDE_PT, _BETWEEN_PT = 26.0, 5.0, 12.0
_SPACING = 1.2
# From the largest lettering down to the smallest that prints legibly, and how many columns are tried.
_MOST_COLUMNS = 5
_APART, _CLOSE = 0.35, 0.1
_TRIED: tuple[tuple[float, float], ...] = ((8.0, _APART), (7.5, _APART), (7.0, _APART), (7.0, _CLOSE))
"""Sizes of letters, pt, and what is free between two entries, in lines, the best first."""
_POINTING_PT, _BAR_BESIDE_PT = 40.0, 24.0


def symbol_entries(*names: str) -> tuple[LegendEntry, ...]:
    """Return entries for symbols, in the order of the table of symbols.

    names: of symbols.
    """
    return tuple(LegendEntry(MarkSample(name), name) for name in SYMBOLS if name in names)


def legend_svg(foot: Foot, left: float, top: float, width: float, height: float) -> str:
    """Return the legend, the notes, the scale bar and the arrows as SVG within a box.

    left, top, width, height: of the box, pt.
    """
    parts: list[str] = []
    if foot.pointing:
        parts.append(_pointing(foot.pointing, left, top, height))
        left, width = left + _POINTING_PT, width - _POINTING_PT
    if foot.bar:
        bar = 4 * foot.bar.part_mm * 72 / 25.4
        parts.append(_bar(foot.bar, left, top + height / 2 - 8, foot.scale))
        left, width = left + bar + _BAR_BESIDE_PT, width - bar - _BAR_BESIDE_PT
    parts.append(_entries(foot, left, top, width, height))
    return "".join(parts)


@dataclass(frozen=True, slots=True)
class _Fit:
    """Entries and notes as lines at a size of letters, in columns of one width."""

    size: float
    gap: float
    columns: tuple[tuple[tuple[LegendEntry, tuple[str, ...]], ...], ...]
    width: float
    notes: tuple[str, ...]


def _entries(foot: Foot, left: float, top: float, width: float, height: float) -> str:
    fit = _fitted(foot, width, height)
    line = fit.size * _SPACING
    parts = []
    for place, column in enumerate(fit.columns):
        x, y = left + place * fit.width, top
        for entry, lines in column:
            parts.append(_sample(entry.sample, x, y + line / 2))
            for words in lines:
                y += line
                parts.append(said(words, x + _SAMPLE_PT + _BESIDE_PT, y - 0.25 * line, fit.size))
            y += fit.gap * line
    for place, words in enumerate(reversed(fit.notes)):
        parts.append(said(words, left, top + height - 0.25 * line - place * line, fit.size, MUTED))
    return "".join(parts)


def height_that_fits(foot: Foot, width: float) -> float:
    """Return the least height at which entries and notes stand whole, in even steps, pt.

    width: that they have, pt.
    """
    tried = [one for one in _set(foot, width) if one.whole]
    return next((float(high) for high in range(0, 1200, 6) if any(one.fit(high)[1] for one in tried)), 0.0)


def _fitted(foot: Foot, width: float, height: float) -> _Fit:
    """Return the entries as large as they fit; at the smallest size they are cut rather than let out."""
    fit = _Fit(*_TRIED[-1], (), width, ())
    for tried in _set(foot, width):
        fit, stands = tried.fit(height)
        if stands:
            break
    return fit


@dataclass(frozen=True, slots=True)
class _Set:
    """Entries and notes as lines at a size of letters in so many columns, whatever height they have.

    whole: whether no entry is cut.
    """

    size: float
    gap: float
    count: int
    width: float
    pairs: tuple[tuple[LegendEntry, tuple[str, ...]], ...]
    notes: tuple[str, ...]
    whole: bool

    def fit(self, height: float) -> tuple[_Fit, bool]:
        """Return how they stand in a height, pt, and whether they do so whole."""
        gap = self.gap
        free = height - len(self.notes) * self.size * _SPACING - (4 if self.notes else 0)
        columns = _shared_out(self.pairs, free, self.size, gap)
        tallest = max((sum(len(lines) + gap for _, lines in one) - gap for one in columns), default=0.0)
        stands = self.whole and len(columns) <= self.count and tallest * self.size * _SPACING <= free
        return _Fit(self.size, gap, columns, self.width, self.notes), stands


def _set(foot: Foot, width: float) -> Iterator[_Set]:
    """Yield the lines of entries and notes for each size of letters and number of columns, the best first."""
    for size, gap in _TRIED:
        said_in = [" ".join(foot.notes)] if gap == _CLOSE and foot.notes else foot.notes
        most = 3 * len(foot.notes) if gap == _CLOSE else 3
        notes = tuple(line for note in said_in for line in wrapped(note, width, most, size))
        for count in range(1, _MOST_COLUMNS + 1):
            column = width / count
            room = column - _SAMPLE_PT - _BESIDE_PT - _BETWEEN_PT
            whole = all(width_pt(plain(entry.meaning), size) <= room * 3 for entry in foot.entries)
            pairs = tuple((entry, wrapped(entry.meaning, room, 4, size)) for entry in foot.entries)
            whole = whole and all(_whole(lines) for _, lines in pairs)
            yield _Set(size, gap, count, column, pairs, notes, whole)


def _whole(lines: Sequence[str]) -> bool:
    return not any(line.endswith("…") for line in lines)


def _shared_out(
    pairs: Sequence[tuple[LegendEntry, tuple[str, ...]]], height: float, size: float, gap: float
) -> tuple[tuple[tuple[LegendEntry, tuple[str, ...]], ...], ...]:
    columns: list[list[tuple[LegendEntry, tuple[str, ...]]]] = []
    used = math.inf
    for pair in pairs:
        tall = (len(pair[1]) + gap) * size * _SPACING
        if used + tall > height + gap * size * _SPACING:
            columns.append([])
            used = 0.0
        columns[-1].append(pair)
        used += tall
    return tuple(tuple(column) for column in columns)


def _sample(sample: Sample, x: float, y: float) -> str:
    if isinstance(sample, MarkSample):
        return symbol_svg(symbol_of(sample.name), x + _SAMPLE_PT / 2, y)
    if isinstance(sample, DrawnSample):
        return f'<g transform="translate({x + _SAMPLE_PT / 2:.2f} {y:.2f})">{sample.svg}</g>'
    if isinstance(sample, AreaSample):
        return _area(sample, x, y - 4, _SAMPLE_PT, 8.0)
    drawn = sample.drawn
    dash = dash_of(replace(drawn, style="dashed") if sample.returning else drawn)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="M{x:.2f} {y:.2f}H{x + _SAMPLE_PT:.2f}" stroke="{drawn.colour}" '
        f'stroke-width="{drawn.width:g}" fill="none"{dashed}/>'
    )


def _area(sample: AreaSample, x: float, y: float, width: float, height: float) -> str:
    """Return a field with its hatch drawn as lines of its own."""
    lines = []
    for sign in sorted(set(sample.hatch)):
        step = 12.0 / (1 + sample.hatch.count(sign))
        lines += _hatch(sign, x, y, width, height, max(2.4, step))
    return (
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}" fill="{sample.fill}" '
        f'stroke="{sample.edge}" stroke-width="{sample.width:g}"/>'
        + "".join(f'<path d="{line}" stroke="{INK}" stroke-width="0.5" fill="none"/>' for line in lines)
    )


def _hatch(sign: str, x: float, y: float, width: float, height: float, step: float) -> list[str]:
    """Return the lines of one sign of a hatch as paths within a box."""
    if sign == ".":
        # A dot is a line of no length to speak of.
        return [
            f"M{x + step * (0.5 + n):.2f} {y + height * (0.3 + 0.4 * (n % 2)):.2f}h0.6"
            for n in range(int(width / step))
        ]
    if sign == "-":
        return [f"M{x:.2f} {y + step * n:.2f}h{width:.2f}" for n in range(1, math.ceil(height / step))]
    if sign == "|":
        return [f"M{x + step * n:.2f} {y:.2f}v{height:.2f}" for n in range(1, math.ceil(width / step))]
    if sign in "x+":
        pair = "/\\" if sign == "x" else "-|"
        return [line for one in pair for line in _hatch(one, x, y, width, height, step)]
    lines = []
    for n in range(1, math.ceil((width + height) / step)):
        along = n * step
        x1, y1 = (along, 0.0) if along <= width else (width, along - width)
        x2, y2 = (0.0, along) if along <= height else (along - height, height)
        if sign == "\\":
            x1, x2 = width - x1, width - x2
        lines.append(f"M{x + x1:.2f} {y + y1:.2f}L{x + x2:.2f} {y + y2:.2f}")
    return lines


def _bar(bar: ScaleBar, x: float, y: float, scale: str) -> str:
    part = bar.part_mm * 72 / 25.4
    cells = "".join(
        f'<rect x="{x + n * part:.2f}" y="{y:.2f}" width="{part:.2f}" height="6.8" '
        f'fill="{INK if n % 2 == 0 else PAPER}" stroke="{INK}" stroke-width="0.6"/>'
        for n in range(4)
    )
    return (
        cells
        + said("0", x, y + 16, 7.5, anchor="middle")
        + said(bar.words, x + 4 * part, y + 16, 7.5, anchor="middle")
        + said(scale, x, y - 5, 8)
    )


def _pointing(pointing: str, left: float, top: float, height: float) -> str:
    x, foot = left + 12, top + height - 22
    up = _arrow(x, foot, x, top + 12)
    if pointing == "north":
        return up + said("N", x, foot + 14, 9, bold=True, anchor="middle")
    return (
        up
        + _arrow(x, foot, x + 24, foot)
        + said("y", x + 6, top + 16, 8, bold=True)
        + said("x", x + 20, foot - 5, 8, bold=True)
        + said("room's axes", left, foot + 14, 7)
    )


def _arrow(x1: float, y1: float, x2: float, y2: float) -> str:
    """Return an arrow that points up or to the right."""
    across, along = (0.0, 5.0) if x1 == x2 else (5.0, 0.0)
    side = (2.2, 0.0) if x1 == x2 else (0.0, 2.2)
    back = (x2 - across, y2 + along)
    points = " ".join(
        f"{a:.2f},{b:.2f}"
        for a, b in (
            (x2, y2),
            (back[0] - side[0], back[1] - side[1]),
            (back[0] + side[0], back[1] + side[1]),
        )
    )
    return (
        f'<path d="M{x1:.2f} {y1:.2f}L{back[0]:.2f} {back[1]:.2f}" stroke="{INK}" stroke-width="1.2"/>'
        f'<polygon points="{points}" fill="{INK}"/>'
    )


def said(
    words: str,
    x: float,
    y: float,
    size: float,
    colour: str = INK,
    *,
    bold: bool = False,
    anchor: str = "start",
) -> str:
    """Return a line of text as SVG.

    words: any text.  x, y: its beginning, middle or end on its base line, pt.
    size: of the letters, pt.
    colour: as SVG names it.
    bold: whether in bold letters.
    anchor: start, middle or end.
    """
    if not words:
        return ""
    weight = ' font-weight="bold"' if bold else ""
    stands = "" if anchor == "start" else f' text-anchor="{anchor}"'
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" fill="{colour}"{weight}{stands}>'
        f"{escape(plain(words), quote=False)}</text>"
    )
