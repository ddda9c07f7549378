"""What a reviewer says of rooms with more microphones than the air has places for, and what would help."""

from dataclasses import replace

import pytest

from proposal.design.network.switch_joins import SwitchJoins
from proposal.design.radio import radio_levers, radio_plan
from proposal.design.radio.radio_cases import MOST_OFF_DB
from proposal.design.whole_design import design
from proposal.model.project import Project
from proposal.model.radio.radio import BuildingRadio, Wall
from proposal.quantities.formatting import listed
from proposal.review.finding import Finding
from proposal.review.radio_plan import plan_not_settled
from tests.review.radio_rooms import crowded, one, said


def test_a_room_with_too_many_is_told_by_its_sum_and_no_wall_is_advised() -> None:
    # 24 links of three slot pairs on five carriers of twelve: 72 of 60, four links too many
    found = one(crowded(24), "radio-impossible")
    assert (found.where, found.value, found.limit, found.unit) == ("B001", 72.0, 60.0, "slot pairs")
    assert "24 × 3 = 72 slot pairs, but 5 carriers of 12 slot pairs each have 60: 12 too" in found.message
    assert "wire gooseneck and boundary microphones, which stay at one seat: 4 in B001" in found.remedy
    assert "use fewer wireless microphones at once: 4 fewer in B001" in found.remedy
    assert "take equipment with 2 slot pairs a link" in found.remedy
    for no_help in ("loss", "wall", "lower"):
        assert no_help not in found.remedy


def test_without_the_microphones_that_are_named_there_is_a_plan() -> None:
    # Other four may not do: near and far leave fewer places than the sum.
    project = crowded(24)
    whole = design(project)
    asked = whole.radio.asked
    for name in ("wired microphones", "fewer microphones"):
        (lever,) = [one for one in whole.radio.levers if one.name == name]
        assert (lever.amounts, len(lever.microphones), lever.missing) == ((4,), 4, 0)
        linked = {tag: box for tag, box in asked.linked.items() if tag not in lever.microphones}
        assert len(linked) == 20
        rest = radio_plan.radio_design(project, asked.devices, asked.entries, linked, asked.joined)
        assert (rest.outcome, len(rest.margins)) == ("planned", 20)
    codes = listed([tag.removeprefix("B001-") for tag in lever.microphones])
    assert f"4 fewer in B001 ({codes})" in one(project, "radio-impossible").remedy


def test_of_a_very_large_building_only_the_fullest_neighbourhood_is_planned_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Two rooms of 24 links far apart: 72 of 60 slot pairs in each. With 30 links at most, the second is left
    # out; with 20 nothing is planned anew.
    project = crowded(24, rooms=2)
    far = project.rooms["B002"].model_copy(update={"x": 3000.0})
    rooms = {"B001": project.rooms["B001"], "B002": far}
    project = project.model_copy(update={"rooms": rooms})

    def first(project: Project) -> Finding:
        found = [each for each in said(project) if each.rule == "radio-impossible"]
        assert [each.where for each in found] == ["B001", "B002"]
        return found[0]

    for module in (radio_levers, radio_plan):
        monkeypatch.setattr(module, "MOST_LINKS", 30)
    found = first(project)
    made = design(project).radio
    assert made.planned_alone == ("B001",)
    assert found.remedy.startswith("What would help in B001, planned without the rest of the building, each")
    assert {room for lever in made.levers for room in lever.rooms} == {"B001"}
    assert any(lever.name == "fewer microphones" and lever.amounts == (4,) for lever in made.levers)
    monkeypatch.setattr(radio_levers, "MOST_LINKS", 20)
    assert design(project).radio.levers == ()
    assert "Nothing that was tried in B001" in first(project).remedy


def test_rooms_side_by_side_are_told_how_much_loss_between_them_would_do() -> None:
    # 12 links each: 72 of 60 slot pairs as long as they hear each other; 36 each by itself
    project = crowded(12, rooms=2)
    found = one(project, "radio-impossible")
    assert found.where == "radio"
    assert found.message.startswith("B001 and B002 hear each other")
    (lever,) = [lever for lever in design(project).radio.levers if lever.name == "more loss"]
    assert lever.missing == 0
    assert lever.rooms == ("B001", "B002")
    assert lever.amount is not None

    def with_walls(loss_db: float) -> str:
        walls = {"W1": Wall(storey="L0", along=((7.05, -9.0), (7.05, 19.0)), loss=loss_db)}
        radio_of = BuildingRadio(walls=walls)
        building = project.building.model_copy(update={"radio": radio_of})
        return design(project.model_copy(update={"building": building})).radio.outcome

    # The wall between them, which loses 3 dB as the sides of rooms do, built so: a plan; much less: none.
    assert with_walls(3.0 + lever.amount) == "planned"
    assert with_walls(3.0) == "impossible"


