"""A bodypack has something that picks up sound: as written, else the least-cost one of its system."""

from proposal.design.equipment.microphone_accessories import accessories_of, pick_ups
from proposal.estimate.takeoff.lines import accessory_lines
from proposal.model.microphone_positions import MicrophonePosition
from proposal.review.microphone_systems import bodypacks_without_source
from tests.design.making import PROJECTS, changed, designed, project_of

CLASSROOM = ("room_types", "classroom")


def position(form: str, *accessories: str) -> MicrophonePosition:
    return MicrophonePosition.model_validate(
        {"form": form, "pattern": "cardioid", "at": ["1 m", "1 m"], "accessories": list(accessories)}
    )


def test_a_bodypack_gets_the_least_cost_headset_or_lavalier_of_its_system_and_is_priced() -> None:
    project = project_of(PROJECTS / "us_customary")
    design = designed(project)
    (kind,) = (one for one in design.kinds if one.path == CLASSROOM)
    (chosen,) = kind.sizing.accessories["M1"]
    entry = project.library.accessories[chosen]
    others = [
        one.cost
        for one in project.library.accessories.values()
        if one.works_with == kind.sizing.system and one.role in ("headset", "lavalier")
    ]
    assert entry.cost == min(others, key=lambda cost: cost.amount if cost else 0)
    assert kind.sizing.accessories["M2"] == ()
    bought = [one for one in accessory_lines(project, design) if one.model == chosen]
    assert {tag for one in bought for tag in one.causes} == {f"{room}-M1" for room in kind.rooms}


def test_what_a_bodypack_gets_is_an_assumption_and_nothing_is_assumed_of_other_forms() -> None:
    told = [one.path for one in project_of(PROJECTS / "us_customary").assumptions]
    assert (*CLASSROOM, "microphones", "M1", "accessories") in told
    assert (*CLASSROOM, "microphones", "M2", "accessories") not in told


def test_accessories_by_hand_are_kept_and_an_error_where_none_picks_up_sound() -> None:
    project = project_of(PROJECTS / "us_customary")
    (kind,) = (one for one in designed(project).kinds if one.path == CLASSROOM)
    system = kind.sizing.system
    cover = next(code for code, one in project.library.accessories.items() if one.role == "cover")
    assert accessories_of(project, system, position("bodypack", cover)) == (cover,)
    assert accessories_of(project, system, position("handheld")) == ()
    for named, errors in (((cover,), 1), ((cover, pick_ups(project, system)[0]), 0)):
        path = ("room_types", "classroom", "microphones", "M1", "accessories")
        by_hand = changed(project, path, named)
        for tag in kind.rooms:
            by_hand = changed(by_hand, ("rooms", tag, "layout", "microphones", "M1", "accessories"), named)
        found = list(bodypacks_without_source(by_hand, designed(by_hand)))
        assert [one.rule for one in found] == ["bodypack-without-source"] * errors
        for one in found:
            first = pick_ups(project, system)[0]
            assert f"{first} ({project.library.accessories[first].description})" in one.remedy
