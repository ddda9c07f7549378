"""The calculations of a design in order, each with its chapter and its subject."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from proposal.design.design import Design
from proposal.design.mains.mains_workings import mains_workings
from proposal.design.mains.standby_workings import standby_workings
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.rooms.room_kinds import devices_uses
from proposal.design.sound.line_workings import line_workings
from proposal.design.workings.calculation import Calculation
from proposal.design.workings.charging_workings import meeting_day_workings
from proposal.design.workings.radio_workings import radio_workings
from proposal.design.workings.sizing_workings import sizing_workings
from proposal.model.project import Project
from proposal.standards.reserve import ports_wanted
from proposal.standards.working import Working, working

SPARE_PORTS_USE = "project.rules.network.spare_ports"


def calculations(design: Design) -> tuple[Calculation, ...]:
    """Return every calculation, chapter by chapter."""
    project = design.project
    return (
        *_calculated("Sizing", _sizing(design)),
        *_calculated("Cabling", ((cable.identity, one) for cable in design.cables for one in cable.checks)),
        *_calculated("Pathways", _pathways(design)),
        *_calculated("Network", _network(design)),
        *_calculated("Power", _power(design)),
        *_calculated("Sound", _sound(design)),
        *meeting_day_workings(design.kinds, design.days),
        *_calculated(
            "Meeting day", ((one.key, one.life) for one in design.pack_lives if one.life is not None)
        ),
        *mains_workings(design.circuits, design.energy),
        *standby_workings(project, design.racks),
        *_calculated("Loudspeaker lines", line_workings(project, design.loudspeaker_lines)),
        *_calculated("Radio", radio_workings(project, design.kinds, design.entries, design.radio)),
    )


def _calculated(chapter: str, workings: Iterable[tuple[str, Working]]) -> Iterator[Calculation]:
    """Yield the calculations of a chapter, of its workings by subject."""
    return (Calculation(chapter=chapter, subject=subject, working=one) for subject, one in workings)


def _sizing(design: Design) -> Iterator[tuple[str, Working]]:
    for kind in design.kinds:
        for one in sizing_workings(design.project, kind.layout, kind.sizing, ".".join(kind.path)):
            yield kind.key, one


def _pathways(design: Design) -> Iterator[tuple[str, Working]]:
    for pathway in design.pathways:
        for one in pathway.checks:
            yield pathway.tag, one
    for run in design.pull_runs:
        for pull in run.pulls:
            if pull.tension is not None:
                yield run.conduits[0], pull.tension


def _network(design: Design) -> Iterator[tuple[str, Working]]:
    for one in design.closets:
        if one.wanting:
            yield one.equipment_room, _ports_wanted(design.project, one, devices_uses(design.kinds))


def _power(design: Design) -> Iterator[tuple[str, Working]]:
    for port in design.ports:
        for one in port.checks:
            yield port.full_name, one
    # What a switch gives in all rests on how the rooms were sized too.
    uses = devices_uses(design.kinds)
    for power in design.switches:
        for one in power.checks:
            yield power.switch.device.tag, replace(one, uses=tuple(dict.fromkeys((*one.uses, *uses))))


def _sound(design: Design) -> Iterator[tuple[str, Working]]:
    """Yield the delays of each room once, though many ways of sound have the same."""
    yield from dict.fromkeys((path.spoken_in, one) for path in design.delays for one in path.workings)


def _ports_wanted(project: Project, closet: EquipmentRoomSwitches, devices_uses: tuple[str, ...]) -> Working:
    """Return how many switch ports an equipment room wants."""
    return working(
        ports_wanted,
        unit="ports",
        uses=(SPARE_PORTS_USE, *devices_uses),
        devices=len(closet.wanting),
        spare=project.brief.rules.network.spare_ports,
    )
