"""A kind of drawing, and one drawing of it: what it shows, its words, and the SVG that is published.

Drawings that are graphs are laid out by a program that this package does not start: `render` is given a
function that does.
"""

import hashlib
from collections.abc import Callable
from typing import Any, Generic, Protocol, TypeAlias, TypeVar

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.draft_mark import marked, said_of
from proposal.drawings.frame import framed
from proposal.drawings.graph import svg
from proposal.drawings.legend import Foot
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
    """

    spec: Callable[[Edition, SheetRow], S]
    alternative: Callable[[S], str]
    draw: Callable[[S, str, LayOut], bytes]
    foot: Callable[[S], Foot]


def figure_kind(
    spec: Callable[[Edition, SheetRow], S],
    alternative: Callable[[S], str],
    render: Callable[[S, str], bytes],
    foot: Callable[[S], Foot],
) -> Kind[S]:
    """Return a kind of drawing that is a figure.

    spec: what a sheet shows.
    alternative: the same in words.
    render: SVG of what a sheet shows, with a prefix of its ids.
    foot: what stands beside the title block.
    """
    return Kind(spec, alternative, lambda shown, prefix, _: render(shown, prefix), foot)


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
        drawn = framed(inside, self.spec.strip, self.kind.foot(self.spec))
        if self.spec.strip.draft:
            return marked(drawn)
        return said_of(drawn, self.spec.strip.state) if self.spec.strip.state else drawn
