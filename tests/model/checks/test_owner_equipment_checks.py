"""What the owner's equipment names and is not there is told in one line each."""

from collections.abc import Mapping
from typing import Any

import pytest

from proposal.design.owner.owner_devices import free_power_w
from proposal.model.checks.owner_equipment_checks import wrong_owner_equipment
from proposal.model.owner_equipment import OwnerSwitch

LAYOUT = {"destinations": {"far-end": {}}, "returns": {"floor": {}}, "microphones": {"M1": {}}}


def told(equipment: Mapping[str, Any]) -> list[str]:
    tree = {
        "rooms": {"B001": {"type": "meeting"}, "B002": {"type": "meeting"}},
        "room_types": {"meeting": LAYOUT},
        "building": {"equipment_rooms": {"ER1": {"racks": {"RK1": {}}}}, "owner_equipment": equipment},
    }
    return [f"{'.'.join(map(str, path[2:]))}: {message}" for path, message in wrong_owner_equipment(tree)]


def test_what_stands_where_it_may_and_is_what_there_is_is_good() -> None:
    equipment = {
        "meeting": {"OE1": {"serves": ["far-end"]}},
        "ER1": {"OE1": {"rack": "RK1", "rooms": ["B001", "B002"], "serves": ["floor"]}},
    }
    assert told(equipment) == []


def test_an_unknown_place_is_named_with_those_there_are() -> None:
    (one,) = told({"B003": {"OE1": {}}})
    known = "one of B001, B002, ER1, meeting"
    assert one.startswith(f"B003: wanted a room, an equipment room or a room type: {known}; found B003")


def test_a_rack_and_rooms_belong_to_equipment_rooms_alone() -> None:
    assert told({"B001": {"OE1": {"rack": "RK1", "rooms": ["B002"]}}}) == [
        "B001.OE1.rack: wanted it in an equipment room alone; found RK1",
        "B001.OE1.rooms: wanted it in an equipment room alone; found B002",
    ]
    rack, room = told({"ER1": {"OE1": {"rack": "RK2", "rooms": ["B009"]}}})
    assert rack == "ER1.OE1.rack: wanted a rack of its equipment room: RK1; found RK2"
    assert room.startswith("ER1.OE1.rooms.0: wanted the tag of a room: one of B001, B002; found B009")


def test_a_destination_that_its_room_has_not_is_refused() -> None:
    (one,) = told({"B001": {"OE1": {"serves": ["far-and"]}}})
    assert one.startswith("B001.OE1.serves.0: wanted a destination or return of its rooms")
    assert one.endswith("found far-and (did you mean far-end?)")


def test_a_destination_is_one_thing_alone() -> None:
    equipment = {
        "meeting": {"OE1": {"serves": ["far-end"]}},
        "ER1": {"OE2": {"rooms": ["B002"], "serves": ["far-end"]}},
    }
    assert told(equipment) == [
        "ER1.OE2.serves.0: wanted a destination or return of B002 that nothing else is; found far-end, "
        "which OE1 is"
    ]


def test_a_code_is_given_to_a_room_once() -> None:
    assert told({"meeting": {"OE1": {}}, "B002": {"OE1": {}}}) == [
        "B002.OE1: wanted a code that is not given to B002 twice; found OE1 under meeting too"
    ]
    assert told({"B001": {"M1": {}}}) == ["B001.M1: wanted a code that nothing else in B001 has; found M1"]


def test_what_nobody_knows_of_the_ports_of_the_owner_is_taken_as_their_class_gives() -> None:
    """By hand: IEEE 802.3 allocates 15.4 W to a port of class 3, and 30 W to one of class 4."""
    for beside, watts in (({}, 2 * 15.4), ({"poe_class": "4"}, 60.0), ({"budget": "120 W"}, 120.0)):
        known = OwnerSwitch.model_validate({"free": ["1", "2"], "poe_ports": "2", **beside})
        assert free_power_w(known) == watts
    assert free_power_w(OwnerSwitch.model_validate({"free": ["1"]})) == 0.0


@pytest.mark.parametrize(
    ("ports", "refused"),
    [
        ({"ER1": "Core-1/17", "ER2": "core-1/port 17", "ER3": "Core-1/18"}, {"ER1": "ER2", "ER2": "ER1"}),
        ({"ER1": "P21", "ER2": "21", "ER3": "21"}, {"ER1": "ER2", "ER2": "ER1"}),
        ({"ER1": "ER3-OE1/21", "ER2": "21", "ER3": "port 21"}, {"ER1": "ER3", "ER3": "ER1"}),
        ({"ER1": "", "ER2": ""}, {}),
    ],
    ids=["one spelling or another", "of the room's own switch", "a switch by its tag", "none"],
)
def test_a_port_of_the_owners_network_is_named_by_one_equipment_room(
    ports: dict[str, str], refused: dict[str, str]
) -> None:
    tree = {
        "building": {
            "equipment_rooms": {room: {"owner_port": port} for room, port in ports.items()},
            "owner_equipment": {"ER3": {"OE1": {"kind": "switch", "switch": {"free": ["20", "21"]}}}},
        }
    }
    found = {path[2]: message for path, message in wrong_owner_equipment(tree) if path[-1] == "owner_port"}
    assert {room: message.rpartition(" as in ")[2] for room, message in found.items()} == refused
