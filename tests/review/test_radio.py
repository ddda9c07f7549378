"""What a reviewer says of radio: each rule on a small room made to break it, and silent on a good one."""

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from proposal.design.network.switch_joins import SwitchJoins
from proposal.design.radio import radio_levers, radio_plan
from proposal.design.radio.radio_cases import MOST_OFF_DB
from proposal.design.radio.radio_settings import radio_end
from proposal.design.whole_design import design
from proposal.document.making.document import document_of
from proposal.document.making.radio import radio_parts
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.model.radio.radio import BandUser, BuildingRadio, Obstruction, Wall
from proposal.pipeline import compute
from proposal.quantities.formatting import listed
from proposal.review.finding import Finding
from proposal.review.radio import RADIO_RULES
from proposal.review.radio_plan import plan_fragile, plan_not_settled
from proposal.review.rules import findings
from tests.catalogue import with_round_catalogue

ROOT = Path(__file__).resolve().parents[2]
RULES = {
    "radio-margin-low", "no-second-path", "access-points-close", "access-point-obstructed",
    "access-point-outside-room", "radio-not-settled", "transceivers-short", "radio-impossible",
    "radio-plan-fragile", "radio-no-reserve", "radio-reuse-not-proven", "radio-share-exceeded",
    "radio-power-above-limit", "radio-power-no-setting",
}  # fmt: skip


@cache
def minimal() -> Project:
    return with_round_catalogue(load_project(ROOT / "tests" / "projects" / "minimal"))


def changed(**layout: Any) -> Project:
    """Return the one room of the small project with another layout."""
    project = minimal()
    name = next(iter(project.room_types))
    kind = project.room_types[name].model_copy(update=layout)
    rooms = {tag: room.model_copy(update={"layout": kind}) for tag, room in project.rooms.items()}
    return project.model_copy(update={"room_types": {name: kind}, "rooms": rooms})


def radio(**values: Any) -> Any:
    return next(iter(minimal().room_types.values())).radio.model_copy(update=values)


def with_rules(project: Project, **rules: Any) -> Project:
    own = project.brief.rules.radio.model_copy(update=rules)
    return project.model_copy(
        update={
            "brief": project.brief.model_copy(
                update={"rules": project.brief.rules.model_copy(update={"radio": own})}
            )
        }
    )


def with_users(project: Project, **users: BandUser) -> Project:
    building = project.building.model_copy(update={"radio": BuildingRadio(other_users=users)})
    return project.model_copy(update={"building": building})


def said(project: Project) -> list[Finding]:
    made = design(project)
    return [one for rule in RADIO_RULES for one in rule(project, made)]


def one(project: Project, rule: str) -> Finding:
    found = [finding for finding in said(project) if finding.rule == rule]
    assert len(found) == 1, [f"{f.rule} {f.where}" for f in found]
    return found[0]


def test_nothing_is_said_of_a_good_room() -> None:
    assert said(minimal()) == []


def test_a_microphone_received_too_weakly_is_an_error_with_what_would_help() -> None:
    # received at −30.24 dBm: a sensitivity of −35 dBm with 10 dB of margin asks for −25 dBm
    weak = with_rules(minimal(), sensitivity=-35.0)
    found = one(weak, "radio-margin-low")
    assert (found.severity, found.where) == ("error", "B001-M1")
    assert found.value == pytest.approx(-30.24, rel=0, abs=0.01)
    assert (found.limit, found.unit) == (-25.0, "dBm")
    assert found.remedy == "Add an access point nearer by; 5.2 dB are missing."
    lower = with_rules(changed(radio=radio(power=17.0)), sensitivity=-40.0)
    assert one(lower, "radio-margin-low").remedy == "Raise the room's power setting by 7 dB, now 17 dBm."


def test_a_badly_hung_access_point_is_sent_to_where_placement_finds_best() -> None:
    # from the far corner the path is 4.8 m and not 2.1 m: 10.6 dB more
    corner = with_rules(changed(access_points_at={"AP1": (0.2, 0.2)}), sensitivity=-42.0)
    found = one(corner, "radio-margin-low")
    assert found.remedy == "Leave the positions out: in the best places found, the margin is 1.8 dB."


