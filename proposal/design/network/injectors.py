"""PoE sources for one port, between a switch and what it does not feed: which devices they feed, and which.

Where switches of an equipment room lack the power, the class or the powered ports, a source for each device
over is one way, a larger switch another; `closet` takes what costs least in all. In a room the sources stand
beside the breakout or the switch that joins its devices.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from heapq import heappop, heappush

from proposal.design.equipment.mountings import stands_at
from proposal.design.equipment.placed_devices import Placed, by_hand
from proposal.design.equipment.poe_sources import KIND, injector_cost, injector_for
from proposal.design.network.port_demand import Attached
from proposal.design.network.switch_needs import MILLI, SwitchNeeds
from proposal.design.numbers.numbering import INJECTOR, assign, device_code, device_tag, issued_of, natural
from proposal.design.rooms.device_positions import in_first_rack
from proposal.design.solving.objective import Option
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import NetworkPart
from proposal.model.project import Numbered, Project
from proposal.standards import ieee8023
from proposal.standards.reserve import budget_needed_w

TABLES = ("table", "under table", "wall")
"""Where breakouts stand."""
MOST_TRIES = 200
"""Ways to give sources to devices at switches that are not ours to choose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Injector:
    """A PoE source for one port.

    device: where it stands; entry: its entry of the library; feeds: tag of the device at its port.
    """

    device: Placed
    entry: NetworkPart
    feeds: str


def injector_options(
    project: Project, wanting: Sequence[Attached], asked: SwitchNeeds, headroom: float
) -> tuple[Mapping[str, int], tuple[Option, ...]]:
    """Return what sources take off the needs of switches: the class that each code is for, and the options.

    asked: what all devices ask of switches.
    headroom: share of a switch's power that stays free, 0 to 1.
    """
    counts: dict[int, int] = {}
    for device in wanting:
        if device.poe_class is not None:
            counts[device.poe_class] = counts.get(device.poe_class, 0) + 1
    class_of, options = {}, []
    for poe_class, count in sorted(counts.items()):
        entry = injector_for(project, poe_class)
        if entry is None:
            continue
        code = f"{entry.model} for class {poe_class}"
        class_of[code] = poe_class
        watts = ieee8023.CLASSES[poe_class].source_power_w
        gives = (
            0,
            int(MILLI * budget_needed_w(watts, headroom) + 1e-6),
            *(int(poe_class >= least) for least in asked.classes),
            *(int(watts >= least - 1e-9) for least in asked.watts),
        )
        options.append(Option(code, injector_cost(project, entry), gives, most=count))
    return class_of, tuple(options)


def fed_by_injectors(
    project: Project,
    place: str,
    wanting: Sequence[Attached],
    counts: Mapping[int, int],
    stand: Callable[[str, str], Placed],
) -> tuple[list[Attached], tuple[Injector, ...]]:
    """Return devices, some of them fed by PoE sources, and these.

    place: tag of the room or equipment room.  counts: how many devices of each class they feed.
    stand: puts a source there, by its code and model.
    Devices that an issued revision fed so come first, then the last in order of tags.
    """
    issued = issued_of(project.issued, INJECTOR)
    fed: list[str] = []
    for poe_class, count in counts.items():
        tags = [one.tag for one in wanting if one.poe_class == poe_class]
        tags.sort(key=natural, reverse=True)
        tags.sort(key=lambda tag: not _had_one(issued.get(identity_of(tag))))
        fed += tags[:count]
    fed.sort(key=natural)
    stem = device_tag(place, device_code(KIND, 0)[:-1])
    before = (one.number.removeprefix(stem) for one in issued.values() if one.number.startswith(stem))
    highest = max((int(number) for number in before if number.isdecimal() and len(number) < 6), default=0)
    tags = [f"{stem}{n}" for n in range(1, highest + len(fed) + 1)]
    tags_of = assign([identity_of(tag) for tag in fed], {}, issued, tags)
    class_of = {one.tag: one.poe_class for one in wanting if one.poe_class is not None}
    found = []
    for tag in fed:
        injector = _placed(project, stand, tags_of[identity_of(tag)], tag, class_of[tag])
        if injector:
            found.append(injector)
    source_of = {one.feeds: one.device.tag for one in found}
    given = [replace(one, injector=source_of.get(one.tag, "")) for one in wanting]
    return given, tuple(sorted(found, key=lambda one: natural(one.device.tag)))


