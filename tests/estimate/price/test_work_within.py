"""Whatever is counted is somebody's work: its line has hours of its own, or names whose hours hold it."""

from pathlib import Path

import pytest

from proposal.estimate.price.work_within import BY_OTHERS
from tests.whole_projects import whole_computed, whole_document

EXAMPLE = Path(__file__).resolve().parents[3] / "example_project"
PROJECT = Path(__file__).resolve().parents[2] / "projects" / "us_customary"


@pytest.mark.independent
@pytest.mark.parametrize("project", [PROJECT, EXAMPLE], ids=["us_customary", "example"])
def test_every_line_has_hours_or_names_the_work_that_sets_it(project: Path) -> None:
    document = whole_document(project)
    others = {row.item for row in document.purchases if row.furnished_by == "others"}
    tasks = {row.task for row in document.labour}
    without = [
        (row.section, row.item, row.causes)
        for row in document.takeoff
        if not row.hours and not row.work_within
    ]
    assert without == []
    assert all(set(row.work_within) <= tasks | {BY_OTHERS} for row in document.takeoff)
    assert {row.item for row in document.takeoff if row.work_within == (BY_OTHERS,)} <= others
    assert not any(row.hours and row.work_within for row in document.takeoff)


@pytest.mark.independent
def test_a_mount_is_set_with_its_device_and_a_label_with_what_it_names() -> None:
    """The task that is named counts the very device or cable that the part is for."""
    document = whole_document(PROJECT)
    done: dict[str, set[str]] = {}
    for work in whole_computed(PROJECT).labour.lines:
        for cause in work.causes:
            done.setdefault(cause, set()).add(work.name)
    checked = 0
    for row in document.takeoff:
        if row.section in ("mounts", "reels", "labels", "termination"):
            names = {name for cause in row.causes for name in done.get(cause, ())}
            assert set(row.work_within) <= names, row.number
            checked += 1
    assert checked > 10
    (sort,) = {row.work_within for row in document.takeoff if row.section == "supports"}
    assert sort == ("Hook for cables fixed outside pathways",)
