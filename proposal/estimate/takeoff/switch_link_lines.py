"""Lines of the take-off for the links between switches: their fibre modules."""

from decimal import Decimal

from proposal.design.design import Design
from proposal.estimate.takeoff.lines import TakeoffLine, line
from proposal.model.project import Project

NONE = Decimal(0)


def switch_link_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return the fibre modules of the links between switches, each in the room of its end."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for link in design.switch_links:
        if link.module:
            for room in (link.join.start_room, link.join.end_room):
                grouped.setdefault((room, link.module), []).append(link.identity)
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
