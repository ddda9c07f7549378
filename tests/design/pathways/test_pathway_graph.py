"""Ways through pathways, against an independent search over all of them."""

import itertools
import math
import random
import time
from typing import Any

import pytest

from proposal.design.pathways.cable_routes import CableRoute
from proposal.design.pathways.entry_points import JoinGrid, run_m, turning_shares
from proposal.design.pathways.manual_routes import in_racks_of, pinned_route
from proposal.design.pathways.pathway_graph import Network, node_position
from proposal.design.pathways.routing import Router
from proposal.model.design_rules import Rules
from proposal.model.pathways.building import Building
from proposal.model.project import Project


class _Brief:
    units = "metric"

    def __init__(self, rules: Rules) -> None:
        self.rules = rules


def project_with(building: dict[str, Any], rules: dict[str, Any] | None = None) -> Project:
    """Return what the search for ways sees of a project: its building and its rules."""
    return Project.model_construct(
        building=Building.model_validate(building),
        brief=_Brief(Rules.model_validate(rules or {})),  # type: ignore[arg-type]
    )


def building_of(
    nodes: dict[str, tuple[str, float, float, float]],
    pathways: dict[str, dict[str, Any]],
    rack: tuple[str, float, float] = ("L0", 0.0, 0.0),
) -> dict[str, Any]:
    return {
        "storeys": {
            "L0": {"name": "Ground", "height": 0.0, "slab_to_slab": 4.0},
            "L1": {"name": "First", "height": 4.0, "slab_to_slab": 4.0},
        },
        "equipment_rooms": {
            "ER1": {"name": "Racks", "storey": rack[0], "at": rack[1:], "racks": {"RK1": {}}}
        },
        "nodes": {
            tag: {"storey": storey, "at": (x, y), "height": height}
            for tag, (storey, x, y, height) in nodes.items()
        },
        "pathways": pathways,
    }


def tray(start: str, end: str, **more: Any) -> dict[str, Any]:
    return {"kind": "tray", "between": (start, end), "width": 0.2, "depth": 0.05, **more}


def conduit(start: str, end: str, **more: Any) -> dict[str, Any]:
    return {"kind": "conduit", "between": (start, end), **more}


NODES = {
    "N1": ("L0", 2.0, 0.0, 3.5),
    "N2": ("L0", 30.0, 0.0, 3.5),
    "N3": ("L0", 30.0, 20.0, 3.5),
    "N4": ("L0", 40.0, 0.0, 0.0),
}


def route(
    project: Project, at: tuple[float, float], height_m: float, storey: str = "L0", **more: Any
) -> CableRoute:
    return Router(project).route(at, height_m, storey, "ER1", **more)


def test_a_cable_joins_the_tray_beside_it_and_follows_it_to_the_racks() -> None:
    project = project_with(building_of(NODES, {"T1": tray("N1", "N2")}))
    found = route(project, (20.0, 5.0), 3.0)
    assert [stretch.pathway for stretch in found.stretches] == ["", "", "T1", "", ""]
    # 0.5 m up and 5 m across, 18 m along, then 2.5 m down to the rack at 1 m and 2 m along
    assert [stretch.length_m for stretch in found.stretches] == pytest.approx([0.5, 5, 18, 2.5, 2])
    assert [stretch.vertical for stretch in found.stretches] == [True, False, False, True, False]
    assert found.stretches[2].to == "N1"


def test_a_given_length_counts_for_the_part_of_the_pathway_that_is_taken() -> None:
    project = project_with(building_of(NODES, {"T1": tray("N1", "N2", length=56.0)}))
    found = route(project, (16.0, 0.0), 3.5)
    assert found.stretches[2].length_m == pytest.approx(28.0)


def test_a_device_beside_the_rack_goes_straight_to_it_by_the_ceiling_way() -> None:
    project = project_with(building_of(NODES, {"T1": tray("N1", "N2")}))
    found = route(project, (1.0, 1.0), 1.0)
    assert found.pathways == ()
    # Up to 0.5 m below the floor above at 4 m, 1 m along x and 1 m along y, and down to the rack at 1 m.
    assert found.length_m == pytest.approx(2.5 + 2 + 2.5)
    assert found.text == "to the ceiling way, along x and y, down to ER1"


