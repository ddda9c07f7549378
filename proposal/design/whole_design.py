"""The design of a project, made step by step."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.bundle_warming import warming
from proposal.design.connections.cable import Cable
from proposal.design.connections.cables_by_pathway import laid_by_pathway
from proposal.design.connections.injector_cords import with_cords_of_injectors
from proposal.design.connections.line_conductors import with_conductors
from proposal.design.connections.parallel_pathways import shared_among_parallel
from proposal.design.connections.switch_links import SwitchLink, switch_links
from proposal.design.connections.warmed_cables import warmed_cables
from proposal.design.decisions_by_hand import wrong_decisions
from proposal.design.design import Design
from proposal.design.equipment.placed_devices import Placed, by_hand
from proposal.design.network.addresses import addresses
from proposal.design.network.multicast_querier import querier_of
from proposal.design.network.network_uses import control_only
from proposal.design.network.port_demand import SwitchPorts
from proposal.design.network.streams import Stream
from proposal.design.network.switch_joins import switch_joins
from proposal.design.network.switches_and_ports import closet
from proposal.design.network.uplink_loads import uplink_loads
from proposal.design.numbers.numbering import IssuedNumbers, device_tag, natural
from proposal.design.owner.owner_devices import entries_of, owner_devices, owner_switches
from proposal.design.owner.owner_streams import with_owner_tags
from proposal.design.pathways.fill import pathway_designs
from proposal.design.pathways.penetrations import penetrations
from proposal.design.pathways.pulling import pull_runs
from proposal.design.pathways.routing import Router
from proposal.design.power.port_power import PoweredPort, powered_port
from proposal.design.power.power_budget import switch_power
from proposal.design.racks.panel_ports import with_panel_ports
from proposal.design.racks.panels import panels
from proposal.design.racks.rack_choice import RackDesign, rack_designs
from proposal.design.racks.standby_choice import placed_supply, standby_devices
from proposal.design.room_designs import RoomDesign, library_entries, room_design, with_lines, with_owners
from proposal.design.rooms.device_positions import placed_access_points
from proposal.design.rooms.room_kinds import devices_uses, room_kinds
from proposal.design.sound.carried_sound import room_ends
from proposal.design.sound.channels import channel_plan
from proposal.design.wanted_ports import switch_of_devices, wanted_ports
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.steps import Doing, plainly


def design(project: Project, do: Doing = plainly) -> Design:
    """Return what follows from a project.

    do: does each step of it, or knows its result from a project that differs little.
    """
    if project.issued:
        project = project.model_copy(update={"issued": IssuedNumbers(project.issued)})
    kinds = do(room_kinds, project)
    kind_of = {tag: kind for kind in kinds for tag in kind.rooms}
    router = Router(project)
    hung = {kind.key: do(placed_access_points, project, kind.layout, kind.sizing) for kind in kinds}
    rooms = tuple(
        room_design(project, router, tag, kind_of[tag], hung[kind_of[tag].key], do)
        for tag in sorted(project.rooms, key=natural)
    )
    channels = do(channel_plan, project, [(room.tag, room.devices, room.cables) for room in rooms])
    ends_of = {
        room.tag: do(room_ends, project, room.tag, room.devices, room.amplifier_channels, channels)
        for room in rooms
    }
    owners = do(owner_devices, project, kinds)
    rooms = do(with_lines, project, router, rooms, ends_of, owners)
    rooms, joins_of_owner = do(with_owners, project, router, rooms, owners, ends_of)
    in_closets = [one.device for one in owners if one.device.room in project.building.equipment_rooms]
    devices = [device for room in rooms for device in room.devices] + _racks(project) + in_closets
    entries = do(library_entries, project, devices)
    every_entry = {**entries, **entries_of(owners)}
    supplies = do(standby_devices, project)
    asking = [one.device for one in owners if one.device in in_closets and one.on_network]
    asking += [device for device, _ in supplies]
    entries_asking = {**every_entry, **{device.tag: entry for device, entry in supplies}}
    closets = tuple(
        do(
            closet,
            project,
            tag,
            do(wanted_ports, project, tag, rooms, asking, entries_asking),
            owner_switches(project, owners, tag),
        )
        for tag in sorted(project.building.equipment_rooms, key=natural)
    )
    switches = [switch for one in closets for switch in one.switches]
    injectors = [one for closet in closets for one in closet.injectors]
    devices += [switch.device for switch in switches if not switch.offered]
    devices += [one.device for one in injectors]
    devices.sort(key=lambda device: natural(device.tag))
    entries = do(library_entries, project, devices)
    every_entry = {**entries, **entries_of(owners)}
    joins = do(switch_joins, project, closets, entries)
    in_racks = {switch.device.tag: switch.device for switch in switches}
    links = do(switch_links, project, router, joins, in_racks, entries)
    between = [link.cable for link in links if link.cable]
    fed = {one.feeds for one in injectors} | {one.feeds for room in rooms for one in room.injectors}
    cables = (*with_cords_of_injectors(project, (c for room in rooms for c in room.cables), fed), *between)
    racks_there = [device.tag for device in devices if device.kind == "rack"]
    in_rack = do(panels, project, racks_there, cables)
    cables = do(with_panel_ports, project, racks_there, cables, in_rack)
    cables = do(shared_among_parallel, project, cables)
    bundles = do(warming, project, cables, devices_uses(kinds))
    sounding = {room.tag: room.amplifier_channels for room in rooms}
    cables = do(with_conductors, project, do(warmed_cables, project, cables, bundles), devices, sounding)
    finished = {cable.identity: cable for cable in cables}
    rooms = tuple(
        replace(room, cables=tuple(finished[cable.identity] for cable in room.cables)) for room in rooms
    )
    laid = do(laid_by_pathway, project, cables)
    pathways, runs = do(pathway_designs, project, laid, bundles.pathways), do(pull_runs, project, laid)
    switches += [room.own_switch for room in rooms if room.own_switch]
    by_identity = {cable.identity: cable for cable in cables}
    ports: list[PoweredPort] = []
    powers = []
    for switch in switches:
        of_switch = do(_powered_ports, project, switch, by_identity, every_entry)
        ports += of_switch.values()
        powers.append(do(switch_power, switch, of_switch, entries.get(switch.device.tag)))
    racks = do(rack_designs, project, devices, every_entry, in_rack, ports, owners)
    devices = do(_in_racks, project, devices, racks)
    placed = {device.tag: device for device in devices}
    rooms = tuple(
        replace(room, devices=tuple(placed[device.tag] for device in room.devices)) for room in rooms
    )
    entries = do(library_entries, project, devices)
    wanted = [(tag, _addresses_of(entry)) for tag, entry in entries.items()]
    wanted += [(one.device.tag, one.written.addresses) for one in owners if one.on_network]
    given = do(addresses, project, wanted, control_only(entries))
    return Design(
        project=project,
        kinds=kinds,
        rooms=rooms,
        devices=tuple(devices),
        entries=entries,
        owners=owners,
        owner_joins=joins_of_owner,
        cables=cables,
        pathways=pathways,
        pull_runs=runs,
        penetrations=do(penetrations, project, pathways),
        closets=closets,
        switch_joins=joins,
        switch_links=_with_cables(links, cables),
        uplink_loads=do(
            uplink_loads,
            joins,
            [link.speed_bit_per_s for link in links],
            with_owner_tags(_leaving(channels.streams, rooms), owners),
            switch_of_devices(closets, rooms),
            entries,
            querier_of(closets, entries, joins),
        ),
        ports=tuple(ports),
        switches=tuple(powers),
        panels=in_rack,
        racks=racks,
        addresses=given,
        channels=channels,
        amplifier_channels=tuple(one for room in rooms for one in room.amplifier_channels.values()),
        ends=tuple(end for room in rooms for end in ends_of[room.tag]),
        wrong_by_hand=do(wrong_decisions, project, devices, cables),
    )


def _powered_ports(
    project: Project, switch: SwitchPorts, cables: Mapping[str, Cable], entries: Mapping[str, Device]
) -> Mapping[int, PoweredPort]:
    """Return what every port of a switch gives, by number."""
    return {number: powered_port(project, switch, number, cables, entries) for number in switch.ports}


def _leaving(streams: Sequence[Stream], rooms: Sequence[RoomDesign]) -> tuple[Stream, ...]:
    """Return the streams of rooms whose network is one with the building's."""
    apart = {room.tag for room in rooms if room.apart}
    return tuple(stream for stream in streams if stream.room not in apart)


