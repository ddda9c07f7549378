"""Switches that are not joined, links that nothing of the library makes, links that are too full."""

import math
from dataclasses import replace

from proposal.design.design import Design
from proposal.design.network.switch_joins import SwitchJoins
from proposal.review.switch_links import (
    first_room_without_port,
    links_not_reached,
    links_overfull,
    switches_left_alone,
)
from tests.design.making import EXAMPLE, changed, designed, project_of


def example() -> Design:
    return designed(project_of(EXAMPLE))


def test_the_example_has_none_of_these_findings() -> None:
    made = example()
    for rule in (switches_left_alone, links_not_reached, links_overfull):
        assert list(rule(made.project, made)) == []


def test_a_switch_that_is_joined_to_none_is_an_error_at_its_room() -> None:
    made = example()
    alone = replace(made, switch_joins=SwitchJoins(first="ER1-SW1", joins=(), left=("ER2-SW2",)))
    (found,) = switches_left_alone(made.project, alone)
    assert (found.rule, found.severity, found.where) == ("switch-not-joined", "error", "ER2-SW2")
    assert found.place == made.project.place("building", "equipment_rooms", "ER2")
    assert "owner_port" in found.remedy


def test_switches_that_nothing_of_the_library_joins_are_an_error() -> None:
    project = changed(project_of(EXAMPLE), "library.network_parts", {})
    made = designed(project)
    found = list(links_not_reached(project, made))
    assert {one.where for one in found} == {link.identity for link in made.switch_links}
    assert {one.rule for one in found} == {"no-link-between-switches"}
    assert any("28 m away" in one.message or "27.9 m away" in one.message for one in found)
    # What is not there is not overfull besides.
    assert list(links_overfull(project, made)) == []


def test_a_link_that_is_to_carry_more_than_its_speed_is_an_error() -> None:
    project = project_of(EXAMPLE)
    parts = {
        code: one.model_copy(update={"speed": 20e6}) for code, one in project.library.network_parts.items()
    }
    made = designed(changed(project, "library.network_parts", parts))
    found = {one.where: one for one in links_overfull(project, made)}
    # Everything sent on the upper floors goes towards the querier on the ground floor.
    (riser,) = (link.identity for link in made.switch_links if link.cable)
    fuller = {
        link.identity: load.highest_bit_per_s / 1e6
        for link, load in zip(made.switch_links, made.uplink_loads, strict=True)
        if load.highest_bit_per_s > 20e6
    }
    assert {where: one.value for where, one in found.items()} == fuller
    assert riser in fuller
    assert {(one.rule, one.limit) for one in found.values()} == {("uplink-overfull", 20)}
    assert all(f"has to carry {math.ceil(fuller[one.where])} Mbit/s" in one.remedy for one in found.values())


def test_rooms_that_lead_into_the_owners_network_need_a_port_for_the_first_one_too() -> None:
    rooms = "building.equipment_rooms"
    one = changed(project_of(EXAMPLE), f"{rooms}.ER2.owner_port", "port 7 of the core switch")
    (found,) = first_room_without_port(one, designed(one))
    assert (found.rule, found.severity, found.where) == ("first-switch-not-joined", "error", "ER1-SW1")
    assert "ER2-SW1 leads" in found.message
    # Either of the two remedies ends it.
    both = changed(one, f"{rooms}.ER1.owner_port", "port 8 of the core switch")
    neither = changed(one, f"{rooms}.ER2.owner_port", "")
    for mended in (both, neither):
        assert list(first_room_without_port(mended, designed(mended))) == []
