"""The owner's equipment is joined port by port: to breakouts and mixers, and to switches.

codec I1 ── cable ── breakout A            in one room
breakout A ── cable ── rack: recorder I1   the recorder stands in the rack
recorder N1 ── cord ── switch              both stand in the rack
codec N1 ── cord ── outlet ── cable ── panel ── cord ── switch
"""

import re
from collections import Counter
from collections.abc import Mapping

import pytest

from proposal.design.design import Design
from proposal.design.owner.owner_devices import owner_devices, owner_switches
from proposal.design.patch_table import patches
from proposal.design.rooms.room_kinds import room_kinds
from proposal.document.making.document import document_of
from proposal.model.equipment.parts import Ports
from proposal.model.owner_equipment import OwnerEquipment, OwnerSwitch
from proposal.model.project import FixedDevice, Project
from proposal.model.rooms import Destination
from proposal.pipeline import Computed, compute
from proposal.review.network import ports_left
from proposal.review.power import budgets
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout

TERMINALS = "3-pin terminal block, 3.81 mm"


def ports(**counts: int) -> Mapping[str, Ports]:
    """Return ports by their letters: N on the network, I and O for analogue audio."""
    signals = {"N": "network", "I": "analogue input", "O": "analogue output"}
    return {
        letters: Ports.model_validate(
            {"signal": signals[letters], "count": str(count), "connector": TERMINALS}
        )
        for letters, count in counts.items()
    }


def project_with(
    equipment: Mapping[str, Mapping[str, OwnerEquipment]], signal: str = "analogue", network: str = "rack"
) -> Project:
    """Return the meeting room whose mix goes to a codec, and which hears it, with equipment of the owner."""
    ends = {"far-end": Destination.model_validate({"name": "codec", "signal": signal})}
    project = with_layout(minimal(), "meeting", destinations=ends, returns=ends, network=network)
    return changed(project, "building.owner_equipment", equipment)


def codec(**counts: int) -> OwnerEquipment:
    return OwnerEquipment(kind="codec", name="Codec", serves=("far-end",), ports=ports(**counts))


def in_rack(**counts: int) -> OwnerEquipment:
    return codec(**counts).model_copy(update={"rooms": tuple(minimal().rooms)})


def joined(design: Design) -> list[tuple[str, str, str, str]]:
    return [
        (f"{one.owner}/{one.owner_port}", one.end.direction, one.end.device, one.cable)
        for one in design.owner_joins
    ]


def test_a_codec_in_the_room_takes_the_mix_and_sends_what_returns() -> None:
    (room,) = minimal().rooms
    design = designed(project_with({room: {"OE1": codec(I=1, O=1)}}))
    tag, breakout = f"{room}-OE1", f"{room}-BO1"
    assert sorted(joined(design)) == [
        (f"{tag}/I1", "output", breakout, f"{tag}/I1/{breakout}"),
        (f"{tag}/O1", "input", breakout, f"{tag}/O1/{breakout}"),
    ]
    cables = {one.identity: one for one in design.cables}
    for join in design.owner_joins:
        cable = cables[join.cable]
        assert (cable.start_port, cable.end_port, cable.room) == (join.owner_port, join.end.port, room)
        # Both ends are clamped or made off with what their ports ask for.
        assert cable.start_connector == TERMINALS
        assert cable.model


def test_a_room_type_gives_each_of_its_rooms_one() -> None:
    (room,) = minimal().rooms
    design = designed(project_with({"meeting": {"OE1": codec(I=1, O=1)}}))
    assert [one.device.tag for one in design.owners] == [f"{room}-OE1"]


def test_a_codec_in_the_rack_is_joined_by_cables_from_the_breakout() -> None:
    (room,) = minimal().rooms
    design = designed(project_with({"ER1": {"OE1": in_rack(I=1, O=1)}}))
    ends = {join.cable: (join.owner_port, join.end.port) for join in design.owner_joins}
    assert len(ends) == 2
    for cable in design.cables:
        if cable.identity in ends:
            port, far = ends[cable.identity]
            assert (cable.start, cable.start_port) == (f"{room}-BO1", far)
            assert (cable.end, cable.end_port) == ("ER1-RK1", f"ER1-OE1/{port}")


