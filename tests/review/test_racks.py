"""What is said of racks: each rule with a project that breaks it, and one that keeps it."""

from typing import Any

import pytest

from proposal.design.whole_design import design
from proposal.model.project import FixedDevice, Project
from proposal.review.cord_lengths import RACK_CORD_RULES
from proposal.review.finding import Finding
from proposal.review.racks import racks
from tests.design.making import EXAMPLE, changed, project_of, without_standby


def example() -> Project:
    return without_standby(project_of(EXAMPLE))


def said(project: Project) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    made = design(project)
    for rule in (racks, *RACK_CORD_RULES):
        for one in rule(project, made):
            found.setdefault(one.rule, []).append(one)
    return found


def with_rack(**values: Any) -> Project:
    """Return the example whose second equipment room has a rack chosen by hand, of such a shape."""
    first = max(example().library.racks.values(), key=lambda one: one.units)
    entry = first.model_copy(update={"model": "BY-HAND", **values})
    library = changed(example(), "library.racks", {**example().library.racks, "BY-HAND": entry})
    return changed(library, "building.equipment_rooms.ER2.racks.RK1.model", "BY-HAND")


def fixed(project: Project, tag: str, **values: Any) -> Project:
    return changed(project, "fixed.devices", {**project.fixed.devices, tag: FixedDevice(**values)})


def test_nothing_is_said_of_racks_that_were_chosen() -> None:
    assert said(example()) == {}


def test_a_rack_of_8_units_does_not_hold_17() -> None:
    # Counted by hand on the elevation of the rack that was chosen: 15 units, with a fan panel; and a unit
    # each for the second patch panel, which a label of the last issue names, and its manager.
    (found,) = said(with_rack(units=8))["rack-full"]
    assert found.severity == "error"
    assert (found.value, found.limit) == (17.0, 8.0)
    # Of 22 units, 17.6 may be used; of 21 only 16.8.
    assert "a rack of 22 units or more for ER2-RK1" in found.remedy
    assert "ER2-RK1" in str(found.message)
    assert not said(with_rack(units=22))


def test_the_remedy_of_a_full_rack_works() -> None:
    assert "rack-full" not in said(with_rack(units=22))
    assert said(with_rack(units=18)).keys() == {"rack-without-spare"}


@pytest.mark.parametrize(
    ("values", "rule"),
    [
        ({"load": 20.0}, "rack-overloaded"),
        ({"usable_depth": 0.2}, "rack-too-shallow"),
        ({"rails": "front"}, ""),
    ],
)
def test_weight_depth_and_rails(values: dict[str, Any], rule: str) -> None:
    assert set(said(with_rack(**values))) - {"rack-without-spare"} == ({rule} if rule else set())


def test_a_heavy_device_wants_rear_rails() -> None:
    lighter = changed(with_rack(rails="front"), "brief.rules.racks.rear_rails_from", 3.0)
    assert "rack-without-rear-rails" in said(lighter)
    assert "rack-without-rear-rails" not in said(
        changed(with_rack(), "brief.rules.racks.rear_rails_from", 3.0)
    )


def test_a_rack_too_warm_for_all_fans_is_told() -> None:
    library = example().library
    parts = {code: one for code, one in library.rack_parts.items() if one.role != "fan panel"}
    warm = changed(with_rack(), "library.rack_parts", parts)
    (found,) = (one for one in said(warm)["rack-too-warm"] if one.where == "ER2-RK1")
    assert found.value == 0.0
    assert found.limit is not None
    assert found.limit > 100


def test_a_mixer_that_is_not_made_for_a_rack_is_told() -> None:
    mixers = {
        code: one.model_copy(update={"rack_units": 0}) for code, one in example().library.mixers.items()
    }
    found = said(changed(example(), "library.mixers", mixers))["not-for-a-rack"]
    tags = [one.tag for one in design(example()).devices if one.kind == "mixer"]
    assert sorted(one.message.split()[0] for one in found) == sorted(tags)


