"""Every working of the design in order, each with its chapter and its subject."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.connections.data_cables import Cable
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.pathways.pulling import PullRun
from proposal.design.power.port_power import PoweredPort
from proposal.design.power.power_budget import SwitchPower
from proposal.design.rooms.room_kinds import RoomKind, devices_uses
from proposal.design.workings.sizing_workings import sizing_workings
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.standards.reserve import ports_wanted
from proposal.standards.working import Working, working

SPARE_PORTS_USE = "project.rules.network.spare_ports"


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """A working with its chapter and what it is about."""

    chapter: str
    subject: str
    working: Working


def noted_workings(
    project: Project,
    kinds: Sequence[RoomKind],
    cables: Sequence[Cable],
    pathways: Sequence[PathwayDesign],
    runs: Sequence[PullRun],
    closets: Sequence[EquipmentRoomSwitches],
    ports: Sequence[PoweredPort],
    powers: Sequence[SwitchPower],
) -> tuple[Noted, ...]:
    """Return every working by chapter: sizing, cabling, pathways, network, power."""
    noted = [
        Noted(chapter="Sizing", subject=kind.key, working=one)
        for kind in kinds
        for one in sizing_workings(project, kind.layout, kind.sizing, ".".join(kind.path))
    ]
    noted += [
        Noted(chapter="Cabling", subject=cable.identity, working=one)
        for cable in cables
        for one in cable.checks
    ]
    noted += [
        Noted(chapter="Pathways", subject=pathway.tag, working=one)
        for pathway in pathways
        for one in pathway.checks
    ]
    noted += [
        Noted(chapter="Pathways", subject=run.conduits[0], working=pull.tension)
        for run in runs
        for pull in run.pulls
        if pull.tension is not None
    ]
    noted += [
        Noted(
            chapter="Network",
            subject=one.equipment_room,
            working=_ports_wanted(project, one, devices_uses(kinds)),
        )
        for one in closets
        if one.wanting
    ]
    noted += [
        Noted(chapter="Power", subject=f"{port.switch}/{port.port}", working=one)
        for port in ports
        for one in port.checks
    ]
    noted += [
        Noted(
            chapter="Power",
            subject=power.switch.device.tag,
            working=replace(one, uses=tuple(dict.fromkeys((*one.uses, *devices_uses(kinds))))),
        )
        for power in powers
        for one in power.checks
    ]
    return tuple(noted)


def _ports_wanted(project: Project, closet: EquipmentRoomSwitches, devices_uses: tuple[str, ...]) -> Working:
    """Return how many switch ports an equipment room wants."""
    return working(
        ports_wanted,
        unit="ports",
        uses=(SPARE_PORTS_USE, *devices_uses),
        devices=len(closet.wanting),
        spare=project.brief.rules.network.spare_ports,
    )
