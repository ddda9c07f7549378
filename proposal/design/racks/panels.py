"""The patch panels of each rack."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from itertools import islice

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_ends import JACK, suits
from proposal.design.connections.patch_cords import CATEGORIES
from proposal.design.connections.patching import panel_port, start_of
from proposal.design.equipment.unit_costs import cost_of_one, unit_cost
from proposal.design.numbers.numbering import PANEL, issued_at
from proposal.design.solving.objective import Option, cover
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Connector, PatchPanel
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded

SIGNAL_OF = {"network": "copper", "fibre": "fibre"}
"""The medium of the panels that cables of a signal end on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panels:
    """The patch panels of one model in one rack.

    numbers: what they are numbered in the rack, among the panels of their medium.
    causes: identities of the cables that end or begin on the rack's panels of that medium.
    """

    rack: str
    entry: PatchPanel
    numbers: tuple[int, ...]
    causes: tuple[str, ...]

    @property
    def count(self) -> int:
        """Return how many there are."""
        return len(self.numbers)


def panels(project: Project, racks: Sequence[str], cables: Sequence[Cable]) -> tuple[Panels, ...]:
    """Return the least-cost patch panels of each rack, fibre first: a port there takes both fibres of a link.

    racks: tags of the racks; cables: of the whole building.
    There are as many as hold all cables, and as are named by issued ports of cables that still end there.
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
            most_ports = max((one.ports for one in fitting.values()), default=0)
            named = _named(project, rack, medium, here, most_ports)
            options = tuple(
                Option(code, _cost(project, entry), (entry.ports, 1)) for code, entry in fitting.items()
            )
            chosen = cover(options, (len(here), len(named))) or ()
            # Those with the most ports first, so that an issued port is on its panel.
            most_first = sorted(chosen, key=lambda pair: -fitting[pair[0]].ports)
            numbers = iter(_numbers(named, sum(count for _, count in chosen)))
            found += [
                Panels(
                    rack=rack,
                    entry=fitting[code],
                    numbers=tuple(islice(numbers, count)),
                    causes=tuple(cable.identity for cable in here),
                )
                for code, count in most_first
            ]
    return tuple(found)


def _named(
    project: Project, rack: str, medium: str, cables: Sequence[Cable], most_ports: int
) -> tuple[int, ...]:
    """Return the panels of a rack on which cables have had their ports since an issued revision.

    most_ports: of the panels that suit.
    """
    issued = issued_at(project.issued, PANEL, rack)
    ends = [cable.identity if cable.end == rack else start_of(cable.identity) for cable in cables]
    places = [panel_port(issued[end].number, medium) for end in ends if end in issued]
    return tuple(sorted({panel for panel, port in places if panel and port <= most_ports}))


def _numbers(named: Sequence[int], count: int) -> list[int]:
    """Return the numbers of panels: those named, and the lowest besides."""
    besides = (number for number in range(1, len(named) + count + 1) if number not in named)
    return sorted((*named, *islice(besides, count - len(named))))


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
    return {
        code: one
        for code, one in of_medium.items()
        if suits(one.category, one.screened, strictest) and (one.loaded or panel_jack(project, one))
    }


def panel_jack(project: Project, panel: PatchPanel) -> Connector | None:
    """Return the least-cost jack for the ports of a panel that comes without; None where none is as good.

    panel: of copper; every port of it gets one.
    """
    if panel.category is None:
        return None
    least = CATEGORIES.index(panel.category)
    fitting = [
        (unit_cost(project, one) / one.pack_quantity, code)
        for code, one in project.library.connectors.items()
        if one.signal == "network"
        and one.form == JACK
        and one.category is not None
        and CATEGORIES.index(one.category) >= least
        and (one.screened or not panel.screened)
    ]
    return project.library.connectors[min(fitting)[1]] if fitting else None


def _cost(project: Project, panel: PatchPanel) -> Decimal:
    """Return what a panel costs with a jack in every port."""
    jack = None if panel.loaded else panel_jack(project, panel)
    jacks = panel.ports * unit_cost(project, jack) / jack.pack_quantity if jack else Decimal(0)
    return rounded(cost_of_one(project, panel) + jacks, smallest_unit(project.brief.currency))
