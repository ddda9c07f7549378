"""Cables that carry no network: what they have in common, and loudspeaker lines."""

from collections.abc import Callable, Mapping, Sequence

from proposal.design.connections.amplifier_channels import AmplifierChannel
from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import loudspeaker_cable
from proposal.design.connections.cable_runs import (
    CableRun,
    length_by_hand,
    model_by_hand,
    room_cable_m,
    run_between,
    run_to_rack,
)
from proposal.design.connections.cable_temperature import temperature_segments
from proposal.design.connections.jackets import jacket_needs
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.zone_lines import line_of_each
from proposal.design.numbers.numbering import cable_identity
from proposal.design.pathways.routing import Router
from proposal.design.rooms.device_positions import FURNITURE
from proposal.design.solving.line_order import line_order
from proposal.model.project import Project

LOUDSPEAKER_PORT = "L1"


def loudspeaker_lines(
    project: Project,
    router: Router,
    devices: Sequence[Placed],
    channels: Mapping[str, AmplifierChannel],
    equipment_room: str,
    rack: str,
) -> list[Cable]:
    """Return the lines from the rack to a loudspeaker of each zone and on to the others, by the nearest way.

    router: finds the routes.
    devices: loudspeakers and amplifiers of the room.
    channels: of amplifiers, by the line that they play.
    equipment_room, rack: tags of where the lines come from; an amplifier that stands in the room is nearer.
    """
    loudspeakers = [device for device in devices if device.kind == "loudspeaker"]
    if not loudspeakers:
        return []
    layout = project.rooms[loudspeakers[0].room].layout
    names = line_of_each(project, layout)
    by_zone: dict[str, list[Placed]] = {}
    for device in loudspeakers:
        by_zone.setdefault(names[device.code], []).append(device)
    lines = []
    for name, zone in by_zone.items():
        channel = channels.get(name)
        beside = in_furniture(devices, channel.amplifier) if channel else None
        terminals = f"{channel.amplifier}/{channel.output}" if channel and channel.output else ""
        if beside and channel:
            terminals = channel.output
        to_rack = (
            {
                one.code: run_to_rack(
                    project, router, one, LOUDSPEAKER_PORT, equipment_room, rack, "loudspeaker lines"
                )
                for one in zone
            }
            if equipment_room and not beside
            else {}
        )
        chain = _nearest_way(project, zone, beside, to_rack, rack)
        for before, device in zip((None, *chain[:-1]), chain, strict=True):
            nearer = before or beside
            if nearer is None and not equipment_room:
                continue
            lie = run_between(project, device, LOUDSPEAKER_PORT, nearer) if nearer else to_rack[device.code]
            end_port = LOUDSPEAKER_PORT if before else terminals
            lines.append(
                line_cable(
                    project,
                    "loudspeaker line",
                    (device, LOUDSPEAKER_PORT, "terminals"),
                    lie,
                    loudspeaker_cable,
                    (end_port, "terminals"),
                )
            )
    return lines


def _nearest_way(
    project: Project,
    zone: Sequence[Placed],
    beside: Placed | None,
    to_rack: Mapping[str, CableRun],
    rack: str,
) -> list[Placed]:
    """Return the loudspeakers of a zone in the order that takes least cable from the amplifier on.

    beside: the amplifier where it stands in the room.  to_rack: how a cable lies from each to the rack.
    A cable that is written by hand is kept: what it begins at follows what it ends in.
    """
    if len(zone) == 1:
        return list(zone)
    by_hand = {
        name.rpartition("/")[0]: name.rpartition("/")[2]
        for name in project.fixed.cables
        if f"/{LOUDSPEAKER_PORT}/" in name
    }

    def length_m(one: Placed, end: str, route_m: float, slack_m: float) -> float | None:
        """Return the length of a cable, m; None where another one is written for its device."""
        wanted = by_hand.get(f"{one.tag}/{LOUDSPEAKER_PORT}", end)
        measured_m = length_by_hand(project, cable_identity(one.tag, LOUDSPEAKER_PORT, end))
        return None if wanted != end else route_m + slack_m if measured_m is None else measured_m

    def first_m(one: Placed) -> float | None:
        if beside:
            return between_m(one, beside)
        run = to_rack.get(one.code)
        return length_m(one, rack, run.route.length_m, run.slack_m) if run else 0.0

    def between_m(one: Placed, before: Placed) -> float | None:
        return length_m(one, before.tag, *room_cable_m(project, one, before))

    rows = [[None if one is before else between_m(one, before) for one in zone] for before in zone]
    return [zone[at] for at in line_order([first_m(one) for one in zone], rows)]


def in_furniture(devices: Sequence[Placed], tag: str) -> Placed | None:
    """Return a device of a room if it stands in the room's furniture, None where it stands in a rack.

    devices: of the room.  tag: of the device.
    """
    return next((one for one in devices if one.tag == tag and one.location == FURNITURE), None)


def line_cable(
    project: Project,
    signal: str,
    start: tuple[Placed, str, str],
    lie: CableRun,
    choice: Callable[[Project, tuple[str, ...]], str],
    end: tuple[str, str],
) -> Cable:
    """Return a cable that carries no network.

    signal: what it carries, in words.
    start: the device where it begins, its port and its connector.
    lie: how it lies, and what it ends in.
    choice: gives the model of cable for what its jacket has to be good for.
    end: the port where it ends, empty where it is not known, and the connector there.
    """
    device, port, connector = start
    end_port, end_connector = end
    identity = cable_identity(device.tag, port, lie.end)
    measured_m = length_by_hand(project, identity)
    length_m = lie.route.length_m + lie.slack_m if measured_m is None else measured_m
    needs = jacket_needs(project, lie.route, rises=device.storey != lie.end_storey)
    by_hand = model_by_hand(project, identity)
    return Cable(
        identity=identity,
        signal=signal,
        start=device.tag,
        start_port=port,
        start_connector=connector,
        end=lie.end,
        end_port=end_port,
        end_connector=end_connector,
        room=device.room,
        model=by_hand or choice(project, needs),
        start_storey=device.storey,
        end_storey=lie.end_storey,
        route=lie.route,
        slack_m=lie.slack_m,
        slack_ends_m=lie.slack_ends_m,
        length_m=length_m,
        measured=measured_m is not None,
        warmth=temperature_segments(project, lie.route, length_m, {}),
        uses=() if measured_m is not None else lie.uses,
        route_uses=lie.route_uses,
    )
