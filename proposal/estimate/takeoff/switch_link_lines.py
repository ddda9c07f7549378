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
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for link in design.switch_links:
        for section, model in _pieces(link):
            grouped.setdefault((section, link.join.start_room, model), []).append(link.identity)
    return [
        line(
            project,
            section,
            project.library.entry(model),
            room,
            Decimal(len(causes)),
            NONE,
            tuple(dict.fromkeys(causes)),
        )
        for (section, room, model), causes in grouped.items()
    ]


def _pieces(link: SwitchLink) -> Iterator[tuple[str, str]]:
    """Yield section and model of each piece: modules, and cords but those of a copper cable.

    The cords of copper cables are counted with those of all such cables.
    """
    if link.module:
        yield from [("accessories", link.module)] * ENDS
    if link.cable is None or link.medium == "fibre":
        yield from (("patching", cord.model) for cord in link.cords if cord.model)
