"""Hooks for level runs outside pathways: along the union of all ways, so that cables share them."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from proposal.design.connections.cable_choice import cable_entries
from proposal.design.design import Design
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.entry_points import Point3
from proposal.design.pathways.runs_outside import RunOutside
from proposal.estimate.takeoff.lines import TakeoffLine, line
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Support
from proposal.model.project import Project
from proposal.quantities.rounding import shared_out
from proposal.standards.nfpa70 import conduit_area_m2

_PLACE = tuple[Point3, Point3 | None, int]
_ONE = Decimal(1)
HooksByRoom = Mapping[str, tuple[Decimal, tuple[str, ...]]]
"""How many hooks each room takes, and the identities of its cables that lie in them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSupports:
    """The hooks of one run outside pathways.

    run: the run.
    side_by_side: hooks at each place, so that all its cables lie in them.
    count: hooks that are counted with this run; one at a node that runs share is counted with the run that
        has most side by side there.
    """

    run: RunOutside
    side_by_side: int
    count: int


def supports_of_runs(
    runs: Sequence[RunOutside], areas_m2: Mapping[str, float], spacing_m: float, capacity_m2: float
) -> tuple[RunSupports, ...]:
    """Return the hooks of each run: one where it begins and one each spacing, shared ends once.

    runs: outside pathways.
    areas_m2: cross-section of each cable by its identity, m²; those without one weigh nothing here.
    spacing_m: from one hook to the next, m.
    capacity_m2: cross-section of cables that one hook may hold, m².
    """
    wanted = [
        max(1, math.ceil(sum(areas_m2.get(cable, 0.0) for cable in run.cables) / capacity_m2 - 1e-9))
        for run in runs
    ]
    held: dict[_PLACE, tuple[int, int]] = {}
    for n, run in enumerate(runs):
        for place in _places(run, spacing_m):
            most = held.get(place)
            if most is None or wanted[n] > most[0]:
                held[place] = wanted[n], n
    counts = [0] * len(runs)
    for side_by_side, n in held.values():
        counts[n] += side_by_side
    return tuple(RunSupports(run=run, side_by_side=wanted[n], count=counts[n]) for n, run in enumerate(runs))


def _places(run: RunOutside, spacing_m: float) -> list[_PLACE]:
    """Return where hooks of a run stand; at a node whatever runs meet there."""
    whole = math.floor(run.length_m / spacing_m + 1e-9)
    places: list[_PLACE] = [(run.start, None, 0)]
    places += [(run.start, run.end, n) for n in range(1, whole + 1)]
    if whole and math.isclose(whole * spacing_m, run.length_m, abs_tol=1e-6):
        places[-1] = (run.end, None, 0)
    return places


def support_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return a line for each room with hooks outside pathways."""
    code, hung = chosen_hooks(project, design)
    return [
        line(project, "supports", project.library.supports[code], room, count, Decimal(0), causes)
        for room, (count, causes) in hung.items()
        if count
    ]


def chosen_hooks(project: Project, design: Design) -> tuple[str, HooksByRoom]:
    """Return the kind of hook of which all that are needed cost least, and how many each room takes.

    The code is empty where the library has no hooks.
    """
    areas_m2 = _areas_m2(project, design)
    candidates = []
    hung: dict[str, list[RunSupports]] = {}
    for code, entry in sorted(project.library.supports.items()):
        if entry.form == "hook" and entry.area > 0:
            hung[code] = list(_hung(project, design, entry, areas_m2))
            count = sum(held.count for held in hung[code])
            candidates.append((count * unit_cost(project, entry), count, code))
    if not candidates:
        return "", {}
    _, _, code = min(candidates)
    return code, _by_room(design, hung[code], areas_m2)


def _hung(
    project: Project, design: Design, entry: Support, areas_m2: Mapping[str, float]
) -> Iterator[RunSupports]:
    """Yield the hooks of a kind that each run with a cable of the library takes outside pathways."""
    capacity_m2 = entry.area * project.brief.rules.pathways.tray_fill
    for held in supports_of_runs(design.runs_outside, areas_m2, entry.spacing, capacity_m2):
        if not areas_m2.keys().isdisjoint(held.run.cables):
            yield held


def _areas_m2(project: Project, design: Design) -> dict[str, float]:
    """Return the cross-section of each cable of the library, m², by its identity."""
    entries = cable_entries(project)
    models = {cable.model for cable in design.cables if cable.model in entries}
    of_model = {model: conduit_area_m2(entries[model].outside_diameter) for model in sorted(models)}
    return {cable.identity: of_model[cable.model] for cable in design.cables if cable.model in models}


def _by_room(design: Design, hung: Iterable[RunSupports], areas_m2: Mapping[str, float]) -> HooksByRoom:
    """Return how many hooks of a kind each room takes outside pathways, and for which of its cables.

    A run's hooks are shared out to the rooms of its cables by their cross-sections, in whole hooks.
    """
    exact_m2 = {area_m2: Decimal(repr(area_m2)) for area_m2 in set(areas_m2.values())}
    rooms = {cable.identity: cable.room for cable in design.cables}
    counts: dict[str, Decimal] = {}
    causes: dict[str, list[str]] = {}
    for held in hung:
        weights: dict[str, Decimal] = {}
        for identity in held.run.cables:
            if identity in areas_m2:
                room = rooms[identity]
                weights[room] = weights.get(room, Decimal(0)) + exact_m2[areas_m2[identity]]
                causes.setdefault(room, []).append(identity)
        parts = shared_out(Decimal(held.count), list(weights.values()), _ONE)
        for room, part in zip(weights, parts, strict=True):
            counts[room] = counts.get(room, Decimal(0)) + part
    return {
        room: (counts[room], tuple(sorted(dict.fromkeys(causes[room]), key=natural)))
        for room in sorted(counts, key=natural)
    }