def test_a_codec_in_the_rack_of_its_mixer_is_joined_by_leads() -> None:
    (room,) = minimal().rooms
    project = with_layout(project_with({"ER1": {"OE1": in_rack(I=1, O=1)}}), "meeting", output="mixer")
    design = designed(project)
    cables = {one.identity: one for one in design.cables}
    assert len(design.owner_joins) == 2
    for join in design.owner_joins:
        cable = cables[join.cable]
        assert cable.in_rack
        assert (cable.start, cable.start_port) == ("ER1-OE1", join.owner_port)
        assert (cable.end, cable.end_port) == (f"{room}-MX1", join.end.port)


@pytest.mark.parametrize("there", [0, 1, 2, 3])
def test_its_ports_are_used_as_far_as_they_exist(there: int) -> None:
    """Two channels go to it: as many ports are taken as there are, the rest is told."""
    (room,) = minimal().rooms
    project = project_with({room: {"OE1": codec(**({"I": there} if there else {}))}})
    ends = {"far-end": Destination(name="recorder", signal="analogue", channels=2)}
    design = designed(with_layout(project, "meeting", destinations=ends, returns={}))
    taken = [one.owner_port for one in design.owner_joins if one.owner_port]
    assert len(design.owner_joins) == 2
    assert taken == [f"I{n}" for n in range(1, min(there, 2) + 1)]
    assert sum(bool(one.cable) for one in design.owner_joins) == len(taken)
    findings = {one.rule: one for one in compute(design.project).findings}
    assert ("owner-ports-short" in findings) == (there < 2)
    if there < 2:
        more = {
            0: "2 more analogue ports, carry 2 fewer channels",
            1: "1 more analogue port, carry 1 fewer channel",
        }
        assert f"Ask the owner for {more[there]}, or join" in findings["owner-ports-short"].remedy


@pytest.mark.parametrize(("place", "cabled"), [("room", True), ("ER1", False)])
def test_what_is_on_the_network_has_a_port_of_a_switch_and_an_address(place: str, cabled: bool) -> None:
    (room,) = minimal().rooms
    one = codec(N=1) if place == "room" else in_rack(N=1)
    design = designed(project_with({room if place == "room" else place: {"OE1": one}}, "networked audio"))
    tag = f"{room if place == 'room' else place}-OE1"
    (line,) = (line for line in patches(design) if line.device == tag)
    assert line.device_port == "N1"
    assert line.switch == "ER1-SW1"
    assert bool(line.cable) == cabled
    assert line.last_cord != ""
    assert len(design.addresses.by_tag[tag]) == 1


def test_it_is_never_bought_and_what_joins_it_is() -> None:
    (room,) = minimal().rooms
    with_codec = compute(project_with({room: {"OE1": codec(I=1, O=1)}}))
    without = compute(project_with({}))
    tag = f"{room}-OE1"
    lines = [line for line in with_codec.estimate.lines if any(tag in cause for cause in line.causes)]
    assert {line.section for line in lines} >= {"cable", "labels", "reels"}
    assert not any(line.section == "equipment" for line in lines)
    assert with_codec.estimate.equipment == without.estimate.equipment
    counted = Counter(line.section for line in with_codec.estimate.lines)
    assert counted["equipment"] == Counter(line.section for line in without.estimate.lines)["equipment"]
    assert with_codec.estimate.materials_cost > without.estimate.materials_cost


def owner_switch(free: tuple[int, ...]) -> OwnerEquipment:
    return OwnerEquipment(
        kind="switch",
        name="Switch of the house",
        ports=ports(N=24),
        switch=OwnerSwitch(free=free, poe_ports=len(free), poe_class=6, poe_type=3, budget=200.0),
    )


def network_devices(project: Project) -> list[str]:
    return sorted({line.device for line in patches(designed(project))})


