"""Lines of the take-off for the parts of racks, and for the mains cords outside them."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from proposal.design.design import Design
from proposal.design.racks.rack_choice import RackDesign
from proposal.estimate.takeoff.lines import TakeoffLine, line
from proposal.model.equipment.devices import RackPart
from proposal.model.project import Project


def rack_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return the parts of all racks, by equipment room and model."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for rack in design.racks:
        for model in parts_of_rack(rack):
            grouped.setdefault((rack.device.room, model), []).append(rack.device.tag)
    return _lines(project, grouped)


def mains_cord_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return the mains cords from outlets of the building, by place and model."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for circuit in design.circuits:
        for outlet in circuit.outlets:
            if outlet.cord:
                grouped.setdefault((outlet.place, outlet.cord), []).append(outlet.serves.partition("/")[0])
    return _lines(project, grouped)


def _lines(project: Project, grouped: Mapping[tuple[str, str], Sequence[str]]) -> list[TakeoffLine]:
    """Return a line for each place and model, one piece for each of its causes."""
    return [
        line(
            project,
            "accessories",
            project.library.entry(model),
            place,
            Decimal(len(causes)),
            Decimal(0),
            dict.fromkeys(causes),
            # What is plugged in a room is so when its devices are put up; what serves racks, with these.
            phase=None if not place or place in project.building.equipment_rooms else "second fix",
        )
        for (place, model), causes in grouped.items()
    ]


def parts_of_rack(rack: RackDesign) -> Iterator[str]:
    """Yield the model code of each part that is bought for a rack, beside devices and patch panels."""
    yield from (item.entry.model for item in rack.layout.items if isinstance(item.entry, RackPart))
    yield from (one.cord for one in rack.layout.plugged if one.cord)
    for part, units in rack.closing:
        yield from [part.model] * len(units)
    if rack.earthing is not None:
        yield rack.earthing.model