def _with_cables(links: Sequence[SwitchLink], cables: Sequence[Cable]) -> tuple[SwitchLink, ...]:
    """Return the links between switches, each with its cable as it ends on panels."""
    by_identity = {cable.identity: cable for cable in cables}
    return tuple(
        replace(link, cable=by_identity[link.cable.identity]) if link.cable else link for link in links
    )


def _in_racks(project: Project, devices: Sequence[Placed], racks: Sequence[RackDesign]) -> list[Placed]:
    """Return the devices, each at the rack where it stands, racks with their models and standby supplies."""
    rack_of = {item.name: rack.device.tag for rack in racks for item in rack.layout.items}
    found = [
        replace(device, location=rack_of.get(device.tag, device.location))
        for device in devices
        if device.kind != "rack"
    ]
    found += [rack.device for rack in racks]
    for rack in racks:
        standby = rack.layout.standby
        if standby and standby.entry:
            found.append(placed_supply(project, standby.asked, rack.device.tag, standby.entry.model))
    return sorted(found, key=lambda device: natural(device.tag))


def _racks(project: Project) -> list[Placed]:
    """Return the racks that the building names as devices, those without a model by hand without one."""
    racks = [
        Placed(
            tag=device_tag(tag, code),
            code=code,
            kind="rack",
            model=rack.model,
            room=tag,
            storey=place.storey,
            at=place.at,
            height_m=0.0,
            location=tag,
        )
        for tag, place in sorted(project.building.equipment_rooms.items())
        for code, rack in sorted(place.racks.items())
    ]
    return [by_hand(rack, project.fixed.devices.get(rack.tag)) for rack in racks]


def _addresses_of(entry: Device) -> int:
    return entry.network.addresses if entry.network else 0
