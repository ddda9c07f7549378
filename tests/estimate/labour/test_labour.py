"""Labour: one meeting room counted by hand, rules by small data, and sums that hold for any project."""

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.estimate.drawing_list import charged_sheets
from proposal.estimate.labour.labour import LabourEstimate, hours_by, labour_estimate
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_choices import LabourChoices
from proposal.pipeline import Computed
from proposal.quantities.rounding import rounded, shared_out
from tests.estimate.labour_data import ROOT, alone, shared_labour
from tests.whole_projects import whole_computed

D = Decimal
CENT = D("0.01")
PROJECTS: dict[Path, Computed] = {}


def computed(folder: str) -> Computed:
    path = ROOT / folder
    if path not in PROJECTS:
        PROJECTS[path] = whole_computed(path)
    return PROJECTS[path]


def sheet_numbers(one: Computed) -> list[str]:
    return [sheet.number for sheet in charged_sheets(one)]


def labour_of(folder: str, data: Labour, choices: LabourChoices | None = None) -> LabourEstimate:
    one = computed(folder)
    return labour_estimate(
        one.project, one.design, sheet_numbers(one), data, choices or LabourChoices(), D(8)
    )


MINIMAL, EXAMPLE = "tests/projects/minimal", "example_project"
TWO_TASKS = """
trades:
  puller: {name: Puller, cost: 30.00 EUR, minimum_call_hours: 2}
  fixer: {name: Fixer, cost: 40.00 EUR}
tasks:
  pull: {name: Pull, trade: puller, phase: first fix, to: cable, hours: 10, length: 100 m}
  end: {name: End, trade: puller, phase: first fix, to: cable end, hours: 0.05}
  hang: {name: Hang, trade: fixer, phase: second fix, to: device, kinds: [access_point, charger], hours: 1.25}
  room: {name: Room, trade: fixer, phase: commissioning, to: room, hours: 4, further_hours: 1}
conditions:
  crowded: {name: Crowded, addition: 20 %}
  guarded: {name: Guarded, addition: 15 %}
"""


@pytest.mark.independent
def test_one_meeting_room_counted_by_hand() -> None:
    """Cables of 8.47 m and 4.02 m to the breakout, 19.47 m to the rack, as the take-off counts them by hand.

    Shared data: 11 h in 304.8 m are 0.03609 h/m. The two cables to the breakout are pulled together, 0.85:
    12.49 · 0.03609 · 0.85 = 0.3831; alone 19.47 · 0.03609 = 0.7027. The lead of 5 m to the codec of others is
    laid on site too: 10 h in 304.8 m are 0.03281 h/m, so 0.1640 h. Eight cable ends at 0.04 h are 0.32 h.
    Ten hooks at 0.08 h are 0.80 h. First fix is 0.38 + 0.70 + 0.16 + 0.32 + 0.80 = 2.36 h, below the minimum
    call of 4 h.
    """
    found = labour_of(MINIMAL, shared_labour())
    by_task: dict[str, Decimal] = {}
    for line in found.lines:
        by_task[line.task] = by_task.get(line.task, D(0)) + line.hours
    assert by_task["pull data cable"] == D("0.38") + D("0.70")
    assert by_task["pull audio cable"] == D("0.16")
    assert by_task["label a cable end"] == D("0.32")
    assert by_task["hang a hook"] == D("0.80")
    assert by_task["terminate data cable"] == D("0.99")  # 3 · 0.33
    assert by_task["terminate audio cable"] == D("0.30")
    assert by_task["install an access point"] == D("1.25")
    assert by_task["install a charger"] == D("0.60")
    assert by_task["pair a microphone"] == D("0.45")  # two microphones and a spare, 0.15 h each
    assert by_task["tune a room"] == D("4.00")
    # In the rack: a panel, a manager, a strip, four blank panels and the earthing kit.
    assert by_task["fit a rack part"] == D("0.80")
    assert by_task["test a rack"] == D("1.00")
    # Management: 10 % of workshop 4.75 + 1.8, first fix 2.36, second fix 0.99 + 5.75, network 2,
    # programming 1, commissioning 5.45 and training 4 h: 28.10 h, so 2.81.
    assert by_task["manage"] == D("2.81")
    summary = {(row.trade, row.phase): row for row in found.summary}
    first_fix = summary["cable installer", "first fix"]
    assert (first_fix.line_hours, first_fix.call_hours, first_fix.hours) == (D("2.36"), D("1.64"), D("4.00"))
    assert first_fix.person_days == 1
    # Second fix: rack 3, access point 1.25, charger 0.6, breakout 0.6, ends of the lead 0.3 h.
    assert summary["installer", "second fix"].hours == D("5.75")
    # One day each for installer, network, commissioning and training, two for cables: 1 h each.
    assert {trip.trade: trip.hours for trip in found.travel} == {
        "cable installer": 2,
        "installer": 1,
        "network engineer": 1,
        "commissioning engineer": 1,
        "trainer": 1,
    }