def test_a_conduit_is_entered_at_its_ends_only() -> None:
    project = project_with(building_of(NODES, {"C1": conduit("N1", "N2")}))
    found = route(project, (28.0, 0.0), 3.5)
    assert [stretch.length_m for stretch in found.stretches] == pytest.approx([0, 2, 28, 2.5, 2])


def test_a_floor_box_serves_tables_and_not_ceilings() -> None:
    building = building_of(NODES, {"T1": tray("N1", "N2"), "C1": conduit("N2", "N4")})
    building["nodes"]["N4"]["kind"] = "floor box"
    project = project_with(building)
    assert route(project, (40.0, 1.0), 0.5).pathways == ("C1", "T1")
    assert route(project, (40.0, 1.0), 0.5, from_ceiling=True).pathways == ("T1",)


def test_a_pathway_kept_for_lines_is_closed_to_the_network() -> None:
    building = building_of(
        NODES,
        {"T1": tray("N1", "N2", carries="loudspeaker lines"), "T2": tray("N1", "N3", carries="network")},
    )
    project = project_with(building)
    assert route(project, (29.0, 1.0), 3.5, carries="network").pathways == ("T2",)
    assert route(project, (29.0, 1.0), 3.5, carries="loudspeaker lines").pathways == ("T1",)


def test_storeys_change_in_a_riser_shaft() -> None:
    nodes = {
        **NODES,
        "U1": ("L1", 30.0, 0.0, 3.5),
        "U2": ("L1", 60.0, 0.0, 3.5),
    }
    pathways = {
        "T1": tray("N1", "N2"),
        "R1": {"kind": "riser shaft", "between": ("N2", "U1")},
        "T2": tray("U1", "U2"),
    }
    found = route(project_with(building_of(nodes, pathways)), (50.0, 2.0), 3.0, "L1")
    assert found.pathways == ("T2", "R1", "T1")
    assert found.length_m == pytest.approx(2.5 + 20 + 4 + 28 + 4.5)


def test_without_a_pathway_that_leads_there_the_run_is_right_angled() -> None:
    project = project_with(building_of(NODES, {"T1": tray("N1", "N2")}))
    found = route(project, (10.0, 10.0), 3.0, "L1")
    assert found.pathways == ()
    assert found.length_m > 0


def test_no_way_leads_to_racks_of_another_storey_that_no_riser_reaches() -> None:
    """The tray passes the racks of its own storey, and nothing leads up from it."""
    nodes = {"N1": ("L0", -10.0, 5.0, 3.0), "N2": ("L0", 10.0, 5.0, 3.0)}
    building = building_of(nodes, {"T1": tray("N1", "N2")})
    building["equipment_rooms"]["ER2"] = {
        **building["equipment_rooms"]["ER1"],
        "name": "Upper racks",
        "storey": "L1",
        "racks": {"RK2": {}},
    }
    network = Network(project_with(building), "network")
    assert network.route((5.0, 6.0, 1.0), "L0", "ER1") is not None
    assert network.route((5.0, 6.0, 1.0), "L0", "ER2") is None


def test_a_pathway_further_away_is_taken_where_the_nearer_one_goes_a_long_way_round() -> None:
    """Outside pathways every metre counts twice, and the racks are 50 m away.

    The nearer conduit begins after 1 m and is 62 m long, 64 in all; the further one begins after 12 m and is
    37 m long, 61 in all. The last metre to the racks is the same.
    """
    nodes = {
        "N1": ("L0", 51.0, 0.0, 1.0),
        "N2": ("L0", 1.0, 0.0, 1.0),
        "N3": ("L0", 38.0, 0.0, 1.0),
        "N4": ("L0", 1.0, 0.0, 1.0),
    }
    pathways = {"C1": conduit("N1", "N2", length=62.0), "C2": conduit("N3", "N4")}
    rules = {"pathways": {"outside_factor": 2.0}, "cabling": {"rack_height": 1.0, "routing_factor": 1.0}}
    found = Network(project_with(building_of(nodes, pathways), rules), "network").route(
        (50.0, 0.0, 1.0), "L0", "ER1"
    )
    assert found is not None
    assert found.pathways == ("C2",)