def test_an_obstruction_in_the_path_is_named_as_what_to_clear() -> None:
    screen = Obstruction(outline=((2.5, 0.0), (2.6, 0.0), (2.6, 5.0), (2.5, 5.0)), kind="metal", loss=40.0)
    hindered = changed(access_points_at={"AP1": (3.8, 2.5)}, radio=radio(obstructions={"O1": screen}))
    weak = with_rules(hindered, sensitivity=-60.0)
    assert "obstructions" not in one(weak, "radio-margin-low").message
    assert any("placement finds best" in f.remedy or "Clear the path" in f.remedy for f in said(weak))


def test_an_access_point_inside_an_obstruction_is_said() -> None:
    rack = Obstruction(outline=((2, 2), (4, 2), (4, 3), (2, 3)), kind="rack", loss=10.0)
    found = one(
        changed(access_points_at={"AP1": (3.0, 2.5)}, radio=radio(obstructions={"O1": rack})),
        "access-point-obstructed",
    )
    assert (found.severity, found.where) == ("warning", "B001-AP1")
    assert found.remedy == "Move it by 0.5 m at least, clear of O1 and in sight of its microphones."


def test_an_access_point_outside_its_room_is_judged() -> None:
    near = one(changed(access_points_at={"AP1": (7.0, 2.5)}), "access-point-outside-room")
    assert near.severity == "note"
    far = with_rules(changed(access_points_at={"AP1": (7.0, 2.5)}), sensitivity=-45.0)
    assert one(far, "access-point-outside-room").severity == "warning"


def test_access_points_nearer_than_the_least_distance_are_said_with_how_far_to_move() -> None:
    layout = next(iter(minimal().room_types.values()))
    first = next(iter(layout.microphones.values()))
    many = {f"M{n}": first.model_copy(update={"at": (0.6 * n, 2.5)}) for n in range(1, 10)}
    close = changed(microphones=many, seats={}, access_points_at={"AP1": (2.0, 2.5), "AP2": (3.8, 2.5)})
    found = one(close, "access-points-close")
    assert (found.severity, found.where) == ("warning", "B001-AP2")
    assert found.value == pytest.approx(1.8, rel=0, abs=1e-9)
    assert found.limit == 3.0
    assert found.remedy == "Move B001-AP2 away by 1.2 m."


def test_others_on_the_band_can_make_a_plan_impossible_and_the_proof_is_counted() -> None:
    telephones = BandUser(name="Telephones", storey="L0", at=(3.5, 3.5), links=60)
    found = one(with_users(minimal(), U1=telephones), "radio-impossible")
    assert found.severity == "error"
    # Sixty telephones block two slot pairs each, two microphones four: 128, of which ten carriers of twelve
    # hold 120.
    assert (found.value, found.limit, found.unit) == (128.0, 120.0, "slot pairs")
    assert "B001 and U1" in found.message
    assert "2 × 4 + 60 × 2 = 128 slot pairs" in found.message


def test_rooms_too_full_are_said_once_each_in_one_unit() -> None:
    project = load_project(ROOT / "tests" / "projects" / "failing")
    found = [one for one in findings(project, design(project)) if one.rule == "radio-impossible"]
    assert found
    assert {one.unit for one in found} == {"slot pairs"}
    assert len({one.message for one in found}) == len(found)


@pytest.mark.parametrize(
    ("power", "rule", "remedy"),
    [
        (30.0, "radio-power-above-limit", "Set 23 dBm or less."),
        (18.0, "radio-power-no-setting", "Set one of 8 dBm, 14 dBm, 17 dBm, 20 dBm, 23 dBm."),
    ],
)
def test_a_power_setting_that_cannot_be_is_said(power: float, rule: str, remedy: str) -> None:
    assert one(changed(radio=radio(power=power)), rule).remedy == remedy
    assert [f for f in said(changed(radio=radio(power=17.0))) if f.rule.startswith("radio-power")] == []