def identity_of(device: str) -> str:
    """Return the identity in the register of the source that feeds a device.

    device: its tag.
    """
    return f"{INJECTOR}/{device}"


def _had_one(before: Numbered | None) -> bool:
    return before is not None and not before.retired


def in_rack(project: Project, equipment_room: str) -> Callable[[str, str], Placed]:
    """Return what puts a PoE source into the first rack of an equipment room, by its code and model.

    equipment_room: its tag.
    """
    return lambda code, model: in_first_rack(project, equipment_room, KIND, code, model)


def beside(project: Project, host: Placed) -> Callable[[str, str], Placed]:
    """Return what puts a PoE source beside the switch of a room, by its code and model.

    host: the breakout or the switch.
    """

    def stand(code: str, model: str) -> Placed:
        table = stands_at(project.library.entry(model))
        return replace(
            host,
            tag=device_tag(host.room, code),
            code=code,
            kind=KIND,
            model=model,
            location=table if host.location in TABLES else host.location,
            serves=(),
            own_at=None,
        )

    return stand


def _placed(
    project: Project, stand: Callable[[str, str], Placed], tag: str, feeds: str, poe_class: int
) -> Injector | None:
    """Return a source where it stands, its model by hand where fixed.yaml names one."""
    fixed = project.fixed.devices.get(tag)
    entry = project.library.network_parts.get(fixed.model) if fixed and fixed.model else None
    entry = entry if entry and entry.role == "PoE source" else injector_for(project, poe_class)
    if entry is None:
        return None
    placed = stand(tag.rpartition("-")[2], entry.model)
    return Injector(device=by_hand(placed, fixed), entry=entry, feeds=feeds)


def least_counts(
    project: Project,
    wanting: Sequence[Attached],
    left_with: Callable[[Mapping[int, int]], int],
    unavoidable: int,
) -> Mapping[int, int]:
    """Return how many devices of each class get a source so that fewest are left, at least cost.

    left_with: how many devices find no port if so many of each class have a source.
    unavoidable: devices for which there is no port whatever feeds them.
    """
    costs: dict[int, Decimal] = {}
    most: dict[int, int] = {}
    for number in (device.poe_class for device in wanting if device.poe_class is not None):
        entry = injector_for(project, number)
        if entry is not None:
            costs[number] = injector_cost(project, entry)
            most[number] = most.get(number, 0) + 1
    best: Mapping[int, int] = {}
    fewest = None
    for counts in _by_cost(costs, most):
        left = left_with(counts)
        if fewest is None or left < fewest:
            best, fewest = counts, left
        if fewest <= unavoidable:
            break
    return best


def _by_cost(costs: Mapping[int, Decimal], most: Mapping[int, int]) -> Iterator[Mapping[int, int]]:
    """Yield numbers of sources by class, those that cost least first, then the fewest."""
    classes = sorted(costs)
    nothing = (0,) * len(classes)
    waiting: list[tuple[Decimal, int, tuple[int, ...]]] = [(Decimal(0), 0, nothing)]
    seen = {nothing}
    for _ in range(MOST_TRIES):
        if not waiting:
            return
        cost, count, counts = heappop(waiting)
        yield {one: number for one, number in zip(classes, counts, strict=True) if number}
        for n, one in enumerate(classes):
            more = (*counts[:n], counts[n] + 1, *counts[n + 1 :])
            if more[n] <= most[one] and more not in seen:
                seen.add(more)
                heappush(waiting, (cost + costs[one], count + 1, more))
