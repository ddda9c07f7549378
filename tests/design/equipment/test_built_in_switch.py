"""The power of a switch inside a breakout, with a share of it left free."""

from typing import Any

import pytest

from proposal.design.design import Design
from proposal.design.equipment.built_in_switch import fits_on
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from tests.design.making import changed, designed, minimal

pytestmark = pytest.mark.independent


def host(budget_w: float) -> Breakout:
    """Return a breakout whose own switch has four ports, three of class 4, and so much power."""
    entry = next(one for one in minimal().library.breakouts.values() if one.switch is not None)
    assert entry.switch is not None
    update: dict[str, Any] = {"ports": 4, "poe_ports": 3, "poe_class": 4, "budget": budget_w}
    return entry.model_copy(update={"switch": entry.switch.model_copy(update=update)})


def taking(device_class: int) -> Device:
    """Return an access point that takes a class of power over Ethernet."""
    entry = next(one for one in minimal().library.access_points.values() if one.poe is not None)
    assert entry.poe is not None
    poe = entry.poe.model_copy(update={"device_class": device_class})
    return entry.model_copy(update={"poe": poe, "powered_by": "PoE"})


@pytest.mark.parametrize(
    ("budget_w", "headroom", "fits"),
    [(60.0, 0.0, True), (60.0, 0.01, False), (75.0, 0.2, True), (74.9, 0.2, False)],
)
def test_what_is_used_keeps_within_the_budget_less_the_share_left_free(
    budget_w: float, headroom: float, fits: bool
) -> None:
    """Two devices of class 4 set 60 W aside: all of 60 W, and 80 % of 75 W."""
    assert fits_on(host(budget_w), [taking(4), taking(4)], headroom) is fits


def ruled(headroom: float) -> Project:
    """Return the building with one breakout that has a switch, and so much of its power left free."""
    breakouts = minimal().library.breakouts
    (model,) = {room.own_switch.device.model for room in designed(minimal()).rooms if room.own_switch}
    kept = {code: one for code, one in breakouts.items() if code == model or one.switch is None}
    project = changed(minimal(), "library.breakouts", kept)
    return changed(project, "brief.rules.power.built_in_headroom", headroom)


def hosts(design: Design) -> list[str]:
    return [room.host for room in design.rooms if room.host]


def test_a_room_goes_to_the_rack_where_the_share_left_free_does_not_suffice() -> None:
    """Nothing is left free of the switch inside a breakout, unless the project says so: an assumption."""
    default = designed(minimal())
    (power,) = [one for one in default.switches if one.switch.device.tag in hosts(default)]
    assert power.switch.usable_w == power.switch.budget_w
    assert ("project", "rules", "power", "built_in_headroom") in {one.path for one in minimal().assumptions}
    used = power.allocated_w / power.switch.budget_w
    assert 0 < used < 1 or used == 1.0
    short = ruled(min(0.99, 1 - used + 0.01))
    assert hosts(designed(changed(short, "library.network_parts", {}))) == []
    # A PoE source beside the breakout costs less than the rack's cable and port, where the library has one.
    (room,) = [one for one in designed(short).rooms if one.host]
    assert [one.device.tag for one in room.injectors] == ["B001-PI1"]
    if used < 1:
        kept = designed(ruled(1 - used - 0.01))
        (short,) = [one for one in kept.switches if one.switch.device.tag in hosts(kept)]
        assert short.switch.usable_w == pytest.approx(short.switch.budget_w * (used + 0.01))
        assert short.holds
