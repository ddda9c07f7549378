"""What is said of racks: each rule with a project that breaks it, and one that keeps it."""

from typing import Any

import pytest

from proposal.design.whole_design import design
from proposal.model.project import FixedDevice, Project
from proposal.review.finding import Finding
from proposal.review.racks import racks
from tests.design.making import EXAMPLE, changed, project_of, without_standby


def example() -> Project:
    return without_standby(project_of(EXAMPLE))


def said(project: Project) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for one in racks(project, design(project)):
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