def test_a_way_fixed_by_hand_takes_the_pathways_named_though_another_is_cheaper() -> None:
    pathways = {"T1": tray("N1", "N2"), "T2": tray("N1", "N3"), "T3": tray("N3", "N2")}
    project = project_with(building_of(NODES, pathways))
    assert route(project, (29.0, 1.0), 3.5).pathways == ("T1",)
    found = route(project, (29.0, 1.0), 3.5, pinned=("T3", "T2"))
    assert found.pathways == ("T3", "T2")
    assert found.fault == ""
    # 1 m to the tray and 19 m along it; the diagonal of 28 by 20; 2 m along and 2.5 m down
    assert found.length_m == pytest.approx(1 + 19 + math.hypot(28, 20) + 4.5)


def test_a_way_fixed_by_hand_that_does_not_hang_together_says_so() -> None:
    project = project_with(building_of(NODES, {"T1": tray("N1", "N2"), "C1": conduit("N3", "N4")}))
    found = pinned_route(project, (40.0, 1.0, 0.5), "L0", in_racks_of(project, "ER1"), ("C1", "T1"))
    assert found.fault == "C1 and T1 do not meet"
    assert found.pathways == ("C1", "T1")


def test_a_way_fixed_by_hand_that_starts_on_another_storey_says_so() -> None:
    project = project_with(building_of(NODES, {"T1": tray("N1", "N2")}))
    found = pinned_route(project, (20.0, 1.0, 5.0), "L1", in_racks_of(project, "ER1"), ("T1",))
    assert found.fault == "T1 does not reach L1, where it begins"


def random_project(seed: int, rooms: int, storeys: int = 1) -> tuple[Project, list[tuple[float, float]]]:
    """Return a building of trays and conduits at random, and where devices stand in it."""
    draw = random.Random(seed)
    nodes: dict[str, tuple[str, float, float, float]] = {}
    pathways: dict[str, dict[str, Any]] = {}
    side = max(3, round(math.sqrt(rooms)))
    for column, row in itertools.product(range(side), repeat=2):
        x, y = column * 9.0 + draw.uniform(-3, 3), row * 9.0 + draw.uniform(-3, 3)
        nodes[f"N{column}.{row}"] = ("L0", x, y, draw.choice((3.0, 3.5, 0.0)))
    for column, row in itertools.product(range(side), repeat=2):
        for east, north in ((1, 0), (0, 1)):
            end = f"N{column + east}.{row + north}"
            if end in nodes and draw.random() < 0.7:
                start = f"N{column}.{row}"
                pathways[f"P{len(pathways)}"] = draw.choice((tray, tray, conduit))(start, end)
    rack = ("L0", draw.uniform(0, side * 9), draw.uniform(0, side * 9))
    devices = [(draw.uniform(0, side * 9), draw.uniform(0, side * 9)) for _ in range(rooms)]
    return project_with(building_of(nodes, pathways, rack)), devices


