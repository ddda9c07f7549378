"""Which ports lose power, held against trying every set of ports, and what a lost supply leaves."""

import random
from collections.abc import Mapping

import pytest

from proposal.design.network.port_demand import Attached
from proposal.design.power.drop_order import dropped, lost_supply
from proposal.design.power.port_power import PoweredPort
from proposal.model.equipment.devices import Switch
from tests.design.making import minimal
from tests.design.power.test_port_power import powered, switch, tags

SOURCE_W = {0: 15.4, 1: 4.0, 2: 7.0, 3: 15.4, 4: 30.0, 5: 45.0, 6: 60.0, 7: 75.0, 8: 90.0}
"""Power set aside by class, IEEE 802.3."""


def kept_by_hand(left_w: float, ports: Mapping[int, PoweredPort], levels: int) -> set[str]:
    """Give power port by port, best level and lowest port first, and stop at the first that lacks it."""
    kept: set[str] = set()
    for level in range(1, levels + 1):
        for number in sorted(ports):
            one = ports[number].attached
            if min(one.priority, levels) != level or one.poe_class is None:
                continue
            if SOURCE_W[one.poe_class] > left_w + 1e-9:
                return kept
            left_w -= SOURCE_W[one.poe_class]
            kept.add(one.tag)
    return kept


@pytest.mark.independent
def test_those_who_keep_power_are_those_whom_it_reaches_first() -> None:
    chance = random.Random(802)
    for _ in range(300):
        ports = {
            n: powered(n, chance.randint(0, 8), chance.randint(1, 3)) for n in range(1, chance.randint(2, 12))
        }
        levels, left_w = chance.randint(1, 4), chance.uniform(0, 400)
        lost = set(tags(dropped(left_w, ports, levels)))
        assert {port.attached.tag for port in ports.values()} - lost == kept_by_hand(left_w, ports, levels)


def test_one_device_more_than_the_power_allows_names_its_port() -> None:
    # 4 × 15.4 = 61.6 W; a fifth makes 77 W.
    ports = {n: powered(n, 3, 2) for n in range(1, 5)}
    assert dropped(61.6, ports, 3) == ()
    ports[5] = powered(5, 3, 2)
    assert [port.port for port in dropped(61.6, ports, 3)] == [5]
    # Of a lower priority, the first port goes, although it has the lowest number.
    ports[1] = powered(1, 3, 3)
    assert [port.port for port in dropped(61.6, ports, 3)] == [1]


def test_a_switch_that_knows_no_priorities_drops_by_the_number_of_the_port() -> None:
    ports = {1: powered(1, 3, 3), 2: powered(2, 3, 1)}
    assert tags(dropped(15.4, ports, 3)) == ("D1",)
    assert tags(dropped(15.4, ports, 1)) == ("D2",)


def of_supplies(supplies: int, left_w: float | None) -> Switch:
    library = minimal().library
    entry = next(one for one in library.switches.values() if one.mains)
    assert entry.mains
    mains = entry.mains.model_copy(update={"supplies": supplies})
    return entry.model_copy(update={"mains": mains, "budget_with_one_supply_lost": left_w})


@pytest.mark.parametrize(
    ("supplies", "stated_w", "left_w", "drops"),
    [
        (1, None, 0.0, ("D2", "D3", "D1")),
        (1, 40.0, 0.0, ("D2", "D3", "D1")),
        (2, 45.0, 45.0, ("D2",)),
        (2, 30.8, 30.8, ("D2",)),
        (2, 30.7, 30.7, ("D2", "D3")),
        (2, 500.0, 60.0, ()),
        (2, None, None, ("D2", "D3", "D1")),
    ],
)
def test_what_a_lost_supply_leaves(
    supplies: int, stated_w: float | None, left_w: float | None, drops: tuple[str, ...]
) -> None:
    # 15.4 W each, of 60 W; with levels of priority the second goes first.
    ports = {1: powered(1, 3, 1), 2: powered(2, 3, 3), 3: powered(3, 3, 1)}
    found = lost_supply(
        switch({n: p.attached for n, p in ports.items()}, priorities=3),
        ports,
        of_supplies(supplies, stated_w),
    )
    assert found is not None
    assert (found.supplies, found.left_w, tags(found.drops)) == (supplies, left_w, drops)


def test_nothing_is_said_of_what_nobody_knows_or_powers() -> None:
    idle = {
        1: PoweredPort(
            switch="S", port=1, name="1", attached=Attached(tag="D", cable="", poe_class=None, priority=1)
        )
    }
    entry = of_supplies(1, None)
    assert lost_supply(switch({}), idle, entry) is None
    assert lost_supply(switch({}), {1: powered(1, 3, 1)}, None) is None
