"""How long neighbours and the plan of carriers and slots take as buildings grow.

Three buildings, by what radio loses at slabs and walls: one that from 50 rooms on has no plan, one in which
the disturbance of all rooms together leaves little choice, and one whose rooms hardly hear each other, with
ten microphones a room: from links to a plan or the proof of none. The exponent is that of the power law
fitted to links and seconds; less than 2 is less than quadratic. Only sizes with the outcome of the largest
are fitted: a proof and a plan are different work.
"""

import statistics
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from benchmarks.building import SLAB, WALL, write
from benchmarks.figures import Row, power, seconds
from benchmarks.measuring import exponent
from benchmarks.plan import Plan
from proposal.design.radio.propagation import Surroundings
from proposal.design.radio.radio_links import building_surroundings
from proposal.design.radio.radio_neighbours import Link, interference
from proposal.design.radio.slot_graph import slot_graph
from proposal.design.radio.slot_plan import Outcome, slot_plan
from proposal.design.whole_design import design
from proposal.model.equipment.devices import AccessPoint
from proposal.model.loading import load_project

CARRIERS = 10

# Building → loss of a slab and of a wall.
BUILDINGS = {
    "impossible": ("19 dB", "12 dB"),
    "plannable": (SLAB, WALL),
    "easy": ("60 dB", "60 dB"),
}


def rows(plan: Plan) -> Iterator[Row]:
    """Measure each building at each size and yield the rows."""
    for name, (slab, wall) in BUILDINGS.items():
        measured: list[tuple[Outcome, int, tuple[float, float]]] = []
        for rooms in plan.steps:
            links, around, transceivers = _inputs(rooms, slab, wall)
            count = sum(link.kind == "link" for link in links)
            neighbours_s, plan_s, outcome = _measured(links, around, transceivers, plan.rounds)
            measured.append((outcome, count, (neighbours_s, plan_s)))
            yield Row(
                f"radio, {name}, {rooms} rooms: neighbours, plan, processor, s",
                f"{seconds(neighbours_s)}, {seconds(plan_s)} ({count} links, {outcome})",
            )
        alike = [(count, times) for outcome, count, times in measured if outcome == measured[-1][0]]
        fitted = [exponent([(count, times[part]) for count, times in alike]) for part in range(2)]
        yield Row(
            f"radio, {name}: exponents of neighbours, plan",
            f"{power(fitted[0])}, {power(fitted[1])} ({len(alike)} sizes {measured[-1][0]})",
        )


def _inputs(rooms: int, slab: str, wall: str) -> tuple[list[Link], Surroundings, dict[str, int]]:
    """Return the links of a building, what they pass through, and the transceivers of each access point."""
    with tempfile.TemporaryDirectory() as folder:
        project = load_project(write(Path(folder), rooms, slab=slab, wall=wall))
    made = design(project)
    transceivers = {
        tag: entry.radio.transceivers for tag, entry in made.entries.items() if isinstance(entry, AccessPoint)
    }
    links = [planned.link for planned in made.radio.planned]
    return links, building_surroundings(project), transceivers


def _measured(
    links: Sequence[Link], around: Surroundings, transceivers: dict[str, int], rounds: int
) -> tuple[float, float, Outcome]:
    """Return the median seconds of neighbours and of the plan, and the outcome."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        disturbance = interference(links, around)
        middle = time.process_time()
        found = slot_plan(slot_graph(disturbance, CARRIERS, transceivers)[0])
        times.append((middle - start, time.process_time() - middle))
    neighbours_s, plan_s = (statistics.median(column) for column in zip(*times, strict=True))
    return neighbours_s, plan_s, found.outcome
