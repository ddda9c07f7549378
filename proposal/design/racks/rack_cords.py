"""Patch cords and leads in racks: how long the way of each is between its two ends."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from proposal.design.connections.ports_and_joins import Join, Port
from proposal.design.racks.cord_ways import behind_m, middle_m, way_m
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.rack_layout import Slot
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Rack, RackPart
from proposal.model.equipment.entry import Device
from proposal.model.equipment.materials import PatchPanel
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class RackCord:
    """A patch cord or a lead between two things in the racks of an equipment room.

    cord: model code of the cord, or of the cable that the lead is made of.
    ends: names of what it joins.
    length_m, way_m: how long it is, and how long the way between its ends is, m.
    """

    cord: str
    ends: tuple[str, str]
    length_m: float
    way_m: float


@dataclass(frozen=True, slots=True)
class _Standing:
    """One thing where it stands: tag of the room, its rack and which of the room's that is, and its slot."""

    room: str
    rack: Rack
    number: int
    slot: Slot


def rack_cords(
    project: Project, racks: Sequence[RackDesign], joins: Sequence[Join], entries: Mapping[str, Device]
) -> Iterator[RackCord]:
    """Yield each patch cord and each lead of ours that joins two things in racks of one equipment room.

    racks: all racks; joins: of the whole design; entries: of each device.
    """
    standing: dict[str, _Standing] = {}
    numbers: dict[str, int] = {}
    for rack in racks:
        room = rack.device.room
        number = numbers[room] = numbers.get(room, -1) + 1
        if rack.entry is None:
            continue
        for slot in rack.layout.slots:
            name = slot.item.name
            of_rack = isinstance(slot.item.entry, PatchPanel | RackPart)
            standing[f"{rack.device.tag}/{name}" if of_rack else name] = _Standing(
                room, rack.entry, number, slot
            )
    for join in joins:
        for cord, length_m, start, end in _cords_of(project, join):
            one, other = standing.get(start.device), standing.get(end.device)
            if one and other and one.room == other.room:
                yield RackCord(
                    cord=cord,
                    ends=(start.device, end.device),
                    length_m=length_m,
                    way_m=_patched_m(project, one, other, (start, end), entries),
                )


def _cords_of(project: Project, join: Join) -> Iterator[tuple[str, float, Port, Port]]:
    """Yield each cord or lead of a join: model, length and what it joins, panels by rack and code."""
    first, last = (Port(panel.rpartition("/")[0], "") for panel in (join.first_panel, join.panel))
    source = Port(join.source, "")
    start = last if join.panel else join.start
    for model, one, other in (
        (join.first_cord if join.first_panel else "", join.start, first),
        (join.last_cord, start, source if join.source else join.end),
        (join.source_cord, source, join.end),
    ):
        if model in project.library.patch_cords:
            yield model, project.library.patch_cords[model].length, one, other
    if join.cable and all(stretch.in_rack for stretch in join.cable.route.stretches):
        yield join.cable.model, join.cable.length_m, join.start, join.end


def _patched_m(
    project: Project,
    one: _Standing,
    other: _Standing,
    ports: tuple[Port, Port],
    entries: Mapping[str, Device],
) -> float:
    """Return how long the way between two things is, m; past the racks between where they are in two."""
    up_m = abs(middle_m(one.slot) - middle_m(other.slot))
    behind = [
        _places_m(there, port, entries.get(port.device))
        for there, port in zip((one, other), ports, strict=True)
    ]
    forward_m = max(abs(front_m - back_m) for front_m, back_m in product(*behind))
    beside_m = abs(one.number - other.number) * max(one.rack.width, other.rack.width)
    return way_m(project, up_m, forward_m) + beside_m


def _places_m(there: _Standing, port: Port, entry: Device | None) -> tuple[float, ...]:
    """Return how far behind the front a port may be, m: a panel's are in front, a device's where it says."""
    if entry is None:
        return (0.0,)
    letters = port.name.rstrip("0123456789")
    ports = entry.ports if isinstance(entry.ports, Mapping) else {}
    at = ports[letters].at if letters in ports else ""
    back_m = behind_m(there.rack, there.slot)
    return {"front": (0.0,), "rear": (back_m,)}.get(at, (0.0, back_m))
