"""Ways of cords in racks and the cords that reach, worked out by hand.

A unit is 44.45 mm and a front 482.6 mm; the bends of both plugs take 200 mm.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from proposal.design.racks.cord_ways import with_mains_cords
from proposal.design.racks.rack_cords import rack_cords
from proposal.design.racks.rack_layout import Layout, laid_out
from proposal.design.whole_design import design
from proposal.model.equipment.devices import RackPart
from proposal.model.project import FixedDevice, Project
from tests.design.making import changed
from tests.design.racks.test_rack_layout import alone, example, rack, thing

INLET, OUTLET = "IEC 60320 C14", "IEC 60320 C13"


def with_lengths(*lengths_m: float) -> Project:
    """Return the example whose mains cords for strips are of such lengths, a longer one dearer."""
    parts = example().library.rack_parts
    first = next(one for one in parts.values() if (one.inlet_form, one.outlet_form) == (INLET, OUTLET))
    others: dict[str, RackPart] = {code: one for code, one in parts.items() if one.role != "mains cord"}
    made = {
        f"C{length_m:g}": first.model_copy(
            update={
                "model": f"C{length_m:g}",
                "length": length_m,
                "cost": replace(first.cost, amount=Decimal(str(length_m))),
            }
        )
        for length_m in lengths_m
    }
    return changed(example(), "library.rack_parts", {**others, **made})


def corded(project: Project, unit: int, inlets: int = 1) -> Layout:
    """Return a rack, 600 mm deep behind the front, with one device 250 mm deep at a unit."""
    device = thing(
        "D1", weight_kg=1.0, depth_m=0.25, inlets=inlets, inlet=INLET, apparent_va=50.0, wished=unit
    )
    shape = rack(units=24, usable_depth=0.6)
    return with_mains_cords(project, shape, laid_out(project, shape, alone(device)))


@pytest.mark.parametrize(
    ("unit", "way_m", "cord"),
    [
        # Beside the strip of unit 1 on the rear rails: 600 − 250 forward, 482.6 across, 200 for bends.
        (1, 1.0326, "C2"),
        # Ten units up: 444.5 more.
        (11, 1.4771, "C2"),
        # 23 units up: 1022.35 more than beside it.
        (24, 2.05495, "C3"),
    ],
)
def test_a_mains_cord_reaches_from_strip_to_device(unit: int, way_m: float, cord: str) -> None:
    (plugged,) = corded(with_lengths(0.7, 1.0, 2.0, 3.0), unit).plugged
    assert plugged.way_m == pytest.approx(way_m, abs=1e-9)
    assert plugged.cord == cord


def test_the_cord_that_just_reaches_is_taken_and_none_where_none_does() -> None:
    assert corded(with_lengths(1.0326, 2.0), 1).plugged[0].cord == "C1.0326"
    assert corded(with_lengths(1.0325), 1).plugged[0].cord == ""


def test_the_cords_of_one_device_are_alike_and_as_long_as_the_farther_outlet_wants() -> None:
    # Two supplies on one strip of eight outlets: one way.
    found = corded(with_lengths(1.0, 2.0), 11, inlets=2).plugged
    assert [one.cord for one in found] == ["C2", "C2"]


def test_what_bends_take_is_a_rule() -> None:
    straight = changed(with_lengths(0.7, 1.0, 2.0), "brief.rules.racks.cord_slack", 0.0)
    (plugged,) = corded(straight, 1).plugged
    assert plugged.way_m == pytest.approx(0.8326)
    assert plugged.cord == "C1"


def test_patch_cords_and_leads_go_from_unit_to_unit() -> None:
    """Read by hand off the elevation of ER1-RK1 in the example.

    Panel PP1 at U6 and switch ER1-SW1 at U4: 88.9 mm up; the panel's ports are in front, and nobody says
    where those of the switch are: at its back, 260 mm behind. With 482.6 and 200 mm: 1.0315 m.
    Mixer A001-MX1 at U1 and amplifier A001-AM1 at U2, 300 and 320 mm deep, both ports at the back: 44.45 mm
    up and 20 forward: 0.74705 m.
    """
    project = example()
    made = design(project)
    found = {
        frozenset(one.ends): one for one in rack_cords(project, made.racks, made.graph.joins, made.entries)
    }
    assert found[frozenset(("ER1-RK1/PP1", "ER1-SW1"))].way_m == pytest.approx(1.0315)
    lead = found[frozenset(("A001-MX1", "A001-AM1"))]
    assert (lead.length_m, lead.way_m) == (2.0, pytest.approx(0.74705))
    # Whatever a join has in a rack is among them: each patch cord there, and each lead.
    patched = [one for one in made.graph.joins if one.panel.startswith("ER1-RK1/")]
    assert sum("ER1-RK1/PP1" in one.ends for one in found.values()) == 1
    assert len(patched) >= 8


def test_a_lead_between_two_racks_passes_from_one_to_the_other() -> None:
    """The mixer of the example alone in a second rack of ER1, and the amplifier at the foot of the first.

    Both stand at U1, 300 and 320 mm deep, ports at the back: 20 mm forward, 482.6 across, 200 for bends, and
    the width of a rack, 600 mm: 1.3026 m.
    """
    project = example()
    racks = project.building.equipment_rooms["ER1"].racks
    floor_rack = next(iter(racks.values())).model_copy(update={"model": "DR-RK24"})
    two = changed(project, "building.equipment_rooms.ER1.racks", {"RK1": floor_rack, "RK2": floor_rack})
    moved = changed(two, "fixed.devices", {**two.fixed.devices, "A001-MX1": FixedDevice(rack="ER1-RK2")})
    made = design(moved)
    standing = {
        slot.item.name: (one.device.tag, slot.unit) for one in made.racks for slot in one.layout.slots
    }
    assert standing["A001-MX1"] == ("ER1-RK2", 1)
    assert standing["A001-AM1"] == ("ER1-RK1", 1)
    (one,) = {
        one.way_m
        for one in rack_cords(moved, made.racks, made.graph.joins, made.entries)
        if one.ends == ("A001-MX1", "A001-AM1")
    }
    assert one == pytest.approx(1.3026)