def independent_cost(project: Project, start: tuple[float, float, float]) -> float:
    """Return the cost of the cheapest route, by relaxing every connection until nothing gets cheaper.

    Every point at which a run may turn onto a pathway is a vertex of its own (Bellman-Ford).
    """
    building, rules = project.building, project.brief.rules
    room = building.equipment_rooms["ER1"]
    rack = (*room.at, building.storeys[room.storey].height + rules.cabling.rack_height)
    factor = rules.pathways.outside_factor
    degree: dict[str, int] = {}
    for pathway in building.pathways.values():
        for name in pathway.between:
            degree[name] = degree.get(name, 0) + 1
    vertices: dict[Any, tuple[float, float, float]] = {}
    edges: list[tuple[Any, Any, float]] = []
    for tag, pathway in building.pathways.items():
        ends = [node_position(project, name) for name in pathway.between]
        length_m = max(pathway.length or 0.0, math.dist(*ends))
        shares = [0.0, 1.0]
        if pathway.kind == "tray":
            for point in (start, rack):
                for axis in range(3):
                    low, high = ends[0][axis], ends[1][axis]
                    if low != high and 0 < (point[axis] - low) / (high - low) < 1:
                        shares.append((point[axis] - low) / (high - low))
        named = {0.0: pathway.between[0], 1.0: pathway.between[1]}
        chain = [(share, named.get(share, (tag, share))) for share in sorted(set(shares))]
        for share, name in chain:
            vertices[name] = tuple(a + (b - a) * share for a, b in zip(*ends, strict=True))  # type: ignore[assignment]
        for (low, first), (high, second) in itertools.pairwise(chain):
            edges.append((first, second, (high - low) * length_m))
    trays = {
        name for pathway in building.pathways.values() if pathway.kind == "tray" for name in pathway.between
    }
    joinable = [name for name in vertices if not isinstance(name, str) or name in trays or degree[name] == 1]

    def outside(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
        return factor * sum(abs(p - q) for p, q in zip(a, b, strict=True))

    cost = dict.fromkeys(vertices, math.inf) | {name: outside(vertices[name], rack) for name in joinable}
    for _ in range(len(vertices)):
        changed = False
        for first, second, length_m in edges:
            for a, b in ((first, second), (second, first)):
                if cost[a] + length_m < cost[b] - 1e-12:
                    cost[b] = cost[a] + length_m
                    changed = True
        if not changed:
            break
    return min(outside(start, vertices[name]) + cost[name] for name in joinable)


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(12))
def test_ways_are_as_cheap_as_an_independent_search_finds(seed: int) -> None:
    project, devices = random_project(seed, 30)
    factor = project.brief.rules.pathways.outside_factor
    for at in devices:
        found = route(project, at, 1.1)
        cheapest = independent_cost(project, (*at, 1.1))
        if found.pathways:
            cost = found.length_m + (factor - 1) * found.outside_m
            assert cost == pytest.approx(cheapest, abs=1e-4)
        else:
            # straight to the racks: no longer than what the cheapest route has outside pathways
            assert found.length_m * factor <= cheapest + 1e-4


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(4))
def test_a_way_is_made_of_pathways_that_meet(seed: int) -> None:
    project, devices = random_project(seed, 30)
    for at in devices:
        taken = route(project, at, 1.1).pathways
        for first, second in itertools.pairwise(taken):
            ends = project.building.pathways
            assert set(ends[first].between) & set(ends[second].between)


@pytest.mark.independent
def test_what_is_near_a_point_is_found_ring_by_ring_and_once() -> None:
    draw = random.Random(1)
    points = [(draw.uniform(-90, 90), draw.uniform(-90, 90), 0.0) for _ in range(200)]
    grid = JoinGrid([(n, point, point) for n, point in enumerate(points)])
    here = (3.0, -4.0, 0.0)
    seen: list[int] = []
    for nearest_m, items in grid.around(here):
        seen += items
        assert all(run_m(here, points[n], 1.0) >= nearest_m for n in items)
    assert sorted(seen) == list(range(200))


@pytest.mark.independent
def test_a_run_to_a_pathway_is_shortest_where_it_turns_or_at_an_end() -> None:
    draw = random.Random(2)
    for _ in range(50):
        start, end, at = (tuple(draw.uniform(0, 20) for _ in range(3)) for _ in range(3))
        shares = [0.0, *turning_shares(start, end, at), 1.0]  # type: ignore[arg-type]

        def run(share: float, start: Any = start, end: Any = end, at: Any = at) -> float:
            return sum(abs(a + (b - a) * share - p) for a, b, p in zip(start, end, at, strict=True))

        assert min(run(share) for share in shares) <= min(run(n / 500) for n in range(501)) + 1e-9


def test_four_thousand_ways_are_found_in_seconds() -> None:
    project, devices = random_project(5, 200)
    router = Router(project)
    began = time.process_time()
    for at in devices * 20:
        router.route(at, 1.1, "L0", "ER1")
    assert time.process_time() - began < 20


def test_equal_networks_give_equal_ways() -> None:
    first, devices = random_project(3, 40)
    second, _ = random_project(3, 40)
    assert [route(first, at, 1.1) for at in devices] == [route(second, at, 1.1) for at in devices]
    assert Network(first, "network").segments == Network(second, "network").segments