def test_a_voltage_without_strips_and_inlets_without_cords_are_told() -> None:
    parts = example().library.rack_parts
    no_strip = {code: one for code, one in parts.items() if one.role != "power strip"}
    found = said(changed(with_rack(), "library.rack_parts", no_strip))
    assert "no-power-strip" in found
    assert "230" in found["no-power-strip"][0].message
    no_cord = {code: one for code, one in parts.items() if one.role != "mains cord"}
    found = said(changed(example(), "library.rack_parts", no_cord))
    assert [one.where for one in found["no-mains-cord"]] == ["ER1-RK1", "ER2-RK1"]
    assert all(one.severity == "warning" for one in found["no-mains-cord"])


def test_mains_cords_that_do_not_reach_are_an_error_with_the_length_that_does() -> None:
    """With cords of 0.7 m alone; the fan panel of ER1 is farthest from its strip.

    It stands at U10, 9 units (400.05 mm) above PS1, 120 mm deep of 740: 620 forward, 482.6 across, 200 for
    bends: 1.70265 m.
    """
    library = example().library
    parts = {code: one for code, one in library.rack_parts.items() if one.role != "mains cord"}
    short = changed(example(), "library.rack_parts", {**parts, "DR-MC13": library.rack_parts["DR-MC13"]})
    found = {one.where: one for one in said(short)["mains-cord-too-short"]}
    assert set(found) == {"ER1-RK1", "ER2-RK1"}
    one = found["ER1-RK1"]
    assert (one.severity, one.value, one.limit) == ("error", 0.7, pytest.approx(1.70265))
    assert "from PS1 to FN1 in ER1-RK1" in one.message
    assert "1.8 m or longer from IEC 60320 C13 to IEC 60320 C14" in one.remedy
    longer = library.rack_parts["DR-MC13"].model_copy(update={"model": "LONG", "length": 1.8})
    assert "mains-cord-too-short" not in {
        one.rule for one in _all(changed(short, "library.rack_parts", {**parts, "LONG": longer}), "ER1-RK1")
    }


def _all(project: Project, where: str) -> list[Finding]:
    return [one for ones in said(project).values() for one in ones if one.where == where]


def test_patch_cords_that_do_not_reach_are_an_error_and_the_remedy_helps() -> None:
    # From PP1 at U6 to the switch at U4, its back 260 mm behind: 88.9 + 260 + 482.6 + 200 = 1031.5 mm.
    short = changed(example(), "brief.rules.cabling.equipment_cord", 1.0)
    found = {one.where: one for one in said(short)["patch-cord-too-short"]}
    assert (found["ER1"].severity, found["ER1"].value) == ("error", 1.0)
    assert "ER1-RK1/PP1" in found["ER1"].message
    # The farthest: ER1-OE2 at U9, nobody says how deep, so at the rails, 740 mm behind: read from the list.
    assert found["ER1"].limit == pytest.approx(1.16485, abs=0.001)
    assert "`equipment_cord: 1.2 m`" in found["ER1"].remedy
    for where, one in found.items():
        wanted_m = float(one.remedy.partition("equipment_cord: ")[2].partition(" m")[0])
        mended = changed(short, "brief.rules.cabling.equipment_cord", wanted_m)
        assert not [again for again in said(mended).get("patch-cord-too-short", ()) if again.where == where]


def test_two_devices_fixed_to_one_unit_are_an_error_of_the_second() -> None:
    project = fixed(fixed(example(), "A101-MX1", rack_unit=3), "A102-MX1", rack_unit=3)
    (found,) = said(project)["rack-overlap"]
    assert found.where == "A102-MX1"
    assert "where A101-MX1 stands" in found.message


def test_a_device_fixed_to_a_unit_stands_there() -> None:
    project = fixed(example(), "A101-MX1", rack_unit=9)
    made = design(project)
    (slot,) = (one for rack in made.racks for one in rack.layout.slots if one.item.name == "A101-MX1")
    assert slot.unit == 9
    assert said(project) == {}
