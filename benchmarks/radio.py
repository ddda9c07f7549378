"""How long neighbours and the plan of carriers and slots take as buildings grow.

Run `python benchmarks/radio.py` with the number of runs, 5 unless given.

Three buildings, by what radio loses at slabs and walls: one that from 50 rooms on has no plan, one in which
the disturbance of all rooms together leaves little choice, and one whose rooms hardly hear each other. Each
with 25 to 200 rooms and ten microphones a room: the median of the runs, from links to a plan or the proof of
none, in seconds of the processor, which other work on the machine hardly changes; and the exponent of the
power law fitted to links and seconds. Less than 2 is less than quadratic. Only sizes with the outcome of the
largest are fitted: a proof and a plan are different work.
"""

import math
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from benchmarks.building import write
from proposal.design.design import design
from proposal.design.neighbours import Link, interference
from proposal.design.propagation import Surroundings
from proposal.design.radio_links import building_surroundings
from proposal.design.slot_graph import slot_graph
from proposal.design.slot_plan import Outcome, slot_plan
from proposal.model.devices import AccessPoint
from proposal.model.loading import load_project

SIZES = (25, 50, 100, 200)
CARRIERS = 10

# Building → loss of a slab and of a wall.
BUILDINGS = {
    "impossible": ("19 dB", "12 dB"),
    "plannable": ("40 dB", "30 dB"),
    "easy": ("60 dB", "60 dB"),
}


def main(runs: int) -> None:
    """Measure each building at each size and print the fitted exponents.

    runs: of which the median is taken.
    """
    for name, (slab, wall) in BUILDINGS.items():
        print(f"{name}: slabs {slab}, walls {wall}, median of {runs} runs", flush=True)
        measured = []
        for rooms in SIZES:
            links, around, transceivers = _inputs(rooms, slab, wall)
            count = sum(link.kind == "link" for link in links)
            first, second, pairs, outcome = _measured(links, around, transceivers, runs)
            measured.append((outcome, count, (first, second, first + second)))
            print(
                f"  {rooms:4d} rooms {count:5d} links {pairs:8d} pairs: neighbours {first:6.2f} s, "
                f"plan {second:6.2f} s, together {first + second:6.2f} s, {outcome}",
                flush=True,
            )
        alike = [(count, seconds) for outcome, count, seconds in measured if outcome == measured[-1][0]]
        fitted = [exponent([(count, seconds[part]) for count, seconds in alike]) for part in range(3)]
        print(
            f"  exponents of the {len(alike)} sizes {measured[-1][0]}: neighbours {fitted[0]:.2f}, "
            f"plan {fitted[1]:.2f}, together {fitted[2]:.2f}",
            flush=True,
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
    links: Sequence[Link], around: Surroundings, transceivers: dict[str, int], runs: int
) -> tuple[float, float, int, Outcome]:
    """Return the median seconds of neighbours and of the plan, the pairs found, and the outcome."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        disturbance = interference(links, around)
        middle = time.process_time()
        plan = slot_plan(slot_graph(disturbance, CARRIERS, transceivers)[0])
        times.append((middle - start, time.process_time() - middle))
    first, second = (statistics.median(column) for column in zip(*times, strict=True))
    return first, second, len(disturbance.disturbed), plan.outcome


def exponent(points: Sequence[tuple[int, float]]) -> float:
    """Return the slope of the line of least squares through the logarithms; not a number for one point."""
    if len(points) < 2:
        return math.nan
    xs, ys = [math.log(n) for n, _ in points], [math.log(seconds) for _, seconds in points]
    mean_x, mean_y = statistics.fmean(xs), statistics.fmean(ys)
    rise = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True))
    return rise / sum((x - mean_x) ** 2 for x in xs)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
