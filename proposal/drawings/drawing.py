"""Every drawing by its sheet: what it shows, its graph, its words, and the SVG that is published.

The graph is laid out between `source` and `finish`, by a program that this package does not start.
"""

import hashlib
from collections.abc import Callable, Mapping
from typing import assert_never

from proposal.document.rows import SheetRow
from proposal.drawings import (
    riser,
    riser_detail,
    riser_detail_layout,
    riser_layout,
    signal_flow,
    signal_flow_layout,
    svg,
)
from proposal.editions import Edition

DrawingSpec = riser.RiserSpec | riser_detail.DetailSpec | signal_flow.FlowSpec

_SPECS: Mapping[str, Callable[[Edition, SheetRow], DrawingSpec]] = {
    "riser overall": riser.spec,
    "riser detail": riser_detail.spec,
    "signal flow": signal_flow.spec,
}


def spec(edition: Edition, sheet: SheetRow) -> DrawingSpec:
    """Return what a sheet shows: all that its drawing depends on, and nothing else.

    Raises ValueError for a kind of sheet that is not drawn by a graph.
    """
    if sheet.kind not in _SPECS:
        raise ValueError(f"no drawing is known for sheets of kind {sheet.kind!r}")
    return _SPECS[sheet.kind](edition, sheet)


def source(spec: DrawingSpec) -> str:
    """Return a drawing's graph as DOT text."""
    match spec:
        case riser.RiserSpec():
            return riser_layout.source(spec)
        case riser_detail.DetailSpec():
            return riser_detail_layout.source(spec)
        case signal_flow.FlowSpec():
            return signal_flow_layout.source(spec)
    assert_never(spec)


def alternative(spec: DrawingSpec) -> str:
    """Return what a drawing shows in sentences, for readers who cannot see it."""
    match spec:
        case riser.RiserSpec():
            return riser.alternative(spec)
        case riser_detail.DetailSpec():
            return riser_detail.alternative(spec)
        case signal_flow.FlowSpec():
            return signal_flow.alternative(spec)
    assert_never(spec)


def fingerprint(spec: DrawingSpec) -> str:
    """Return a name that equal drawings share and no others."""
    return hashlib.sha256(repr(spec).encode()).hexdigest()


def finish(svg_text: str, spec: DrawingSpec) -> bytes:
    """Return a laid-out drawing as it is published, the same bytes for equal specs.

    svg_text: what the layout engine made of `source(spec)`.
    """
    title = f"Sheet {spec.strip.number}: {spec.strip.title}"
    return svg.finished(svg_text, title, alternative(spec), f"d{fingerprint(spec)[:12]}")
