"""Where things are fixed: surfaces that may not be touched, and what a model allows."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.design.standing_conditions import facts
from proposal.errors import InputError
from proposal.model.assistive_listening import AssistiveListening
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.pipeline import compute
from proposal.review.finding import Finding
from proposal.review.mountings import (
    cables_at_untouchable_ceilings,
    far_from_walls,
    no_safety_wire,
    not_for_moving_air,
    outlets_at_untouchable_surfaces,
    over_ceiling_bars,
    untouchable_touched,
)
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout
from tests.review.editing import Edit, edited

CHAMBER = "room_types/chamber.yaml"
REASON = "Oak of 1911 that is protected."
CASES: Mapping[str, tuple[str, str, Mapping[str, Edit]]] = {
    "an access point that is written under the ceiling": (
        "surface-not-to-be-touched",
        "C101-AP1",
        {
            CHAMBER: [
                (
                    "untouchable:",
                    "access_points_at: {AP1: [24 ft, 20 ft]}\naccess_points_on: ceiling\nuntouchable:",
                )
            ]
        },
    ),
    "loudspeakers on walls that may not be touched": (
        "surface-not-to-be-touched",
        "C101-LS1",
        {CHAMBER: [("untouchable:\n", f"untouchable:\n  walls: {REASON}\n")]},
    ),
    "a breakout under a table that may not be touched": (
        "surface-not-to-be-touched",
        "C103-BO1",
        {
            "room_types/closed_session.yaml": [
                ("sound_stays:", f"untouchable: {{furniture: {REASON}}}\nsound_stays:")
            ]
        },
    ),
    "a new floor box in a floor that may not be touched": (
        "surface-not-to-be-touched",
        "FB1",
        {
            CHAMBER: [("untouchable:\n", f"untouchable:\n  floor: {REASON}\n")],
            "building.yaml": [
                ("length: 58 ft, bends: [90°, 90°], existing: yes", "length: 58 ft, bends: [90°, 90°]"),
            ],
        },
    ),
    "a loudspeaker for ceilings on a wall": (
        "mounting-not-possible",
        "C101-LS1",
        {
            CHAMBER: [
                (
                    "LS1: {at: [6 in, 10 ft], zone: public, mounting: wall, height: 8 ft, model: Q24453}",
                    "LS1: {at: [6 in, 10 ft], zone: public, mounting: wall, height: 8 ft, model: Q39136}",
                )
            ]
        },
    ),
    "a loudspeaker on a wall in the middle of the room": (
        "not-at-a-wall",
        "C101-LS1",
        {CHAMBER: [("LS1: {at: [6 in, 10 ft]", "LS1: {at: [20 ft, 10 ft]")]},
    ),
}


def found(folder: Path, edits: Mapping[str, Edit]) -> tuple[Finding, ...]:
    return compute(load_project(edited(folder, "municipal", edits))).findings


@pytest.mark.parametrize("case", CASES)
def test_what_is_fixed_where_it_may_not_be_is_an_error(case: str, tmp_path: Path) -> None:
    rule, where, edits = CASES[case]
    (one,) = [one for one in found(tmp_path / "project", edits) if (one.rule, one.where) == (rule, where)]
    assert one.severity == "error"
    assert one.place.file
    if "oak" in str(edits).lower():
        assert REASON in one.message


def test_an_access_point_goes_to_a_wall_where_the_ceiling_may_not_be_touched() -> None:
    from tests.review.requirements.test_municipal import computed

    devices = {one.tag: one for one in computed().design.devices}
    assert devices["C101-AP1"].location == "wall"
    assert devices["C101-AP1"].height_m == pytest.approx(computed().project.brief.rules.radio.wall_height)
    assert devices["C102-AP1"].location == "ceiling"


def test_loudspeaker_cables_lie_along_walls_where_nothing_may_be_fixed_to_the_ceiling() -> None:
    from tests.review.requirements.test_municipal import computed

    made = computed()
    # By hand, from (0.5, 10) ft to (40, 0.5) ft and from (0.5, 26) ft to (43, 35.5) ft: 9.5 ft to a corner,
    # and 39.5 ft or 42.5 ft along the next wall.
    for identity, far_ft, along_ft in (
        ("C101-LS1/L1/C101-LS2", 0.5, 49),
        ("C101-LS3/L1/C101-LS4", 35.5, 52),
    ):
        (route,) = (one.route for one in made.design.cables if one.identity == identity)
        assert route.length_m == pytest.approx(along_ft * 0.3048)
        assert [round(x / 0.3048, 6) for at in route.turns for x in at] == [0.5, far_ft]
    assert not list(cables_at_untouchable_ceilings(made.project, made.design))


def test_cables_that_cross_under_a_ceiling_not_to_be_touched_are_a_warning() -> None:
    from tests.review.requirements.test_municipal import computed

    made = computed()
    # As if nothing might be fixed to the walls, so that what lies along them had to hang.
    both = {"ceiling": "painted", "walls": "panelled"}
    project = changed(made.project, "rooms.C101.layout.untouchable", both)
    (one,) = cables_at_untouchable_ceilings(project, made.design)
    assert (one.rule, one.severity) == ("cables-at-untouchable-ceiling", "warning")
    assert (one.where, one.place.file) == ("C101", "room_types/chamber.yaml")
    # The access point and four loudspeakers; the charger's cable lies in the old conduit.
    assert one.message.startswith("5 cables of C101 (C101-AP1/N1/ER1-RK1, C101-LS1/L1/C101-LS2, ")
    assert ") run overhead outside pathways where nothing may be fixed" in one.message
    # The longest of them: from the third loudspeaker to the fourth, 9.5 ft and 42.5 ft.
    assert one.value == pytest.approx(52 * 0.3048)


def test_a_loudspeaker_on_a_wall_says_how_high_it_hangs(tmp_path: Path) -> None:
    high = "LS1: {at: [6 in, 10 ft], zone: public, mounting: wall, height: 8 ft"
    edits = {CHAMBER: [(high, "LS1: {at: [6 in, 10 ft], mounting: wall")]}
    with pytest.raises(
        InputError,
        match=r"LS1.*wanted a height for a loudspeaker on a wall, such as `height: 2.4 m`; found none",
    ):
        load_project(edited(tmp_path / "project", "municipal", edits))


def test_a_surface_that_is_none_is_told_with_those_there_are(tmp_path: Path) -> None:
    edits = {CHAMBER: [("untouchable:\n  ceiling:", "untouchable:\n  celing:")]}
    wanted = r"wanted one of ceiling, walls, floor, furniture; found celing"
    with pytest.raises(InputError, match=wanted):
        load_project(edited(tmp_path / "project", "municipal", edits))


def test_a_loudspeaker_overhead_that_takes_no_safety_wire_is_told_once_a_model() -> None:
    from tests.review.requirements.test_municipal import computed

    made = computed()
    overhead = [one for one in made.design.devices if one.kind == "loudspeaker" and one.location == "ceiling"]
    model = overhead[0].model
    wanted = [one.tag for one in overhead if one.model == model]
    assert list(no_safety_wire(made.project, made.design)) == []
    without = changed(made.project, f"library.loudspeakers.{model}.safety_wire", False)
    (one,) = no_safety_wire(without, made.design)
    assert (one.rule, one.severity, one.where) == ("no-safety-wire", "warning", wanted[0])
    assert f"hangs from the ceiling {len(wanted)} times" in one.message
    assert one.place.file.startswith("room")


def test_a_loudspeaker_in_a_ceiling_with_moving_air_is_rated_for_it() -> None:
    project = project_of(PROJECTS / "us_customary")
    design = designed(project)
    in_ceilings = [one for one in design.devices if one.kind == "loudspeaker" and one.location == "ceiling"]
    model, storey = in_ceilings[0].model, in_ceilings[0].storey
    # The space of this name returns the air of the building.
    over_rooms = changed(project, f"building.storeys.{storey}.ceiling_space", "ceiling")
    assert list(not_for_moving_air(over_rooms, design)) == []
    unrated = changed(over_rooms, f"library.loudspeakers.{model}.plenum_rated", False)
    (one,) = not_for_moving_air(unrated, design)
    assert (one.rule, one.severity) == ("not-plenum-rated", "warning")
    tags = [each.tag for each in in_ceilings if (each.model, each.storey) == (model, storey)]
    assert one.message.endswith(f"is not rated for it: {', '.join(tags)}.")
    # Where no air moves above the ceiling, or nobody says what is there, nothing is said.
    still = changed(unrated, "building.spaces.ceiling.plenum", False)
    assert list(not_for_moving_air(still, design)) == []
    undescribed = changed(unrated, f"building.storeys.{storey}.ceiling_space", "")
    assert list(not_for_moving_air(undescribed, design)) == []


def test_what_hangs_over_a_bar_of_the_ceiling_grid_is_told_with_the_amount() -> None:
    """LS1 hangs 8 ft east of the origin: on the fourth bar of a grid of 2 ft."""
    project = project_of(PROJECTS / "us_customary")
    design = designed(project)
    assert list(over_ceiling_bars(project, design)) == []
    (kind,) = (one for one in design.kinds if one.path == ("room_types", "classroom"))
    foot_m = 0.3048
    gridded = changed(project, f"rooms.{kind.rooms[0]}.layout.ceiling.tile", (2 * foot_m, 2 * foot_m))
    (one,) = over_ceiling_bars(gridded, design)
    assert (one.rule, one.severity, one.value) == ("over-a-ceiling-bar", "warning", 0.0)
    width_m = project.library.loudspeakers["Q39136"].width
    assert one.limit == pytest.approx(width_m / 2)
    assert "LS1, LS2, LS3 and LS4" in one.message
    # Half a tile eastwards, and half a foot from the middle northwards.
    assert "13.5 in away" in one.remedy
    # A grid of 30 ft by 30 ft has no bar near.
    wide = changed(project, f"rooms.{kind.rooms[0]}.layout.ceiling.tile", (30 * foot_m, 30 * foot_m))
    assert list(over_ceiling_bars(wide, design)) == []


def listening(**written: object) -> Project:
    """Return a room with assistive listening and walls that may not be touched."""
    devices = AssistiveListening.model_validate(written)
    return with_layout(
        minimal(),
        "meeting",
        assistive_listening=True,
        assistive_devices=devices,
        untouchable={"walls": "The walls are listed."},
    )


def test_what_is_for_assistive_listening_keeps_off_walls_that_may_not_be_touched() -> None:
    made = designed(listening())
    held = {one.code: one.location for one in made.devices if one.kind == "assistive_device"}
    assert (held["AT1"], held["SG1"]) == ("ceiling", "table")
    assert not list(untouchable_touched(made.project, made))
    assert not list(outlets_at_untouchable_surfaces(made.project, made))
    (outlet,) = [one for circuit in made.circuits for one in circuit.outlets if one.serves == "B001-AT1"]
    assert outlet.location == "ceiling"


def test_a_transmitter_away_from_walls_is_at_the_ceiling() -> None:
    made = designed(
        changed(listening(transmitters_at={"AT1": ["2 m", "2 m"]}), "room_types.meeting.untouchable", {})
    )
    (one,) = [one for one in made.devices if one.code == "AT1"]
    assert one.location == "ceiling"
    assert not list(far_from_walls(made.project, made))


def test_a_transmitter_on_a_wall_by_hand_is_told_with_its_outlet_and_what_can_be_written() -> None:
    made = designed(listening(transmitters_on="wall"))
    (touched,) = untouchable_touched(made.project, made)
    assert (touched.where, touched.remedy) == (
        "B001-AT1",
        "Write `transmitters_on: ceiling` and a place for it, or choose a model that is made for another "
        "place.",
    )
    (outlet,) = outlets_at_untouchable_surfaces(made.project, made)
    assert (outlet.rule, outlet.where) == ("outlet-not-to-be-there", "B001-AT1")
    # 0.3 m under the ceiling, at the middle of the longest wall; 26 W by the library.
    assert "(3.0 m, 0.0 m, 2.4 m in the room; 26 W)" in outlet.message


def test_a_library_whose_transmitters_stand_is_taken_where_nothing_may_be_fixed() -> None:
    project = listening()
    of_all = project.library.assistive_devices
    stands = {
        code: one.model_copy(update={"mounting": ("stand",)}) if one.role == "transmitter" else one
        for code, one in of_all.items()
    }
    made = designed(changed(project, "library.assistive_devices", stands))
    (one,) = [one for one in made.devices if one.code == "AT1"]
    assert (one.location, one.height_m) == ("stand", 2.0)
    assert not list(untouchable_touched(made.project, made))


def test_no_sign_is_told_of_where_there_is_none() -> None:
    made = designed(listening(signs=0))
    assert "signs of assistive listening" not in facts(made)
    assert "signs of assistive listening" in facts(designed(listening()))
