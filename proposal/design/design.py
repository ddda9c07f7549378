"""The design: everything that follows from a project, joined."""

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from proposal.design.charging.pack_life import PackLife, pack_lives
from proposal.design.charging.portable_charging import charged_as_it_is_used
from proposal.design.charging.room_days import RoomDay, room_days
from proposal.design.connections.amplifier_channels import AmplifierChannel
from proposal.design.connections.cable import Cable
from proposal.design.connections.switch_links import SwitchLink
from proposal.design.decisions_by_hand import WrongDecision
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.addresses import Addresses
from proposal.design.network.multicast_querier import querier_of
from proposal.design.network.switch_joins import SwitchJoins
from proposal.design.network.switch_paths import OWNERS_NETWORK, SwitchWays
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.network.uplink_loads import UplinkLoad
from proposal.design.owner.owner_devices import OwnerDevice, entries_of
from proposal.design.owner.owner_joins import OwnerJoin
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.pathways.penetrations import Penetration
from proposal.design.pathways.pulling import PullRun
from proposal.design.pathways.runs_outside import RunOutside, runs_outside
from proposal.design.power.port_power import PoweredPort
from proposal.design.power.power_budget import SwitchPower
from proposal.design.racks.panels import Panels
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.radio.radio_plan import RadioDesign, radio_design
from proposal.design.radio.synchronisation import networks
from proposal.design.room_designs import RoomDesign
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import ChannelPlan
from proposal.design.sound.joined_rooms import JoinedRoute, joined_routes
from proposal.design.sound.latency_parts import Parts
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

if TYPE_CHECKING:
    from proposal.design.connections.ports_and_joins import Graph
    from proposal.design.contained_sound import ContainedSound
    from proposal.design.mains.circuits import Circuit
    from proposal.design.mains.energy_and_heat import PlaceEnergy
    from proposal.design.mains.mains_loads import MainsLoad
    from proposal.design.mains.standby_paths import PowerPath
    from proposal.design.network.room_switch_loads import RoomSwitchLoad
    from proposal.design.radio.level_map import LevelMap
    from proposal.design.sound.configuration import Setting
    from proposal.design.sound.control_points import Control
    from proposal.design.sound.delay_path import DelayPath
    from proposal.design.sound.flow import Flow
    from proposal.design.sound.loudspeaker_lines import LoudspeakerLine
    from proposal.design.sound.muting import MuteState


