"""What a finding about a cable tells to choose does away with it, and with every other about that cable."""

import re
from collections.abc import Mapping
from dataclasses import replace

import pytest

from proposal.design.design import Design
from proposal.model.equipment.materials import DataCable
from proposal.review.cable_routes import CABLE_ROUTE_RULES, measured_lengths
from proposal.review.cabling import materials
from proposal.review.finding import Finding, at_least_words
from tests.design.making import EXAMPLE, changed, designed, project_of
from tests.review.test_review_rules import in_rack

GOOD = next(
    cable
    for cable in in_rack().project.library.cables.values()
    if cable.conductor == "copper" and cable.stranding == "solid"
)
# The speed of no port of the project is beyond category 6A (IEEE 802.3: 10 Gbit/s).
BEST = {
    "category": "6A",
    "screening": "F/UTP",
    "temperature_rating": 90.0,
    "jacket": GOOD.jacket.model_copy(update={"riser": True, "plenum": True, "low_smoke": True}),
}
FAULTS: Mapping[str, Mapping[str, object]] = {
    "not-copper": {"conductor": "copper-clad aluminium"},
    "not-solid": {"stranding": "stranded"},
    "screen-missing": {"screening": "U/UTP"},
    "jacket-not-halogen-free": {
        "jacket": GOOD.jacket.model_copy(update={"low_smoke": False, "plenum": True})
    },
    "cable-too-warm": {"temperature_rating": 20.0},
}


def told(fault: str, others: Mapping[str, DataCable]) -> tuple[Design, list[Finding]]:
    """Return a design whose first cable has a fault, in a library with others, and what is found of it."""
    project = changed(in_rack().project, "brief.rules.cabling.halogen_free", True)
    wrong = GOOD.model_copy(update={**BEST, **FAULTS[fault]})
    project = changed(project, "library.cables", {"WRONG": wrong, **others})
    first = replace(in_rack().cables[0], model="WRONG", screened_wanted=True)
    design = replace(in_rack(), project=project, cables=(first,))
    return design, found_in(design)


def found_in(design: Design) -> list[Finding]:
    rules = (materials, *CABLE_ROUTE_RULES)
    return [one for rule in rules for one in rule(design.project, design) if one.severity == "error"]


@pytest.mark.parametrize("fault", FAULTS)
def test_a_model_that_a_remedy_names_does_away_with_every_error_of_the_cable(fault: str) -> None:
    good = GOOD.model_copy(update=BEST)
    also_wrong = {
        f"ALSO-{n}": good.model_copy(update=update)
        for n, (other, update) in enumerate(FAULTS.items())
        if other != fault
    }
    design, found = told(fault, {"GOOD-1": good, "GOOD-2": good, **also_wrong})
    (one,) = [one for one in found if one.rule == fault]
    named = re.findall(r"GOOD-\d|ALSO-\d|WRONG", one.remedy)
    assert named == ["GOOD-1", "GOOD-2"]
    for model in named:
        better = replace(design, cables=(replace(design.cables[0], model=model),))
        assert found_in(better) == []


@pytest.mark.parametrize("fault", FAULTS)
def test_where_no_cable_would_do_a_remedy_says_what_to_add(fault: str) -> None:
    _, found = told(fault, {})
    (one,) = [one for one in found if one.rule == fault]
    assert one.remedy.startswith("Add a cable with ")
    assert "a screen" in one.remedy
    assert "solid conductors of copper" in one.remedy
    assert "a jacket free of halogens" in one.remedy


def test_a_loudspeaker_line_is_never_told_to_take_a_cable_that_is_not_of_copper() -> None:
    lines = in_rack().project.library.loudspeaker_cables
    copper = next(one for one in lines.values() if one.conductor == "copper")
    clad = copper.model_copy(update={"conductor": "copper-clad aluminium"})
    project = changed(in_rack().project, "library.loudspeaker_cables", {"CLAD": clad})
    line = replace(in_rack().cables[0], signal="loudspeaker line", model="", checked=None)
    design = replace(in_rack(), project=project, cables=(line,))
    (one,) = [one for one in found_in(design) if one.rule == "no-cable"]
    assert "CLAD" not in one.remedy
    assert "conductors of copper" in one.remedy
    good = changed(project, "library.loudspeaker_cables", {"CLAD": clad, "SOUND": copper})
    (one,) = [one for one in found_in(replace(design, project=good)) if one.rule == "no-cable"]
    assert one.remedy.startswith("Choose SOUND, which has")


def test_a_length_that_is_too_much_is_never_rounded_down() -> None:
    assert at_least_words(1.01, "metric") == "1.1 m"
    assert at_least_words(1.1, "metric") == "1.1 m"
    # 1 m is 3.2808 ft (by hand: 1 / 0.3048).
    assert at_least_words(1.0, "us_customary") == "3.3 ft"


@pytest.mark.parametrize(("length_m", "told"), [(14.9, True), (15.0, False), (24.0, False)])
def test_a_length_by_hand_is_told_where_it_is_below_the_drawn_way(length_m: float, told: bool) -> None:
    first = in_rack().cables[0]
    way = replace(first.route, stretches=(replace(first.route.stretches[0], length_m=15.0),))
    cable = replace(first, measured=True, length_m=length_m, route=way, slack_m=4.1)
    project = in_rack().project
    found = list(measured_lengths(project, replace(in_rack(), cables=(cable,))))
    assert bool(found) == told
    for one in found:
        assert one.rule == "length-below-way"
        assert (one.value, one.limit, one.unit) == (14.9, 15.0, "m")
        # 15.0 m of way and 4.1 m of slack.
        assert "takes 19.1 m." in one.remedy
    estimate = replace(cable, measured=False)
    assert not list(measured_lengths(project, replace(in_rack(), cables=(estimate,))))


def test_nobody_measured_less_than_is_drawn_in_the_example() -> None:
    known = designed(project_of(EXAMPLE))
    assert any(cable.measured for cable in known.cables)
    assert not list(measured_lengths(known.project, known))
