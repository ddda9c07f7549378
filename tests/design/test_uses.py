"""Every working names the inputs it rests on: change an input, and whatever changes must have named it.

The oracle is the program itself run again on the changed project; what is tested is that nothing changes
that did not say it would.
"""

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import pytest

from proposal.design.calculations import calculations
from proposal.design.design import Design
from proposal.document.making.findings import dotted
from proposal.model.pathways.building import Shaft
from proposal.model.project import Path, Project
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout

Results = dict[tuple[str, str, str, int], tuple[float, tuple[str, ...]]]
"""Result and uses of workings, by chapter, subject, title and which of them it is."""
CHAPTERS = ("Sizing", "Cabling", "Network", "Power")


def in_rack() -> Project:
    """Return the one-room project with every device cabled to the rack."""
    return with_layout(minimal(), "meeting", network="rack")


def annex() -> Project:
    return project_of(PROJECTS / "us_customary")


def inputs(project: Project) -> list[Path]:
    """Return the paths of all inputs that were left out or are unknown."""
    return [one.path for one in (*project.assumptions, *project.questions)]


def other(project: Project, path: Path, value: Any) -> Any:
    """Return another value for an input; None where it does not bear on the design."""
    field = str(path[-1])
    if field == "data_cable":
        return "CC-6F-R" if "CC-6F-R" in project.library.cables else next(iter(project.library.cables))
    if field == "shafts":
        return {"X1": Shaft(name="another shaft", at=(3.0, 17.0))}
    if field == "access_points_at":
        return {"AP1": (1.0, 1.1)}
    if field == "spare_microphones":
        return {"boundary": 3}
    if field in ("charging_at", "breakouts_at"):
        return (1.5, 1.25)
    if field == "network":
        return "rack"
    if field == "equipment_room":
        return next(iter(project.building.equipment_rooms))
    if field == "cord_gauge":
        return 26
    if field == "pathway_height":
        return 2.5
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return round(value * 0.8 + 0.11, 6)
    return None


def value_at(project: Project, path: Path) -> Any:
    here: Any = project.brief if path[0] == "project" else getattr(project, str(path[0]))
    for key in path[1:]:
        here = here[key] if isinstance(here, dict) else getattr(here, str(key))
    return here


def edited(project: Project, path: Path, value: Any) -> Project:
    keys = tuple(str(key) for key in path)
    if keys[0] == "room_types":
        return with_layout(project, keys[1], **{keys[2]: value}) if len(keys) == 3 else project
    return changed(project, ("brief" if keys[0] == "project" else keys[0], *keys[1:]), value)


def results(design: Design) -> Results:
    """Return result and uses of every working, ports by the device they feed."""
    device_at = {f"{one.switch}/{one.port}": one.attached.tag for one in design.ports}
    found: Results = {}
    for noted in calculations(design):
        if noted.chapter not in CHAPTERS:
            continue
        subject = device_at.get(noted.subject, noted.subject)
        count = sum(key[:3] == (noted.chapter, subject, noted.working.title) for key in found)
        key = (noted.chapter, subject, noted.working.title, count)
        found[key] = (noted.working.result, noted.working.uses)
    return found


@cache
def as_written(make: Callable[[], Project]) -> tuple[Project, Results]:
    """Return a project without an edit, and its results."""
    project = make()
    return project, results(designed(project))


def cases() -> Iterator[Any]:
    """Yield every input for which there is another value; texts and tables have no part in these chapters."""
    for name, make in (("minimal", minimal), ("in-rack", in_rack), ("annex", annex)):
        project = make()
        for path in inputs(project):
            if other(project, path, value_at(project, path)) is None:
                continue
            yield pytest.param(make, path, id=f"{name}-{dotted(path)}")


@pytest.mark.independent
@pytest.mark.parametrize(("make", "path"), list(cases()))
def test_a_working_that_changes_with_an_input_names_it(make: Any, path: Path) -> None:
    project, before = as_written(make)
    value = other(project, path, value_at(project, path))
    after = results(designed(edited(project, path, value)))
    silent = {
        key: (result, after[key][0])
        for key, (result, uses) in before.items()
        if key in after and abs(after[key][0] - result) > 1e-9 and dotted(path) not in uses
    }
    assert silent == {}


def test_the_inputs_that_matter_most_do_change_workings() -> None:
    """The test above would pass idly if nothing ever changed."""
    project = in_rack()
    before = results(designed(project))
    for field, value in (
        ("rules.cabling.rack_slack", 9.0),
        ("rules.pathways.warming_open", 90.0),
        ("rules.cabling.device_cord", 4.0),
        ("rules.power.connector_resistance", 0.6),
        ("rules.power.headroom", 0.4),
        ("rules.network.spare_ports", 0.7),
    ):
        after = results(designed(changed(project, f"brief.{field}", value)))
        moved = [key for key in before if key in after and after[key][0] != before[key][0]]
        assert moved, field
        for key in moved:
            assert f"project.{field}" in before[key][1], (field, key)