@dataclass(frozen=True, kw_only=True)
class Design:
    """All that follows from a project.

    devices: every device, in order of tags; entries: the library entry of each, but for the owner's.
    owners, owner_joins: the owner's equipment, and how it is joined to mixers and breakouts.
    cables: every cable, in order of identities, with the port it ends in.
    pathways: every pathway with what lies in it; pull_runs: conduits as cables are pulled through them.
    penetrations: openings through rated walls and floors that cables pass.
    closets: the switches of each equipment room.
    switch_joins, switch_links, uplink_loads: which switches are joined, by what, and what passes there.
    ports, switches: what every port and every switch gives, breakouts' own switches included.
    panels, racks: the patch panels of each rack, and every rack with what stands in it.
    channels: of every room; ends: what else comes into and goes out of mixers and breakouts.
    amplifier_channels: of amplifiers that play zones of loudspeakers.
    wrong_by_hand: what fixed.yaml decides about things that are not there or cannot be so.

    What only documents tell (flows, mutes, settings, controls, level maps) follows when it is first
    asked for, so that a check does not wait for it; so do meeting days and radio, which no price waits for.
    """

    project: Project
    kinds: tuple[RoomKind, ...]
    rooms: tuple[RoomDesign, ...]
    devices: tuple[Placed, ...]
    entries: Mapping[str, Device]
    owners: tuple[OwnerDevice, ...]
    owner_joins: tuple[OwnerJoin, ...]
    cables: tuple[Cable, ...]
    pathways: tuple[PathwayDesign, ...]
    pull_runs: tuple[PullRun, ...]
    penetrations: tuple[Penetration, ...]
    closets: tuple[EquipmentRoomSwitches, ...]
    switch_joins: SwitchJoins
    switch_links: tuple[SwitchLink, ...]
    uplink_loads: tuple[UplinkLoad, ...]
    ports: tuple[PoweredPort, ...]
    switches: tuple[SwitchPower, ...]
    panels: tuple[Panels, ...]
    racks: tuple[RackDesign, ...]
    addresses: Addresses
    channels: ChannelPlan
    ends: tuple[AudioEnd, ...]
    amplifier_channels: tuple[AmplifierChannel, ...]
    wrong_by_hand: tuple[WrongDecision, ...]

    @cached_property
    def every_entry(self) -> Mapping[str, Device]:
        """The ports and power of every device by tag, the owner's included."""
        return {**self.entries, **entries_of(self.owners)}

    @cached_property
    def querier(self) -> str:
        """Tag of the switch that asks who listens; empty where there is none."""
        return querier_of(self.closets, self.entries, self.switch_joins)

    @cached_property
    def graph(self) -> "Graph":
        """The devices' ports, what joins them and what leads through them."""
        from proposal.design.connection_graph import Connected, connection_graph
        from proposal.design.wanted_ports import to_owners_network

        return connection_graph(
            Connected(
                project=self.project,
                rooms=self.rooms,
                devices=self.devices,
                entries=self.every_entry,
                owners=self.owners,
                owner_joins=self.owner_joins,
                cables=self.cables,
                ports=self.ports,
                switches=[one.switch.device.tag for one in self.switches],
                switch_links=self.switch_links,
                to_owners_network=to_owners_network(self.project, self.closets, self.rooms),
                channels=self.channels.channels,
                ends=self.ends,
                amplifier_channels=self.amplifier_channels,
            )
        )

    @cached_property
    def days(self) -> Mapping[str, tuple[RoomDay, ...]]:
        """The meeting days of each kind of room with sessions, the usual one first, by its key."""
        found = (
            (
                kind.key,
                room_days(
                    charged_as_it_is_used(self.project, first.tag), kind.key, kind.layout, first.devices
                ),
            )
            for kind, first in self._first_rooms()
        )
        return {key: days for key, days in found if days}

    @cached_property
    def pack_lives(self) -> tuple[PackLife, ...]:
        """How long the packs of microphones last, and how many are replaced over the years."""
        return pack_lives(self.project, self.kinds, self.days)

    @cached_property
    def radio(self) -> RadioDesign:
        """Levels, neighbours and the plan of carriers and slots."""
        joins = [
            (one.start.device, one.end.device or OWNERS_NETWORK)
            for one in self.graph.network
            if one.led_on and not one.isolated
        ]
        # What the owner's switches serve is on the owner's network.
        joins += [(one.device.tag, OWNERS_NETWORK) for one in self.owners if one.written.switch]
        joined = networks(joins, self.switch_joins.first or OWNERS_NETWORK)
        # A cart keeps in step with nothing of the building, wherever it stands.
        sets = self.project.building.portable_sets
        on_carts = {device.tag: device.room for device in self.devices if device.room in sets}
        return radio_design(
            self.project, self.devices, self.entries, self.channels.linked, {**joined, **on_carts}
        )

    @cached_property
    def joined_routes(self) -> tuple[JoinedRoute, ...]:
        """The way of sound between the mixers of joined rooms, in each state that joins some."""
        rooms = {device.tag: device.room for device in self.devices}
        parts = Parts(self.project, self.every_entry, self.switch_ways)
        return joined_routes(self.project, self.ends, parts, rooms)

    @cached_property
    def contained_sound(self) -> "tuple[ContainedSound, ...]":
        """Each room whose sound may not leave it, and the way out that it has, if any."""
        from proposal.design.contained_sound import contained_sound

        return contained_sound(
            self.project,
            self.devices,
            self.entries,
            self.owners,
            self.graph,
            self.ends,
        )

    @cached_property
    def switch_ways(self) -> SwitchWays:
        """The switches that a frame passes from one device to another."""
        delays = {
            one.device.tag: one.written.switch.forwarding_delay for one in self.owners if one.written.switch
        }
        joined = (
            (one.start.device, one.end.device)
            for one in self.graph.network
            if one.led_on and not one.isolated
        )
        return SwitchWays(self.graph.switches, joined, self.every_entry, delays)

    @cached_property
    def delays(self) -> "tuple[DelayPath, ...]":
        """How long sound takes from each kind of microphone to each listener, in every state."""
        from proposal.design.sound.latency import delay_paths

        return delay_paths(
            self.project,
            self.kinds,
            self.every_entry,
            self.channels,
            self.ends,
            self.joined_routes,
            self.switch_ways,
            {
                (room, code): one.device.tag
                for one in self.owners
                if one.on_network
                for room in one.rooms
                for code in one.written.serves
            },
        )

    @cached_property
    def flows(self) -> "Mapping[str, Flow]":
        """The signal flow of each kind of room, by its key."""
        from proposal.design.sound.loudspeaker_lines import first_loudspeakers
        from proposal.design.sound.signal_flow import signal_flow

        return {
            kind.key: signal_flow(
                self.project,
                kind.layout,
                first.devices,
                self.graph,
                self.channels.of_room(first.tag),
                self.channels.streams_of_room(first.tag),
                [end for end in self.ends if any(one.tag == end.device for one in first.devices)],
                host=first.host,
                joined=first.isolating_port or ("building" if first.equipment_room else ""),
                lines={
                    one.zone: one.words(self.project)
                    for one in self.loudspeaker_lines
                    if one.room == first.tag
                },
                firsts=first_loudspeakers(self.loudspeaker_lines, kind.rooms),
                owners={
                    code: one.device.code if one.device.room == first.tag else one.device.tag
                    for one in self.owners
                    if first.tag in one.rooms
                    for code in one.written.serves
                },
            )
            for kind, first in self._first_rooms()
        }

    @cached_property
    def loudspeaker_lines(self) -> "tuple[LoudspeakerLine, ...]":
        """Every loudspeaker line with its channel, load, conductor and loss, by room and channel."""
        from proposal.design.sound.loudspeaker_lines import loudspeaker_lines

        rooms = [(room.tag, room.devices, room.cables, room.amplifier_channels) for room in self.rooms]
        return loudspeaker_lines(self.project, rooms)

    @cached_property
    def mutes(self) -> "Mapping[str, tuple[MuteState, ...]]":
        """The truth table of muting of each kind of room, by its key."""
        from proposal.design.sound.muting import mute_states

        return {
            kind.key: mute_states(
                self.project,
                kind.layout,
                kind.sizing.microphones,
                [one.model for one in first.devices if one.kind in ("mixer", "breakout") and one.model],
            )
            for kind, first in self._first_rooms()
        }

    @cached_property
    def settings(self) -> "tuple[Setting, ...]":
        """What a commissioner sets, by device."""
        from proposal.design.mains.standby_settings import standby_settings
        from proposal.design.sound.configuration import settings
        from proposal.design.sound.portable_settings import portable_settings

        return settings(
            self.project,
            self.devices,
            self.entries,
            self.addresses,
            self.channels,
            self.ends,
            self.switch_joins.joins,
            self.joined_routes,
            self.querier,
            {room.host: room.isolating_port for room in self.rooms if room.host},
            self.alone,
            self.on_networks_apart,
            self.loudspeaker_lines,
            standby_settings(self.project, self.racks),
            portable_settings(self.project, self.devices),
        )

    @cached_property
    def alone(self) -> frozenset[str]:
        """Tags of rooms and of portable sets out of which nothing leads."""
        return frozenset(room.tag for room in self.rooms if room.apart == "alone")

    @cached_property
    def on_networks_apart(self) -> Mapping[str, str]:
        """Tag of the room whose network is kept from the building's, by the tag of each device in it."""
        apart = {room.tag for room in self.rooms if room.apart} | self.alone
        placed = (*self.devices, *(owner.device for owner in self.owners))
        return {one.tag: one.room for one in placed if one.room in apart}

    @cached_property
    def room_switch_loads(self) -> "Mapping[str, RoomSwitchLoad]":
        """The busiest port of the own switch of each room that has one, by tag of the room."""
        from proposal.design.network.room_switch_loads import room_switch_load

        loads = {}
        for room in self.rooms:
            if room.own_switch and room.host in self.entries:
                streams = self.channels.streams_of_room(room.tag)
                load = room_switch_load(room.own_switch, self.entries[room.host], streams, self.every_entry)
                if load:
                    loads[room.tag] = load
        return loads

    @cached_property
    def controls(self) -> "tuple[Control, ...]":
        """What a control system can reach, by device."""
        from proposal.design.sound.control_points import controls

        return controls(self.devices, self.entries, self.addresses, self.channels)

    @cached_property
    def level_maps(self) -> "Mapping[str, LevelMap]":
        """The level map of each kind of room with linked microphones, by its key."""
        from proposal.design.rooms.level_maps import level_maps

        devices = {room.tag: room.devices for room in self.rooms}
        return level_maps(self.project, self.kinds, devices, self.entries, self.radio.margins)

    @cached_property
    def runs_outside(self) -> tuple[RunOutside, ...]:
        """Level runs outside pathways, the union of the routes of all cables."""
        routes = [(cable.identity, cable.route) for cable in self.cables]
        return runs_outside(routes, self.project.brief.rules.cabling.routing_factor)

    @cached_property
    def circuits(self) -> "tuple[Circuit, ...]":
        """The mains circuits with their outlets and what these feed, in order of places."""
        from proposal.design.mains.circuits import circuits
        from proposal.design.mains.mains_outlets import mains_outlets
        from proposal.design.mains.portable_outlets import portable_outlets

        outlets = mains_outlets(self.project, self.mains_loads, self.devices, self.racks)
        of_sets = portable_outlets(self.project, self.mains_loads, self.devices)
        return circuits(self.project, (*outlets, *of_sets))

    @cached_property
    def energy(self) -> "tuple[PlaceEnergy, ...]":
        """Energy in a year and heat of every place with equipment, in order of tags."""
        from proposal.design.mains.energy_and_heat import energy_and_heat

        return energy_and_heat(self.project, self.mains_loads, self.devices, self.ports, self.racks)

    @cached_property
    def mains_loads(self) -> "tuple[MainsLoad, ...]":
        """What everything that is plugged into the mains takes from it, in order of names."""
        from proposal.design.mains.mains_loads import mains_loads

        return mains_loads(self.project, self.devices, self.every_entry, self.ports, self.racks, self.owners)

    @cached_property
    def power_paths(self) -> "tuple[PowerPath, ...]":
        """Where the power of every device comes from, where something stays up when the mains fails."""
        from proposal.design.mains.standby_paths import power_paths

        return power_paths(self.devices, self.mains_loads, self.ports, self.racks)

    def _first_rooms(self) -> "list[tuple[RoomKind, RoomDesign]]":
        """Return each kind of room with the first room built so."""
        by_tag = {room.tag: room for room in self.rooms}
        return [(kind, by_tag[kind.rooms[0]]) for kind in self.kinds]
