"""What a remedy says is enough, and less is not: each is carried out in the project that breaks its rule."""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.review.finding import Finding
from proposal.review.network import ports_left
from proposal.review.radio_plan import places_not_proven, plan_changes_with_state
from proposal.review.rooms import spares
from proposal.review.rules import RULES
from tests.design.making import designed, minimal, with_layout, with_microphones
from tests.review.editing import PROJECTS, Edit, edited

ER1_BREAKER = "mains: {breaker: 1 A, curve: B, residual_current: 1 mA}"
POINTS = "    pull_points: 0\n"
CABLE = "  # Pathways that do not meet.\n"


def said(folder: Path, edits: Mapping[str, Edit], rule: str, where: str) -> Finding | None:
    project: Project = load_project(edited(folder, "failing", edits))
    whole = design(project)
    found = (one for every in RULES for one in every(project, whole))
    return next((one for one in found if (one.rule, one.where) == (rule, where)), None)


def amount(finding: Finding | None, pattern: str) -> float:
    assert finding is not None
    match = re.search(pattern, finding.remedy)
    assert match, finding.remedy
    return float(match[1])


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> Mapping[tuple[str, str], Finding]:
    project = load_project(edited(tmp_path_factory.mktemp("broken") / "p", "failing", {}))
    whole = design(project)
    return {(one.rule, one.where): one for every in RULES for one in every(project, whole)}


