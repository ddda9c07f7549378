"""Nothing that the take-off counts is without the hours of the work that it takes, or a reason."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

from proposal.estimate.labour.labour_line import LabourLine
from proposal.estimate.takeoff.lines import TakeoffLine
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from tests.whole_projects import whole_computed

PROJECTS = Path(__file__).resolve().parents[2] / "projects"
WORK: Mapping[str, tuple[str, ...]] = {
    "equipment": ("",),
    "accessories": ("",),
    "mounts": ("install", "configure"),
    "cable": ("pull", "wire a lead"),
    "reels": ("pull", "wire a lead"),
    "termination": ("terminate", "wire a lead", "set a box"),
    "patching": ("",),
    "labels": ("",),
    "supports": ("pull",),
    "consumables": ("pull", "wire a lead", "close an opening"),
    "pathways": ("lay", "set", "hang"),
}
"""How the keys of the tasks begin that work up what stands in a section; any task done to it where empty."""
BY_OTHERS = "made by others, as the matrix says; ours take hours (test_pathway_lines.py)"
OWNERS = (
    "the owner's own device, whose cables we connect: the hours of these cables hold labels and cords there"
)


def reason(computed: Computed, line: TakeoffLine, cause: str) -> str:
    """Return why something takes no hours of its own; empty where there is no reason."""
    if line.section == "pathways" and not line.unit_cost:
        return BY_OTHERS
    owners = {one.device.tag for one in computed.design.owners}
    if line.section in ("labels", "patching") and cause.partition("/")[0] in owners:
        return OWNERS
    return ""


@cache
def computed_of(name: str) -> Computed:
    if name == "example":
        return whole_computed(PROJECTS.parents[1] / "example_project")
    return compute(load_project(PROJECTS / name))


def without_hours(computed: Computed, labour: Iterable[LabourLine]) -> Iterator[tuple[str, str, str]]:
    """Yield section, model and cause of all that no line of labour is done to, and that has no reason."""
    tasks: dict[str, set[str]] = defaultdict(set)
    for work in labour:
        if work.hours > 0:
            for cause in work.causes:
                tasks[cause].add(work.task)
    for line in computed.estimate.lines:
        for cause in line.causes or ("",):
            # A cord, or a module at its end, is named by the join, and plugged in with the devices it joins.
            plugged = line.section in ("patching", "accessories")
            named = {cause, *cause.split("/")[::2]} if plugged else {cause}
            done = set[str]().union(*(tasks[one] for one in named))
            worked = any(task.startswith(WORK[line.section]) for task in done)
            if not worked and not reason(computed, line, cause):
                yield line.section, line.model, cause


@pytest.mark.parametrize("name", ["us_customary", "further_inputs", "example"])
def test_all_that_is_counted_takes_hours_or_has_a_reason(name: str) -> None:
    computed = computed_of(name)
    assert len(computed.estimate.lines) > 20
    assert list(without_hours(computed, computed.labour.lines)) == []


@pytest.mark.parametrize("task", ["install an access point", "pull data cable", "terminate audio cable"])
def test_a_task_that_is_left_out_is_missed(task: str) -> None:
    computed = computed_of("us_customary")
    left = [line for line in computed.labour.lines if line.task != task]
    assert len(left) < len(computed.labour.lines)
    assert list(without_hours(computed, left))