def test_an_owners_switch_gives_the_ports_that_are_free_and_no_other() -> None:
    """Of as many devices as the room has on the network, one port too few leaves one, which is named."""
    wanting = network_devices(project_with({}))
    enough = tuple(range(11, 11 + len(wanting)))
    for free in (enough, enough[:-1]):
        design = designed(project_with({"ER1": {"OE1": owner_switch(free)}}))
        (closet,) = design.closets
        (switch,) = closet.switches
        assert switch.device.tag == "ER1-OE1"
        assert set(switch.ports) <= set(free)
        assert len(closet.left) == len(wanting) - len(free)
        assert sorted([*(one.tag for one in switch.ports.values()), *closet.left]) == wanting
        assert not any(device.kind == "switch" for device in design.devices)
        # It is the network itself: it was once given a port of its own, and an address.
        assert "ER1-OE1" not in design.addresses.by_tag
        (told,) = list(ports_left(design.project, design)) or [None]
        assert (told is None) == (free == enough)
        if told is not None:
            assert told.rule == "no-switch-port"
            assert closet.left[0] in told.message
            assert "ER1-OE1" in told.remedy
            # A switch of ours stands beside it where it is written as the remedy says, and takes the rest.
            written = re.search(r"`devices: \{(\S+): \{model: (\S+)\}\}`", told.remedy)
            assert written is not None
            project = design.project
            fixed = {**project.fixed.devices, written[1]: FixedDevice(model=written[2])}
            helped = project.model_copy(update={"fixed": project.fixed.model_copy(update={"devices": fixed})})
            assert not [one.rule for one in ports_left(helped, designed(helped)) if one.severity == "error"]


def test_a_budget_of_the_owner_that_is_short_is_asked_for_where_it_is_written() -> None:
    """Ports fixed by hand are checked: their classes want more than the owner's switch has left."""
    enough = tuple(range(1, 25))
    project = project_with({"ER1": {"OE1": owner_switch(enough)}})
    (power,) = designed(project).switches
    assert not list(budgets(project, designed(project)))
    fixed = {
        device.tag: FixedDevice(switch_port=f"ER1-OE1/{number}")
        for number, device in power.switch.ports.items()
    }
    budget = power.allocated_w - 1.0
    less = owner_switch(enough).model_copy(
        update={"switch": OwnerSwitch(free=enough, poe_ports=24, poe_class=6, poe_type=3, budget=budget)}
    )
    short = project_with({"ER1": {"OE1": less}})
    short = short.model_copy(update={"fixed": short.fixed.model_copy(update={"devices": fixed})})
    (told,) = budgets(short, designed(short))
    assert (told.rule, told.where, told.limit) == ("poe-budget-short", "ER1-OE1", budget)
    assert told.value == power.allocated_w
    assert told.remedy.startswith("Ask the owner for ")
    assert "switch.budget" in told.remedy


def test_an_owners_switch_is_not_bought_and_its_cords_are_counted() -> None:
    plain, owned = (
        compute(project_with({})),
        compute(project_with({"ER1": {"OE1": owner_switch((3, 5, 7, 9))}})),
    )
    kinds = {one.kind for one in owned.estimate.equipment}
    assert "switch" in {one.kind for one in plain.estimate.equipment}
    assert "switch" not in kinds

    def cords(computed: Computed) -> int:
        return sum(int(line.quantity) for line in computed.estimate.lines if line.section == "patching")

    assert cords(plain) == cords(owned)
    assert {one.rule for one in owned.findings if one.severity == "error"} == set()
    rows = document_of(owned).owner_joins
    assert {row.port for row in rows} <= {"3", "5", "7", "9"}
    assert {row.joined_to for row in rows} == {line.device for line in patches(owned.design)}


@pytest.mark.parametrize("named", ["ER1-OE4/21", "ER1-OE4/P21", "21", "P21"])
def test_a_free_port_that_joins_our_switches_is_none_for_a_device(named: str) -> None:
    """Sixteen ports are free, and one of them is the port by which ours are joined."""
    project = project_of(PROJECTS / "municipal")
    (room,), kinds = project.building.equipment_rooms, room_kinds(project)
    (before,) = owner_switches(project, owner_devices(project, kinds), room)
    assert before.numbers == tuple(range(9, 25))
    one = project.building.equipment_rooms[room].model_copy(update={"owner_port": named})
    project = changed(project, "building.equipment_rooms", {room: one})
    (switch,) = owner_switches(project, owner_devices(project, kinds), room)
    assert switch.numbers == tuple(n for n in range(9, 25) if n != 21)
