"""Rooms whose network is kept apart from the building's: joined in the room itself, or by one isolating port.

M … AP1 ─┐                            ┌─ CH1
         ├─ switch (in BO1, or SW1) ──┤       nothing leads out, or one isolating port
CH2 ─────┘                            └─ AM1
"""

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from proposal.design.calculations import calculations
from proposal.design.design import Design
from proposal.design.equipment.built_in_switch import fits_on
from proposal.design.network.room_switch_loads import room_switch_load
from proposal.design.patch_table import patches
from proposal.document.making.document import document_of
from proposal.model.equipment.devices import Breakout
from proposal.model.pathways.building import EquipmentRoom, Rack
from proposal.model.project import Project
from proposal.model.standby import Standby
from proposal.pipeline import compute
from proposal.standards.aes67 import stream_bandwidth_bit_per_s
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout

ONE_ROOM = PROJECTS / "one_room"


@cache
def one_room() -> Design:
    return designed(project_of(ONE_ROOM))


def with_cupboard(**values: Any) -> Project:
    """Return the room with an equipment room beside it, and fields of its type replaced."""
    cupboard = EquipmentRoom(name="Cupboard", storey="G0", at=("14 m", "2 m"), racks={"RK1": Rack()})
    project = changed(project_of(ONE_ROOM), "building.equipment_rooms", {"ER1": cupboard})
    return with_layout(project, "reading", **values)


@cache
def isolated() -> Design:
    return designed(with_cupboard(network="isolated"))


def network_ends(design: Design) -> set[str]:
    return {cable.end for cable in design.cables if cable.signal == "network"}


def test_a_building_without_equipment_room_has_no_rack_panel_or_patch_cord_at_one() -> None:
    design = one_room()
    assert design.project.building.equipment_rooms == {}
    assert (design.closets, design.racks, design.panels, design.switch_links) == ((), (), (), ())
    assert all(cord.at == "device" for cable in design.cables for cord in cable.cords)


def test_every_networked_device_of_a_room_alone_has_its_own_port_of_the_rooms_switch() -> None:
    design = one_room()
    (room,) = design.rooms
    assert room.own_switch is not None
    networked = {
        device.tag
        for device in room.devices
        if device.kind not in ("microphone", "loudspeaker") and device.tag != room.host
    }
    assert networked == {"R1-AP1", "R1-CH1", "R1-CH2", "R1-AM1"}
    assert {one.tag for one in room.own_switch.ports.values()} == networked
    assert network_ends(design) == {room.host}
    named = {cable.end_port for cable in room.cables if cable.signal == "network"}
    assert len(named) == len(networked)


def test_every_cable_of_a_room_alone_begins_and_ends_in_it() -> None:
    ends = {tag.partition("-")[0] for cable in one_room().cables for tag in (cable.start, cable.end)}
    # A lead to what others furnish stays in the room too.
    layout = one_room().project.rooms["R1"].layout
    assert ends - {*layout.destinations, *layout.returns} == {"R1"}


def test_an_amplifier_without_a_rack_stands_in_furniture_and_is_fed_there() -> None:
    design = one_room()
    (amplifier,) = (device for device in design.devices if device.kind == "amplifier")
    assert (amplifier.location, amplifier.room) == ("furniture", "R1")
    assert {cable.signal for cable in design.cables if cable.end == amplifier.tag} == {
        "analogue",
        "loudspeaker line",
    }


def test_nothing_written_in_a_building_without_equipment_rooms_means_alone() -> None:
    design = designed(with_layout(project_of(ONE_ROOM), "reading", network="automatic"))
    assert [room.apart for room in design.rooms] == ["alone"]


def test_a_room_with_a_mixer_is_joined_by_a_switch_that_stands_in_it() -> None:
    """No mixer of the library has a switch inside."""
    design = designed(with_layout(project_of(ONE_ROOM), "reading", output="mixer"))
    (room,) = design.rooms
    assert (room.host, room.apart) == ("R1-SW1", "alone")
    (switch,) = (device for device in design.devices if device.kind == "switch")
    assert switch.location == "furniture"
    entry = design.project.library.switches[switch.model]
    assert "under table" in entry.mounting
    assert entry.managed
    assert network_ends(design) == {"R1-SW1"}
    querier = [one.value for one in design.settings if one.name == "IGMP querier"]
    assert querier == ["on: the only one of the VLAN"]
    # What its switch is chosen by is told among the calculations.
    assert any(one.working.title == "Switches in the room: ports given" for one in calculations(design))


