"""Ways without pathways: lengths added up by hand."""

import pytest

from proposal.design.equipment.placed_devices import Placed
from proposal.design.pathways.right_angled_runs import local_route, pathway_height_m, right_angled_route
from proposal.model.pathways.building import EquipmentRoom, Rack, Shaft, Storey
from proposal.model.project import Project
from tests.design.making import changed, minimal

pytestmark = pytest.mark.independent


def two_storeys(**shafts: tuple[float, float]) -> Project:
    """Return a building whose racks stand at (10, 2) on the ground floor, its first floor 4 m above."""
    project = minimal()
    storeys = {
        "L0": Storey(name="Ground", height=0.0, slab_to_slab=4.0),
        "L1": Storey(name="First", height=4.0, slab_to_slab=3.5, pathway_height=2.9),
    }
    racks = {"RK1": Rack()}
    rooms = {"ER1": EquipmentRoom(name="Cupboard", storey="L0", at=(10.0, 2.0), racks=racks)}
    made = {tag: Shaft(name=tag, at=at) for tag, at in shafts.items()}
    building = project.building.model_copy(
        update={"storeys": storeys, "equipment_rooms": rooms, "shafts": made}
    )
    return project.model_copy(update={"building": building})


def test_on_one_storey_the_cable_goes_up_along_both_axes_and_down_to_the_racks() -> None:
    # Half a metre below the floor above at 4.0 m is 3.5 m: up 2.75 from 0.75, 7 east and 3 south, down to 1.
    route = right_angled_route(two_storeys(), (3.0, 5.0), 0.75, "L0", "ER1")
    assert route.length_m == pytest.approx(2.75 + 7 + 3 + 2.5)
    assert route.text == "to the ceiling way, along x and y, down to ER1"


def test_cables_run_as_far_below_the_floor_above_as_the_rule_says() -> None:
    # A metre below 4.0 m: up 2.25 from 0.75, down 2 to the racks; a storey that says 2.9 m keeps it.
    ruled = changed(two_storeys(), "brief.rules.pathways.below_floor_above", 1.0)
    assert right_angled_route(ruled, (3.0, 5.0), 0.75, "L0", "ER1").length_m == pytest.approx(
        2.25 + 7 + 3 + 2
    )
    assert pathway_height_m(ruled, "L1") == 2.9


def test_a_device_above_the_ceiling_way_comes_down_to_it() -> None:
    route = right_angled_route(two_storeys(), (10.0, 2.0), 3.8, "L0", "ER1")
    assert route.length_m == pytest.approx(0.3 + 0 + 2.5)


def test_without_a_shaft_the_cable_changes_storeys_straight_above_the_racks() -> None:
    # Up 2.15 to 2.9; 7 + 3 along; from 4 + 2.9 down to 3.5 is 3.4; down 2.5 to the rack's 1 m.
    route = right_angled_route(two_storeys(), (3.0, 5.0), 0.75, "L1", "ER1")
    assert route.length_m == pytest.approx(2.15 + 10 + 3.4 + 2.5)
    assert "L1 to L0" in route.text


def test_with_one_shaft_the_cable_goes_through_it_even_where_that_is_longer() -> None:
    # To (0, 5) is 3, from there to (10, 2) is 13.
    route = right_angled_route(two_storeys(west=(0.0, 5.0)), (3.0, 5.0), 0.75, "L1", "ER1")
    assert route.length_m == pytest.approx(2.15 + 3 + 3.4 + 13 + 2.5)
    assert "shaft west" in route.text


def test_a_shaft_is_called_by_its_tag_and_its_name() -> None:
    project = two_storeys(west=(0.0, 5.0))
    named = changed(project, "building.shafts.west.name", "riser beside the stairs")
    route = right_angled_route(named, (3.0, 5.0), 0.75, "L1", "ER1")
    assert "along x and y to shaft west (riser beside the stairs)" in route.text


def test_of_two_shafts_the_one_on_the_shorter_way_is_taken() -> None:
    # By way of (9, 5): 6 and 1 + 3; by way of (0, 5): 3 and 13.
    route = right_angled_route(two_storeys(west=(0.0, 5.0), east=(9.0, 5.0)), (3.0, 5.0), 0.75, "L1", "ER1")
    assert route.length_m == pytest.approx(2.15 + 6 + 3.4 + 4 + 2.5)
    assert "shaft east" in route.text


def test_of_two_shafts_alike_the_first_in_order_of_tags_is_taken() -> None:
    route = right_angled_route(two_storeys(S10=(9.0, 5.0), S2=(9.0, 5.0)), (3.0, 5.0), 0.75, "L1", "ER1")
    assert "shaft S2" in route.text