@pytest.mark.published
@pytest.mark.parametrize(
    ("region", "power", "above"),
    # ETSI EN 300 175-2: 250 mW is 24 dBm; 47 CFR 15.319(c): 100 µW times the root of 1.4 MHz is 20.7 dBm.
    [
        ("europe", 24.0, False),
        ("europe", 24.1, True),
        ("europe", 24.9, True),
        ("north_america", 20.7, False),
        ("north_america", 20.8, True),
        ("north_america", 21.6, True),
    ],
)
def test_a_power_setting_above_the_limit_of_the_region_is_an_error(
    region: str, power: float, above: bool
) -> None:
    project = changed(radio=radio(power=power))
    project = project.model_copy(update={"brief": project.brief.model_copy(update={"region": region})})
    found = [finding for finding in said(project) if finding.rule == "radio-power-above-limit"]
    assert bool(found) == above
    for finding in found:
        assert (finding.severity, finding.value, finding.unit) == ("error", power, "dBm")
        assert finding.limit == pytest.approx(24.0 if region == "europe" else 20.7, rel=0, abs=0.05)


@pytest.mark.published
@pytest.mark.parametrize(("region", "limit"), [("europe", 24.0), ("north_america", 20.7)])
@pytest.mark.parametrize("power", [None, 30.0])
def test_no_link_is_computed_with_more_power_than_the_region_allows(
    region: str, limit: float, power: float | None
) -> None:
    """A radio of another market has a setting 0.9 dB above the limit, and one at it."""
    project = changed(radio=radio(power=power))
    project = project.model_copy(update={"brief": project.brief.model_copy(update={"region": region})})
    entry = next(iter(project.library.access_points.values()))
    here = entry.radio.regions[project.brief.region].model_copy(
        update={"powers": (limit + 0.9, limit, limit - 6)}
    )
    stronger = entry.radio.model_copy(update={"regions": {project.brief.region: here}})
    layout = next(iter(project.room_types.values()))
    end = radio_end(project, layout, entry.model_copy(update={"radio": stronger}))
    assert end is not None
    assert end.power_dbm == limit
    assert end.radiated_dbm == limit + entry.radio.antenna_gain


def test_every_rule_has_a_source_and_a_remedy() -> None:
    weak = with_rules(
        changed(access_points_at={"AP1": (7.0, 2.5)}, radio=radio(power=18.0)), sensitivity=-30.0
    )
    for finding in said(weak):
        assert finding.rule in RULES
        assert str(finding.source)
        assert finding.remedy.endswith(".")


@pytest.mark.parametrize(("shift_db", "told"), [(5.0, False), (15.0, True)])
def test_how_much_stronger_interference_is_tried_is_a_rule_and_is_said(shift_db: float, told: bool) -> None:
    project = with_rules(load_project(ROOT / "example_project"), interference_shift=shift_db)
    made = design(project)
    said_of_it = [one.message for one in plan_fragile(project, made)]
    assert said_of_it == (
        ["With interference 15 dB stronger than computed the plan is impossible."] if told else []
    )
    # The client is told as well, without what takes long to find out.
    summary = radio_parts(project, made.radio, tolerance=False)["radio"]
    assert (summary.breaks_at_db, summary.walls_off_db) == (15.0 if told else None, None)


def test_the_cases_of_the_plan_are_named_with_what_was_tried() -> None:
    project = with_rules(minimal(), interference_shift=7.5)
    assert [row.name for row in document_of(compute(project)).radio_cases] == [
        "as designed", "interference 7.5 dB stronger", "interference 7.5 dB weaker",
        "one power setting lower", "no body loss",
    ]  # fmt: skip


def crowded(count: int, *, rooms: int = 1, form: str = "gooseneck", apart_m: float = 0.5) -> Project:
    """Return rooms side by side with so many microphones each, in the United States, and round numbers."""
    layout = next(iter(minimal().room_types.values()))
    first = next(iter(layout.microphones.values())).model_copy(update={"form": form})
    many = {
        f"M{n + 1}": first.model_copy(
            update={"at": (0.6 + apart_m * (n % 10), 0.6 + 2.4 * apart_m * (n // 10))}
        )
        for n in range(count)
    }
    project = with_round_catalogue(changed(microphones=many, seats={}))
    tag, room = next(iter(project.rooms.items()))
    beside = {f"B{n + 1:03d}": room.model_copy(update={"x": room.x + 6.1 * n}) for n in range(rooms)}
    assert tag in beside
    brief = project.brief.model_copy(update={"region": "north_america"})
    return project.model_copy(update={"brief": brief, "rooms": beside})


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
