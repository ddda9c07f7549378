"""Lines of the take-off for the links between switches: fibre modules, and cords in racks."""

from collections.abc import Iterator
from decimal import Decimal

from proposal.design.connections.switch_links import SwitchLink
from proposal.design.design import Design
from proposal.estimate.takeoff.lines import TakeoffLine, line
from proposal.model.project import Project

ENDS = 2
NONE = Decimal(0)


def switch_link_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return what the links between switches take beside their cables, by the room of the farther switch."""
    return [one for link in design.switch_links for one in _of_link(project, link)]


def _of_link(project: Project, link: SwitchLink) -> Iterator[TakeoffLine]:
    room, causes = link.join.start_room, (link.identity,)
    if link.module:
        entry = project.library.entry(link.module)
        yield line(project, "accessories", entry, room, Decimal(ENDS), NONE, causes)
    counts: dict[str, int] = {}
    for cord in link.cords:
        # Those of a copper cable are counted with the cords of all such cables.
        if cord.model and (link.cable is None or link.medium == "fibre"):
            counts[cord.model] = counts.get(cord.model, 0) + 1
    for model, count in counts.items():
        yield line(project, "patching", project.library.entry(model), room, Decimal(count), NONE, causes)