def test_a_networked_recorder_keeps_a_port_and_wants_a_switch_that_sorts_streams() -> None:
    recorder = next(iter(project_of(ONE_ROOM).room_types["reading"].destinations.values()))
    networked = recorder.model_copy(update={"signal": "networked audio"})
    unmanaged = designed(with_layout(project_of(ONE_ROOM), "reading", destinations={"recorder": networked}))
    assert all(not one.switch.managed for one in unmanaged.project.library.breakouts.values() if one.switch)
    assert [room.host for room in unmanaged.rooms] == ["R1-SW1"]
    (room,) = unmanaged.rooms
    assert room.own_switch is not None
    assert room.own_switch.access_ports - len(room.own_switch.ports) >= 1
    managed = {
        code: one.model_copy(
            update={"switch": one.switch and one.switch.model_copy(update={"managed": True, "ports": 20})}
        )
        for code, one in unmanaged.project.library.breakouts.items()
    }
    sorting = designed(changed(unmanaged.project, "library.breakouts", managed))
    assert [room.host for room in sorting.rooms] == ["R1-BO1"]
    assert ("R1-BO1", "IGMP snooping on") in {
        (one.device, one.value) for one in sorting.settings if one.name == "Multicast in the built-in switch"
    }


def test_an_isolated_room_joins_the_building_by_one_isolating_port_alone() -> None:
    design = isolated()
    (room,) = design.rooms
    assert (room.apart, room.host, room.isolating_port) == ("isolated", "R1-BO1", "N1")
    leading_out = [cable for cable in design.cables if cable.end == "ER1-RK1"]
    assert [(cable.start, cable.start_port) for cable in leading_out] == [("R1-BO1", "N1")]
    assert room.own_switch is not None
    assert room.own_switch.ports[1].tag == "ER1-RK1"
    host = design.project.library.breakouts[next(d.model for d in room.devices if d.tag == room.host)]
    assert host.switch is not None
    assert host.switch.isolating_ports >= 1


def test_an_isolated_room_by_itself_buys_no_switch_and_leads_to_the_owners_network() -> None:
    design = isolated()
    assert [one.switches for one in design.closets] == [()]
    assert not any(device.kind == "switch" for device in design.devices)
    (patch,) = (one for one in patches(design) if one.device == "R1-BO1")
    assert (patch.device_port, patch.panel, patch.switch, patch.switch_port) == (
        "N1", "ER1-RK1/PP1/1", "", ""
    )  # fmt: skip
    # One cord at the breakout's outlet, one from the panel on.
    assert patch.last_cord
    asked = [row.question for row in document_of(compute(design.project)).network_questions]
    assert any("R1-BO1/N1" in question for question in asked)
    named = changed(design.project, "building.equipment_rooms.ER1.owner_port", "Core-1/17")
    (patch,) = (one for one in patches(designed(named)) if one.device == "R1-BO1")
    assert patch.switch_port == "Core-1/17"


def test_a_port_of_the_owners_network_takes_the_cable_of_one_isolated_room() -> None:
    project = with_cupboard(network="isolated")
    room = next(iter(project.rooms.values()))
    rooms = {**project.rooms, "R2": room.model_copy(update={"x": room.x + 20.0})}
    named = changed(project, "building.equipment_rooms.ER1.owner_port", "7")
    project = named.model_copy(update={"rooms": rooms})
    led = {one.device: one.switch_port for one in patches(designed(project)) if one.device.endswith("-BO1")}
    assert led == {"R1-BO1": "7", "R2-BO1": ""}
    asked = [row.question for row in document_of(compute(project)).network_questions]
    assert [one for one in asked if "-BO1/N1" in one] == [one for one in asked if "R2-BO1/N1" in one] != []


def test_an_isolated_room_beside_others_shares_their_switch() -> None:
    # A standby supply in the rack is on the network: then there is a switch, and the room's port leads to it.
    supplied = changed(
        isolated().project, "building.equipment_rooms.ER1.standby", Standby.model_validate({"time": "10 min"})
    )
    design = designed(supplied)
    assert [len(one.switches) for one in design.closets] == [1]
    assert {one.tag for one in design.closets[0].switches[0].ports.values()} == {"R1-BO1", "ER1-UP1"}


