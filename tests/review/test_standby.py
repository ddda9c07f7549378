"""What is said of standby supplies: each rule with a project that breaks it, and one that keeps it."""

import pytest

from proposal.design.whole_design import design
from proposal.model.project import FixedDevice, Project
from proposal.model.standby import Standby
from proposal.review.finding import Finding
from proposal.review.standby import STANDBY_RULES, load_for
from tests.design.making import EXAMPLE, changed, minimal, project_of


def said(project: Project) -> dict[str, list[Finding]]:
    made = design(project)
    found: dict[str, list[Finding]] = {}
    for rule in STANDBY_RULES:
        for one in rule(project, made):
            found.setdefault(one.rule, []).append(one)
    return found


def example(time: str = "10 min", *without: str, **supplies: object) -> Project:
    """Return the example with something asked of ER2, each supply of the library changed."""
    made = changed(
        project_of(EXAMPLE),
        "building.equipment_rooms.ER2.standby",
        Standby.model_validate({"time": time, "without": without}),
    )
    entries = made.library.standby_supplies
    changed_ones = {code: entry.model_copy(update=supplies) for code, entry in entries.items()}
    return changed(made, "library.standby_supplies", changed_ones)


def fixed(project: Project, model: str) -> Project:
    devices = {**project.fixed.devices, "ER2-UP1": FixedDevice(model=model)}
    return changed(project, "fixed.devices", devices)


def strongest() -> str:
    entries = project_of(EXAMPLE).library.standby_supplies
    return max(entries, key=lambda code: entries[code].rated_power)


def weakest() -> str:
    entries = project_of(EXAMPLE).library.standby_supplies
    return min(entries, key=lambda code: entries[code].rated_power)


def test_nothing_is_said_where_it_holds_or_nobody_asks() -> None:
    assert said(minimal()) == {}
    assert said(example("10 min", "amplifier")) == {}


def test_too_short_says_which_load_would_last() -> None:
    (found,) = said(example("20 h", "amplifier"))["standby-too-short"]
    assert (found.severity, found.where, found.limit, found.unit) == ("error", "ER2-UP1", 1200, "min")
    assert found.value is not None
    assert 0 < found.value < 1200
    assert f"Ask for {int(found.value)} min" in found.remedy


@pytest.mark.pinned
def test_the_load_for_some_minutes_is_where_the_time_is_just_that() -> None:
    # The weakest supply: 28 min new at 300 W, kept (0.8 × 0.9)^1.2 = 0.67422 of it.
    project = project_of(EXAMPLE)
    entry = project.library.standby_supplies[weakest()]
    table = {one.load: one.time for one in entry.run_times}
    kept = (entry.battery.aged_share * (1 - entry.battery.cold_loss * 10)) ** entry.battery.peukert
    assert kept == pytest.approx(0.67422, abs=0.000005)
    load_w, time_s = list(table.items())[2]
    assert load_for(project, entry, 0, time_s * kept) == pytest.approx(load_w)
    # Longer than at the least load of the table: no load at all.
    assert load_for(project, entry, 0, max(table.values())) == 0


def test_too_short_names_what_to_leave_out() -> None:
    short = fixed(example("25 min", "amplifier"), weakest())
    wide = changed(short, f"library.standby_supplies.{weakest()}.outlets", 20)
    for power in ("rated_power", "rated_apparent_power"):
        wide = changed(wide, f"library.standby_supplies.{weakest()}.{power}", 1300.0)
    (one,) = said(wide)["standby-too-short"]
    # 25 min ÷ 0.67422 = 37.08 min new, between 45 min at 200 W and 28 min at 300 W: 235.5 W of 284.0 W, so
    # that 48.5 W are too much; the smallest thing beyond that takes 60 W.
    assert (
        f"leave ER2-OE1 (60 W, where 49 W are too much) out: {weakest()} lasts 25 min up to 235 W"
        in one.remedy
    )
    assert "leave the model of ER2-UP1 out of fixed.yaml" in one.remedy


def test_overloaded_by_watts_names_a_stronger_model_or_what_to_leave_out() -> None:
    by_hand = fixed(example("1 min", "amplifier"), weakest())
    tight = changed(by_hand, "brief.rules.racks.standby_load", 0.7)
    wide = changed(tight, f"library.standby_supplies.{weakest()}.outlets", 20)
    (one,) = said(wide)["standby-overloaded"]
    # 808 W at most, 303 W of them the second switch; 70 % of 900 W.
    assert (one.value, one.limit, one.unit) == (pytest.approx(808), pytest.approx(630), "W")
    assert one.remedy == "Fix BN-UP1500 for ER2-UP1 in fixed.yaml, or leave its model out."
    (none,) = said(example("1 min", "amplifier", rated_power=960.0, outlets=20))["standby-overloaded"]
    # 80 % of 960 W: 40 W too much, and the least thing beyond that takes 60 W.
    assert none.remedy.startswith(
        "Leave ER2-OE1 (60 W, where 40 W are too much) out under without of standby"
    )


def test_outlets_short() -> None:
    (found,) = said(example("5 min", "amplifier", outlets=5))["standby-outlets-short"]
    assert (found.value, found.limit) == (7, 5)
    assert found.remedy.startswith("Leave 2 of A101-MX1, ")


def test_no_supply_for_the_mains_or_in_time() -> None:
    (found,) = said(example("10 min", "amplifier", transfer_time=0.5))["no-standby-supply-in-library"]
    assert "20 ms" in found.message
    assert found.where == "ER2-UP1"


def test_a_slow_supply_fixed_by_hand_is_told() -> None:
    (found,) = said(fixed(example("10 min", "amplifier", transfer_time=0.05), strongest()))[
        "standby-too-slow"
    ]
    assert (found.value, found.limit, found.severity) == (50, 20, "warning")


def test_a_supply_that_feeds_nothing_is_told() -> None:
    every = ("amplifier", "mixer", "switch", "owner_equipment", "fan panel")
    (found,) = said(example("10 min", *every))["standby-feeds-nothing"]
    assert found.where == "ER2-UP1"
    assert "standby: {time: 0 min}" in found.remedy


def test_what_is_left_out_has_to_be_there() -> None:
    (found,) = said(example("10 min", "amplifier", "A101-MX7"))["standby-leaves-out-nothing"]
    assert found.severity == "error"
    assert "A101-MX7" in found.message


def test_a_supply_in_a_rack_that_was_added_has_no_port() -> None:
    project = example("10 min", "amplifier")
    racks = {code: entry.model_copy(update={"units": 16}) for code, entry in project.library.racks.items()}
    found = said(changed(project, "library.racks", racks))
    (one,) = found["standby-not-on-network"]
    assert one.where == "ER2-UP2"
    assert "Name RK2 under racks of ER2" in one.remedy
