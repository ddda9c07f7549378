"""Outlets on circuits: by hand, and the fewest circuits against every way of grouping."""

import random
from collections.abc import Iterator, Sequence

import pytest

from proposal.design.design import Design
from proposal.design.mains.circuits import fewest_groups
from proposal.design.whole_design import design
from proposal.model.mains import Mains
from proposal.model.project import Project
from tests.design.making import EXAMPLE, changed, minimal, project_of

Size = tuple[float, float]


def partitions(members: Sequence[int]) -> Iterator[list[list[int]]]:
    """Yield every way of grouping."""
    if not members:
        yield []
        return
    first, *rest = members
    for groups in partitions(rest):
        yield [[first], *groups]
        for n, group in enumerate(groups):
            yield [*groups[:n], [first, *group], *groups[n + 1 :]]


def within(sizes: Sequence[Size], group: Sequence[int]) -> bool:
    return all(sum(sizes[n][axis] for n in group) <= 1 + 1e-9 for axis in (0, 1))


@pytest.mark.independent
def test_the_groups_are_the_fewest_of_every_way_of_grouping() -> None:
    chance = random.Random(7)
    several = 0
    for _ in range(120):
        sizes = [
            (chance.randint(1, 20) / 20, chance.randint(0, 20) / 20) for _ in range(chance.randint(0, 6))
        ]
        found = fewest_groups(sizes)
        assert sorted(n for group in found for n in group) == list(range(len(sizes)))
        assert all(within(sizes, group) for group in found)
        fewest = min(
            len(groups)
            for groups in partitions(range(len(sizes)))
            if all(within(sizes, group) for group in groups)
        )
        assert len(found) == fewest, sizes
        several += fewest > 2
    assert several > 20


def test_what_first_fit_puts_on_three_circuits_goes_on_two() -> None:
    # 0.5 + 0.3 + 0.2 twice; the largest first on the emptiest circuit gives 0.5, 0.5, then 0.3 and 0.3.
    sizes = [(share, 0.0) for share in (0.4, 0.4, 0.3, 0.3, 0.3, 0.3)]
    assert len(fewest_groups(sizes)) == 2


def test_a_load_beyond_a_circuit_has_one_of_its_own() -> None:
    assert fewest_groups([(1.2, 0.0), (0.1, 0.0), (0.2, 1.5)]) == [[0], [1], [2]]


def one_room(**mains: object) -> Design:
    return design(changed(minimal(), "brief.mains", Mains.model_validate(mains)))


def test_circuits_of_the_smallest_project_by_hand() -> None:
    made = one_room()
    project = made.project
    by_place = {circuit.place: circuit for circuit in made.circuits}
    assert sorted(by_place) == ["B001", "ER1"]
    room = by_place["B001"]
    assert [outlet.serves for outlet in room.outlets] == ["B001-BO1", "B001-CH1"]
    loads = [made.every_entry[tag].mains for tag in ("B001-BO1", "B001-CH1")]
    va = sum(one.maximum / one.power_factor for one in loads if one)
    assert room.current_a == pytest.approx(va / 230)
    assert room.leakage_a == pytest.approx(sum(one.leakage for one in loads if one))
    assert room.inrush_a == pytest.approx(sum(one.inrush for one in loads if one))
    # 230 V, 16 A, no NFPA 70: the whole rating; 30 mA: 9 mA; C: 5 × 16 × √2.
    assert project.brief.mains_voltage == 230
    assert room.allowed.continuous.value == 16
    assert room.allowed.leakage_a == pytest.approx(0.009)
    assert room.allowed.inrush_a == pytest.approx(113.137, abs=0.001)


def test_where_nfpa_70_is_adopted_a_breaker_carries_four_fifths() -> None:
    project = changed(minimal(), "brief.mains", Mains.model_validate({"breaker": "20 A"}))
    project = changed(project, "brief.rules.cabling.fire_code", "NFPA 70")
    assert {circuit.allowed.continuous.value for circuit in design(project).circuits} == {16.0}


def test_inrush_follows_the_voltage_of_the_mains() -> None:
    # Stated at 230 V: at 115 V half of it.
    whole = {circuit.place: circuit.inrush_a for circuit in one_room().circuits}
    half = {circuit.place: circuit.inrush_a for circuit in one_room(voltage="115 V").circuits}
    assert half["B001"] == pytest.approx(whole["B001"] / 2)


def test_as_many_circuits_as_the_project_says() -> None:
    # Two outlets on two circuits; a third circuit would stay empty.
    for number, expected in ((1, 1), (2, 2), (3, 2)):
        made = one_room(circuits={"B001": number})
        assert len([one for one in made.circuits if one.place == "B001"]) == expected


def test_breakers_without_a_curve_and_circuits_without_residual_current_devices() -> None:
    made = one_room(curve="not marked", residual_current="0 A")
    for circuit in made.circuits:
        assert circuit.allowed.inrush_a is None
        assert circuit.leakage is None
        assert circuit.steps == 0


def example() -> Project:
    return project_of(EXAMPLE)


def test_everything_on_the_mains_is_on_a_circuit_once() -> None:
    made = design(example())
    shares: dict[str, float] = {}
    for circuit in made.circuits:
        for outlet in circuit.outlets:
            for load, share in outlet.shares:
                shares[load.name] = shares.get(load.name, 0.0) + share
    assert shares == pytest.approx({load.name: 1.0 for load in made.mains_loads})
    # All devices with a mains inlet, but for those that take power over their network cable.
    over_cable = {port.attached.tag for port in made.ports if port.attached.poe_class is not None}
    wanted = {tag for tag, entry in made.entries.items() if entry.mains and tag not in over_cable}
    wanted |= {one.device.tag for one in made.owners if one.written.power > 0 and one.written.poe is None}
    assert {name for name in shares if "/" not in name} == wanted
    assert sum(circuit.current_a for circuit in made.circuits) == pytest.approx(
        sum(load.full_va for load in made.mains_loads) / 230
    )


def test_a_strip_feeds_what_is_plugged_into_it() -> None:
    made = design(example())
    of_strip = {
        outlet.serves: {load.name for load, _ in outlet.shares}
        for circuit in made.circuits
        for outlet in circuit.outlets
    }
    for rack in made.racks:
        for strip in rack.layout.strips.items:
            plugged = {one.device for one in rack.layout.plugged if one.strip == strip.name}
            named = {
                name.removeprefix(f"{rack.device.tag}/")
                for name in of_strip[f"{rack.device.tag}/{strip.name}"]
            }
            assert named == plugged


def test_groups_to_switch_on_fit_the_breaker() -> None:
    made = design(example())
    several = [circuit for circuit in made.circuits if circuit.steps > 1]
    assert several
    for circuit in several:
        assert circuit.allowed.inrush_a is not None
        assert circuit.steps * circuit.allowed.inrush_a >= circuit.inrush_a
        assert circuit.inrush_a > circuit.allowed.inrush_a