def test_the_isolating_port_is_a_step_of_the_configuration_and_a_line_of_the_signal_flow() -> None:
    steps = [one for one in isolated().settings if one.name == "Isolation of port N1"]
    assert [one.device for one in steps] == ["R1-BO1"]
    assert steps[0].value.startswith("on")
    flow = isolated().flows["reading"]
    network, building = (node for node in flow.nodes if node.kind == "network")
    (led_on,) = (edge for edge in flow.edges if edge.end == building.code)
    assert (led_on.start, led_on.start_port, led_on.cable) == (network.code, "BO1/N1", "BO1/N1")
    assert not [
        edge.cable for edge in flow.edges if edge.end == "BO1" and edge.start == network.code and edge.cable
    ]
    assert network.lines == ("switch inside BO1", "BO1/N1 keeps off the building's network")
    (alone,) = (node for node in one_room().flows["reading"].nodes if node.kind == "network")
    assert alone.lines == ("switch inside BO1", "joined to no other network")


def test_no_stream_of_an_isolated_room_counts_on_links_of_the_building() -> None:
    assert isolated().channels.streams
    assert all(not (one.streams_in or one.streams_out) for one in isolated().uplink_loads)


def test_devices_of_a_room_alone_have_no_gateway_and_no_address_of_the_buildings_dhcp() -> None:
    project = project_of(ONE_ROOM)
    subnet = project.brief.subnets["conference"].model_copy(update={"addressing": "reserved"})
    design = designed(changed(project, "brief.subnets", {"conference": subnet}))
    told = {(one.name, one.value) for one in design.settings if one.device == "R1-BO1"}
    assert ("Address mode", "static") in told
    assert ("Gateway", "none: nothing leads out of the room") in told


@pytest.mark.parametrize(
    ("ports", "kept", "fits"), [(3, 1, False), (4, 1, True), (3, 0, True), (4, 2, False)]
)
def test_a_port_is_kept_for_the_building_only_where_something_leads_there(
    ports: int, kept: int, fits: bool
) -> None:
    """Three devices: three ports are enough where none is kept."""
    library = minimal().library
    host = next(one for one in library.breakouts.values() if one.switch)
    assert host.switch is not None
    switch = host.switch.model_copy(update={"ports": ports})
    host = host.model_copy(update={"switch": switch})
    other = next(one for one in library.breakouts.values() if one.poe is None)
    assert fits_on(host, [other] * 3, kept=kept) is fits


@pytest.mark.parametrize(("managed", "streams"), [(False, 2), (True, 1)])
def test_a_switch_that_cannot_be_managed_floods_every_port(managed: bool, streams: int) -> None:
    """Two streams of 8 channels, one of which the amplifier takes: 9.840 Mb/s each (published for AES67)."""
    assert stream_bandwidth_bit_per_s(8) == pytest.approx(9.840e6)
    design = one_room()
    (room,) = design.rooms
    assert room.own_switch is not None
    entry = design.entries[room.host]
    assert isinstance(entry, Breakout)
    assert entry.switch is not None
    host = entry.model_copy(update={"switch": entry.switch.model_copy(update={"managed": managed})})
    like = design.channels.streams[0]
    two = [
        replace(like, sender="other", receivers=("R1-AM1",), channels=8),
        replace(like, sender="other", receivers=("R1-BO1",), channels=8),
    ]
    ports = replace(
        room.own_switch,
        ports={n: one for n, one in room.own_switch.ports.items() if one.tag == "R1-AM1"},
    )
    load = room_switch_load(ports, host, two, design.every_entry)
    amplifier = design.entries["R1-AM1"].network
    assert load is not None
    assert amplifier is not None
    assert load.load_bit_per_s == pytest.approx(streams * 9.840e6 + amplifier.control_rate)
    assert load.speed_bit_per_s == entry.switch.speed


def test_a_microphone_built_into_furniture_is_of_a_model_that_can_be() -> None:
    design = one_room()
    at = {device.code: device.location for device in design.devices if device.kind == "microphone"}
    assert (at["M1"], at["M4"]) == ("table", "furniture")
    (model,) = (device.model for device in design.devices if device.code == "M4")
    assert "furniture" in design.project.library.microphones[model].mounting
    assert ("R1-M4", "furniture") in {
        (one.device, one.value) for one in design.settings if one.name == "Mounting"
    }
