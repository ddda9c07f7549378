"""The data cables of a room: which there are, and the checks of each."""

from collections.abc import Mapping, Sequence

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import (
    AMBIENT_USE,
    CORD_GAUGE_USE,
    DATA_CABLE_USE,
    DEVICE_CORD_USE,
    EQUIPMENT_CORD_USE,
    LinkUses,
)
from proposal.design.connections.cable_choice import data_cable
from proposal.design.connections.cable_ends import PLUG
from proposal.design.connections.cable_runs import (
    CableRun,
    length_by_hand,
    model_by_hand,
    run_between,
    run_to_rack,
)
from proposal.design.connections.cable_temperature import temperature_segments
from proposal.design.connections.jackets import jacket_needs, jacket_uses
from proposal.design.connections.patch_cords import CordEnd, cord
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import cable_identity
from proposal.design.pathways.routing import Router
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.standards import ieee8023

CORD_USES: Mapping[CordEnd, str] = {"rack": EQUIPMENT_CORD_USE, "device": DEVICE_CORD_USE}
UNCABLED = ("microphone", "wired_microphone", "loudspeaker")
PANEL_JACK = "8P8C jack"


def data_cables(
    project: Project,
    router: Router,
    devices: Sequence[Placed],
    host: Placed | None,
    equipment_room: str,
    rack: str,
) -> list[Cable]:
    """Return the data cables of one room.

    project: rules, building, library and measured lengths.
    router: finds the routes.
    devices: the room's devices.
    host: the breakout or switch that serves the room, None where every device goes to the rack.
    equipment_room, rack: tags of where cables end; empty where none leaves the room.
    """
    cables = []
    for device in devices:
        entry = project.library.entry(device.model) if device.model else None
        if not isinstance(entry, Device) or device.location == rack or device.kind in UNCABLED:
            continue
        port = entry.joined_port
        if not port:
            continue
        if host is None or device == host:
            if not equipment_room:
                continue
            lie = run_to_rack(project, router, device, port, equipment_room, rack)
            ends: tuple[CordEnd, ...] = ("rack",) if entry.termination == "plug" else ("rack", "device")
        else:
            lie = run_between(project, device, port, host)
            # It is plugged into the breakout's own switch; a cord is at its outlet alone, if it has one.
            ends = () if entry.termination == "plug" else ("device",)
        cables.append(data_cable_of(project, device, entry, port, lie, ends))
    return cables


def data_cable_of(
    project: Project,
    device: Placed,
    entry: Device,
    port: str,
    lie: CableRun,
    cord_ends: tuple[CordEnd, ...],
) -> Cable:
    """Return a data cable, its temperatures and checks left for when all cables have their routes.

    device, entry, port: where it begins.
    lie: how it lies.
    cord_ends: the ends at which there is a patch cord.
    """
    identity = cable_identity(device.tag, port, lie.end)
    measured_m = length_by_hand(project, identity)
    length_m = lie.route.length_m + lie.slack_m if measured_m is None else measured_m
    by_hand = model_by_hand(project, identity)
    needs = jacket_needs(project, lie.route, rises=device.storey != lie.end_storey)
    model = by_hand or data_cable(project, entry.needs_screened_cable, needs)
    cable = project.library.cables.get(model)
    poe_class = entry.poe.device_class if entry.poe and entry.powered_by == "PoE" else None
    jacket = () if by_hand else jacket_uses(project, lie.route, device.storey, lie.end_storey)
    cords = tuple(one for end in cord_ends if (one := cord(project, end, cable)))
    cord_uses = (*(CORD_USES[end] for end in cord_ends), *((CORD_GAUGE_USE,) if cord_ends else ()))
    if cord_ends and not by_hand:
        # The category and the screen of the cable are asked of its cords.
        cord_uses += (DATA_CABLE_USE, *jacket)
    uses = () if measured_m is not None else lie.uses
    warmth_uses = (*_warmth_uses(project, lie, bool(by_hand)), *jacket)
    return Cable(
        identity=identity,
        signal="network",
        start=device.tag,
        start_port=port,
        start_connector=PLUG if entry.termination == "plug" else "outlet",
        end=lie.end,
        end_port="",
        end_connector=PANEL_JACK if "rack" in cord_ends else PLUG,
        room=device.room,
        model=model,
        start_storey=device.storey,
        end_storey=lie.end_storey,
        route=lie.route,
        slack_m=lie.slack_m,
        slack_ends_m=lie.slack_ends_m,
        length_m=length_m,
        measured=measured_m is not None,
        warmth=temperature_segments(project, lie.route, length_m, {}),
        source_w=0.0 if poe_class is None else ieee8023.CLASSES[poe_class].source_power_w,
        poe_class=poe_class,
        cords=cords,
        screened_wanted=entry.needs_screened_cable,
        uses=uses,
        route_uses=lie.route_uses,
        link_uses=LinkUses(length=uses, warmth=warmth_uses, cords=cord_uses),
    )


def _warmth_uses(project: Project, lie: CableRun, by_hand: bool) -> tuple[str, ...]:
    """Return the dotted paths of the inputs behind the air around a cable and its kind.

    Where spaces are described, both rest on the way that the cable takes through them.
    """
    spaces = dict.fromkeys(stretch.space for stretch in lie.route.stretches if stretch.space)
    return (
        AMBIENT_USE,
        *(f"building.spaces.{tag}.temperature" for tag in spaces),
        *(() if by_hand else (DATA_CABLE_USE,)),
        *(lie.uses if project.building.spaces else ()),
    )
