"""Rooms kept apart from the building's network, and microphones that something has to hold: what is found."""

import math
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from proposal.design.contained_sound import Step
from proposal.design.design import Design
from proposal.errors import InputError
from proposal.model.equipment.parts import Ports
from proposal.model.loading import load_project
from proposal.model.owner_equipment import OwnerEquipment
from proposal.model.project import Project
from proposal.model.requirements.answers import ConnectionAnswer
from proposal.review.contained_sound import sound_leaves
from proposal.review.finding import Finding
from proposal.review.microphone_systems import without_holder
from proposal.review.requirements.joined_destinations import CUT_OFF, answered_by_connection
from proposal.review.room_networks import devices_not_joined, isolation_missing, room_switch_overloaded
from tests.design.making import PROJECTS, changed, designed, project_of, with_layout
from tests.design.test_rooms_alone import isolated, one_room, with_cupboard
from tests.review.editing import edited

ONE_ROOM = PROJECTS / "one_room"


def only(found: list[Finding]) -> Finding:
    (finding,) = found
    return finding


def test_isolation_that_no_device_can_give_is_an_error_that_names_those_that_can() -> None:
    project = with_cupboard(network="isolated", output="mixer")
    design = designed(project)
    finding = only(list(isolation_missing(project, design)))
    assert (finding.rule, finding.severity, finding.where) == ("isolation-not-possible", "error", "R1")
    assert "R1-SW1" in finding.message
    able = {
        code for code, one in project.library.breakouts.items() if one.switch and one.switch.isolating_ports
    }
    assert able
    assert all(code in finding.remedy for code in able)
    assert "network: alone" in finding.remedy
    assert not any(cable.end.startswith("ER1") for cable in design.cables)


def test_where_no_model_isolates_the_way_out_is_a_library_or_no_join() -> None:
    project = with_cupboard(network="isolated")
    without = {
        code: one.model_copy(
            update={"switch": one.switch and one.switch.model_copy(update={"isolating_ports": 0})}
        )
        for code, one in project.library.breakouts.items()
    }
    project = changed(project, "library.breakouts", without)
    finding = only(list(isolation_missing(project, designed(project))))
    assert finding.remedy.startswith("Add a breakout with an isolating port")
    assert list(isolation_missing(isolated().project, isolated())) == []


@pytest.mark.parametrize(
    ("network", "signal", "in_room", "verdict"),
    [
        ("alone", "networked audio", False, "not met"),
        ("alone", "networked audio", True, "met"),
        ("alone", "analogue", False, "met"),
        # Networked audio wants a managed switch, and none of the library's has an isolating port.
        ("isolated", "networked audio", False, "not met"),
        ("isolated", "analogue", False, "met"),
        ("rack", "networked audio", False, "met"),
    ],
)
def test_networked_sound_goes_nowhere_from_a_room_that_is_joined_to_nothing(
    network: str, signal: str, in_room: bool, verdict: str
) -> None:
    destination = next(iter(project_of(ONE_ROOM).room_types["reading"].destinations.values()))
    there = {"recorder": destination.model_copy(update={"signal": signal})}
    project = with_cupboard(network=network, destinations=there)
    if in_room:
        port = Ports(signal="network", count=1, connector="8P8C jack")
        recorder = OwnerEquipment(kind="recorder", name="Recorder", ports={"N": port}, serves=("recorder",))
        project = changed(project, "building.owner_equipment", {"R1": {"OE1": recorder}})
    evidence: Any = SimpleNamespace(project=project, design=designed(project))
    answered = answered_by_connection(ConnectionAnswer(connection="recorder", room="R1"), evidence)
    assert answered.verdict == verdict
    assert (answered.found == CUT_OFF) == (verdict == "not met")


def with_ports(design: Design, kept: int) -> Design:
    """Return a design in which the room's own switch has so many of its ports."""
    (room,) = design.rooms
    assert room.own_switch is not None
    ports = dict(list(room.own_switch.ports.items())[:kept])
    return replace(
        design,
        rooms=(replace(room, own_switch=replace(room.own_switch, ports=ports, access_ports=kept)),),
    )


