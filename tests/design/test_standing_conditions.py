"""What a design contains, in the words by which standing lines ask for it."""

from dataclasses import replace

import pytest

from proposal.design.design import Design
from proposal.design.standing_conditions import facts
from proposal.design.whole_design import design
from proposal.model.wording.wording import Fact
from tests.design.making import EXAMPLE, PROJECTS, project_of

PATHWAY_FACTS = {"conduits", "hooks", "sleeves", "trays"}


@pytest.fixture(scope="module")
def example() -> Design:
    return design(project_of(EXAMPLE))


@pytest.fixture(scope="module")
def minimal() -> Design:
    return design(project_of(PROJECTS / "minimal"))


def without(made: Design, *kinds: str) -> Design:
    """Return a design without the devices of some kinds."""
    return replace(made, devices=tuple(one for one in made.devices if one.kind not in kinds))


def test_the_assembly_house_holds_what_its_files_say(example: Design) -> None:
    """Three storeys with pathways of every kind, ceiling loudspeakers, calls by codec, a standby supply.

    The codecs, recorders and consoles are the owner's; fire-stopping is not in our scope.
    """
    found = facts(example)
    assert found == {
        *("always", "amplifiers", "breakouts", "calls", "ceiling devices", "chargers", "conduits", "hooks"),
        *("equipment of the owner", "equipment rooms", "fire-stopping by others"),
        "line voltage by others",
        *(
            "loudspeakers",
            "mixers",
            "new switches",
            "racks",
            "radio",
            "several storeys",
            "sleeves",
            "standby supplies",
            "subnets",
        ),
        # The codec of the training room is joined by USB (room_types/training_room.yaml).
        *("table devices", "trays", "USB cords", "work at height"),
        # Evenings are charged, telephones at the reception are known, and pathways are the contractor's.
        *("off hours", "other radio users", "pathways by others"),
        # Groups are muted at mixers, breakouts and access points; the permits above the chamber have a sum.
        *("mutes of groups", "permits by us"),
        # Nobody pages over the loudspeakers, the building has a contact of the fire alarm, no link leads to
        # the owner's network, and to some ceilings things may be fixed.
        *(
            "loudspeakers without announcements",
            "fire alarm contact",
            "network of its own",
            "ceilings opened",
        ),
    }


def test_one_meeting_room_has_no_loudspeakers_and_one_storey(minimal: Design) -> None:
    found = facts(minimal)
    assert not found & {"loudspeakers", "amplifiers", "mixers", "several storeys", "standby supplies"}
    assert not found & PATHWAY_FACTS
    assert {"no pathways", "radio", "chargers", "breakouts", "new switches"} <= found


@pytest.mark.parametrize(
    ("kind", "fact"),
    [
        ("amplifier", "amplifiers"),
        ("breakout", "breakouts"),
        ("charger", "chargers"),
        ("loudspeaker", "loudspeakers"),
        ("mixer", "mixers"),
        ("rack", "racks"),
        ("access_point", "radio"),
        ("switch", "new switches"),
    ],
)
def test_a_kind_of_device_is_a_fact_while_there_is_one(example: Design, kind: str, fact: str) -> None:
    assert fact in facts(example)
    assert facts(example) - facts(without(example, kind)) >= {fact}


def test_switches_of_the_owner_are_not_new(example: Design) -> None:
    owned = {
        tag: entry.model_copy(update={"furnished_by": "owner"}) if entry.kind == "switch" else entry
        for tag, entry in example.entries.items()
    }
    found = facts(replace(example, entries=owned))
    assert {"switches of the owner", "equipment of the owner"} <= found
    assert "new switches" not in found


def test_standby_supplies_are_those_in_racks(example: Design) -> None:
    one = replace(example.devices[0], kind="standby_supply", tag="ER1-UP1", location="ER1-RK1")
    assert "standby supplies" in facts(replace(example, devices=(*example.devices, one)))


@pytest.mark.parametrize(
    ("name", "fact"),
    [
        ("assistive listening transmitter", "assistive listening of others"),
        ("Hearing loop driver", "assistive listening of others"),
        ("conferencing codec", "calls"),
        ("sound archive recorder", None),
    ],
)
def test_where_sound_goes_tells_of_listening_and_calls(minimal: Design, name: str, fact: str | None) -> None:
    (kind, *_) = minimal.kinds
    (tag, destination) = next(iter(kind.layout.destinations.items()))
    going = {tag: destination.model_copy(update={"name": name, "signal": "analogue"})}
    layout = kind.layout.model_copy(update={"destinations": going, "returns": {}})
    found = facts(replace(minimal, kinds=(replace(kind, layout=layout),)))
    assert found & {"assistive listening of others", "calls"} == ({fact} if fact else set())


def test_a_hall_with_microphones_on_a_cable_and_assistive_listening_says_both(minimal: Design) -> None:
    hall = design(project_of(PROJECTS / "university"))
    ours: set[Fact] = {"wired microphones", "assistive listening by us"}
    assert facts(hall) >= ours
    assert "assistive listening of others" not in facts(hall)
    assert not facts(minimal) & ours
