"""Switches are joined in a rack, from rack to rack or through the owner's network, with medium and load.

ER1: SW1 ── SW2        ER2: SW1 ── SW2        ER3: SW1
      │                      │                      │
      └──────────────────────┴──────────────────────┘   star of rooms; a room may name another
"""

import pytest

from proposal.design.connections.switch_links import SwitchLink, switch_links
from proposal.design.design import Design
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.multicast_querier import querier_of
from proposal.design.network.port_demand import SwitchPorts
from proposal.design.network.streams import Stream
from proposal.design.network.switch_joins import SwitchJoins, switch_joins
from proposal.design.network.switches_and_ports import EquipmentRoomSwitches
from proposal.design.network.uplink_loads import uplink_loads
from proposal.design.number_register import design_numbers
from proposal.design.pathways.routing import Router
from proposal.model.equipment.devices import Switch
from proposal.model.pathways.building import EquipmentRoom
from proposal.model.project import Project
from proposal.standards import aes67
from tests.design.making import EXAMPLE, changed, designed, minimal, project_of

MODEL = "T-SW"


def switch(project: Project, **values: object) -> Switch:
    """Return a switch with four fibre uplinks of 1 Gbit/s, or as changed."""
    like = next(iter(project.library.switches.values()))
    return like.model_copy(
        update={"model": MODEL, "uplinks": 4, "uplink_speed": 1e9, "uplink_form": "fibre module", **values}
    )


def with_rooms(*names: str, **values: dict[str, object]) -> Project:
    """Return the minimal project with equipment rooms 30 m apart, from west to east."""
    project = minimal()
    like = project.building.equipment_rooms["ER1"]
    rooms: dict[str, EquipmentRoom] = {
        name: like.model_copy(update={"at": (12.0 + 30.0 * n, 2.0), **values.get(name, {})})
        for n, name in enumerate(names)
    }
    return changed(project, "building.equipment_rooms", rooms)


def closets(project: Project, counts: dict[str, int]) -> list[EquipmentRoomSwitches]:
    made = []
    for room, count in counts.items():
        place = project.building.equipment_rooms[room]
        switches = tuple(
            SwitchPorts(
                device=Placed(
                    tag=f"{room}-SW{n}", code=f"SW{n}", kind="switch", model=MODEL, room=room,
                    storey=place.storey, at=place.at, height_m=1.0, location=f"{room}-RK1",
                ),
                access_ports=8, poe_class=4, poe_type=2, budget_w=60.0, headroom=0.2, spare_ports=0.2,
                ports={},
            )
            for n in range(1, count + 1)
        )  # fmt: skip
        made.append(
            EquipmentRoomSwitches(equipment_room=room, wanting=(), wanted_ports=0, switches=switches, left=())
        )
    return made


def joined(project: Project, counts: dict[str, int], **uplinks: int) -> SwitchJoins:
    """Return the joins of so many switches a room; uplinks: by tag with underscores, where not four."""
    entries = {
        one.device.tag: switch(project, uplinks=uplinks.get(one.device.tag.replace("-", "_"), 4))
        for closet in closets(project, counts)
        for one in closet.switches
    }
    return switch_joins(project, closets(project, counts), entries)


def pairs(joins: SwitchJoins) -> list[str]:
    return [f"{one.start}/{one.start_port} {one.end}/{one.end_port}" for one in joins.joins]


def linked(project: Project, joins: SwitchJoins, entry: Switch) -> tuple[SwitchLink, ...]:
    tags = dict.fromkeys([joins.first, *(one.start for one in joins.joins)])
    placed = {
        one.device.tag: one.device
        for room in project.building.equipment_rooms
        for closet in closets(project, {room: 4})
        for one in closet.switches
    }
    return switch_links(
        project, Router(project), joins, {tag: placed[tag] for tag in tags}, dict.fromkeys(tags, entry)
    )


