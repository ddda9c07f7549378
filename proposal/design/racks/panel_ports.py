"""The ports of patch panels in which cables end."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.cable import Cable
from proposal.design.connections.patching import PANELS, start_of
from proposal.design.numbers.numbering import PANEL, assign, device_code, issued_at, natural
from proposal.design.racks.panels import Panels
from proposal.model.project import Project


def with_panel_ports(
    project: Project, racks: Sequence[str], cables: Sequence[Cable], in_racks: Sequence[Panels]
) -> tuple[Cable, ...]:
    """Return the cables in order of identities, each data or fibre cable with the panel ports it ends in.

    racks: tags of all racks; in_racks: their patch panels. Where the library has none that suits, panels have
    as many ports as the rules assume. A port is kept as issued; else it is the lowest never given, and where
    all have been given, the lowest that is free.
    """
    ordered = sorted(cables, key=lambda cable: natural(cable.identity))
    numbers: dict[str, str] = {}
    for signal, (kind, medium) in PANELS.items():
        for rack in sorted(racks):
            ending = [cable.identity for cable in ordered if cable.end == rack and cable.signal == signal]
            ending += [
                start_of(cable.identity)
                for cable in ordered
                if cable.start_rack == rack and cable.signal == signal
            ]
            here = {
                number: one.entry.ports
                for one in in_racks
                if one.rack == rack and one.entry.medium == medium
                for number in one.numbers
            }
            places = _places(kind, here) or _assumed(project, kind, len(ending))
            given = assign(ending, {}, issued_at(project.issued, PANEL, rack), places)
            free = (place for place in places if place not in set(given.values()))
            given |= dict(zip((end for end in ending if end not in given), free, strict=False))
            numbers |= given
    return tuple(
        replace(
            cable,
            end_port=numbers.get(cable.identity, cable.end_port),
            start_panel=numbers.get(start_of(cable.identity), ""),
        )
        for cable in ordered
    )


def _places(kind: str, ports: Mapping[int, int]) -> list[str]:
    """Return all ports of panels, lowest first; ports: how many each has, by its number."""
    return [
        f"{device_code(kind, panel)}/{port}" for panel in sorted(ports) for port in range(1, ports[panel] + 1)
    ]


def _assumed(project: Project, kind: str, wanted: int) -> list[str]:
    """Return all ports of panels that nobody has named, enough for a number of ends."""
    usual = project.brief.rules.cabling.panel_ports
    whole = math.ceil(math.ceil(wanted / usual) * usual)
    return [f"{device_code(kind, n // usual + 1)}/{n % usual + 1}" for n in range(whole)]
