"""A kind of drawing, and one drawing of it: what it shows, its words, and the SVG that is published.

Drawings that are graphs are laid out by a program that this package does not start: `render` is given a
function that does.
"""

import hashlib
from collections.abc import Callable
from dataclasses import replace
from typing import Any, Generic, Protocol, TypeAlias, TypeVar

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.draft_mark import marked, said_of
from proposal.drawings.frame import framed
from proposal.drawings.graph import svg
from proposal.drawings.legend import Foot
from proposal.drawings.page_chart import paper_with_field, with_legend_below
from proposal.drawings.sheet import TitleBlock
from proposal.editions import Edition
from proposal.field_classes import dataclass

LayOut: TypeAlias = Callable[[str], str]


class Spec(Protocol):
    """What a sheet shows: a frozen value that holds all that its drawing depends on, and nothing else."""

    @property
    def strip(self) -> TitleBlock:
        """What the title block says."""


S = TypeVar("S", bound=Spec)


@dataclass(frozen=True, slots=True)
class Kind(Generic[S]):
    """A kind of drawing; which sheets there are of it is the drawing list's.

    spec: what a sheet shows to an edition's reader.
    alternative: the same in sentences, for readers who cannot see it.
    draw: the same as SVG, given a prefix that makes its ids its own and what lays out a graph.
    foot: what stands beside the title block: legend, notes and scale.
    in_page: height of the field of a chart that a page shows in its own width, mm, for a width, mm; None for
        drawings that pages show as sheets.
    """

    spec: Callable[[Edition, SheetRow], S]
    alternative: Callable[[S], str]
    draw: Callable[[S, str, LayOut], bytes]
    foot: Callable[[S], Foot]
    in_page: Callable[[S, float], float] | None = None


def figure_kind(
    spec: Callable[[Edition, SheetRow], S],
    alternative: Callable[[S], str],
    render: Callable[[S, str], bytes],
    foot: Callable[[S], Foot],
    in_page: Callable[[S, float], float] | None = None,
) -> Kind[S]:
    """Return a kind of drawing that is a figure.

    spec: what a sheet shows.
    alternative: the same in words.
    render: SVG of what a sheet shows, with a prefix of its ids.
    foot: what stands beside the title block.
    in_page: height of a chart in a page, for a width; None where pages show the sheet.
    """
    return Kind(spec, alternative, lambda shown, prefix, _: render(shown, prefix), foot, in_page)


def graph_kind(
    spec: Callable[[Edition, SheetRow], S],
    alternative: Callable[[S], str],
    source: Callable[[S], str],
    foot: Callable[[S], Foot],
) -> Kind[S]:
    """Return a kind of drawing that is a graph.

    spec: what a sheet shows.
    alternative: the same in words.
    source: DOT text of what a sheet shows.
    foot: what stands beside the title block.
    """

    def draw(shown: S, prefix: str, lay_out: LayOut) -> bytes:
        title = f"Sheet {shown.strip.number}: {shown.strip.title}"
        return svg.finished(lay_out(source(shown)), title, alternative(shown), prefix)

    return Kind(spec, alternative, draw, foot)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A sheet as one reader sees it; equal drawings are the same bytes.

    kind: how it is told and drawn.  spec: what it shows.
    change: what became of it since the last issue: `new`, `changed` or `as before`; empty before the first.
    """

    kind: Kind[Any]
    spec: Spec
    change: str = ""

    @property
    def fingerprint(self) -> str:
        """A name that equal drawings share and no others."""
        return hashlib.sha256(repr(self.spec).encode()).hexdigest()

    @property
    def alternative(self) -> str:
        """What it shows in sentences, for readers who cannot see it."""
        words = self.kind.alternative(self.spec)
        return f"{self.spec.strip.state}. {words}" if self.spec.strip.state else words

    def render(self, lay_out: LayOut) -> bytes:
        """Return the drawing as SVG.

        lay_out: makes SVG text of a graph's DOT text.
        """
        inside = self.kind.draw(self.spec, f"d{self.fingerprint[:12]}", lay_out)
        return self._in_its_state(framed(inside, self.spec.strip, self.kind.foot(self.spec)))

    def render_chart(self, width_mm: float, lay_out: LayOut) -> bytes | None:
        """Return a chart as a page shows it, with its legend below; None for what pages show as a sheet.

        width_mm: for which its letters have their size.
        lay_out: as for `render`.
        """
        if self.kind.in_page is None:
            return None
        paper = paper_with_field(width_mm, self.kind.in_page(self.spec, width_mm))
        spec: Any = self.spec
        shown = replace(spec, strip=replace(spec.strip, paper=paper))
        inside = self.kind.draw(shown, f"c{self.fingerprint[:8]}w{width_mm:.0f}", lay_out)
        return self._in_its_state(with_legend_below(inside, paper.field_mm, self.kind.foot(shown)))

    def _in_its_state(self, drawn: bytes) -> bytes:
        if self.spec.strip.draft:
            return marked(drawn)
        return said_of(drawn, self.spec.strip.state) if self.spec.strip.state else drawn
