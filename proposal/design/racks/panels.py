"""The patch panels of each rack."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proposal.design.connections.cable_ends import suits
from proposal.design.connections.data_cables import Cable
from proposal.design.connections.patch_cords import CATEGORIES
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.solving.objective import Option, cover
from proposal.model.equipment.materials import PatchPanel
from proposal.model.project import Project

SIGNAL_OF = {"network": "copper", "fibre": "fibre"}
"""The medium of the panels that cables of a signal end on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panels:
    """The patch panels of one model in one rack.

    causes: identities of the cables that end or begin on the rack's panels of that medium.
    """

    rack: str
    entry: PatchPanel
    count: int
    causes: tuple[str, ...]


def panels(project: Project, racks: Sequence[str], cables: Sequence[Cable]) -> tuple[Panels, ...]:
    """Return the least-cost patch panels of each rack, fibre first: a port there takes both fibres of a link.

    racks: tags of the racks; cables: of the whole building.
    """
    ending: dict[tuple[str, str], list[Cable]] = {}
    for cable in cables:
        for rack in (cable.end, cable.start_rack):
            if rack in racks and cable.signal in SIGNAL_OF:
                ending.setdefault((rack, SIGNAL_OF[cable.signal]), []).append(cable)
    found = []
    for medium in ("fibre", "copper"):
        for (rack, _), here in sorted(item for item in ending.items() if item[0][1] == medium):
            fitting = _fitting(project, medium, here)
            options = tuple(
                Option(code, cost_of_one(project, entry), (entry.ports,)) for code, entry in fitting.items()
            )
            causes = tuple(cable.identity for cable in here)
            found += [
                Panels(rack=rack, entry=fitting[code], count=count, causes=causes)
                for code, count in cover(options, (len(here),)) or ()
            ]
    return tuple(found)


def _fitting(project: Project, medium: str, cables: Sequence[Cable]) -> Mapping[str, PatchPanel]:
    """Return the panels that suit every cable of a medium."""
    of_medium = {code: one for code, one in project.library.patch_panels.items() if one.medium == medium}
    if medium == "fibre":
        return of_medium
    entries = project.library.cables
    strictest = max(
        (entries[cable.model] for cable in cables if cable.model in entries),
        key=lambda one: (one.screened, CATEGORIES.index(one.category)),
        default=None,
    )
    if strictest is None:
        return {}
    return {code: one for code, one in of_medium.items() if suits(one.category, one.screened, strictest)}
