"""What a reviewer says of radio: each rule on a small room made to break it, and silent on a good one."""

from pathlib import Path

import pytest

from proposal.design.radio.radio_settings import radio_end
from proposal.design.whole_design import design
from proposal.document.making.document import document_of
from proposal.document.making.radio import radio_parts
from proposal.model.loading import load_project
from proposal.model.radio.radio import BandUser, Obstruction
from proposal.pipeline import compute
from proposal.review.radio_plan import plan_fragile
from proposal.review.rules import findings
from tests.review.radio_rooms import changed, minimal, one, radio, said, with_rules, with_users

ROOT = Path(__file__).resolve().parents[2]
RULES = {
    "radio-margin-low", "no-second-path", "access-points-close", "access-point-obstructed",
    "access-point-outside-room", "radio-not-settled", "transceivers-short", "radio-impossible",
    "radio-plan-fragile", "radio-no-reserve", "radio-reuse-not-proven", "radio-share-exceeded",
    "radio-power-above-limit", "radio-power-no-setting",
}  # fmt: skip


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
