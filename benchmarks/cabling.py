"""How routes, take-off and reels grow with the building, with loudspeakers in all rooms.

The design is made once for each size and not part of the figures. The exponent is fitted to seconds against
cables and stands beside that of n·log n over the same sizes.
"""

import math
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from benchmarks import building
from benchmarks.figures import Row, power, seconds
from benchmarks.measuring import exponent
from benchmarks.plan import Plan
from proposal.design.design import Design
from proposal.design.pathways.routing import Router
from proposal.design.whole_design import design
from proposal.estimate.takeoff.reel_orders import reel_orders
from proposal.estimate.takeoff_and_reels import takeoff_lines
from proposal.model.loading import load_project
from proposal.model.project import Project

LOUDSPEAKERS = 17


def rows(plan: Plan) -> Iterator[Row]:
    """Measure every size and yield the rows."""
    cables: list[int] = []
    by_step: dict[str, list[float]] = {"routes": [], "take-off and reels": []}
    for rooms in plan.steps:
        with tempfile.TemporaryDirectory() as folder:
            project = load_project(with_loudspeakers(building.write(Path(folder), rooms)))
        found = design(project)
        cables.append(len(found.cables))
        works: dict[str, Callable[[Project, Design], None]] = {
            "routes": routes,
            "take-off and reels": take_off,
        }
        for step, work in works.items():
            by_step[step].append(_median_s(partial(work, project, found), plan.rounds))
            yield Row(
                f"cabling, {rooms} rooms: {step}, processor, s",
                f"{seconds(by_step[step][-1])} ({cables[-1]} cables)",
            )
    even = exponent([(count, count * math.log(count)) for count in cables])
    for step, times in by_step.items():
        found_exponent = exponent(list(zip(cables, times, strict=True)))
        yield Row(f"cabling: exponent of {step}", f"{power(found_exponent)} (n log n has {power(even)})")


def with_loudspeakers(folder: Path) -> Path:
    """Add loudspeakers in two rows to every room type of a building."""
    lines = ["loudspeakers:"]
    for n in range(LOUDSPEAKERS):
        x, y = 0.8 + (n % 9) * 1.3, 2.0 if n < LOUDSPEAKERS / 2 else 5.0
        lines.append(f"  LS{n + 1}: {{at: [{x:.1f} m, {y:.1f} m]}}")
    for path in sorted((folder / "room_types").glob("*.yaml")):
        path.write_text(path.read_text("utf-8") + "\n".join(lines) + "\n", "utf-8")
    return folder


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
            router.route(device.at, device.height_m, device.storey, served[cable.room])


def _median_s(work: Callable[[], None], rounds: int) -> float:
    """Return the median processor time of several runs [s]."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times)