def test_a_switch_alone_is_joined_to_none() -> None:
    assert joined(with_rooms("ER1"), {"ER1": 1}) == SwitchJoins(first="ER1-SW1", joins=(), left=())
    assert joined(with_rooms("ER1"), {}) == SwitchJoins(first="", joins=(), left=())


def test_switches_of_a_room_are_joined_to_its_first_and_rooms_to_the_first_room() -> None:
    found = joined(with_rooms("ER1", "ER2", "ER3"), {"ER1": 2, "ER2": 2, "ER3": 1})
    assert found.left == ()
    assert pairs(found) == [
        "ER1-SW2/U1 ER1-SW1/U1",
        "ER2-SW1/U1 ER1-SW1/U2",
        "ER2-SW2/U1 ER2-SW1/U2",
        "ER3-SW1/U1 ER1-SW1/U3",
    ]


def test_a_room_is_joined_to_the_room_that_it_names() -> None:
    project = with_rooms("ER1", "ER2", "ER3", ER3={"joined_to": "ER2"}, ER1={"joined_to": "ER2"})
    found = joined(project, {"ER1": 1, "ER2": 1, "ER3": 1})
    assert found.first == "ER2-SW1"
    assert [(one.start, one.end) for one in found.joins] == [("ER1-SW1", "ER2-SW1"), ("ER3-SW1", "ER2-SW1")]


def test_the_switch_with_most_uplinks_is_the_first_and_others_follow_where_it_is_full() -> None:
    # The first has two ports for three others: the third goes to the second, which has one left.
    found = joined(with_rooms("ER1"), {"ER1": 4}, ER1_SW1=1, ER1_SW2=2, ER1_SW3=2, ER1_SW4=1)
    assert found.first == "ER1-SW2"
    assert {(one.start, one.end) for one in found.joins} == {
        ("ER1-SW3", "ER1-SW2"),
        ("ER1-SW1", "ER1-SW2"),
        ("ER1-SW4", "ER1-SW3"),
    }
    assert found.left == ()


def test_a_switch_for_which_no_uplink_is_left_is_told() -> None:
    found = joined(with_rooms("ER1"), {"ER1": 3}, ER1_SW1=1, ER1_SW2=1, ER1_SW3=1)
    assert found.left == ("ER1-SW3",)
    assert joined(with_rooms("ER1"), {"ER1": 2}, ER1_SW2=0).left == ("ER1-SW2",)


def test_the_owners_network_joins_where_its_port_is_named() -> None:
    project = with_rooms("ER1", "ER2", ER2={"owner_port": "Floor switch 2, port 14"})
    found = joined(project, {"ER1": 1, "ER2": 1})
    assert pairs(found) == ["ER2-SW1/U1 /Floor switch 2, port 14"]
    (link,) = linked(project, found, switch(project))
    assert (link.medium, link.cable, link.module) == ("copper", None, "")


def test_a_port_of_the_owners_network_that_is_named_is_used_where_no_switch_of_theirs_serves_devices() -> (
    None
):
    project = with_rooms("ER1", ER1={"owner_port": "Port 3 of the provider's switch"})
    assert pairs(joined(project, {"ER1": 1})) == ["ER1-SW1/U1 /Port 3 of the provider's switch"]
    assert pairs(joined(with_rooms("ER1"), {"ER1": 1})) == []


def test_the_first_room_takes_a_port_of_the_owners_network_too_and_its_link_carries_a_load() -> None:
    """ER2 sends 1 to ER1, and ER1 sends 2 to ER2 and 3 to itself; both reach the owner's network."""
    project = with_rooms("ER1", "ER2", ER1={"owner_port": "Core, 3"}, ER2={"owner_port": "Floor, 4"})
    found = joined(project, {"ER1": 1, "ER2": 1})
    assert pairs(found) == ["ER1-SW1/U1 /Core, 3", "ER2-SW1/U1 /Floor, 4"]
    where = {"A": "ER1-SW1", "B": "ER2-SW1"}
    streams = [stream(1, "B", "A"), stream(2, "A", "B"), stream(3, "A", "A")]
    own, far = uplink_loads(found, [1e9, 1e9], streams, where, {}, "ER1-SW1")
    assert (own.streams_in, own.streams_out) == ((2,), (1,))
    assert own.inwards.title == "Load of the link towards the owner's network"
    assert (far.streams_in, far.streams_out) == ((1,), (2,))