def test_runs_along_both_axes_are_stretched_by_the_routing_factor_and_rises_are_not() -> None:
    project = changed(two_storeys(east=(9.0, 5.0)), "brief.rules.cabling.routing_factor", 1.5)
    route = right_angled_route(project, (3.0, 5.0), 0.75, "L1", "ER1")
    assert route.length_m == pytest.approx(2.15 + 1.5 * (6 + 4) + 3.4 + 2.5)


def device(code: str, at: tuple[float, float], height_m: float, location: str) -> Placed:
    return Placed(
        tag=f"B001-{code}",
        code=code,
        kind="charger",
        model="A-CHARGER",
        room="B001",
        storey="L0",
        at=at,
        height_m=height_m,
        location=location,
    )


def test_devices_side_by_side_are_joined_without_a_way() -> None:
    start, end = device("CH1", (1.0, 1.0), 0.75, "table"), device("BO1", (1.0, 1.0), 0.75, "table")
    route = local_route(two_storeys(), start, end)
    assert (route.length_m, route.text) == (0.0, "side by side")


def test_a_device_above_another_is_joined_straight_down() -> None:
    start, end = device("CH1", (1.0, 1.0), 1.25, "table"), device("BO1", (1.0, 1.0), 0.75, "table")
    assert local_route(two_storeys(), start, end).length_m == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("at", "height_m", "words", "length_m"),
    [
        ((2.0, 1.5), 0.75, "side by side", 1 + 0.5),
        ((2.0, 1.5), 0.9, "side by side, straight up or down", 1 + 0.5 + 0.15),
        ((2.6, 1.0), 0.75, "to the ceiling way, along x and y, down the wall", 2.75 + 1.6 + 2.75),
    ],
)
def test_devices_that_stand_together_are_joined_along_their_furniture(
    at: tuple[float, float], height_m: float, words: str, length_m: float
) -> None:
    """Up to 1.5 m apart in a straight line; the cable itself lies at right angles."""
    start, end = device("CH1", (1.0, 1.0), 0.75, "table"), device("BO1", at, height_m, "table")
    route = local_route(two_storeys(), start, end)
    assert (route.text, route.length_m) == (words, pytest.approx(length_m))


@pytest.mark.parametrize(
    ("at", "words", "length_m"),
    [
        ((3.7, 1.5), "along the wall, down the wall", 0.7 + 0.4 + 1.65),
        ((3.0, 2.0), "down to the floor, along the floor, up to BO1", 2.4 + 0.9 + 0.75),
        (
            (5.0, 1.5),
            "to the ceiling way, along x and y, down the wall, from the wall to BO1",
            1.1 + 2 + 0.1 + 2.75 + 0.5,
        ),
    ],
    ids=["at the same wall", "away from all walls", "too far along the wall"],
)
def test_what_hangs_near_by_is_led_to_along_its_wall(
    at: tuple[float, float], words: str, length_m: float
) -> None:
    """On the south wall, y = 1 m, at 2.4 m; by the ceiling way: up 1.1, along 2 + 0.1, down 2.75, out 0.5.

    It is as long the other way round.
    """
    start, end = device("AP1", (3.0, 1.1), 2.4, "wall"), device("BO1", at, 0.75, "table")
    route = local_route(two_storeys(), start, end)
    assert (route.text, route.length_m) == (words, pytest.approx(length_m))
    assert local_route(two_storeys(), end, start).length_m == pytest.approx(length_m)


def test_two_tables_are_joined_by_the_ceiling_way() -> None:
    # Both stand at the south wall at 1 m. Up 2.75 to 3.5, 2 along, down 2.5 to 1 m, and 0.5 from the wall.
    start, end = device("CH1", (1.0, 1.0), 0.75, "table"), device("BO1", (3.0, 1.5), 1.0, "table")
    assert local_route(two_storeys(), start, end).length_m == pytest.approx(2.75 + 2.5 + 2.5)


def test_a_ceiling_device_is_joined_at_its_own_height() -> None:
    start, end = device("AP1", (1.0, 1.0), 2.7, "ceiling"), device("BO1", (3.0, 2.0), 0.75, "table")
    # Along to (3, 1) at the wall, down 2.7 to the floor, 1 along that, and 0.75 up: it stands 1 m away.
    route = local_route(two_storeys(), start, end)
    assert route.length_m == pytest.approx(0 + 2 + 2.7 + 1 + 0.75)
    assert route.text.endswith("down the wall, along the floor from the wall, up to BO1")
    assert (route.rises_at, route.comes_down_at) == (None, (3.0, 1.0))


def test_no_stretch_is_shorter_than_nothing_for_a_device_above_the_ceiling_way() -> None:
    start, end = device("CH1", (1.0, 1.0), 5.0, "table"), device("BO1", (3.0, 1.5), 0.75, "table")
    route = local_route(two_storeys(), start, end)
    assert all(stretch.length_m >= 0 for stretch in route.stretches)
    assert route.length_m == pytest.approx(1.5 + 2.5 + 2.75)
