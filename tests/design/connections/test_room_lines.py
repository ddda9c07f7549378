"""Wired microphones in the hall of the university: an input, phantom power and a cable each."""

from dataclasses import replace
from functools import cache

from proposal.design.equipment.mixing_choice import mixing_size, needs_of
from proposal.pipeline import Computed
from proposal.review.phantom_power import phantom_power_short
from tests.review.editing import PROJECTS
from tests.whole_projects import whole_computed

WIRED = [f"U101-W{n}" for n in range(1, 7)]


@cache
def university() -> Computed:
    return whole_computed(PROJECTS / "university")


def test_each_has_an_input_with_gain_and_a_cable_to_it() -> None:
    design = university().design
    taken = {tag: end for end in design.ends for tag in end.joined if tag in WIRED}
    assert sorted(taken) == WIRED
    mixer = university().project.library.mixers[design.entries["U101-MX1"].model]
    assert {end.port for end in taken.values()} <= {f"I{n}" for n in range(1, mixer.microphone_inputs + 1)}
    cables = {cable.start: cable for cable in design.cables if cable.start in WIRED}
    assert {tag: cable.end_port for tag, cable in cables.items()} == {
        tag: f"{end.device}/{end.port}" for tag, end in taken.items()
    }
    assert {cable.room for cable in cables.values()} == {"U101"}


def test_connectors_labour_and_price_count_them() -> None:
    made = university()
    lines = [line for line in made.labour.lines if line.task == "install a wired microphone"]
    assert sorted(tag for line in lines for tag in line.causes) == WIRED
    equipment = [line for line in made.estimate.lines if set(line.causes) & set(WIRED)]
    assert sum(line.quantity for line in equipment if line.section == "equipment") == 6
    ends = [line for line in made.estimate.lines if line.section == "termination"]
    female = made.project.library.connectors["CC-X3F"].model
    assert any(line.model == female and line.quantity >= 6 for line in ends)


def test_they_take_no_radio_channel_and_no_charge_slot() -> None:
    design = university().design
    assert not {one.microphone for one in design.channels.channels} & set(WIRED)


def test_a_mixer_with_too_few_inputs_for_microphones_is_not_chosen() -> None:
    """The small mixer has inputs enough on the network, but 4 with gain; 6 are wanted."""
    project = university().project
    needs = needs_of(project, project.room_types["hall"], [])
    assert needs.wired == 6
    assert mixing_size(project, "mixer", needs, None).models == ("Q31231",)
    few = replace(needs, wired=4, line_out=4)
    assert mixing_size(project, "mixer", few, None).models == ("Q54917",)


def test_a_breakout_takes_no_microphone_on_a_cable() -> None:
    project = university().project
    needs = needs_of(project, project.room_types["hall"], [])
    lacking = {one.what for one in mixing_size(project, "breakout", needs, None).lacking}
    assert "microphone inputs with phantom power" in lacking


def test_more_phantom_power_than_an_input_gives_is_an_error() -> None:
    made = university()
    assert not list(phantom_power_short(made.project, made.design))
    entry = made.design.entries["U101-W3"].model_copy(update={"phantom": 0.012})
    design = replace(made.design, entries={**made.design.entries, "U101-W3": entry})
    (found,) = phantom_power_short(made.project, design)
    assert found.rule == "phantom-power-short"
    assert (found.severity, found.where, found.value, found.limit) == ("error", "U101-W3", 12.0, 10.0)
    assert "takes 10 mA at most, or a mixer that gives 12 mA or more" in found.remedy
