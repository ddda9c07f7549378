"""The network of pathways: where cables may join it, and the cheapest route through it to each rack.

The cost of a route is its length, a metre outside pathways counting several times (`outside_factor`).
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import chain, pairwise

import networkx

from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import CableRoute, Stretch, right_angled, to_the_wall
from proposal.design.pathways.entry_points import (
    JoinGrid,
    Point3,
    point_between,
    run_m,
    turning_shares,
)
from proposal.design.pathways.floor_ways import Rise
from proposal.design.pathways.right_angled_runs import pathway_height_m, right_angled_route
from proposal.field_classes import dataclass
from proposal.model.pathways.pathways import OPEN_KINDS, ROUND_KINDS, Carries
from proposal.model.project import Project
from proposal.quantities.level_ways import level_way_m

NodeId = tuple[str, str, int]
MICROMETRES = 1_000_000
"""Costs are whole micrometres, so that sums are exact and equal routes are found equal."""

_RACK: NodeId = ("rack", "", 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A pathway, or a part of it between points where runs from racks meet it.

    start, end: nodes; start_at, end_at: where they are in the building, m.
    storey: tag of its storey, empty where it leads from one to another.
    length_m: at least the straight line.
    opened: whether cables may join it anywhere along it.
    low, high: corners of the box around it, m.
    """

    pathway: str
    storey: str
    start: NodeId
    end: NodeId
    start_at: Point3
    end_at: Point3
    length_m: float
    opened: bool
    low: Point3
    high: Point3

    @property
    def cost(self) -> int:
        """Return the cost of following it."""
        # Never nothing, so that no route can lead in a circle for nothing.
        return max(_cost(self.length_m), 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Goal:
    """The cheapest routes to the racks of one equipment room: cost by node, and the node that comes next."""

    at: Point3
    storey: str
    costs: Mapping[NodeId, int]
    onward: Mapping[NodeId, NodeId]


@dataclass(frozen=True, slots=True)
class _Join:
    """Where a cable may join: a point, what it costs to go on from there, and the node it goes on to."""

    at: Point3
    cost: int
    node: NodeId
    segment: Segment | None
    share: float


class Network:
    """The pathways of a building as a graph, for cables that carry one signal."""

    def __init__(self, project: Project, carries: Carries) -> None:
        """Build the network.

        carries: what the cables carry; pathways kept for something else are left out.
        """
        rules, building = project.brief.rules, project.building
        self._project = project
        self._factor = rules.pathways.outside_factor
        self._around = rules.cabling.routing_factor
        self._at: dict[NodeId, Point3] = {
            ("node", tag, 0): node_position(project, tag) for tag in building.nodes
        }
        self._racks: dict[str, Point3] = {
            tag: (*room.at, building.storeys[room.storey].height + rules.cabling.rack_height)
            for tag, room in building.equipment_rooms.items()
        }
        self.segments = tuple(self._segments(carries))
        self._graph = networkx.Graph()
        for segment in self.segments:
            known = self._graph.get_edge_data(segment.start, segment.end)
            if known is None or segment.cost < known["weight"]:
                self._graph.add_edge(segment.start, segment.end, weight=segment.cost, segment=segment)
        self._grids = {storey: JoinGrid(self._joinable(storey)) for storey in building.storeys}
        self._goals: dict[str, _Goal] = {}

    def route(
        self,
        start: Point3,
        storey: str,
        equipment_room: str,
        *,
        from_ceiling: bool = False,
        rise: Rise | None = None,
    ) -> CableRoute | None:
        """Return the cheapest route to the racks of an equipment room, None where no pathway leads there.

        equipment_room: its tag.
        start: where the device is in the building, height above datum included, m.
        storey: tag of its storey; it joins pathways of that storey.
        from_ceiling: whether it hangs from the ceiling, so that it takes no floor box.
        rise: the wall at which it goes up to a pathway above it, where the device stands low.
        On one storey a cable goes straight to the racks, by the ceiling way, where that is no longer than its
        runs outside pathways would be.
        """
        goal = self._goal(equipment_room)
        floor_m = self._project.building.storeys[storey].height
        height_m = start[2] - floor_m
        up, before = start, tuple[Stretch, ...]()
        if rise is not None:
            up = (*rise.at, floor_m if rise.on_floor else start[2])
            before = to_the_wall(height_m, rise.along_m * self._around, on_floor=rise.on_floor)
        before_m = sum(one.length_m for one in before)
        best: tuple[int, int, _Join] | None = None
        for nearest_m, items in self._grids[storey].around(start):
            if best is not None and self._least_cost(start, goal, nearest_m) > best[0]:
                break
            for item in items:
                if best is not None and self._least_cost_by(item, start, goal) > best[0]:
                    continue
                joins = self._joins(item, start, goal, from_ceiling)
                if up != start:
                    joins = chain(joins, self._joins(item, up, goal, from_ceiling))
                for join in joins:
                    above = join.at[2] > start[2]
                    run = (
                        run_m(up, join.at, self._around) + before_m
                        if above
                        else run_m(start, join.at, self._around)
                    )
                    outside = _cost(run)
                    total = round(outside * self._factor) + join.cost
                    if best is None or (total, outside) < best[:2]:
                        best = (total, outside, join)
        if best is None:
            return None
        above = best[2].at[2] > start[2]
        route = self._walked(up if above else start, best[2], goal, equipment_room)
        if above and rise is not None:
            route = replace(route, stretches=(*before, *route.stretches), rises_at=rise.at)
        if storey != goal.storey:
            return route
        straight = right_angled_route(self._project, start[:2], height_m, storey, equipment_room, rise)
        return straight if straight.length_m <= route.outside_m + 1e-9 else route

    def _segments(self, carries: Carries) -> Iterator[Segment]:
        building = self._project.building
        for tag in sorted(building.pathways, key=natural):
            pathway = building.pathways[tag]
            if pathway.carries not in ("anything", carries):
                continue
            ends: list[NodeId] = [("node", name, 0) for name in pathway.between]
            first, last = (self._at[end] for end in ends)
            storeys = {building.nodes[name].storey for name in pathway.between}
            storey = storeys.pop() if len(storeys) == 1 else ""
            opened = pathway.kind in OPEN_KINDS
            shares = {
                share
                for room, at in self._racks.items()
                if opened and building.equipment_rooms[room].storey == storey
                for share in turning_shares(first, last, at)
            }
            stops: list[tuple[float, NodeId]] = [(0.0, ends[0])]
            for n, share in enumerate(sorted(shares), 1):
                stops.append((share, ("split", tag, n)))
                self._at["split", tag, n] = point_between(first, last, share)
            stops.append((1.0, ends[1]))
            length_m = pathway_length_m(self._project, tag)
            for (from_share, start), (to_share, end) in pairwise(stops):
                yield Segment(
                    pathway=tag,
                    storey=storey,
                    start=start,
                    end=end,
                    start_at=self._at[start],
                    end_at=self._at[end],
                    length_m=(to_share - from_share) * length_m,
                    opened=opened,
                    low=_each(min, self._at[start], self._at[end]),
                    high=_each(max, self._at[start], self._at[end]),
                )

    def _joinable(self, storey: str) -> list[tuple[Segment | NodeId, Point3, Point3]]:
        """Return what cables may join on a storey: open pathways anywhere, others at ends and boxes."""
        opened = [one for one in self.segments if one.opened and one.storey == storey]
        items: list[tuple[Segment | NodeId, Point3, Point3]] = [
            (one, one.start_at, one.end_at) for one in opened
        ]
        for node in sorted(self._graph):
            if node[0] == "node" and self._project.building.nodes[node[1]].storey == storey:
                at_it = [edge["segment"] for edge in self._graph[node].values()]
                kinds = {self._project.building.pathways[one.pathway].kind for one in at_it}
                box = self._project.building.nodes[node[1]].kind != "junction"
                if box or len(at_it) == 1 or not kinds <= set(ROUND_KINDS):
                    items.append((node, self._at[node], self._at[node]))
        return items

    def _joins(
        self, item: Segment | NodeId, start: Point3, goal: _Goal, from_ceiling: bool
    ) -> Iterator[_Join]:
        """Yield the points at which a cable may join a pathway, those where the cheapest route may begin."""
        if not isinstance(item, Segment):
            floor_box = item[0] == "node" and self._project.building.nodes[item[1]].kind == "floor box"
            if item in goal.costs and not (floor_box and from_ceiling):
                yield _Join(self._at[item], goal.costs[item], item, None, 0.0)
            return
        for share in turning_shares(item.start_at, item.end_at, start):
            at = point_between(item.start_at, item.end_at, share)
            for node, part in ((item.start, share), (item.end, 1 - share)):
                if node in goal.costs:
                    cost = goal.costs[node] + _cost(item.length_m * part)
                    yield _Join(at, cost, node, item, part)
        for node, at in ((item.start, item.start_at), (item.end, item.end_at)):
            if node in goal.costs and node[0] == "split":
                yield _Join(at, goal.costs[node], node, None, 0.0)

    def _least_cost(self, start: Point3, goal: _Goal, nearest_m: float) -> int:
        """Return what a route costs at least whose first run is that long: never under the straight line."""
        straight_m = math.dist(start, goal.at)
        return _cost(max(self._factor * nearest_m, (self._factor - 1) * nearest_m + straight_m) - 1e-3)

    def _least_cost_by(self, item: Segment | NodeId, start: Point3, goal: _Goal) -> float:
        """Return what a route costs at least that joins at a thing: the run to the box around it, and on."""
        if not isinstance(item, Segment):
            return 0.0
        away_m = 0.0
        for at, low, high in zip(start, item.low, item.high, strict=True):
            away_m += low - at if at < low else at - high if at > high else 0.0
        onward = min(goal.costs.get(item.start, math.inf), goal.costs.get(item.end, math.inf))
        return (away_m - 1e-3) * self._factor * MICROMETRES + onward

    def _goal(self, equipment_room: str) -> _Goal:
        """Return the cheapest routes to the racks of an equipment room, computed once."""
        if equipment_room not in self._goals:
            at = self._racks[equipment_room]
            storey = self._project.building.equipment_rooms[equipment_room].storey
            leaving = networkx.DiGraph(self._graph)
            leaving.add_node(_RACK)
            for item, first, last in self._joinable(storey):
                if isinstance(item, Segment):
                    nodes = [(item.start, first), (item.end, last)]
                else:
                    nodes = [(item, first)]
                for node, where in nodes:
                    cost = round(_cost(run_m(where, at, self._around)) * self._factor)
                    leaving.add_edge(_RACK, node, weight=cost)
            before, costs = networkx.dijkstra_predecessor_and_distance(leaving, _RACK)
            onward = {node: min(found) for node, found in before.items() if found}
            del costs[_RACK]
            self._goals[equipment_room] = _Goal(at=at, storey=storey, costs=costs, onward=onward)
        return self._goals[equipment_room]

    def _walked(self, start: Point3, join: _Join, goal: _Goal, equipment_room: str) -> CableRoute:
        """Return the route that begins at a point of the network."""
        node = join.node
        segments = [(join.segment, join.segment.length_m * join.share, node)] if join.segment else []
        while goal.onward[node] != _RACK:
            after = goal.onward[node]
            segment = self._graph.edges[node, after]["segment"]
            segments.append((segment, segment.length_m, after))
            node = after
        entered = segments[0][0].pathway if segments else node[1]
        stretches = [*right_angled(entered, start, join.at, self._around, height_m=join.at[2])]
        for segment, length_m, reached in segments:
            to = reached[1] if reached[0] == "node" else ""
            if stretches[-1].pathway == segment.pathway:
                length_m += stretches.pop().length_m
            stretches.append(pathway_stretch(self._project, segment.pathway, length_m, to))
        left = self._at[node]
        stretches += right_angled(equipment_room, left, goal.at, self._around, height_m=left[2])
        return CableRoute(tuple(stretches), turns=(join.at[:2], left[:2]))


def pathway_stretch(project: Project, tag: str, length_m: float, to: str) -> Stretch:
    """Return a stretch along a pathway that reaches a node; `to` is empty where it ends between nodes.

    tag: of the pathway.
    length_m: length of the stretch, m.
    """
    pathway = project.building.pathways[tag]
    return Stretch(tag, length_m, tag, pathway.space, to, vertical=pathway.kind == "riser shaft")


def node_height_m(project: Project, tag: str) -> float:
    """Return the height of a node above its storey's floor, m: as written, else of horizontal cable runs.

    tag: of the node.
    """
    node = project.building.nodes[tag]
    return pathway_height_m(project, node.storey) if node.height is None else node.height


def node_position(project: Project, tag: str) -> Point3:
    """Return where a node is in the building, its height above datum included, m.

    tag: of the node.
    """
    node = project.building.nodes[tag]
    return (*node.at, project.building.storeys[node.storey].height + node_height_m(project, tag))


def pathway_length_m(project: Project, tag: str) -> float:
    """Return the length of a pathway, m: as written, never under its way.

    tag: of the pathway.  Its way is the straight line between its nodes, unless it says where it drops.
    """
    pathway = project.building.pathways[tag]
    first, last = (node_position(project, name) for name in pathway.between)
    way_m = math.dist(first, last)
    if pathway.drops_at is not None:
        way_m = level_way_m(first[:2], pathway.drops_at, last[:2]) + abs(first[2] - last[2])
    return max(pathway.length or 0.0, way_m)


def _each(choose: Callable[[float, float], float], one: Point3, other: Point3) -> Point3:
    x, y, z = (choose(a, b) for a, b in zip(one, other, strict=True))
    return x, y, z


def _cost(length_m: float) -> int:
    return round(length_m * MICROMETRES)
