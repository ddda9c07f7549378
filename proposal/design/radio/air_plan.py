"""A plan of carriers and slots asked for a given set of links: all of them, some, or some changed."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np

from proposal.design.radio.radio_neighbours import Integers, Interference, Link
from proposal.design.radio.slot_board import Board, Cell
from proposal.design.radio.slot_graph import SlotGraph, slot_graph
from proposal.design.radio.slot_plan import Plan, board_of, fitting_plan
from proposal.design.radio.slot_plans_once import slot_plan_once
from proposal.field_classes import dataclass


@dataclass(frozen=True)
class AirPlan:
    """What came of planning a set of links.

    disturbance: the links, and how they disturb each other.
    transceivers: of each access point by tag.
    graph: what the links ask of carriers and slots; owner: the link of each demand.
    plan: what came of it.
    """

    disturbance: Interference
    transceivers: Mapping[str, int]
    graph: SlotGraph
    owner: tuple[int, ...]
    plan: Plan

    @property
    def links(self) -> tuple[Link, ...]:
        """Return the links, in order."""
        return self.disturbance.links

    @cached_property
    def fitting(self) -> Plan:
        """The plan, or where there is none one for as many links as fit."""
        return fitting_plan(self.graph) if self.plan.outcome == "impossible" else self.plan

    @cached_property
    def board(self) -> Board:
        """Carriers and slots with as many links on them as fit."""
        return board_of(self.graph, self.fitting)

    @property
    def missing(self) -> tuple[Link, ...]:
        """Return the links that find no place beside the others, in order."""
        cells = self.fitting.cells
        numbers = sorted({self.owner[demand] for demand, cell in enumerate(cells) if cell is None})
        return tuple(self.links[number] for number in numbers)

    @property
    def cells(self) -> dict[str, tuple[Cell, ...]]:
        """Return where the plan puts each link that it puts anywhere, by the link's identity."""
        return self._cells_of(self.plan)

    @property
    def fitting_cells(self) -> dict[str, tuple[Cell, ...]]:
        """Return the same of the plan for as many links as fit."""
        return self._cells_of(self.fitting)

    def _cells_of(self, plan: Plan) -> dict[str, tuple[Cell, ...]]:
        found: dict[str, list[Cell | None]] = {}
        for number, cell in zip(self.owner, plan.cells, strict=True):
            found.setdefault(self.links[number].identity, []).append(cell)
        return {
            identity: tuple(cell for cell in each if cell) for identity, each in found.items() if all(each)
        }

    def under(self, disturbance: Interference) -> "AirPlan":
        """Return the plan of these or other links, as little changed as may be."""
        return air_plan(disturbance, self.graph.carriers, self.transceivers, self.cells)

    def tried(self, disturbance: Interference) -> "AirPlan":
        """Return what comes of these or other links in few steps: planned, impossible or not settled."""
        graph, owner = slot_graph(disturbance, self.graph.carriers, self.transceivers)
        known = _known(disturbance.links, owner, self.fitting_cells)
        return AirPlan(disturbance, self.transceivers, graph, owner, slot_plan_once(graph, known, quick=True))


def air_plan(
    disturbance: Interference,
    carriers: int,
    transceivers: Mapping[str, int],
    known: Mapping[str, Sequence[Cell]],
) -> AirPlan:
    """Return a plan for a set of links.

    disturbance: the links, and how they disturb each other.
    carriers: that all of them can use.
    transceivers: of each access point by tag.
    known: where an earlier plan put links, by their identities.
    """
    graph, owner = slot_graph(disturbance, carriers, transceivers)
    plan = slot_plan_once(graph, _known(disturbance.links, owner, known))
    return AirPlan(disturbance, transceivers, graph, owner, plan)


def _known(
    links: Sequence[Link], owner: Sequence[int], known: Mapping[str, Sequence[Cell]]
) -> list[Cell | None]:
    """Return where a plan puts each demand; a link that takes other slot pairs there is planned anew."""
    count = Counter(owner)
    before = {
        number: list(each)
        for number, link in enumerate(links)
        if len(each := known.get(link.identity, ())) == count[number]
    }
    return [before[number].pop(0) if number in before else None for number in owner]


def only(disturbance: Interference, kept: Sequence[int]) -> Interference:
    """Return some of the links alone, and how they disturb each other.

    disturbance: of all of them; kept: numbers of those that are kept, in order.
    """
    number: Integers = np.full(len(disturbance.links), -1, dtype=np.int64)
    number[list(kept)] = np.arange(len(kept))
    both = (number[disturbance.disturbed] >= 0) & (number[disturbance.disturber] >= 0)
    return replace(
        disturbance,
        links=tuple(disturbance.links[n] for n in kept),
        disturbed=number[disturbance.disturbed[both]],
        disturber=number[disturbance.disturber[both]],
        over_db=disturbance.over_db[both],
    )
