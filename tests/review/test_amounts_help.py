"""What a remedy says is enough, and less is not: each is carried out in the project that breaks its rule."""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.review.finding import Finding
from proposal.review.rules import RULES
from tests.review.editing import Edit, edited

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
