"""How long neighbours and the plan of carriers and slots take as buildings grow.

Run `python benchmarks/radio.py`.

Four buildings of 25 to 200 rooms with ten microphones a room; the median of five runs of each; the exponent
of the power law fitted to them. Less than 2 is less than quadratic.
"""

import math
import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from benchmarks.building import write
from proposal.design.design import design
from proposal.design.neighbours import interference
from proposal.design.radio_links import radio_links
from proposal.design.slot_graph import slot_graph
from proposal.design.slot_plan import slot_plan
from proposal.model.loading import load_project

SIZES = (25, 50, 100, 200)
RUNS = int(sys.argv[1]) if len(sys.argv) > 1 else 5


def main() -> None:
    """Measure each size and print the fitted exponent."""
    medians = []
    for rooms in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            project = load_project(write(Path(folder), rooms, slab=SLAB, wall=WALL))
        made = design(project)
        times: list[tuple[float, float]] = []
        outcome, count, pairs = "", 0, 0
        for _ in range(RUNS):
            start = time.perf_counter()
            links = radio_links(project, made.devices, made.entries, made.channels.linked)
            disturbance = interference(links.links, links.around)
            middle = time.perf_counter()
            outcome = slot_plan(slot_graph(disturbance, 10, links.transceivers)[0]).outcome
            times.append((middle - start, time.perf_counter() - middle))
            count = sum(link.kind == "link" for link in links.links)
            pairs = len(disturbance.disturbed)
        median = statistics.median(first + second for first, second in times)
        medians.append((count, median))
        neighbours = statistics.median(first for first, _ in times)
        print(
            f"{rooms:4d} rooms {count:5d} links {pairs:8d} pairs: neighbours {neighbours:6.2f} s, "
            f"with plan {median:6.2f} s, {outcome}",
            flush=True,
        )
    print(f"fitted exponent {exponent(medians):.2f}")


def exponent(points: list[tuple[int, float]]) -> float:
    """Return the slope of the line of least squares through the logarithms."""
    xs, ys = [math.log(n) for n, _ in points], [math.log(seconds) for _, seconds in points]
    mean_x, mean_y = statistics.fmean(xs), statistics.fmean(ys)
    rise = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True))
    return rise / sum((x - mean_x) ** 2 for x in xs)


SLAB, WALL = "19 dB", "12 dB"

if __name__ == "__main__":
    main()
