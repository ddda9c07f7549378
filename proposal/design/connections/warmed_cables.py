"""Every cable with its temperatures, once all cables have their routes, and its checks at these."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.connections.bundle_warming import Warming
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import link_checks
from proposal.design.connections.cable_temperature import temperature_segments
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.model.project import Project
from proposal.standards.working import once_each


def warmed_cables(project: Project, cables: Sequence[Cable], warming: Warming) -> tuple[Cable, ...]:
    """Return the cables with their temperatures and checks, in the order given.

    cables: all of the design.
    warming: of the bundles in which they lie.
    """
    rises_k = {tag: bundle.rise_k for tag, bundle in warming.pathways.items()}
    return tuple(_warmed(project, cable, warming, rises_k) for cable in cables)


def _warmed(project: Project, cable: Cable, warming: Warming, rises_k: dict[str, float]) -> Cable:
    if cable.signal == LOUDSPEAKER_LINE:
        pathways = project.building.pathways
        rises_k = {tag: rise_k for tag, rise_k in rises_k.items() if not pathways[tag].divided}
    outside = warming.outside.get(cable.identity, ())
    warmth = temperature_segments(project, cable.route, cable.length_m, rises_k, outside)
    if cable.link_uses is None:
        return replace(cable, warmth=warmth)
    entry = project.library.cables.get(cable.model)
    bundles = [warming.pathways[tag] for tag in cable.route.pathways if tag in warming.pathways]
    uses = once_each(
        (
            cable.link_uses.warmth,
            *(bundle.rise.uses for bundle in bundles if bundle.rise),
            warming.outside_uses.get(cable.identity, ()),
        )
    )
    checked = link_checks(
        warmth,
        cable.cords_m,
        screened=bool(entry and entry.screened),
        cord_gauge_awg=project.brief.rules.cabling.cord_gauge,
        device_cord_m=sum(one.length_m for one in cable.cords if one.at == "device"),
        uses=replace(cable.link_uses, warmth=uses),
    )
    return replace(cable, warmth=warmth, checked=checked)