def test_a_cable_as_short_as_is_said_brings_the_voltage(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    rule, where = next(key for key in broken if key[0] == "poe-voltage-low")
    longest_m = amount(broken[rule, where], r"by a cable of ([\d.]+) m at most")

    def of(length_m: float) -> Finding | None:
        line = f"  F003-AP1/N1/ER1-RK1: {{length: {length_m:.1f} m}}\n"
        edits: Mapping[str, Edit] = {"fixed.yaml": [(CABLE, f"{line}{CABLE}")]}
        return said(tmp_path / f"{length_m:.1f}", edits, rule, where)

    assert of(longest_m) is None
    assert of(longest_m + 0.2) is not None


def test_as_many_pull_points_as_are_said_are_enough(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    rule, where = next(key for key in broken if key[0] == "pull-too-hard")
    points = int(amount(broken[rule, where], r"^(\d+) pull point"))
    edits = {"building.yaml": [(POINTS, f"    pull_points: {points}\n")]}
    assert points > 0
    assert said(tmp_path / "p", edits, rule, where) is None


def test_the_friction_that_is_said_is_the_highest_that_does(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    rule, where = next(key for key in broken if key[0] == "pull-too-hard")
    friction = amount(broken[rule, where], r"friction to ([\d.]+) would")

    def of(value: float) -> Finding | None:
        edits = {"project.yaml": [("rules:\n", f"rules:\n  pathways: {{friction: {value:.2f}}}\n")]}
        return said(tmp_path / f"{value:.2f}", edits, rule, where)

    assert of(friction) is None
    assert of(friction + 0.01) is not None


def test_a_breaker_as_large_as_is_said_bears_the_circuit(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    rule, where = next(key for key in broken if key[0] == "circuit-overloaded")
    rating_a = amount(broken[rule, where], r"a breaker of ([\d.]+) A")

    def of(value: float) -> Finding | None:
        edits = {"project.yaml": [(ER1_BREAKER, ER1_BREAKER.replace("1 A", f"{value:.1f} A", 1))]}
        return said(tmp_path / f"{value:.1f}", edits, rule, where)

    assert of(rating_a) is None
    assert of(rating_a - 0.1) is not None


def test_a_pathway_between_the_points_that_are_said_leaves_as_much_outside(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    rule, where = "far-outside-pathways", "F001"
    said_there = re.search(
        r"from ([\d.]+) m, ([\d.]+) m to ([\d.]+) m, ([\d.]+) m on storey L0", broken[rule, where].remedy
    )
    assert said_there
    x, y, to_x, to_y = said_there.groups()
    # It ends where N1 is, and goes along x and then along y as a cable would.
    assert (float(to_x), float(to_y)) == (46, 4)
    edits: Mapping[str, Edit] = {
        "building.yaml": [
            ("nodes:\n", f"nodes:\n  N8: {{storey: L0, at: [{x} m, {y} m]}}\n"
             f"  N9: {{storey: L0, at: [{to_x} m, {y} m]}}\n"),
            ("pathways:\n", "pathways:\n  T8: {kind: tray, between: [N8, N9], width: 100 mm, depth: 50 mm}\n"
             "  T9: {kind: tray, between: [N9, N1], width: 100 mm, depth: 50 mm}\n"),
        ]
    }  # fmt: skip
    project = load_project(edited(tmp_path / "p", "failing", edits))
    cable = next(one for one in design(project).cables if one.identity == "F001-CH1/N1/ER1-RK1")
    assert cable.route.pathways == ("T8", "T9", "C1")
    assert cable.route.outside_m == pytest.approx(
        amount(broken[rule, where], r"([\d.]+) m would be left"), abs=0.06
    )
    assert cable.route.outside_m < project.brief.rules.review.outside_pathways


def test_a_device_whose_port_is_no_longer_fixed_finds_one(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    remedy = broken["no-switch-port", "ER1"].remedy
    assert remedy == "Take the switch_port of F101-AP1 out of fixed.yaml, so that a free one is chosen."
    edits = {"fixed.yaml": [("F101-AP1: {switch_port: ER1-SW9/1, ", "F101-AP1: {")]}
    assert said(tmp_path / "p", edits, "no-switch-port", "ER1") is None


def test_a_switch_as_it_is_said_gives_all_devices_ports_and_a_lesser_one_does_not() -> None:
    project = with_layout(minimal(), "meeting", network="rack")
    like = next(iter(project.library.switches.values()))

    def told(**values: float) -> Finding | None:
        switches = {like.model: like.model_copy(update={"poe_type": 4, **values})} if values else {}
        library = project.library.model_copy(update={"switches": switches, "network_parts": {}})
        known = project.model_copy(update={"library": library})
        found = (one for one in ports_left(known, designed(known)) if one.rule == "no-switch-port")
        return next(found, None)

    lacking = told()
    ports = int(amount(lacking, r"with (\d+) ports or more"))
    poe_class = int(amount(lacking, r"PoE class (\d)"))
    budget_w = amount(lacking, r"with ([\d.]+) W of budget for all")
    enough = {
        "access_ports": ports,
        "poe_ports": ports,
        "poe_class": poe_class,
        "budget": budget_w,
    }
    assert told(**enough) is None
    for less in ({"poe_class": poe_class - 1}, {"budget": budget_w - 1}):
        assert told(**{**enough, **less}) is not None


@pytest.mark.independent
def test_what_is_said_of_the_radio_of_the_town_hall_is_enough() -> None:
    """Fewer microphones in the rooms named, or two settings less: each finding goes."""
    project = load_project(PROJECTS / "municipal")
    whole = design(project)
    (states,) = plan_changes_with_state(project, whole)
    (reuse,) = places_not_proven(project, whole)
    assert "use fewer wireless microphones at once: 1 fewer in C101 and 1 fewer in C102" in states.remedy

    def without(chamber: int, committee: int) -> Project:
        """Return the project with fewer wireless microphones, the last ones gone."""
        changed = project
        for kind, count in (("chamber", chamber), ("committee", committee)):
            kept = list(project.room_types[kind].microphones.items())
            changed = with_layout(changed, kind, microphones=dict(kept[: len(kept) - count]))
        return changed

    assert not list(plan_changes_with_state(without(1, 1), design(without(1, 1))))
    assert list(plan_changes_with_state(without(1, 0), design(without(1, 0))))
    assert "14 dBm in C101, 14 dBm in C102, 14 dBm in C103 and 14 dBm in P1" in reuse.remedy
    lower = project
    for kind, layout in project.room_types.items():
        lower = with_layout(lower, kind, radio=layout.radio.model_copy(update={"power": 14.0}))
    assert not list(places_not_proven(lower, design(lower)))


@pytest.mark.parametrize("held", [0, 1])
def test_as_many_more_spares_as_are_said_are_enough(held: int) -> None:
    # One for every 10 in use: 21 microphones want 3.
    def of(boundary: int) -> list[Finding]:
        forms = {"boundary": 13, "handheld": 8}
        project = with_microphones(
            minimal(), "meeting", forms, spare_microphones={"boundary": boundary} if boundary else {}
        )
        return list(spares(project, designed(project)))

    (one,) = of(held)
    found = re.search(r"Hold (\d+)( more)? spare boundary microphones", one.remedy)
    assert found, one.remedy
    assert held + int(found[1]) == 3
    assert bool(found[2]) == bool(held)
    assert of(3) == []
    assert of(2) != []


def test_an_amplifier_that_is_named_drives_the_line(
    broken: Mapping[tuple[str, str], Finding], tmp_path: Path
) -> None:
    one = next(one for (rule, _), one in broken.items() if rule == "loudspeaker-line-not-driven")
    found = re.search(r"Fix (\w+)(?: or \w+)* for (F\d+-AM\d+) in fixed.yaml", one.remedy)
    assert found, one.remedy
    was = "F002-AM1: {model: Q13924}"
    edits: Mapping[str, Edit] = {"fixed.yaml": [(was, f"{found[2]}: {{model: {found[1]}}}")]}
    assert said(tmp_path / "p", edits, one.rule, one.where) is None
