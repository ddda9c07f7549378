"""What cannot be kept of an issued revision is said, with the old number and the new one."""

from dataclasses import dataclass

import pytest

from proposal.design.design import Design
from proposal.design.number_register import design_numbers, joined
from proposal.design.whole_design import design
from proposal.model.design_rules import Subnet
from proposal.model.project import FixedDevice, Numbered, Project
from proposal.review.finding import Finding
from proposal.review.numbers import NUMBER_RULES
from tests.catalogue import with_round_catalogue
from tests.design.making import changed, minimal, with_layout, with_microphones


@dataclass(frozen=True)
class Issued:
    """A project, its design and its register."""

    project: Project
    made: Design
    register: dict[str, Numbered]


def issued(project: Project) -> Issued:
    made = design(project)
    return Issued(project, made, joined(project.issued, design_numbers(made)))


def found(project: Project, register: dict[str, Numbered]) -> list[Finding]:
    """Return the findings about numbers of a project that follows an issued revision."""
    project = project.model_copy(update={"issued": register})
    made = design(project)
    return [one for rule in NUMBER_RULES for one in rule(project, made)]


def test_nothing_is_said_where_nothing_was_issued_or_nothing_changed() -> None:
    first = issued(minimal())
    assert found(first.project, {}) == []
    assert found(first.project, first.register) == []


def test_an_address_outside_the_network_of_now_is_replaced_and_named() -> None:
    # Only the access point, the charger and the breakout are on the network: 192.168.30.2 to .4 or some.
    first = issued(minimal())
    before = first.made.addresses.by_tag["B001-AP1"][0]
    moved = changed(
        first.project, "brief.subnets", {"conference": Subnet(network="192.168.31.0/24", vlan=30)}
    )
    (said,) = found(moved, first.register)
    assert said.rule == "number-changed"
    assert (said.severity, said.where) == ("note", "conference")
    assert said.place.file == "project.yaml"
    assert (
        "addresses of the last issue could not be kept, as 192.168.31.0/24 does not hold them" in said.message
    )
    assert f"B001-AP1 had {before} and has 192.168.31." in said.message
    after = design(moved.model_copy(update={"issued": first.register}))
    assert all(one.startswith("192.168.31.") for given in after.addresses.by_tag.values() for one in given)


def test_the_address_given_up_is_given_to_nobody_when_the_network_comes_back() -> None:
    first = issued(minimal())
    elsewhere = changed(
        minimal(), "brief.subnets", {"conference": Subnet(network="192.168.31.0/24", vlan=30)}
    )
    second = issued(elsewhere.model_copy(update={"issued": first.register}))
    third = design(minimal().model_copy(update={"issued": second.register}))
    given_up = {one for given in first.made.addresses.by_tag.values() for one in given}
    again = {one for given in third.addresses.by_tag.values() for one in given}
    assert again
    assert not again & given_up


def test_who_makes_way_for_an_address_fixed_by_hand_is_named_and_who_has_it_is_not() -> None:
    first = issued(minimal())
    breakout = first.made.addresses.by_tag["B001-BO1"][0]
    fixed = changed(minimal(), "fixed.devices", {"B001-AP1": FixedDevice(address=breakout)})
    (said,) = found(fixed, first.register)
    assert said.rule == "number-changed"
    assert said.message.startswith(
        f"The address of the last issue could not be kept: B001-BO1 had {breakout} and has 192.168.30."
    )
    assert "B001-AP1" not in said.message


def test_a_microphone_written_with_a_retired_code_is_warned_of() -> None:
    first = issued(minimal())
    without = with_microphones(minimal(), "meeting", {"boundary": 1})
    second = issued(without.model_copy(update={"issued": first.register}))
    assert second.register["device/B001-M2"].retired
    said = found(minimal(), second.register)
    assert [(one.rule, one.where, one.severity) for one in said if one.rule == "tag-used-again"] == [
        ("tag-used-again", "B001-M2", "warning")
    ]


def test_a_channel_of_a_microphone_that_is_gone_is_given_again_only_when_no_other_is_left() -> None:
    # The access point chosen for five talkers has five channels: as many as there are.
    five = with_microphones(with_round_catalogue(minimal()), "meeting", {"boundary": 5}, spare_microphones={})
    first = issued(five)
    layout = five.room_types["meeting"]
    microphones = {code: one for code, one in layout.microphones.items() if code != "M3"}
    four = with_layout(five, "meeting", microphones=microphones)
    second = issued(four.model_copy(update={"issued": first.register}))
    other = with_layout(five, "meeting", microphones={**microphones, "M9": layout.microphones["M3"]})
    said = [one for one in found(other, second.register) if one.rule == "number-given-again"]
    assert [one.where for one in said if "radio channel" in one.message] == ["B001-AP1"]
    (channel,) = (one for one in said if "radio channel" in one.message)
    assert "B001-AP1/3 of B001-M3 now is B001-M9's" in channel.message


def test_ports_of_a_switch_that_is_gone_are_named() -> None:
    rack = with_layout(minimal(), "meeting", network="rack")
    first = issued(rack)
    register = {
        identity: one.model_copy(update={"number": one.number.replace("ER1-SW1/", "ER1-SW7/")})
        for identity, one in first.register.items()
    }
    said = [one for one in found(rack, register) if one.rule == "number-changed"]
    assert [one.where for one in said] == ["ER1-SW7"]
    assert "as ER1-SW7 is no longer there" in said[0].message


@pytest.mark.parametrize("text", ["", "no address", "300.1.1.1", "ER1-SW1/x", "7/", "/"])
def test_a_register_written_by_hand_with_nonsense_for_numbers_breaks_nothing(text: str) -> None:
    first = issued(with_layout(minimal(), "meeting", network="rack"))
    register = {
        identity: one.model_copy(update={"number": text})
        for identity, one in first.register.items()
        if not identity.startswith("device/")
    }
    assert {one.rule for one in found(first.project, register)} <= {"number-changed", "number-given-again"}
