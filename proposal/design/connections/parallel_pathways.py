"""Conduits side by side between the same two nodes: they share their cables before one is overfull."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import Stretch
from proposal.design.pathways.pathway_graph import pathway_length_m
from proposal.model.pathways.pathways import ROUND_KINDS
from proposal.model.project import Project
from proposal.standards import nfpa70

_CARRIED = {"loudspeaker line": "loudspeaker lines", "network": "network"}
_Place = tuple[frozenset[str], str, str]


def shared_among_parallel(project: Project, cables: Sequence[Cable]) -> tuple[Cable, ...]:
    """Return the cables, those of an overfull conduit or sleeve shared with others beside it.

    cables: all of the design. Those whose route is fixed by hand stay where they are.
    Cables stay in the first of them, in order of identities, as far as its fill allows; what none has room
    for stays where it was.
    """
    found = {cable.identity: cable for cable in cables}
    for tags in _parallel(project):
        lying = [cable for cable in found.values() if set(tags) & set(cable.route.pathways)]
        lying.sort(key=lambda cable: natural(cable.identity))
        if not all(holds(project, tag, [one for one in lying if tag in one.route.pathways]) for tag in tags):
            for identity, tag in _shared(project, tags, lying).items():
                found[identity] = _moved(project, found[identity], tags, tag)
    return tuple(found[cable.identity] for cable in cables)


def holds(project: Project, tag: str, cables: Sequence[Cable]) -> bool:
    """Return whether a conduit or sleeve holds cables within its fill; the largest size where it is free.

    tag: of the conduit.
    """
    return _fits(project, tag, [_diameter_m(project, cable) for cable in cables])


def _fits(project: Project, tag: str, diameters_m: Sequence[float]) -> bool:
    size = project.building.pathways[tag].size
    tubing = list(nfpa70.TUBING.values())[-1] if size == "choose" else nfpa70.TUBING[size]
    ours = [diameter_m for diameter_m in diameters_m if diameter_m > 0]
    if not ours:
        return True
    known = [*project.building.pathways[tag].owner_cables, *ours]
    return nfpa70.conduit_fill(known, tubing.area_m2) <= nfpa70.permitted_fill(len(known)) + 1e-12


def _diameter_m(project: Project, cable: Cable) -> float:
    entry = cable_entries(project).get(cable.model)
    return entry.outside_diameter if entry else 0.0


def _parallel(project: Project) -> list[list[str]]:
    """Return the tags of conduits and sleeves that join the same two nodes in one space, in order."""
    groups: dict[_Place, list[str]] = {}
    for tag in sorted(project.building.pathways, key=natural):
        pathway = project.building.pathways[tag]
        if pathway.kind in ROUND_KINDS:
            place = frozenset(pathway.between), pathway.kind, pathway.space
            groups.setdefault(place, []).append(tag)
    return [tags for tags in groups.values() if len(tags) > 1]


def _shared(project: Project, tags: Sequence[str], lying: Sequence[Cable]) -> dict[str, str]:
    """Return the conduit of each cable that moves, by its identity."""
    held: dict[str, list[Cable]] = {tag: [] for tag in tags}
    free = []
    for cable in lying:
        fixed = project.fixed.cables.get(cable.identity)
        if fixed is not None and fixed.route:
            held[next(tag for tag in tags if tag in cable.route.pathways)].append(cable)
        else:
            free.append(cable)
    moves = {}
    for tag in tags:
        carries = project.building.pathways[tag].carries
        may = [one for one in free if carries in ("anything", _CARRIED.get(one.signal, "anything"))]
        # Two fill less than three may, so that it is the whole number that counts.
        most = next(n for n in range(len(may), -1, -1) if n == 0 or holds(project, tag, held[tag] + may[:n]))
        for cable in may[:most]:
            free.remove(cable)
            if tag not in cable.route.pathways:
                moves[cable.identity] = tag
    return moves


def _moved(project: Project, cable: Cable, tags: Sequence[str], tag: str) -> Cable:
    """Return a cable whose way leads through another of several conduits."""

    def through(stretch: Stretch) -> Stretch:
        if stretch.pathway not in tags:
            return stretch
        return replace(stretch, name=tag, length_m=pathway_length_m(project, tag), pathway=tag)

    route = replace(cable.route, stretches=tuple(through(one) for one in cable.route.stretches))
    longer_m = 0.0 if cable.measured else route.length_m - cable.route.length_m
    return replace(cable, route=route, length_m=cable.length_m + longer_m)
