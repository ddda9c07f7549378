"""The cord between a switch and a PoE source in its rack, as part of the channel that it is in."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from proposal.design.connections.cable import Cable
from proposal.design.connections.patch_cords import cord
from proposal.model.project import Project


def with_cords_of_injectors(
    project: Project, cables: Iterable[Cable], fed: Collection[str]
) -> Iterator[Cable]:
    """Yield cables, those of devices fed by a PoE source with one more cord in the rack, as their last one.

    cables: with their cords, before their channels are checked.
    fed: tags of such devices.
    """
    for cable in cables:
        one = None
        if cable.signal == "network" and cable.start in fed:
            one = cord(project, "rack", project.library.cables.get(cable.model))
        yield replace(cable, cords=(*cable.cords, one)) if one else cable
