"""Which amplifiers a room takes: a channel for the line of each zone that carries it with headroom."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.equipment.device_capacity import Size, options_of, size_of
from proposal.design.equipment.line_loads import (
    ZoneLoad,
    carries,
    drives,
    hung_as_laid_out,
    usable_w,
)
from proposal.design.equipment.zone_lines import line_loads, lines_of
from proposal.design.solving.objective import cover
from proposal.model.project import Project
from proposal.model.rooms import RoomType

MOST_GROUPS = 32
"""Sets of models over which it is counted that there are channels enough."""


def amplifier_size(project: Project, layout: RoomType) -> Size:
    """Return the least-cost amplifiers of a room: every line has a channel of its own that carries it.

    layout: with loudspeakers.
    A line that no amplifier of the library carries counts for those that come nearest. Without an amplifier
    in the library the size has no models.
    """
    zones = lines_of(project, layout)
    loads = line_loads(project, layout, hung_as_laid_out(project, layout))
    options = options_of(project, "amplifier")
    codes = frozenset(option.code for option in options)
    good = [_good_for(project, loads[zone], codes) if zone in loads else codes for zone in zones]
    groups = _groups(good)
    # Zones have channels of their own where each set of models has as many as zones that it alone can play.
    needs = tuple(sum(one <= group for one in good) for group in groups)
    asked = tuple(
        replace(option, gives=tuple(option.gives[0] if option.code in group else 0 for group in groups))
        for option in options
    )
    chosen = cover(asked, needs) or ()
    return size_of("amplifier", len(zones), chosen, project.library.of_kind("amplifier"), by_hand=False)


def _good_for(project: Project, load: ZoneLoad, codes: frozenset[str]) -> frozenset[str]:
    """Return the models that carry a line, else those that come nearest."""
    amplifiers = {code: project.library.amplifiers[code] for code in codes}
    good = frozenset(code for code, one in amplifiers.items() if carries(project, one, load))
    if good:
        return good
    driving = {code: one for code, one in amplifiers.items() if drives(one, load)} or amplifiers
    most_w = max((usable_w(project, one, load) for one in driving.values()), default=0.0)
    return frozenset(code for code, one in driving.items() if usable_w(project, one, load) >= most_w)


def _groups(good: Sequence[frozenset[str]]) -> list[frozenset[str]]:
    """Return all unions of sets of models, each once, in an order of their own."""
    groups: list[frozenset[str]] = []
    for one in dict.fromkeys(good):
        for joined in (one, *(one | group for group in groups)):
            if joined not in groups and len(groups) < MOST_GROUPS:
                groups.append(joined)
    return groups
