"""Devices of issued revisions are found again among those that a room has now, and keep their codes."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

from proposal.design.rooms.kept_codes import Box, EarlierDevice, codes_for, earlier_devices
from proposal.model.project import Numbered


def had(
    code: str, at: tuple[float, float] | None = None, model: str = "X", *, gone: bool = False
) -> EarlierDevice:
    return EarlierDevice(code, model, at, gone)


WEST, MIDDLE, EAST = (2.0, 3.0), (6.0, 3.0), (10.0, 3.0)
THREE = [had("AP1", WEST), had("AP2", MIDDLE), had("AP3", EAST)]


def test_what_is_new_is_counted_from_one() -> None:
    assert codes_for("charger", [Box("X"), Box("X"), Box("Y")]) == ("CH1", "CH2", "CH3")


def test_the_middle_one_taken_away_leaves_the_others_their_codes() -> None:
    boxes = [Box("X", (2.2, 3.0)), Box("X", (9.5, 3.0))]
    assert codes_for("access_point", boxes, THREE) == ("AP1", "AP3")
    assert codes_for("access_point", boxes[::-1], THREE) == ("AP3", "AP1")


def test_a_retired_code_is_never_given_again() -> None:
    past = [had("AP1", WEST), had("AP2", MIDDLE, gone=True), had("AP3", EAST)]
    boxes = [Box("X", WEST), Box("X", MIDDLE), Box("X", EAST), Box("X", (14.0, 3.0))]
    assert codes_for("access_point", boxes, past) == ("AP1", "AP4", "AP3", "AP5")


def test_the_nearest_pair_is_joined_first() -> None:
    # AP1 is 3 m from the one box and 2 m from the other; AP2 is 0.5 m from that one.
    past = [had("AP1", (0.0, 0.0)), had("AP2", (2.5, 0.0))]
    boxes = [Box("X", (2.0, 0.0)), Box("X", (-3.0, 0.0))]
    assert codes_for("access_point", boxes, past) == ("AP2", "AP1")


def test_one_of_the_same_model_comes_before_a_nearer_one() -> None:
    past = [had("AP1", WEST, "X"), had("AP2", EAST, "Y")]
    boxes = [Box("X", EAST), Box("Y", WEST)]
    assert codes_for("access_point", boxes, past) == ("AP1", "AP2")


def test_another_model_in_its_place_keeps_the_code() -> None:
    boxes = [Box("Y", WEST), Box("Y", MIDDLE), Box("Y", EAST)]
    assert codes_for("access_point", boxes, THREE) == ("AP1", "AP2", "AP3")


def test_spares_of_one_form_keep_their_codes_when_others_of_another_form_come_before_them() -> None:
    past = [had("MS1", None, "goose"), had("MS2", None, "hand")]
    boxes = [Box("body"), Box("goose"), Box("hand"), Box("hand")]
    assert codes_for("spare_microphone", boxes, past) == ("MS3", "MS1", "MS2", "MS4")


def test_a_code_that_the_designer_wrote_a_position_for_is_there_before_any_other() -> None:
    boxes = [Box("X"), Box("X")]
    assert codes_for("access_point", boxes, written=["AP1", "AP3"]) == ("AP1", "AP3")
    assert codes_for("access_point", boxes, THREE, written=["AP3"]) == ("AP1", "AP3")
    assert codes_for("access_point", boxes, [had("AP9", gone=True)], written=["AP9"]) == ("AP1", "AP9")


def test_a_code_about_which_fixed_yaml_decides_stays_though_another_is_nearer() -> None:
    assert codes_for("access_point", [Box("X", WEST)], THREE, by_hand={"AP3": ""}) == ("AP3",)


def test_a_code_that_was_never_there_does_not_come_from_fixed_yaml() -> None:
    assert codes_for("charger", [Box("X")], by_hand={"CH7": "X"}) == ("CH1",)


def test_a_model_fixed_by_hand_does_not_tell_which_box_had_the_code() -> None:
    # Chosen were X, X and Y; by hand AP1 became a Y. The others still are what they were.
    past = [had("AP1", None, "Y"), had("AP2", None, "X"), had("AP3", None, "Y")]
    boxes = [Box("X"), Box("X"), Box("Y")]
    assert codes_for("access_point", boxes, past, by_hand={"AP1": "Y"}) == ("AP2", "AP1", "AP3")


def test_codes_used_in_rooms_of_the_same_type_are_not_given_to_what_is_new() -> None:
    assert codes_for("charger", [Box("X"), Box("X")], [had("CH1")], used={"CH2"}) == ("CH1", "CH3")


def test_devices_are_found_in_a_register_by_room_and_kind() -> None:
    register = {
        "device/A-1-AP2": Numbered(number="A-1-AP2", at=WEST, model="X"),
        "device/A-1-AP10": Numbered(number="A-1-AP10", retired=True),
        "device/A-1-M1": Numbered(number="A-1-M1", model="mic"),
        "device/ER1-SW1": Numbered(number="ER1-SW1", model="switch"),
        "address/A-1-AP2": Numbered(number="10.0.0.1"),
    }
    assert earlier_devices(register) == {
        "A-1": {"access_point": (had("AP2", WEST), had("AP10", None, "", gone=True))},
        "ER1": {"switch": (had("SW1", None, "switch"),)},
    }


places = st.none() | st.tuples(st.integers(0, 6), st.integers(0, 6))
models = st.sampled_from("XYZ")
earlier = st.lists(st.tuples(models, places, st.booleans()), max_size=5).map(
    lambda ones: [had(f"AP{n}", at, model, gone=gone) for n, (model, at, gone) in enumerate(ones, 1)]
)
point = st.tuples(st.integers(0, 6), st.integers(0, 6))
# Boxes are placed all of them, or none.
boxes_now = st.lists(st.builds(Box, models, point), max_size=6) | st.lists(st.builds(Box, models), max_size=6)
codes = st.lists(st.integers(1, 8).map("AP{}".format), max_size=3, unique=True)


@given(earlier, boxes_now, codes, codes)
def test_codes_differ_keep_to_living_ones_and_never_take_a_retired_one(
    past: list[EarlierDevice], boxes: list[Box], written: list[str], decided: list[str]
) -> None:
    given_codes = codes_for("access_point", boxes, past, written=written, by_hand=dict.fromkeys(decided, ""))
    assert len(set(given_codes)) == len(given_codes) == len(boxes)
    living = {one.code for one in past if not one.retired}
    retired = {one.code for one in past if one.retired}
    assert not retired & set(given_codes) - set(written)
    assert set(sorted(written)[: len(boxes)]) <= set(given_codes)
    new = set(given_codes) - living - set(written)
    assert not new or living <= set(given_codes)
    assert not new or len(living | set(written)) < len(boxes)


@given(earlier, boxes_now)
def test_what_is_issued_is_found_again_as_it_was(past: list[EarlierDevice], boxes: list[Box]) -> None:
    first = codes_for("access_point", boxes, past)
    now = [had(code, box.at, box.model) for code, box in zip(first, boxes, strict=True)]
    now += [had(one.code, one.at, one.model, gone=True) for one in past if one.code not in first]
    assert sorted(zip(codes_for("access_point", boxes, now), map(str, boxes), strict=True)) == sorted(
        zip(first, map(str, boxes), strict=True)
    )


@given(earlier)
def test_the_order_of_the_register_does_not_matter(past: list[EarlierDevice]) -> None:
    boxes = [Box("X", (1.0, 1.0)), Box("Y", (5.0, 5.0))]
    for turned in itertools.islice(itertools.permutations(past), 6):
        assert codes_for("access_point", boxes, turned) == codes_for("access_point", boxes, past)
