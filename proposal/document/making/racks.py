"""Rows of the racks, and of what stands in them."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.racks.power_strips import Plugged
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.rack_layout import usable_units
from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.model.equipment.devices import RackPart
from proposal.model.equipment.entry import Device, Entry
from proposal.model.project import Project
from proposal.review.racks import problems_of
from proposal.standards.cooling import heat_btu_h

PARTS = frozenset(
    {"patch_panel", "fibre_panel", "cable manager", "power strip", "fan panel", "battery pack", "shelf"}
)
"""What has a code in its rack, and no tag in the building."""


def rack_rows(project: Project, design: Design) -> tuple[RackRow, ...]:
    """Return a row for each rack, in order of tags."""
    return tuple(_rack(project, rack) for rack in design.racks)


def _rack(project: Project, rack: RackDesign) -> RackRow:
    layout, entry = rack.layout, rack.entry
    racks = project.building.equipment_rooms[rack.device.room].racks
    return RackRow(
        tag=rack.device.tag,
        equipment_room=rack.device.room,
        style=entry.style if entry else "",
        faces=racks[rack.device.code].faces if rack.device.code in racks else "",
        width_m=entry.width if entry else None,
        depth_m=entry.depth if entry else None,
        model=rack.device.model,
        verdict="fails" if any(problems_of(project, rack)) else "holds",
        units=entry.units if entry else 0,
        used=layout.used,
        spare_wanted=entry.units - usable_units(project, entry) if entry else 0,
        weight_kg=rack.weight_kg,
        load_kg=entry.load if entry else 0.0,
        typical_w=rack.heat_w,
        hourly_heat_btu=heat_btu_h(rack.heat_w),
        apparent_va=rack.apparent_va,
        current_a=rack.apparent_va / project.brief.mains_voltage,
        outlets_used=len(layout.plugged),
        outlets=sum(item.entry.outlets for item in layout.strips.items if isinstance(item.entry, RackPart))
        + (layout.standby.entry.outlets if layout.standby and layout.standby.entry else 0),
        hourly_air_wanted_m3=layout.air_wanted_m3_h,
        hourly_air_m3=layout.air_m3_h,
    )


def rack_place_rows(design: Design) -> tuple[RackPlaceRow, ...]:
    """Return a row for everything in each rack, from above downwards, the front first."""
    return tuple(row for rack in design.racks for row in _places(design.project, rack))


def _places(project: Project, rack: RackDesign) -> Iterator[RackPlaceRow]:
    tag = rack.device.tag
    parts = project.library.rack_parts
    fed: dict[str, list[str]] = {one.device: [] for one in rack.layout.plugged}
    cords: dict[str, Plugged] = {}
    for one in rack.layout.plugged:
        fed[one.device].append(f"{one.strip}/{one.outlet}")
        if one.cord:
            cords[one.device] = one
    front = [slot for slot in rack.layout.slots if slot.face == "front"]
    rows = [
        RackPlaceRow(
            rack=tag,
            unit=slot.unit,
            units=slot.item.units,
            face=slot.face,
            side=slot.side,
            name=_full_name(tag, slot.item.name, slot.item.kind),
            kind=slot.item.kind.replace("_", " "),
            shelf=f"{tag}/{shelf}" if (shelf := rack.layout.shelved.get(slot.item.name)) else "",
            model=slot.item.entry.model,
            gap=slot.item.gap,
            airflow=slot.item.entry.airflow if isinstance(slot.item.entry, Device) else "",
            front_ports=_ports_at(slot.item.entry, "front"),
            side_ports=_ports_at(slot.item.entry, "side"),
            depth_m=slot.item.depth_m or None,
            weight_kg=slot.item.weight_kg,
            typical_w=slot.item.heat_w,
            apparent_va=slot.item.apparent_va,
            outlets=tuple(fed.get(slot.item.name, ())),
            cord=cord.cord if cord else "",
            cord_joins=_joins(parts[cord.cord]) if cord else "",
            cord_m=parts[cord.cord].length if cord else None,
            cord_wanted_m=cord.way_m if cord else None,
        )
        for slot in (*front, *(slot for slot in rack.layout.slots if slot.face == "rear"))
        for cord in (cords.get(slot.item.name),)
    ]
    for part, units in rack.closing:
        for first, last in _runs(units):
            rows.append(
                RackPlaceRow(
                    rack=tag,
                    unit=first,
                    units=last - first + 1,
                    face="front",
                    name=f"{tag}/{'VP' if part.role == 'vent panel' else 'BL'}{first}",
                    kind=part.role,
                    model=part.model,
                    weight_kg=part.weight * (last - first + 1),
                )
            )
    yield from sorted(rows, key=lambda row: (row.face, -row.unit, row.side))


def _joins(cord: RackPart) -> str:
    """Return the sorts of outlet and of inlet that a mains cord joins."""
    return f"{cord.outlet_form} to {cord.inlet_form}"


def _ports_at(entry: Entry, face: str) -> tuple[str, ...]:
    """Return the ports of a device on a face, `P1 to P24 with PoE` for each sort."""
    if not isinstance(entry, Device):
        return ()
    return tuple(
        (f"{letters}1 to {letters}{ports.count}" if ports.count > 1 else f"{letters}1")
        + (" with PoE" if ports.powers else "")
        for letters, ports in entry.ports.items()
        if ports.at == face
    )


def _full_name(rack: str, name: str, kind: str) -> str:
    """Return the tag of a device, or the code of a panel or part with its rack before it."""
    return f"{rack}/{name}" if kind in PARTS else name


def _runs(units: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """Yield the first and last of each run of neighbouring units."""
    start = previous = units[0]
    for unit in units[1:]:
        if unit != previous + 1:
            yield start, previous
            start = unit
        previous = unit
    yield start, previous
