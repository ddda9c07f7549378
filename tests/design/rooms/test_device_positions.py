"""Where devices stand: into the building, over their microphones, before the longest wall."""

import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon, affinity

from proposal.design.equipment.placed_devices import in_building, signed_area_m2
from proposal.design.rooms.device_positions import charging_point, microphones_by_access_point
from proposal.model.project import FixedDevice, Project
from proposal.model.rooms import Room, RoomType
from tests.design.making import changed, designed, minimal, with_layout, with_microphones

metres = st.floats(min_value=-60, max_value=60).map(lambda value: round(value, 3))


def served_by(layout: RoomType, capacities: dict[str, int]) -> Mapping[str, tuple[str, ...]]:
    """Return whom each access point serves where those with a written position are the known ones."""
    return microphones_by_access_point(layout, capacities, layout.access_points_at)


def room_at(x: float, y: float, rotation: float, mirrored: bool) -> Room:
    return (
        minimal()
        .rooms["B001"]
        .model_copy(update={"x": x, "y": y, "rotation": rotation, "mirrored": mirrored})
    )


@pytest.mark.independent
@settings(deadline=None)
@given(metres, metres, st.floats(min_value=-360, max_value=360), st.booleans(), metres, metres)
def test_rooms_are_mirrored_then_turned_then_moved_as_shapely_does_it(
    x: float, y: float, rotation: float, mirrored: bool, px: float, py: float
) -> None:
    point = affinity.scale(ShapelyPoint(px, py), xfact=-1 if mirrored else 1, origin=(0, 0))
    wanted = affinity.translate(affinity.rotate(point, rotation, origin=(0, 0)), x, y)
    # Positions are kept to the micrometre.
    assert in_building(room_at(x, y, rotation, mirrored), (px, py)) == pytest.approx(
        (wanted.x, wanted.y), abs=1e-6
    )


@pytest.mark.parametrize("rotation", [0.0, 90.0, 180.0, 270.0, -90.0])
def test_a_quarter_turn_leaves_no_rounding_noise(rotation: float) -> None:
    x, y = in_building(room_at(0, 0, rotation, False), (2.0, 3.0))
    assert {abs(x), abs(y)} == {2.0, 3.0}


outlines = st.lists(
    st.tuples(st.integers(min_value=-9, max_value=9), st.integers(min_value=-9, max_value=9)),
    min_size=3,
    max_size=6,
    unique=True,
).map(lambda corners: [(float(x), float(y)) for x, y in corners])


@pytest.mark.independent
@settings(deadline=None)
@given(outlines)
def test_the_area_of_an_outline_is_shapelys(corners: list[tuple[float, float]]) -> None:
    polygon = Polygon(corners)
    if polygon.is_valid:
        assert abs(signed_area_m2(corners)) == pytest.approx(polygon.area)
        assert (signed_area_m2(corners) > 0) == polygon.exterior.is_ccw


@pytest.mark.parametrize("turned", [False, True])
def test_chargers_stand_half_a_metre_before_the_middle_of_the_longest_wall(turned: bool) -> None:
    corners = ((0.0, 0.0), (5.0, 0.0), (5.0, 8.0), (0.0, 6.0))
    project = with_layout(minimal(), "meeting", outline=corners[::-1] if turned else corners)
    assert charging_point(project, project.room_types["meeting"]) == (4.5, 4.0)


def test_of_walls_alike_the_first_one_counts() -> None:
    # The meeting room is 6 m by 5 m; its south wall is written first.
    assert charging_point(minimal(), minimal().room_types["meeting"]) == (3.0, 0.5)


def test_chargers_stand_as_far_from_the_wall_as_the_rule_says() -> None:
    project = changed(minimal(), "brief.rules.charging.from_wall", 0.8)
    assert charging_point(project, project.room_types["meeting"]) == (3.0, 0.8)


def test_chargers_stand_where_they_are_written() -> None:
    layout = with_layout(minimal(), "meeting", charging_at=(1.0, 2.0)).room_types["meeting"]
    assert charging_point(minimal(), layout) == (1.0, 2.0)


