"""What building.yaml and fixed.yaml say about pathways: wrong words, names and figures are found at once."""

from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from tests.review.editing import edited, line_of

NODES = "  N1: {storey: L0, at: [2 m, 2 m]}\n  N2: {storey: L0, at: [12 m, 2 m]}\n"


def problems(folder: Path, text: str, fixed: str = "") -> list[str]:
    """Return what is wrong with the smallest project whose building.yaml ends with a text."""
    edits = {"building.yaml": [("*end*", text)]} | ({"fixed.yaml": fixed} if fixed else {})
    try:
        load_project(edited(folder, "minimal", edits))
    except InputError as error:
        return [str(problem) for problem in error.problems]
    return []


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (
            "pathways:\n  T1: {kind: tray, between: [N1, N2]}\n",
            "pathways.T1: wanted width and depth of a tray",
        ),
        (
            "pathways:\n  T1: {kind: tray, between: [N1, N9], width: 1 m, depth: 1 m}\n",
            "pathways.T1.between.2: wanted a node of building.yaml: one of N1, N2; found N9",
        ),
        (
            "pathways:\n  C1: {kind: conduit, between: [N1, N1]}\n",
            "pathways.C1.between: wanted two nodes; found N1 twice",
        ),
        (
            "pathways:\n  C1: {kind: conduit, between: [N1, N2], length: 9 m}\n",
            "pathways.C1.length: wanted at least the straight line between its nodes, 10.00 m; found 9 m",
        ),
        (
            "pathways:\n  C1: {kind: conduit, between: [N1, N2], length: 11 m, drops_at: [0 m, 2 m]}\n",
            "pathways.C1.length: wanted at least the level way between its nodes, 14.00 m; found 11 m",
        ),
        (
            "pathways:\n  T1: {kind: hooks, between: [N1, N2], drops_at: [0 m, 2 m]}\n",
            "pathways.T1.drops_at: wanted this for conduit only; found hooks",
        ),
        (
            "pathways:\n  H1: {kind: hooks, between: [N1, N2], bends: [90°]}\n",
            "pathways.H1.bends: wanted this for conduit only; found hooks",
        ),
        (
            "pathways:\n  C1: {kind: conduit, between: [N1, N2], size: 5/8}\n",
            "pathways.C1.size: wanted one of choose, 1/2,",
        ),
        (
            "pathways:\n  C1: {kind: conduit, between: [N1, N2], space: attic}\n",
            "pathways.C1.space: wanted a space of building.yaml; found attic",
        ),
        (
            "pathways:\n  H1: {kind: hooks, between: [N1, N2], support: DR-XX}\n",
            "pathways.H1.support: wanted a support of the library",
        ),
        (
            "pathways:\n  C1: {kind: conduit, between: [N1, N2], pull_points: -1}\n",
            "pathways.C1.pull_points: wanted at least 0; found -1",
        ),
        (
            "pathways:\n  B001: {kind: conduit, between: [N1, N2]}\n",
            "pathways.B001: wanted a tag that no room has; found B001",
        ),
        (
            "pathways:\n  N1: {kind: conduit, between: [N1, N2]}\n",
            "pathways.N1: wanted a tag that no node has; found N1",
        ),
        (
            "pathways:\n  C1: {kind: pipe, between: [N1, N2]}\n",
            "pathways.C1.kind: wanted one of tray, conduit",
        ),
        ("spaces:\n  S: {name: Void, temperature: 40}\n", "spaces.S.temperature: wanted a temperature"),
    ],
)
def test_a_wrong_pathway_is_told_with_what_was_wanted(tmp_path: Path, text: str, wanted: str) -> None:
    found = problems(tmp_path / "project", f"nodes:\n{NODES}{text}")
    assert len(found) == 1, found
    line = line_of(tmp_path / "project", "building.yaml", text.splitlines()[-1].strip())
    assert found[0].startswith(f"building.yaml:{line}:")
    assert wanted in found[0]


def test_trays_do_not_climb_from_storey_to_storey(tmp_path: Path) -> None:
    nodes = "  N1: {storey: L0, at: [2 m, 2 m]}\n  N2: {storey: L7, at: [2 m, 2 m]}\n"
    found = problems(
        tmp_path / "project", f"nodes:\n{nodes}pathways:\n  H1: {{kind: hooks, between: [N1, N2]}}\n"
    )
    assert any("wanted both nodes on one storey" in problem for problem in found)
    assert any("nodes.N2.storey: wanted a storey of building.yaml" in problem for problem in found)


def test_a_route_names_pathways_that_there_are(tmp_path: Path) -> None:
    text = f"nodes:\n{NODES}pathways:\n  C1: {{kind: conduit, between: [N1, N2]}}\n"
    fixed = "cables:\n  B001-BO1/N1/ER1-RK1: {route: [C1, C2]}\n"
    found = problems(tmp_path / "project", text, fixed)
    assert len(found) == 1
    assert "route.2: wanted a pathway of building.yaml: C1; found C2" in found[0]


def test_what_is_right_is_read(tmp_path: Path) -> None:
    text = (
        "spaces:\n  S: {name: Void, temperature: 86 °F, plenum: yes, location: wet}\n"
        f"nodes:\n{NODES}  FB1: {{storey: L0, at: [3 m, 3 m], height: 0 m, kind: floor box}}\n"
        "pathways:\n"
        "  C1: {kind: conduit, between: [N1, N2], space: S, size: 1-1/4, bends: [90°, 45 deg]}\n"
        "  H1: {kind: hooks, between: [N2, FB1]}\n"
    )
    folder = edited(tmp_path / "project", "minimal", {"building.yaml": [("*end*", text)]})
    building = load_project(folder).building
    assert building.spaces["S"].temperature == pytest.approx(30)
    assert building.pathways["C1"].bends == (90.0, 45.0)
    assert building.pathways["C1"].size == "1-1/4"
    assert building.pathways["H1"].size == "choose"
    assert building.nodes["FB1"].height == 0.0


@pytest.mark.parametrize(
    ("nodes", "wanted"),
    [
        (
            "  N1: {storey: L0, at: [2 m, 2 m], height: 3 m}\n"
            "  N2: {storey: L0, at: [12 m, 2 m], height: 3 m}\n",
            "pathways.C1.drops_at: wanted this between nodes at two heights only; found both at 3 m",
        ),
        (
            "  N1: {storey: L0, at: [2 m, 2 m], box: deep}\n"
            "  N2: {storey: L0, at: [12 m, 2 m], height: 0 m, kind: floor box, box: deep}\n",
            "nodes.N1.box: wanted this for floor box or pull box only; found junction",
        ),
    ],
)
def test_what_a_node_has_not_is_told(tmp_path: Path, nodes: str, wanted: str) -> None:
    pathway = "pathways:\n  C1: {kind: conduit, between: [N1, N2], drops_at: [5 m, 2 m]}\n"
    found = problems(tmp_path / "project", f"nodes:\n{nodes}{pathway}")
    assert len(found) == 1, found
    assert wanted in found[0]