def test_additions_add_on_a_line_and_project_conditions_multiply_once_at_the_summary() -> None:
    data = alone(TWO_TASKS)
    on_lines = labour_of(
        MINIMAL, data, LabourChoices(conditions=("crowded",), room_conditions={"B001": ("guarded",)})
    )
    hung = [line for line in on_lines.lines if line.task == "hang"]
    assert {name for line in hung for name, _ in line.additions} == {"Crowded", "Guarded"}
    # 1.25 · (1 + 0.20 + 0.15) = 1.6875, not 1.25 · 1.20 · 1.15 = 1.725.
    assert [line.hours for line in hung] == [D("1.69"), D("1.69")]
    at_once = labour_of(MINIMAL, data, LabourChoices(project_conditions=("crowded", "guarded")))
    assert [line.hours for line in at_once.lines if line.task == "hang"] == [D("1.25"), D("1.25")]
    (row,) = [row for row in at_once.summary if row.phase == "second fix"]
    assert row.hours == D("3.45")  # 2.50 · 1.20 · 1.15
    # Commissioning is no phase of either condition.
    assert [row.hours for row in at_once.summary if row.phase == "commissioning"] == [D("4.00")]


def test_a_condition_chosen_twice_counts_once() -> None:
    data = alone(TWO_TASKS)
    choices = LabourChoices(
        conditions=("crowded",), room_conditions={"B001": ("crowded",), "meeting": ("crowded",)}
    )
    hung = [line for line in labour_of(MINIMAL, data, choices).lines if line.task == "hang"]
    assert [line.hours for line in hung] == [D("1.50"), D("1.50")]


def test_a_minimum_call_holds_only_where_somebody_comes() -> None:
    data = alone(TWO_TASKS)
    found = labour_of(MINIMAL, data)
    calls = {(row.trade, row.phase): row.call_hours for row in found.summary}
    # 8.47, 4.02, 19.47 and 5 m at 0.1 h/m and eight ends at 0.05 h are 0.85 + 0.40 + 1.95 + 0.50 + 0.40 h =
    # 4.10 h: above the call of 2 h.
    assert calls["puller", "first fix"] == 0
    assert all(row.phase != "network" for row in found.summary)


def test_further_rooms_of_a_kind_take_the_hours_for_further_ones() -> None:
    found = labour_of(EXAMPLE, alone(TWO_TASKS))
    hours = {line.room: line.hours for line in found.lines if line.task == "room"}
    kinds = computed(EXAMPLE).design.kinds
    for kind in kinds:
        assert [hours[tag] for tag in kind.rooms] == [D(4)] + [D(1)] * (len(kind.rooms) - 1)
    assert any(len(kind.rooms) > 1 for kind in kinds)


def test_a_repeated_room_takes_less_where_its_phase_says_so() -> None:
    repeated = TWO_TASKS + "repetition: {reduction: 20 %, phases: [second fix]}\n"
    found = labour_of(EXAMPLE, alone(repeated))
    first = {kind.rooms[0] for kind in computed(EXAMPLE).design.kinds}
    for line in found.lines:
        again = line.task == "hang" and line.room not in first
        assert (("repeated room", D("-0.2")) in line.additions) == again
        if again:
            assert line.hours == (line.units * D("1.25") * D("0.8")).quantize(CENT, ROUND_HALF_UP)


