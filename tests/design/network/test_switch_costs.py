"""What one more switch costs, counted by hand, and what that makes of the choice."""

from decimal import Decimal

import pytest

from proposal.design.network.port_demand import Attached
from proposal.design.network.switch_costs import switch_cost
from proposal.design.network.switches_and_ports import closet
from tests.design.making import changed, minimal


@pytest.mark.pinned
def test_a_switch_costs_its_hours_its_mains_cord_and_what_joins_it() -> None:
    # 260.00 + 0.75 h · 40.00 + 2 h · 56.00; a mains cord; two modules of 25.00, a fibre cord.
    project = minimal()
    parts, cords = project.library.rack_parts.values(), project.library.patch_cords.values()
    mains = min(one.cost.amount for one in parts if one.inlet_form == "IEC 60320 C14")
    fibre = min(one.cost.amount for one in cords if one.medium == "fibre" and one.fibre in ("OM3", "OM4"))
    switch = project.library.switches["BN-SW8-65"]
    assert switch.cost.amount == Decimal(260)
    assert switch_cost(project, switch) == Decimal("402.00") + mains + Decimal("50.00") + fibre


@pytest.mark.pinned
def test_one_large_switch_is_taken_where_two_small_ones_cost_more_in_place() -> None:
    # Two of 8 ports cost 520.00, one of 16 costs 540.00; a further switch takes hours worth 142.00 and more.
    wanting = [Attached(tag=f"B001-D{n}", cable=f"c{n}", poe_class=None, priority=1) for n in range(12)]
    assert [one.device.model for one in closet(minimal(), "ER1", wanting).switches] == ["BN-SW16-250"]
    nobodys = changed(minimal(), "usual_labour.tasks", {})
    bare = changed(nobodys, "library.network_parts", {})
    found = closet(changed(bare, "library.rack_parts", {}), "ER1", wanting)
    assert [one.device.model for one in found.switches] == ["BN-SW8-65", "BN-SW8-65"]
    assert (found.access_ports, found.used_ports, found.spare_wanted) == (16, 12, 3)
    assert found.spare_holds
