"""Every drawing by its sheet: what it shows, its words, and the SVG that is published.

Drawings that are graphs are laid out by a program that this package does not start: `render` is given a
function that does.
"""

import hashlib
from collections.abc import Callable, Mapping
from typing import assert_never

from proposal.document.rows.sheets import SheetRow
from proposal.drawings import (
    charge_timeline,
    charge_timeline_layout,
    conduit_section,
    conduit_section_layout,
    crew_loading,
    crew_loading_layout,
    cut_plan,
    cut_plan_layout,
    gantt,
    gantt_layout,
    level_map,
    level_map_layout,
    neighbours,
    neighbours_layout,
    plan,
    plan_layout,
    riser,
    riser_detail,
    riser_detail_layout,
    riser_layout,
    signal_flow,
    signal_flow_layout,
    svg,
)
from proposal.drawings.draft_mark import DRAFT, marked
from proposal.editions import Edition

GraphSpec = riser.RiserSpec | riser_detail.DetailSpec | signal_flow.FlowSpec
DrawingSpec = (
    GraphSpec
    | plan.PlanSpec
    | charge_timeline.TimelineSpec
    | cut_plan.CutPlanSpec
    | conduit_section.SectionsSpec
    | level_map.LevelMapSpec
    | neighbours.NeighboursSpec
    | gantt.GanttSpec
    | crew_loading.CrewLoadingSpec
)

_SPECS: Mapping[str, Callable[[Edition, SheetRow], DrawingSpec]] = {
    "riser overall": riser.spec,
    "riser detail": riser_detail.spec,
    "signal flow": signal_flow.spec,
    "plan": plan.spec,
    "charge timeline": charge_timeline.spec,
    "conduit sections": conduit_section.spec,
    "cut plan": cut_plan.spec,
    "level map": level_map.spec,
    "radio neighbours": neighbours.spec,
    "gantt chart": gantt.spec,
    "crew loading": crew_loading.spec,
}


def spec(edition: Edition, sheet: SheetRow) -> DrawingSpec:
    """Return what a sheet shows: all that its drawing depends on, and nothing else.

    Raises ValueError for a kind of sheet that nothing draws.
    """
    if sheet.kind not in _SPECS:
        raise ValueError(f"no drawing is known for sheets of kind {sheet.kind!r}")
    return _SPECS[sheet.kind](edition, sheet)


def source(spec: GraphSpec) -> str:
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
    return f"{DRAFT}. {_told(spec)}" if spec.strip.draft else _told(spec)


def _told(spec: DrawingSpec) -> str:
    match spec:
        case riser.RiserSpec():
            return riser.alternative(spec)
        case riser_detail.DetailSpec():
            return riser_detail.alternative(spec)
        case signal_flow.FlowSpec():
            return signal_flow.alternative(spec)
        case plan.PlanSpec():
            return plan.alternative(spec)
        case charge_timeline.TimelineSpec():
            return charge_timeline.alternative(spec)
        case cut_plan.CutPlanSpec():
            return cut_plan.alternative(spec)
        case conduit_section.SectionsSpec():
            return conduit_section.alternative(spec)
        case level_map.LevelMapSpec():
            return level_map.alternative(spec)
        case neighbours.NeighboursSpec():
            return neighbours.alternative(spec)
        case gantt.GanttSpec():
            return gantt.alternative(spec)
        case crew_loading.CrewLoadingSpec():
            return crew_loading.alternative(spec)
    assert_never(spec)


def render(spec: DrawingSpec, lay_out: Callable[[str], str]) -> bytes:
    """Return a drawing as SVG, the same bytes for equal specs.

    lay_out: makes SVG text of a graph's DOT text.
    """
    return marked(_drawn(spec, lay_out)) if spec.strip.draft else _drawn(spec, lay_out)


def _drawn(spec: DrawingSpec, lay_out: Callable[[str], str]) -> bytes:
    match spec:
        case plan.PlanSpec():
            return plan_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case charge_timeline.TimelineSpec():
            return charge_timeline_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case cut_plan.CutPlanSpec():
            return cut_plan_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case conduit_section.SectionsSpec():
            return conduit_section_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case level_map.LevelMapSpec():
            return level_map_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case neighbours.NeighboursSpec():
            return neighbours_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case gantt.GanttSpec():
            return gantt_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case crew_loading.CrewLoadingSpec():
            return crew_loading_layout.render(spec, f"d{fingerprint(spec)[:12]}")
        case _:
            return finish(lay_out(source(spec)), spec)


def fingerprint(spec: DrawingSpec) -> str:
    """Return a name that equal drawings share and no others."""
    return hashlib.sha256(repr(spec).encode()).hexdigest()


def finish(svg_text: str, spec: GraphSpec) -> bytes:
    """Return a laid-out drawing as it is published, the same bytes for equal specs.

    svg_text: what the layout engine made of `source(spec)`.
    """
    title = f"Sheet {spec.strip.number}: {spec.strip.title}"
    return svg.finished(svg_text, title, _told(spec), f"d{fingerprint(spec)[:12]}")
