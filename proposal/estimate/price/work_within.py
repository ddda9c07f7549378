"""In whose work parts of the take-off are set: what has no hours of its own is part of other work."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.estimate.labour.labour_line import LabourLine
from proposal.estimate.takeoff.lines import TakeoffLine
from proposal.estimate.takeoff.pathway_lines import is_for_others
from proposal.model.labour.labour import Bound, Phase, Task
from proposal.model.project import Project

BY_OTHERS = "By others"
_AT_WORK: tuple[tuple[Phase, ...], ...] = (("workshop",), ("first fix", "second fix"))
_DEVICE: tuple[Bound, ...] = ("device", "rack part")
_LAID: tuple[Bound, ...] = ("cable", "lead in a rack", "pathway")
_SET_IN: Mapping[str, tuple[tuple[Bound, ...], bool]] = {
    "reels": (_LAID, True),
    "consumables": (_LAID, True),
    "pathways": (_LAID, True),
    "supports": (("hook",), False),
    "termination": (_LAID, False),
    "patching": (_LAID, False),
    "labels": (("cable end", "lead in a rack"), False),
    "mounts": ((), False),
    "accessories": ((), False),
}
"""By section of the take-off: what the work is done to, and whether the part is laid along a length of it."""


def work_within(
    project: Project, lines: Sequence[TakeoffLine], labour: Sequence[LabourLine]
) -> tuple[tuple[str, ...], ...]:
    """Return for each line of a take-off the names of the tasks whose hours hold its work, if any do.

    lines: of the take-off.  labour: its lines.
    What a cable or device needs is set with it: a mount with its device, an outlet with the cable's end, a
    label with what it names; a cord between devices with the first of them that is ours to set. What others
    furnish is their work too.
    """
    done: dict[str, dict[str, Task]] = {}
    for work in labour:
        for cause in work.causes:
            done.setdefault(cause, {})[work.name] = project.labour.tasks[work.task]
    return tuple(
        tuple(dict.fromkeys(_names(line, done)))
        or ((BY_OTHERS,) if is_for_others(project, line.section) else ())
        for line in lines
    )


def _names(line: TakeoffLine, done: Mapping[str, Mapping[str, Task]]) -> Iterator[str]:
    if line.section not in _SET_IN:
        return
    bounds, is_laid = _SET_IN[line.section]
    if line.section == "supports":
        yield from (name for name, task in done.get(line.room, {}).items() if task.to in bounds)
        return
    for cause in line.causes:
        tasks = {name: task for name, task in done.get(cause, {}).items() if task.to in bounds}
        found = [name for name, task in tasks.items() if (task.length is not None) == is_laid]
        if found or tasks:
            yield from found or tasks
        else:
            yield from _with_ends(cause, done)


def _with_ends(cause: str, done: Mapping[str, Mapping[str, Task]]) -> Iterator[str]:
    """Yield the work by which the device is set that a part is for, or that a cord begins or ends at."""
    tag, _, rest = cause.partition("/")
    found = list(_with_device(tag, done))
    yield from found or _with_device(rest.rpartition("/")[2], done)


def _with_device(tag: str, done: Mapping[str, Mapping[str, Task]]) -> Iterator[str]:
    """Yield the work by which a device is set, else what else is done to it first."""
    tasks = {name: task for name, task in done.get(tag, {}).items() if task.to in _DEVICE}
    for phases in _AT_WORK:
        found = [name for name, task in tasks.items() if task.phase in phases]
        if found:
            yield from found
            return
    yield from list(tasks)[:1]
