"""How much power over Ethernet warms the cables of each bundle: in pathways, and on runs outside them.

The rise belongs to a bundle. All cables of a pathway, or of a run outside pathways, lie in one unless the
project says how many are tied together. Every cable of it gets as warm, powered or not, over that stretch.
"""

import math
from collections.abc import Iterable, Mapping, Sequence

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import DATA_CABLE_USE
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.connections.conductors import conductor
from proposal.design.pathways.bundles import Bundle
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.design.pathways.runs_outside import runs_outside
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import DataCable
from proposal.model.pathways.pathways import ROUND_KINDS
from proposal.model.project import Project
from proposal.standards import bundle_warming, ieee8023
from proposal.standards.working import working

OPEN_USE = "project.rules.pathways.warming_open"
ENCLOSED_USE = "project.rules.pathways.warming_enclosed"
BUNDLE_USE = "project.rules.pathways.bundle"
OUTSIDE_STEP_K = 0.1
"""Rises outside pathways are rounded up to this, so that a cable has few temperatures there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warming:
    """The bundles of a design.

    pathways: by tag, those in which cables lie.
    outside: of each cable by identity: metres outside pathways, and the rise there, K.
    outside_uses: of each cable by identity: the inputs that the rises outside rest on.
    """

    pathways: Mapping[str, Bundle]
    outside: Mapping[str, tuple[tuple[float, float], ...]]
    outside_uses: Mapping[str, tuple[str, ...]]


def warming(project: Project, cables: Sequence[Cable], devices_uses: tuple[str, ...] = ()) -> Warming:
    """Return the bundles of all cables.

    cables: all of the design.
    devices_uses: project inputs on which it rests how many devices there are.
    """
    entries = cable_entries(project)
    laid = [cable for cable in cables if cable.model in entries]
    in_pathway: dict[str, list[Cable]] = {}
    for cable in laid:
        for tag in cable.route.pathways:
            in_pathway.setdefault(tag, []).append(cable)
    by_identity = {cable.identity: cable for cable in laid}
    outside: dict[str, list[tuple[float, float]]] = {}
    outside_uses: dict[str, dict[str, None]] = {}
    ceiling_c = project.building.ceiling_temperature
    ways = [(cable.identity, cable.route) for cable in laid]
    for run in runs_outside(ways, project.brief.rules.cabling.routing_factor):
        members = [by_identity[identity] for identity in run.cables]
        tied = project.brief.rules.pathways.bundle
        bundle = _bundle(
            project,
            members,
            ceiling_c,
            tied,
            enclosed=False,
            title="a run outside pathways",
            devices_uses=devices_uses,
        )
        rise_k = math.ceil(bundle.rise_k / OUTSIDE_STEP_K - 1e-9) * OUTSIDE_STEP_K
        for identity in run.cables:
            outside.setdefault(identity, []).append((run.length_m, rise_k))
            if bundle.rise:
                outside_uses.setdefault(identity, {}).update(dict.fromkeys(bundle.rise.uses))
    return Warming(
        pathways={
            tag: _in_pathway(project, tag, members, devices_uses) for tag, members in in_pathway.items()
        },
        outside={identity: tuple(parts) for identity, parts in outside.items()},
        outside_uses={identity: tuple(uses) for identity, uses in outside_uses.items()},
    )


def _in_pathway(
    project: Project, tag: str, members: Sequence[Cable], devices_uses: tuple[str, ...]
) -> Bundle:
    pathway = project.building.pathways[tag]
    space = project.building.spaces.get(pathway.space)
    ceiling_c = project.building.ceiling_temperature
    air_c = ceiling_c if space is None or space.temperature is None else space.temperature
    tied = project.brief.rules.pathways.bundle if pathway.bundle is None else pathway.bundle
    if pathway.divided:
        members = [one for one in members if one.signal != LOUDSPEAKER_LINE]
    return _bundle(
        project,
        members,
        air_c,
        tied,
        enclosed=pathway.kind in ROUND_KINDS,
        title=tag,
        devices_uses=devices_uses,
    )


def _bundle(
    project: Project,
    members: Sequence[Cable],
    air_c: float,
    tied: int | None,
    *,
    enclosed: bool,
    title: str,
    devices_uses: tuple[str, ...],
) -> Bundle:
    """Return the warmest bundle of cables that lie together: that of the hottest ones.

    tied: how many are tied in one bundle; None for all.
    enclosed: whether they lie in tubing.
    """
    rules = project.brief.rules.pathways
    coefficient = rules.warming_enclosed if enclosed else rules.warming_open
    heats = sorted((heat for one in members if (heat := _heat_w_per_m(project, one, air_c))), reverse=True)
    together = min(len(members), tied or len(members))
    if not heats:
        return Bundle(cables=len(members), tied=together)

    def rise_of(count: int) -> float:
        return bundle_warming.bundle_rise_k(heats[:count], coefficient, air_c)

    limit = bundle_warming.HIGHEST_RISE
    allowed = next((n for n in range(len(heats), 0, -1) if rise_of(n) <= limit.value), 0)
    rise = working(
        bundle_warming.bundle_rise_k,
        title=f"Warming of the bundle in {title}",
        limit=limit,
        uses=tuple(
            dict.fromkeys(
                (ENCLOSED_USE if enclosed else OPEN_USE, BUNDLE_USE, *devices_uses, *_uses(members))
            )
        ),
        note="All its cables are tied together."
        if together == len(members)
        else f"Of {len(members)} cables {together} are tied together, the hottest first.",
        heats_w_per_m=tuple(heats[:together]),
        warming_k_m_per_w=coefficient,
        air_c=air_c,
    )
    return Bundle(
        cables=len(members), tied=together, rise=rise, most=allowed if allowed < len(heats) else None
    )


def _heat_w_per_m(project: Project, cable: Cable, air_c: float) -> float:
    """Return the heat of a powered cable at the temperature of the air, W/m; 0 where it carries no power."""
    entry = project.library.cables.get(cable.model)
    if cable.poe_class is None or not isinstance(entry, DataCable):
        return 0.0
    one = ieee8023.CLASSES[cable.poe_class]
    current_a = bundle_warming.greatest_current_a(one.source_power_w, one.source_voltage_min_v)
    ohm_per_m = conductor(project, entry, air_c, ()).result
    return bundle_warming.cable_heat_w_per_m(current_a, ohm_per_m, one.pairs)


def _uses(members: Iterable[Cable]) -> tuple[str, ...]:
    """Return the inputs on which it rests that these cables lie together, and what they are."""
    uses = dict.fromkeys((DATA_CABLE_USE, "building.ceiling_temperature"))
    for cable in members:
        uses.update(dict.fromkeys(cable.route_uses))
    return tuple(uses)