@pytest.mark.independent
def test_high_work_takes_the_step_it_reaches() -> None:
    """The chamber's cables run 4.4 m above the floor, 14 ft 5 in: the step from 14 ft, 8 %."""
    found = labour_of(EXAMPLE, shared_labour())
    pulled = [line for line in found.lines if line.task == "pull data cable" and line.room == "A001"]
    assert any(("height of the work", D("0.08")) in line.additions for line in pulled)
    for line in pulled:
        assert all(addition == D("0.08") for name, addition in line.additions if name == "height of the work")


def test_an_entry_may_name_another_task_than_its_kind() -> None:
    one = computed(MINIMAL)
    data = alone(
        TWO_TASKS.replace("hours: 1.25}", "hours: 1.25, installs: yes}").replace(
            "conditions:",
            "  hang high: {name: High, trade: fixer, phase: second fix, to: device, kinds: [rack], hours: 3, "
            "installs: yes}\nconditions:",
        )
    )
    (tag,) = [device.tag for device in one.design.devices if device.kind == "access_point"]
    entry = one.design.entries[tag].model_copy(update={"labour_task": "hang high"})
    changed = replace(one.design, entries={**one.design.entries, tag: entry})
    found = labour_estimate(one.project, changed, sheet_numbers(one), data, LabourChoices(), D(8))
    assert [line.task for line in found.lines if tag in line.causes and line.phase == "second fix"] == [
        "hang high"
    ]


@pytest.mark.parametrize("folder", [MINIMAL, EXAMPLE, "tests/projects/us_customary"])
def test_lines_rooms_trades_and_phases_add_to_the_same_hours_and_name_what_they_count(folder: str) -> None:
    choices = LabourChoices(
        conditions=("congested",), project_conditions=("occupied", "access"), overtime=0.1
    )
    found = labour_of(folder, shared_labour(), choices)
    for view in ("trade", "phase", "room", "system"):
        assert sum(hours for _, hours in hours_by(found, view)) == found.hours
    for row in found.summary:
        members = [line for line in found.lines if (line.trade, line.phase) == (row.trade, row.phase)]
        assert sum(line.hours for line in members) == row.line_hours
        assert sum(line.charged_hours for line in members) == row.hours
    design = computed(folder).design
    tags = {device.tag for device in design.devices}
    cables = {cable.identity for cable in design.cables}
    tasks = shared_labour().tasks
    for line in found.lines:
        assert line.causes
        exact = (
            line.units * line.hours_a_unit * line.group_factor * (1 + sum(each for _, each in line.additions))
        )
        assert line.hours == exact.quantize(CENT, ROUND_HALF_UP)
        if tasks[line.task].to == "device":
            assert set(line.causes) <= tags
            assert line.units == len(line.causes)
        if tasks[line.task].to == "cable":
            assert set(line.causes) <= cables
    pulled = [cause for line in found.lines if line.unit == "m" for cause in line.causes]
    # A lead to equipment of others is laid on site, as cables are.
    leads = {cable.identity for cable in design.cables if cable.in_rack and not cable.to_others}
    assert sorted(pulled) == sorted(cables - leads)
    wired = [
        cause for line in found.lines if tasks[line.task].to == "lead in a rack" for cause in line.causes
    ]
    assert sorted(wired) == sorted(leads)


@given(st.decimals(-1_000_000, 1_000_000, places=2), st.lists(st.decimals(0, 1000, places=3), min_size=1))
def test_parts_add_up_and_lie_within_one_step_of_their_share(total: Decimal, weights: list[Decimal]) -> None:
    parts = shared_out(total, weights, CENT)
    assert sum(parts) == total
    whole = sum(weights)
    for part, weight in zip(parts, weights, strict=True):
        if whole:
            # |part − total·weight/whole| < one step, without dividing.
            assert abs(part * whole - total * weight) < CENT * whole


@pytest.mark.published
def test_a_half_is_rounded_away_from_zero() -> None:
    """Half up as the trade means it; binary floats would give 1.00 for 1.005."""
    assert rounded(D("1.005"), CENT) == D("1.01")
    assert rounded(D("-1.005"), CENT) == D("-1.01")
    assert rounded(D("2.675"), CENT) == D("2.68")
    assert rounded(D("0.5"), D(1)) == 1