def test_the_switch_where_paths_meet_asks_who_listens() -> None:
    """ER1-SW2 has most uplinks: all others are joined to it. Where it cannot ask, the first by tag does."""
    project = with_rooms("ER1", "ER2")
    found = closets(project, {"ER1": 3, "ER2": 1})
    able = {one.device.tag: switch(project, igmp_querier=True) for closet in found for one in closet.switches}
    joins = joined(project, {"ER1": 3, "ER2": 1}, ER1_SW1=2, ER1_SW3=2)
    assert joins.first == "ER1-SW2"
    assert querier_of(found, able, joins) == "ER1-SW2"
    assert querier_of(found, {**able, "ER1-SW2": switch(project, igmp_querier=False)}, joins) == "ER1-SW1"
    far = joined(project, {"ER1": 3, "ER2": 1}, ER1_SW2=1, ER1_SW1=1, ER1_SW3=2)
    assert querier_of(found, {"ER2-SW1": able["ER2-SW1"], "ER1-SW1": able["ER1-SW1"]}, far) == "ER1-SW1"


@pytest.mark.pinned
def test_the_fibre_from_rack_to_rack_is_as_long_as_by_hand() -> None:
    """Racks 30 m apart on one storey, cables at 1.0 m in the rack and 3.3 m in the ceiling.

    Straight lines are not at hand, so that x and y are walked: 30 m; 2.3 m up and 2.3 m down; slack of 3 m
    at each rack and 0.3 m to terminate.
    """
    project = with_rooms("ER1", "ER2")
    rules = project.brief.rules.cabling
    storey = project.building.storeys["L0"].model_copy(update={"pathway_height": 3.3})
    project = changed(project, "building.storeys", {"L0": storey})
    (link,) = linked(project, joined(project, {"ER1": 1, "ER2": 1}), switch(project))
    up_and_down = 2 * (3.3 - rules.rack_height)
    assert (rules.rack_height, rules.routing_factor) == (1.0, 1.0)
    assert (rules.rack_slack, rules.termination) == (3.0, 0.3)
    assert up_and_down == pytest.approx(4.6)
    assert link.length_m == pytest.approx(30 + 4.6 + 6.3, rel=0, abs=1e-9)
    assert link.cable is not None
    assert (link.cable.start, link.cable.start_port, link.cable.end) == ("ER2-SW1", "U1", "ER1-RK1")


def test_the_cheapest_modules_that_reach_are_taken() -> None:
    project = with_rooms("ER1", "ER2")
    joins = joined(project, {"ER1": 1, "ER2": 1})
    modules = {code: one for code, one in project.library.network_parts.items() if one.role == "fibre module"}
    (link,) = linked(project, joins, switch(project, uplink_speed=10e9))
    reaching = {
        code: one.cost.amount
        for code, one in modules.items()
        if one.reach is None or one.reach >= link.length_m
    }
    assert link.module == min(reaching, key=lambda code: (reaching[code], code))
    far = {code: one.model_copy(update={"reach": 20.0}) for code, one in modules.items()}
    (none,) = linked(changed(project, "library.network_parts", far), joins, switch(project))
    assert (none.medium, none.module, none.cable) == ("", "", None)


def test_copper_uplinks_take_copper_while_the_link_is_short_enough() -> None:
    project = with_rooms("ER1", "ER2")
    (near,) = linked(project, joined(project, {"ER1": 1, "ER2": 1}), switch(project, uplink_form="either"))
    assert (near.medium, near.module) == ("copper", "")
    assert near.cable is not None
    assert near.cable.signal == "network"
    assert len(near.cable.cords) == 2
    far = with_rooms("ER1", "ER2", ER2={"at": (120.0, 2.0)})
    (link,) = linked(far, joined(far, {"ER1": 1, "ER2": 1}), switch(far, uplink_form="either"))
    assert link.medium == "fibre"


