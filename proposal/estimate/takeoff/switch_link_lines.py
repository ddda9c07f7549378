"""Lines of the take-off for the links between switches: their fibre modules."""

from decimal import Decimal

from proposal.design.design import Design
from proposal.estimate.takeoff.lines import TakeoffLine, line
from proposal.model.project import Project

ENDS = 2
NONE = Decimal(0)


def switch_link_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return the fibre modules of the links between switches, by the room of the farther switch."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for link in design.switch_links:
        if link.module:
            modules = grouped.setdefault((link.join.start_room, link.module), [])
            modules += [link.identity] * ENDS
    return [
        line(
            project,
            "accessories",
            project.library.entry(model),
            room,
            Decimal(len(causes)),
            NONE,
            tuple(dict.fromkeys(causes)),
        )
        for (room, model), causes in grouped.items()
    ]