def test_a_device_without_a_port_in_a_room_alone_is_an_error() -> None:
    project, design = one_room().project, one_room()
    assert list(devices_not_joined(project, design)) == []
    finding = only(list(devices_not_joined(project, with_ports(design, 3))))
    assert (finding.rule, finding.value, finding.limit) == ("room-port-lacking", 4.0, 3.0)
    assert "R1-AM1" in finding.message
    assert "with 1 more port," in finding.remedy


def test_streams_over_the_speed_of_a_port_are_an_error() -> None:
    """Four channels of 1 ms packets take 5.2 Mb/s and more: over a port of 1 Mb/s."""
    project = one_room().project
    slow = {
        code: one.model_copy(update={"switch": one.switch and one.switch.model_copy(update={"speed": 1e6})})
        for code, one in project.library.breakouts.items()
    }
    project = changed(project, "library.breakouts", slow)
    finding = only(list(room_switch_overloaded(project, designed(project))))
    assert (finding.rule, finding.where, finding.limit) == ("room-switch-overloaded", "R1-BO1", 1.0)
    assert "every stream reaches every port" in finding.message
    assert finding.value is not None
    # Its own load is what a port must have; to manage it helps, since every stream reaches every port.
    assert f"ports of {math.ceil(finding.value)} Mbit/s or more, or one that can be managed" in finding.remedy
    assert list(room_switch_overloaded(one_room().project, one_room())) == []


def on_a_stand(accessories: tuple[str, ...] = ()) -> Project:
    project = project_of(ONE_ROOM)
    layout = project.room_types["reading"]
    held = layout.microphones["M4"].model_copy(
        update={"form": "handheld", "mounting": "stand", "accessories": accessories}
    )
    return with_layout(
        project, "reading", microphones={"M4": held}, spare_microphones={}, system="Vasselgate"
    )


def test_a_microphone_on_a_stand_wants_a_stand_that_is_counted() -> None:
    project = on_a_stand()
    finding = only(list(without_holder(project, designed(project))))
    assert (finding.rule, finding.severity) == ("microphone-without-holder", "warning")
    assert "M4" in finding.message
    stand = next(
        code
        for code, one in project.library.accessories.items()
        if one.role == "mount" and one.works_with == "Vasselgate" and "handheld" in one.forms
    )
    held = on_a_stand((stand,))
    assert list(without_holder(held, designed(held))) == []


def test_a_position_whose_system_has_no_such_microphone_is_told_elsewhere() -> None:
    project = on_a_stand()
    unmet = 0
    for name in project.library.systems:
        other = with_layout(project, "reading", system=name)
        made = designed(other)
        if not made.kinds[0].sizing.microphones["M4"]:
            unmet += 1
            assert list(without_holder(other, made)) == []
    assert unmet > 0


@pytest.mark.parametrize("network", ["rack", "isolated"])
def test_a_network_that_leads_out_of_a_building_without_equipment_room_is_refused(
    network: str, tmp_path: Path
) -> None:
    folder = edited(
        tmp_path / "room",
        "one_room",
        {"room_types/reading.yaml": [("network: alone", f"network: {network}")]},
    )
    with pytest.raises(InputError, match=rf"room_types/reading\.yaml.*network: wanted alone.*{network}"):
        load_project(folder)


def test_a_microphone_on_a_wall_says_how_high_it_hangs(tmp_path: Path) -> None:
    folder = edited(
        tmp_path / "room",
        "one_room",
        {"room_types/reading.yaml": [("mounting: furniture", "mounting: wall")]},
    )
    with pytest.raises(InputError, match=r"M4.*wanted a height for a microphone on a wall"):
        load_project(folder)


@pytest.mark.parametrize(("network", "advised"), [("rack", True), ("alone", False)])
def test_what_keeps_sound_in_a_room_does_not_advise_what_is_so_already(network: str, advised: bool) -> None:
    made = designed(with_cupboard(network=network, sound_stays="Claims are discussed"))
    (closed,) = made.contained_sound
    leaving = replace(closed, way=(Step(by="cable C1", to="ER1-SW1"),), start="R1-M1", ends="it is elsewhere")
    vars(made)["contained_sound"] = (leaving,)
    assert ("(network: alone)" in only(list(sound_leaves(made.project, made))).remedy) == advised
