"""Remedies that name models: what they name is written into the project, and the finding is gone."""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import FixedDevice, FixedRoom
from proposal.review.destinations import destinations_not_fed
from proposal.review.finding import Finding
from proposal.review.microphone_systems import mixed_systems
from proposal.review.model_remedies import with_ports
from proposal.review.power import ports
from proposal.review.rooms import nothing_suits
from proposal.review.sound import ports_missing
from tests.catalogue import model_of, shipped
from tests.design.making import changed, designed, minimal, with_layout
from tests.review.editing import edited

RULES = (ports, destinations_not_fed, mixed_systems)
NAMED = ("poe-class-short", "destination-not-fed", "mixed-systems")
SYSTEMS = shipped().systems


def remedies(folder: Path) -> Mapping[str, list[str]]:
    """Return the remedies of the rules that name models, by where they are found."""
    project = load_project(folder)
    made = design(project)
    found: list[Finding] = [one for rule in RULES for one in rule(project, made) if one.rule in NAMED]
    return {where: [one.remedy for one in found if one.where == where] for where in {f.where for f in found}}


def model_in(remedy: str) -> str:
    """Return the model of which a remedy names one."""
    named = re.search(r"\b1 × (\S+?),? ", remedy)
    assert named is not None, remedy
    return named[1]


def test_a_boundary_microphone_on_a_ceiling_is_refused_where_its_system_has_none_for_it() -> None:
    """Of the three makers one has boundary microphones that may hang on a ceiling."""
    first = minimal().room_types["meeting"].microphones["M1"]
    hung = first.model_copy(update={"mounting": "ceiling", "height": 2.6})
    both = {**minimal().room_types["meeting"].microphones, "M1": hung}
    project = with_layout(minimal(), "meeting", microphones=both, system="Corvenhythe")
    (found,) = nothing_suits(project, designed(project))
    (model,) = re.findall(r"(\S+) \(Vasselgate\)", found.remedy)
    assert "ceiling" in shipped().entry(model).mounting
    # What it names mends it.
    open_to_all = with_layout(minimal(), "meeting", microphones=both, system="Vasselgate")
    assert not list(nothing_suits(open_to_all, designed(open_to_all)))


def test_what_remedies_name_mends_what_they_are_told_for(tmp_path: Path) -> None:
    told = remedies(edited(tmp_path / "before", "failing", {}))
    (switch,) = {model_in(one) for where, all_of in told.items() if "SW1/" in where for one in all_of}
    (mixer,), (breakout,), (access_point,) = (
        [model_in(x) for x in told[k]] for k in ("F001", "F002", "F101")
    )
    edits = [
        ("model: FX-SW8-30", f"model: {switch}"),
        ("mixers: {}", f"mixers: {{{mixer}: 1}}"),
        ("breakouts: {}", f"breakouts: {{{breakout}: 1}}"),
        ('model: "14708"', f'model: "{access_point}"'),
    ]
    assert remedies(edited(tmp_path / "after", "failing", {"fixed.yaml": edits})) == {}


@pytest.mark.parametrize("kind", ["charger", "microphone"])
def test_a_device_of_another_system_has_one_of_the_rooms_system_named(kind: str) -> None:
    (sized,) = designed(minimal()).kinds
    other = next(system for system in SYSTEMS if system != sized.sizing.system)
    wanted = {"form": "boundary", "pattern": "cardioid"} if kind == "microphone" else {}
    model = model_of(shipped(), kind, works_with=other, **wanted)
    code = {"charger": "CH1", "microphone": "M1"}[kind]
    project = changed(minimal(), "fixed.devices", {f"B001-{code}": FixedDevice(model=model)})
    (finding,) = mixed_systems(project, designed(project))
    assert f"instead of {model}" in finding.remedy or f"instead of 1 × {model}" in finding.remedy
    named = model_in(finding.remedy)
    mended = changed(minimal(), "fixed.devices", {f"B001-{code}": FixedDevice(model=named)})
    assert list(mixed_systems(mended, designed(mended))) == []


def test_ports_that_no_box_of_the_library_has_are_not_said_to_be_had(tmp_path: Path) -> None:
    """Nine analogue returns are more than any mixer or breakout takes; a room without a breakout gets one."""
    returns = "returns:\n  far: {name: far return, signal: analogue, channels: 9}\ndestinations:"
    many = load_project(
        edited(tmp_path / "p", "minimal", {"room_types/meeting.yaml": [("destinations:", returns)]})
    )
    (found,) = ports_missing(many, design(many))
    assert found.remedy.startswith("Put a mixer or breakout with ports for all sound of the room into")
    none = changed(minimal(), "fixed.rooms", {"B001": FixedRoom(breakouts={})})
    (kind,) = designed(none).kinds
    (usual,) = designed(minimal()).kinds
    breakouts = usual.sizing.size("breakout")
    assert breakouts is not None
    assert model_in(with_ports(none, kind)) == breakouts.models[0]