def test_two_switches_in_a_rack_take_one_cord_and_two_modules() -> None:
    project = with_rooms("ER1")
    (link,) = linked(project, joined(project, {"ER1": 2}), switch(project))
    assert (link.medium, link.cable, len(link.cords)) == ("fibre", None, 1)
    assert link.module in project.library.network_parts


def stream(number: int, sender: str, *receivers: str, channels: int = 8) -> Stream:
    return Stream(
        number=number, name=str(number), sender=sender, room="", carries="", channels=channels,
        receivers=receivers,
    )  # fmt: skip


@pytest.mark.pinned
def test_every_group_goes_towards_the_querier_and_away_only_to_who_listens() -> None:
    """Eight channels take 9.872 Mbit/s of a tagged link, two take 2.960.

    ER2 sends 1 to itself and 2 to ER1, and hears 3 of ER1; nobody there hears 4. The querier is in ER1.
    """
    joins = joined(with_rooms("ER1", "ER2"), {"ER1": 1, "ER2": 1})
    where = {"A": "ER1-SW1", "B": "ER2-SW1", "C": "ER2-SW1"}
    streams = [stream(1, "B", "C"), stream(2, "B", "A"), stream(3, "A", "B", channels=2), stream(4, "A", "A")]
    (load,) = uplink_loads(joins, [1e9], streams, where, {}, "ER1-SW1")
    assert (load.streams_in, load.streams_out) == ((1, 2), (3,))
    assert load.inwards.result == pytest.approx(2 * 9_872_000)
    assert load.outwards.result == pytest.approx(2_960_000)
    assert load.holds
    (asked,) = uplink_loads(joins, [15e6], streams, where, {}, "ER2-SW1")
    assert (asked.streams_in, asked.streams_out) == ((2,), (3, 4))
    assert not uplink_loads(joins, [15e6], streams, where, {}, "ER1-SW1")[0].holds


def links_of(design: Design) -> dict[str, SwitchLink]:
    return {link.identity: link for link in design.switch_links}


def test_the_switches_of_the_example_reach_each_other() -> None:
    made = designed(project_of(EXAMPLE))
    tags = {switch.device.tag for closet in made.closets for switch in closet.switches}
    reached = {made.switch_joins.first}
    for _ in tags:
        reached |= {one.start for one in made.switch_joins.joins if one.end in reached}
    assert len(tags) > 2
    assert reached == tags
    between = [link for link in made.switch_links if link.cable]
    assert {link.cable for link in between} <= set(made.cables)
    for link in between:
        assert link.cable is not None
        assert link.cable.start_panel != ""
        assert link.cable.end_port != ""


def test_an_uplink_port_that_was_issued_stays() -> None:
    project = project_of(EXAMPLE)
    first = designed(project)
    given = design_numbers(first)
    kept = {identity: one for identity, one in given.items() if identity.startswith(("join/", "device/"))}
    assert sum(one.startswith("join/") for one in kept) == 2 * len(first.switch_joins.joins)
    moved = {
        identity: one.model_copy(update={"number": one.number.replace("/U1", "/U2")})
        if one.number.startswith("ER2-SW2/")
        else one
        for identity, one in kept.items()
    }
    second = designed(project.model_copy(update={"issued": moved}))
    ports = {join.start: join.start_port for join in second.switch_joins.joins}
    assert ports["ER2-SW2"] == "U2"


def test_the_speed_of_a_tag_is_four_bytes_a_packet() -> None:
    # 4·8 bits a millisecond
    assert aes67.tagged_bandwidth_bit_per_s(9_840_000) == pytest.approx(9_872_000)
    assert aes67.tagged_bandwidth_bit_per_s(aes67.stream_bandwidth_bit_per_s(2)) == pytest.approx(2_960_000)
