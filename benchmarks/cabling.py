"""How routes, take-off and reels grow with the building: 25 to 200 rooms, up to about 4,000 cables.

Run it with `python -m benchmarks.cabling`. It prints the median of five runs for each size, the exponent
fitted to time against cables beside that of n·log n over the same sizes, and the most memory the process
took. The design is made once for each size and not part of the figures.
"""

import math
import resource
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from benchmarks import building
from proposal.design.design import Design, design
from proposal.design.routing import Router
from proposal.estimate.reel_orders import reel_orders
from proposal.estimate.takeoff import takeoff_lines
from proposal.model.loading import load_project
from proposal.model.project import Project

SIZES = (25, 50, 100, 200)
RUNS = 5
LOUDSPEAKERS = 17


def folder_of(rooms: int, folder: Path) -> Path:
    """Write a building with trays along every corridor, shafts between storeys and loudspeakers in rooms."""
    for name, text in building.files(rooms).items():
        if name == "building.yaml":
            text += pathways(-(-rooms // building.ROOMS_A_STOREY))
        elif name.startswith("room_types/"):
            text += loudspeakers()
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def pathways(storeys: int) -> str:
    """Return nodes and pathways: a tray along each corridor and a riser shaft from storey to storey."""
    east = building.SOUTH * building.PITCH_M
    nodes, ways = ["nodes:"], ["pathways:"]
    for n in range(storeys):
        for name, x in (("W", 0.0), ("M", 78.0), ("E", east)):
            nodes.append(f"  N{n}{name}: {{storey: L{n}, at: [{x:.1f} m, 8.5 m]}}")
        ways.append(f"  T{n}W: {{kind: tray, between: [N{n}W, N{n}M], width: 300 mm, depth: 60 mm}}")
        ways.append(f"  T{n}E: {{kind: tray, between: [N{n}M, N{n}E], width: 300 mm, depth: 60 mm}}")
        if n:
            ways.append(f"  R{n}: {{kind: riser shaft, between: [N{n - 1}M, N{n}M]}}")
    return "\n".join((*nodes, *ways)) + "\n"


def loudspeakers() -> str:
    """Return the loudspeakers of a room in two rows."""
    lines = ["loudspeakers:"]
    for n in range(LOUDSPEAKERS):
        x, y = 0.8 + (n % 9) * 1.3, 2.0 if n < LOUDSPEAKERS / 2 else 5.0
        lines.append(f"  LS{n + 1}: {{at: [{x:.1f} m, {y:.1f} m]}}")
    return "\n".join(lines) + "\n"


def seconds(work: Callable[[], object]) -> float:
    """Return the median time of several runs [s]."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def exponent(sizes: list[int], times: list[float]) -> float:
    """Return the slope of the straight line fitted to the logarithms."""
    xs, ys = [math.log(size) for size in sizes], [math.log(value) for value in times]
    middle_x, middle_y = statistics.fmean(xs), statistics.fmean(ys)
    above = sum((x - middle_x) * (y - middle_y) for x, y in zip(xs, ys, strict=True))
    return above / sum((x - middle_x) ** 2 for x in xs)


def take_off(project: Project, found: Design) -> None:
    """Take off a design, reels included."""
    takeoff_lines(project, found, reel_orders(project, found))


def routes(project: Project, found: Design) -> None:
    """Find the way of every cable that goes to a rack anew, the network of pathways included."""
    router = Router(project)
    served = {room.tag: room.equipment_room for room in found.rooms}
    by_tag = {device.tag: device for device in found.devices}
    for cable in found.cables:
        device = by_tag[cable.start]
        if not cable.end.startswith(f"{cable.room}-"):
            router.way(device.at, device.height_m, device.storey, served[cable.room])


def main() -> None:
    """Measure every size and print what was found."""
    cables: list[int] = []
    by_step: dict[str, list[float]] = {"routes": [], "take-off and reels": []}
    for rooms in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            project = load_project(folder_of(rooms, Path(folder)))
        found = design(project)
        cables.append(len(found.cables))
        by_step["routes"].append(seconds(lambda project=project, found=found: routes(project, found)))
        by_step["take-off and reels"].append(
            seconds(lambda project=project, found=found: take_off(project, found))
        )
        shown = ", ".join(f"{name} {times[-1]:.2f} s" for name, times in by_step.items())
        print(f"{rooms:4d} rooms, {cables[-1]:5d} cables: {shown}")
    for name, times in by_step.items():
        even = exponent(cables, [count * math.log(count) for count in cables])
        print(f"{name}: exponent {exponent(cables, times):.2f}; n log n has {even:.2f}")
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main()