def test_microphones_go_to_the_access_point_that_is_nearest_while_it_has_channels() -> None:
    project = with_microphones(
        minimal(), "meeting", {"boundary": 4}, access_points_at={"AP1": (0.0, 1.0), "AP2": (0.9, 1.0)}
    )
    # Microphones stand at 0.2, 0.4, 0.6, 0.8 m. Nearest pairs first: M4 to AP2 (0.1), M1 to AP1 (0.2).
    served = served_by(project.room_types["meeting"], {"AP1": 2, "AP2": 2})
    assert served == {"AP1": ("M1", "M2"), "AP2": ("M3", "M4")}
    served = served_by(project.room_types["meeting"], {"AP1": 4, "AP2": 1})
    assert served == {"AP1": ("M1", "M2", "M3"), "AP2": ("M4",)}


def test_without_positions_microphones_are_taken_along_the_longer_side() -> None:
    project = with_microphones(minimal(), "meeting", {"boundary": 12})
    served = served_by(project.room_types["meeting"], {"AP1": 8, "AP2": 4})
    assert served == {"AP1": tuple(f"M{n}" for n in range(1, 9)), "AP2": ("M9", "M10", "M11", "M12")}


def test_a_microphone_without_a_channel_is_served_by_nobody() -> None:
    project = with_microphones(minimal(), "meeting", {"boundary": 3})
    assert served_by(project.room_types["meeting"], {"AP1": 2}) == {"AP1": ("M1", "M2")}


def placed(project: Project, tag: str) -> tuple[tuple[float, float], float, str]:
    device = next(one for one in designed(project).devices if one.tag == tag)
    return device.at, device.height_m, device.location


def test_an_access_point_hangs_over_the_middle_of_its_microphones() -> None:
    # The room's origin is (1, 1); microphones stand at 2.2 and 3.8 m, both 2.5 m from the south wall.
    assert placed(minimal(), "B001-AP1") == ((4.0, 3.5), 2.7, "ceiling")


def test_a_position_by_hand_stands() -> None:
    fixed = FixedDevice(at=(2.0, 2.0), height=2.4)
    assert placed(changed(minimal(), "fixed.devices", {"B001-AP1": fixed}), "B001-AP1") == (
        (2.0, 2.0),
        2.4,
        "ceiling",
    )


def test_spare_microphones_rest_with_the_chargers() -> None:
    assert placed(minimal(), "B001-MS1") == ((4.0, 1.5), 0.75, "charger")


def test_breakouts_stand_beside_the_chargers_unless_they_are_written() -> None:
    """Each place is as wide as the widest thing that may stand there, 620 mm; 100 mm lie between them."""
    assert placed(minimal(), "B001-CH1")[0] == (4.0, 1.5)
    beside = (4.0 - 0.62 - 0.1, 1.5)
    assert placed(minimal(), "B001-BO1")[0] == pytest.approx(beside, abs=0.0006)
    project = with_layout(minimal(), "meeting", breakouts_at=(5.5, 4.5))
    assert placed(project, "B001-BO1")[0] == (6.5, 5.5)


def test_no_device_lies_nowhere() -> None:
    for device in designed(minimal()).devices:
        assert all(math.isfinite(value) for value in (*device.at, device.height_m)), device.tag


@pytest.mark.parametrize(
    ("form", "height_m"), [("handheld", 1.2), ("bodypack", 1.2), ("boundary", 0.75), ("gooseneck", 0.75)]
)
def test_a_microphone_is_as_high_as_hand_or_table_and_its_path_as_long(form: str, height_m: float) -> None:
    """An access point is hung over each in turn, 2.7 m above the floor: the path is what lies between."""
    at = next(iter(minimal().room_types["meeting"].microphones.values())).at
    below = with_layout(
        with_microphones(minimal(), "meeting", {form: 1}), "meeting", access_points_at={"AP1": at}
    )
    alone = changed(below.room_types["meeting"].microphones["M1"], "at", at)
    project = with_layout(below, "meeting", microphones={"M1": alone})
    assert placed(project, "B001-M1")[1] == height_m
    (margin,) = [one for one in designed(project).radio.margins if one.microphone == "B001-M1"]
    assert margin.distance_m == pytest.approx(2.7 - height_m, rel=0, abs=1e-9)