def test_handheld_microphones_are_not_told_to_be_wired() -> None:
    found = one(crowded(24, form="handheld"), "radio-impossible")
    assert "wire" not in found.remedy.replace("wireless", "")
    assert "use fewer wireless microphones at once: 4 fewer in B001" in found.remedy


@pytest.mark.parametrize(
    ("count", "apart_m", "told"),
    [(16, 0.1, []), (17, 0.7, ["B001-AP1"]), (17, 0.1, ["B001-AP1", "B001-M1"])],
)
def test_devices_close_to_each_other_hold_no_more_of_the_band_than_one_may(
    count: int, apart_m: float, told: list[str]
) -> None:
    # A third of 5 × 12 slot pairs is 20. Four links of three fill a carrier of 1.4 MHz: 16 links need 5.6 MHz
    # of the 6 MHz, 17 links 7 MHz. Ten in a row 0.1 m apart lie within 1 m, and the second row 0.24 m off it.
    found = [one for one in said(crowded(count, apart_m=apart_m)) if one.rule == "radio-share-exceeded"]
    assert [(one.where, one.value, one.limit) for one in found] == [(tag, 51.0, 20.0) for tag in told]
    if len(told) > 1:
        assert "and 16 devices close to it hold more of the band" in found[1].message
        assert found[1].remedy.startswith("Place them more than 1.0 m apart")


def test_a_room_whose_every_slot_pair_is_taken_is_warned_of() -> None:
    # close together no link is much louder than another, so that all neighbouring carriers can be used
    found = one(crowded(20, apart_m=0.02), "radio-no-reserve")
    assert (found.severity, found.value, found.limit, found.unit) == ("warning", 60.0, 60.0, "slot pairs")


def test_how_far_walls_may_be_off_is_told_with_what_to_measure() -> None:
    project = crowded(12, rooms=2)
    radio_of = BuildingRadio(walls={"W1": Wall(storey="L0", along=((7.05, -9.0), (7.05, 19.0)), loss=70.0)})
    building = project.building.model_copy(update={"radio": radio_of})
    sound = design(project.model_copy(update={"building": building})).radio
    assert sound.outcome == "planned"
    (needed,) = [lever.amount for lever in design(project).radio.levers if lever.name == "more loss"]
    assert needed is not None

    def with_more_than_needed(more_db: float) -> Project:
        wall = Wall(storey="L0", along=((7.05, -9.0), (7.05, 19.0)), loss=3.0 + needed + more_db)
        building = project.building.model_copy(update={"radio": BuildingRadio(walls={"W1": wall})})
        return project.model_copy(update={"building": building})

    # With 18 dB more than needed nothing breaks as far as it is tried, and no measurement is asked for.
    tolerance = design(with_more_than_needed(18)).radio.tolerance
    assert tolerance is not None
    assert (tolerance.off_db, tolerance.breaks, tolerance.rooms) == (MOST_OFF_DB, False, ())
    near = with_more_than_needed(2)
    tolerance = design(near).radio.tolerance
    assert tolerance is not None
    assert (tolerance.off_db, tolerance.breaks) == (2, True)
    assert tolerance.rooms == ("B001", "B002")
    found = one(near, "radio-plan-fragile")
    assert "lose 3 dB less than computed" in found.message
    assert found.remedy.startswith("Measure between B001 and B002")


def test_a_room_in_which_near_and_far_leave_fewer_is_told_so_with_the_pairs_counted() -> None:
    # the same twenty microphones over the whole room: the sum allows them, levels do not
    project = crowded(20)
    radio_of = design(project).radio
    (room,) = radio_of.rooms
    assert (room.wanted, room.held) == (60, 60)
    assert room.near_far
    found = one(project, "radio-not-settled")
    assert found.message.startswith("1 link of 20 found no place on the air, in B001")
    assert (
        f"{room.near_far} pairs of links there differ too much in level for neighbouring carriers"
        in found.message
    )
    assert "use fewer wireless microphones at once: 1 fewer in B001" in found.remedy


def test_switches_that_are_not_joined_come_before_what_would_help_on_the_air() -> None:
    project = crowded(20)
    made = design(project)
    switch = next(one.tag for one in made.devices if one.kind == "switch")
    apart = replace(made, switch_joins=SwitchJoins(first="ER1-SW1", joins=(), left=(switch,)))
    assert list(plan_not_settled(project, apart)) == list(plan_not_settled(project, made))
    vars(apart)["radio"] = replace(made.radio, groups={"B001-AP1": "one", "B002-AP1": "other"})
    (found,) = plan_not_settled(project, apart)
    assert found.remedy.startswith(f"First join the network (switch-not-joined at {switch}): ")
    (joined,) = plan_not_settled(project, made)
    assert found.remedy.endswith(joined.remedy)
    assert "First join" not in joined.remedy
