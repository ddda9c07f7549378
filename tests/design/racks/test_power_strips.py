"""Power strips: outlets, current, voltage and cords, by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from proposal.design.racks.power_strips import Strips, mains_cord, strips_for
from proposal.model.equipment.devices import RackPart
from proposal.model.project import Project
from tests.design.making import EXAMPLE, changed, project_of
from tests.design.racks.test_rack_layout import thing


def project(**strips: tuple[int, float, int]) -> Project:
    """Return the example with such strips alone: by code outlets, rated current and cost."""
    base = project_of(EXAMPLE)
    parts = base.library.rack_parts
    first = next(
        part
        for part in parts.values()
        if part.role == "power strip" and part.mains and part.mains.highest_voltage > 200
    )
    made = {
        code: first.model_copy(
            update={
                "model": code,
                "outlets": outlets,
                "rated_current": current_a,
                "cost": replace(first.cost, amount=Decimal(cost)),
            }
        )
        for code, (outlets, current_a, cost) in strips.items()
    }
    others: dict[str, RackPart] = {code: part for code, part in parts.items() if part.role != "power strip"}
    return changed(base, "library.rack_parts", others | made)


def fed(name: str, va: float, inlets: int = 1) -> object:
    return thing(name, inlets=inlets, inlet="IEC 60320 C14", apparent_va=va)


def strips(made: Project, *items: object) -> Strips:
    return strips_for(made, items)  # type: ignore[arg-type]


def test_every_inlet_has_an_outlet_of_its_own() -> None:
    found = strips(project(S=(4, 16, 10)), *(fed(f"D{n}", 50) for n in range(6)))
    assert len(found.items) == 2
    places = [(one.strip, one.outlet) for one in found.plugged]
    assert len(set(places)) == 6
    assert all(1 <= outlet <= 4 for _, outlet in places)


def test_no_strip_carries_more_than_its_share_of_the_current() -> None:
    # 16 A × 0.8 × 230 V = 2944 VA a strip; three loads of 1400 VA: two on one would be 2800, three 4200.
    made = project(S=(8, 16, 10))
    found = strips(made, *(fed(f"D{n}", 1400) for n in range(3)))
    assert len(found.items) == 2
    # Three loads of 1600 VA: 4800 in sum would suffice for two strips, but two on one are 3200 of 2944.
    found = strips(made, *(fed(f"D{n}", 1600) for n in range(3)))
    assert len(found.items) == 3


def test_the_least_cost_set_of_strips_is_taken() -> None:
    # Six outlets: one of eight for 30, or two of four for 2 × 12.
    found = strips(project(L=(8, 16, 30), S=(4, 16, 12)), *(fed(f"D{n}", 50) for n in range(6)))
    assert [item.entry.model for item in found.items] == ["S", "S"]


def test_the_supplies_of_one_device_are_spread_over_strips() -> None:
    found = strips(project(S=(4, 16, 10)), fed("D1", 200, 2), *(fed(f"E{n}", 50) for n in range(3)))
    assert len({one.strip for one in found.plugged if one.device == "D1"}) == 2


def test_a_load_that_no_strip_carries_and_a_voltage_that_none_has_are_told() -> None:
    assert strips(project(S=(8, 16, 10)), fed("D1", 3000)).lacking
    us = changed(project(S=(8, 16, 10)), "brief.region", "north_america")
    assert strips(us, fed("D1", 50)).lacking
    assert not strips(project(S=(8, 16, 10)), fed("D1", 50)).lacking


@pytest.mark.parametrize(("inlet", "found"), [("IEC 60320 C14", True), ("IEC 60320 C20", False)])
def test_a_cord_fits_the_outlet_and_the_inlet(inlet: str, found: bool) -> None:
    assert bool(mains_cord(project(S=(8, 16, 10)), inlet, "IEC 60320 C13")) is found


def test_what_takes_no_mains_needs_no_strip() -> None:
    assert strips(project(S=(8, 16, 10)), thing("D1")) == Strips()
