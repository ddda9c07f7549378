"""Mounts: each device that hangs gets one that carries it, counted and priced, or a finding."""

from collections import Counter
from pathlib import Path

import pytest

from proposal.design.equipment.mounts import mount_of, mounted
from proposal.model.project import Project
from proposal.pipeline import compute
from proposal.review.mounts import without_mount
from tests.design.making import EXAMPLE, PROJECTS, changed, designed, minimal, project_of


def of(project: Project) -> dict[str, tuple[str, str]]:
    design = designed(project)
    return {
        device.tag: (place, model)
        for device, place, model in mounted(project, design.devices, design.entries)
    }


@pytest.mark.independent
def test_what_hangs_in_one_room_by_hand() -> None:
    """The access point hangs on the ceiling, the breakout under the table; charger and microphones stand."""
    assert of(minimal()) == {"B001-AP1": ("ceiling", "Q43976"), "B001-BO1": ("under table", "DR-MT-U")}


@pytest.mark.independent
@pytest.mark.parametrize(("load_kg", "model"), [(0.5, ""), (20.0, "Q43976")])
def test_a_mount_bears_its_device_or_is_none(load_kg: float, model: str) -> None:
    project = changed(minimal(), "library.mounts.Q43976.load", load_kg)
    assert of(project)["B001-AP1"] == ("ceiling", model)
    found = [one.where for one in without_mount(project, designed(project))]
    assert found == ([] if model else ["B001-AP1"])


def test_a_device_that_brings_its_fixings_needs_no_mount() -> None:
    project = minimal()
    model = next(device.model for device in designed(project).devices if device.kind == "access_point")
    project = changed(project, ("library", "access_points", model, "fixings_included"), True)
    assert "B001-AP1" not in of(project)


@pytest.mark.parametrize("folder", [EXAMPLE, PROJECTS / "minimal", PROJECTS / "us_customary"])
def test_the_take_off_and_the_price_count_every_mount(folder: Path) -> None:
    computed = compute(project_of(folder))
    hanging = {tag: model for tag, (_, model) in of(computed.project).items()}
    assert all(hanging.values())
    wires = {one.model for one in computed.project.library.consumables.values() if one.use == "safety wire"}
    held = [line for line in computed.estimate.lines if line.section == "mounts"]
    # Every loudspeaker and access point that hangs has a safety wire, and nothing else.
    wired = [cause for line in held if line.model in wires for cause in line.causes]
    assert Counter(wired) == Counter(
        one.tag
        for one in computed.design.devices
        if one.kind in ("loudspeaker", "access_point") and one.location == "ceiling"
    )
    lines = [line for line in held if line.model not in wires]
    assert {cause: line.model for line in lines for cause in line.causes} == hanging
    assert sum(line.quantity for line in lines) == len(hanging)
    bought = {
        one.model: one.bought
        for one in computed.estimate.purchases
        if one.section == "mounts" and one.model not in wires
    }
    assert bought == Counter(hanging.values())
    priced = [line for line in computed.price.lines if line.kind == "mounts" and line.item not in wires]
    assert {cause for line in priced for cause in line.causes} == set(hanging)
    assert all(line.price > 0 for line in priced)
    systems = {
        line.system
        for line in priced
        if computed.project.library.mounts[line.item].carries[0] == "loudspeaker"
    }
    assert systems <= {"loudspeakers"}


@pytest.mark.parametrize(
    ("ceiling", "model"), [("mineral tile", "DR-MT-B"), ("timber", "DR-MT-S"), ("plasterboard", "DR-MT-S")]
)
def test_a_loudspeaker_hangs_from_a_mount_made_for_its_ceiling(ceiling: str, model: str) -> None:
    project = minimal()
    (speaker, *_) = project.library.loudspeakers.values()
    assert mount_of(project, "ceiling", speaker, ceiling) == model
