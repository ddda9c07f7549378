"""Rows about the whole building: storeys, rooms, devices, equipment and cables."""

from decimal import Decimal
from typing import TypedDict

from proposal.design.connections.cable import Cable
from proposal.design.contained_sound import in_a_rack
from proposal.design.design import Design
from proposal.design.equipment.mounts import mounted, secured
from proposal.design.equipment.placed_devices import Placed, in_building
from proposal.design.patch_table import Patch, patches
from proposal.design.pathways.cable_routes import run_heights_m
from proposal.design.room_designs import RoomDesign
from proposal.document.headings import Words
from proposal.document.making.by_name import ByName
from proposal.document.making.cable_types import cable_type_rows
from proposal.document.making.composed_texts import words_of
from proposal.document.making.equipment_rooms import equipment_room_rows
from proposal.document.making.pack_life import pack_life_rows
from proposal.document.making.power import port_rows, switch_rows
from proposal.document.making.racks import rack_place_rows, rack_rows
from proposal.document.making.supply_days import EQUIPMENT, SupplyDays
from proposal.document.making.switch_links import switch_link_rows
from proposal.document.rows.cable_types import CableTypeRow
from proposal.document.rows.cabling import CableRow, CableTotal, RiserLine
from proposal.document.rows.equipment import DeviceRow, EquipmentLine
from proposal.document.rows.pack_life import PackLifeRow
from proposal.document.rows.patch_table import PatchRow
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow, StoreyRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.estimate.takeoff_and_reels import device_costs
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.parts import Region
from proposal.model.project import Project
from proposal.pipeline import Computed

_OF_LINE = (
    *("kind", "quantity", "unit", "rooms", "unit_list", "unit_cost", "cost", "supplier"),
    *("radio_approval", "needed_by", "order_by"),
)
_EQUIPMENT = ByName(EquipmentLine, Entry, "kind", "unit", "cost", "supplier")
_DEVICE = ByName(DeviceRow, Placed, "kind")
_CABLE = ByName(CableRow, Cable, "route", "slack_m", "cords_m", "channel_m", "temperature_c")
_PATCH = ByName(PatchRow, Patch)


class BuildingParts(TypedDict):
    """The rows of the building."""

    storeys: tuple[StoreyRow, ...]
    equipment_rooms: tuple[EquipmentRoomRow, ...]
    rooms: tuple[RoomRow, ...]
    devices: tuple[DeviceRow, ...]
    equipment: tuple[EquipmentLine, ...]
    pack_lives: tuple[PackLifeRow, ...]
    equipment_cost: Decimal | None
    riser_lines: tuple[RiserLine, ...]
    cable_totals: tuple[CableTotal, ...]
    cable_types: tuple[CableTypeRow, ...]
    cables: tuple[CableRow, ...]
    switches: tuple[SwitchRow, ...]
    switch_links: tuple[SwitchLinkRow, ...]
    patches: tuple[PatchRow, ...]
    racks: tuple[RackRow, ...]
    rack_places: tuple[RackPlaceRow, ...]
    ports: tuple[PortRow, ...]


def building_parts(computed: Computed, days: SupplyDays) -> BuildingParts:
    """Return the fields of the document that hold the building's rows, by name.

    days: by which things are needed and ordered.
    """
    project, design = computed.project, computed.design
    words = words_of(project)
    storeys = sorted(project.building.storeys.items(), key=lambda item: (item[1].height, item[0]))
    joins = patches(design)
    return {
        "storeys": tuple(
            StoreyRow(
                tag=tag,
                name=storey.name,
                height_m=storey.height,
                slab_to_slab_m=storey.slab_to_slab,
                outline=storey.outline or (),
                walls=tuple(
                    (wall_tag, wall.construction, wall.along)
                    for wall_tag, wall in sorted(project.building.radio.walls.items())
                    if wall.storey == tag
                ),
                shared_opening_m=project.brief.rules.pathways.shared_opening,
            )
            for tag, storey in storeys
        ),
        "equipment_rooms": equipment_room_rows(project, design),
        "rooms": tuple(_room(project, design, room) for room in design.rooms),
        "devices": _devices(computed),
        "equipment": _equipment(computed, days),
        "pack_lives": pack_life_rows(project, design),
        "equipment_cost": computed.estimate.equipment_cost,
        "riser_lines": _riser_lines(project, design, words),
        "cable_totals": tuple(
            CableTotal(
                type=line.model,
                description=project.library.entry(line.model).description,
                count=line.count,
                length_m=line.length_m,
            )
            for line in computed.estimate.cables
        ),
        "cable_types": cable_type_rows(project, design),
        "cables": tuple(_cable(project, cable, words) for cable in design.cables),
        "switches": switch_rows(design),
        "switch_links": switch_link_rows(design),
        "patches": tuple(_PATCH.of(one) for one in joins),
        "racks": rack_rows(project, design),
        "rack_places": rack_place_rows(design),
        "ports": port_rows(design, joins),
    }


def _room(project: Project, design: Design, one: RoomDesign) -> RoomRow:
    room = project.rooms[one.tag]
    return RoomRow(
        tag=one.tag,
        name=room.name,
        sheet=one.kind,
        type=room.layout.name,
        storey=room.storey,
        equipment_room=one.equipment_room,
        origin=(room.x, room.y),
        outline=tuple(in_building(room, corner) for corner in room.layout.outline),
        levels=tuple(
            (level.name, tuple(in_building(room, corner) for corner in level.outline))
            for _, level in sorted(room.layout.levels.items())
        ),
        seats=len(room.layout.seats),
        microphones=len(room.layout.microphones) + len(room.layout.wired_microphones),
        internal_note=room.internal_note,
    )


def _devices(computed: Computed) -> tuple[DeviceRow, ...]:
    design = computed.design
    racks = {device.tag for device in design.devices if device.kind == "rack"}
    # A breakout's own switch leads to a rack, which is not patched for all that.
    ports = {port.attached.tag: port.full_name for port in design.ports if port.attached.tag not in racks}
    costs = device_costs(computed.project, computed.estimate.lines)
    mounts = {
        device.tag: mount for device, _, mount in mounted(computed.project, design.devices, design.entries)
    }
    wires = {device.tag: wire for device, wire in secured(computed.project, design.devices, design.entries)}
    return tuple(
        _device(
            design,
            device,
            ports.get(device.tag, ""),
            (mounts.get(device.tag, ""), wires.get(device.tag, "")),
            costs.get(device.tag),
        )
        for device in design.devices
        if device.tag in design.every_entry
    )


def _device(
    design: Design, device: Placed, switch_port: str, held: tuple[str, str], cost: Decimal | None
) -> DeviceRow:
    """Return the row of a device.

    held: models of its mount and of its safety wire, each empty without one.
    cost: what it costs us; None where the owner has it.
    """
    if device.tag not in design.entries:
        return _owner_device(design, device, switch_port)
    entry = design.entries[device.tag]
    powers = [power for power in (entry.poe, entry.mains) if power]
    address = ", ".join(design.addresses.by_tag.get(device.tag, ()))
    return _DEVICE.of(
        device,
        kind=device.kind.replace("_", " "),
        maker=entry.maker,
        description=entry.description,
        rack_units=entry.rack_units,
        typical_w=powers[0].typical if powers else 0.0,
        maximum_w=powers[0].maximum if powers else 0.0,
        poe_class=entry.poe.device_class if entry.poe and entry.powered_by == "PoE" else None,
        weight_kg=entry.weight,
        furnished_by=entry.furnished_by,
        lead_time_days=entry.lead_time_days,
        address=address,
        host=device.tag.lower() if address else "",
        switch_port=switch_port,
        mount=held[0],
        wire=held[1],
        depth_m=entry.depth if device.location in ("ceiling", "wall") else None,
        unit_cost=cost,
        internal_note=entry.internal_note,
    )


def _owner_device(design: Design, device: Placed, switch_port: str) -> DeviceRow:
    """Return the row of equipment of the owner: it has no model of the library, and nobody buys it."""
    one = next(one for one in design.owners if one.device == device)
    address = ", ".join(design.addresses.by_tag.get(device.tag, ()))
    return _DEVICE.of(
        device,
        kind="owner's device",
        maker="",
        description=one.written.name,
        rack_units=one.written.rack_units,
        typical_w=one.written.power,
        maximum_w=one.written.power,
        poe_class=one.written.poe.device_class if one.written.poe else None,
        weight_kg=0.0,
        furnished_by="owner",
        lead_time_days=0,
        address=address,
        host=device.tag.lower() if address else "",
        switch_port=switch_port,
        mount="",
        wire="",
        depth_m=None,
        unit_cost=None,
        internal_note="",
    )


def _equipment(computed: Computed, days: SupplyDays) -> tuple[EquipmentLine, ...]:
    lines = []
    for line in computed.estimate.equipment:
        entry = computed.project.library.entry(line.model)
        ours = entry.furnished_by == "contractor"
        day = days.of(EQUIPMENT, line.model, entry.lead_time_days, ours=ours)
        lines.append(
            _EQUIPMENT.of(
                entry,
                kind=line.kind.replace("_", " "),
                quantity=line.quantity,
                unit="each",
                rooms=line.rooms,
                unit_list=line.unit_list,
                unit_cost=line.unit_cost,
                cost=line.cost,
                supplier=entry.bought_from,
                needed_by=day.needed_by,
                order_by=day.order_by,
                radio_approval=_radio_approval(entry, computed.project.brief.region),
            )
        )
    return tuple(lines)


def _radio_approval(entry: Entry, region: Region) -> str:
    """Return the rule under which the radio of an entry may be used in a region; empty without radio."""
    if not isinstance(entry, AccessPoint | Microphone) or not entry.works_in(region):
        return ""
    return entry.radio.regions[region].approval


def _inside(project: Project, room: RoomDesign, cable: Cable) -> str:
    """Return where a lead lies: in the rack that its device stands in, on a cart, or in its room."""
    in_room = {device.tag for device in room.devices if not in_a_rack(project, device)}
    if room.tag in project.building.portable_sets or cable.start in in_room:
        return room.tag
    return room.equipment_room or room.tag


def _end_of(project: Project, room: RoomDesign, cable: Cable) -> str:
    """Return the room or equipment room in which a cable of a room ends."""
    if cable.in_rack:
        return _inside(project, room, cable)
    place = cable.end.rpartition("-")[0]
    return place if place in project.building.equipment_rooms else room.tag


def _riser_lines(project: Project, design: Design, words: Words) -> tuple[RiserLine, ...]:
    """Return one line for each room, end and type of cable."""
    lines = []
    # A lead inside a rack leaves its equipment room as little as a cable within a room leaves that.
    runs = [
        (
            _inside(project, room, cable) if cable.in_rack else room.tag,
            _end_of(project, room, cable),
            cable,
        )
        for room in design.rooms
        for cable in room.cables
    ]
    runs += [
        (link.join.start_room, link.join.end_room, link.cable) for link in design.switch_links if link.cable
    ]
    by_place: dict[str, dict[tuple[str, str, str], list[float]]] = {}
    for place, end, cable in runs:
        by_place.setdefault(place, {}).setdefault((end, cable.signal, cable.model), []).append(cable.length_m)
    for place, grouped in by_place.items():
        for (end, signal, model), lengths in sorted(grouped.items()):
            lines.append(
                RiserLine(
                    room=place,
                    end=end,
                    signal=signal,
                    description=project.library.entry(model).description
                    if model
                    else words.text("cable.not_found"),
                    count=len(lengths),
                    shortest_m=min(lengths),
                    longest_m=max(lengths),
                )
            )
    return tuple(lines)


def _cable(project: Project, cable: Cable, words: Words) -> CableRow:
    entry = project.library.entry(cable.model) if cable.model else None
    jacket = getattr(entry, "jacket", None)
    checked = cable.limit_m is not None
    storeys = project.building.storeys
    floors_m = storeys[cable.start_storey].height, storeys[cable.end_storey].height
    first_m, last_m = run_heights_m(cable.route, floors_m)
    return _CABLE.of(
        cable,
        from_tag=cable.start,
        from_port=cable.start_port,
        from_connector=cable.start_connector,
        from_panel=f"{cable.start_rack}/{cable.start_panel}" if cable.start_panel else "",
        to_tag=cable.end,
        to_port=cable.end_port,
        to_connector=cable.end_connector,
        type=cable.model,
        description=entry.description if entry else "",
        jacket=", ".join(jacket.ratings) if jacket else "",
        route=cable.route.text
        if cable.route.pathways or not cable.measured
        else words.text("cable.measured"),
        pathways=cable.route.pathways,
        turns=cable.route.turns,
        rises_at=cable.route.rises_at,
        comes_down_at=cable.route.comes_down_at,
        conduit="",  # Known once all cables are.
        first_run_m=first_m,
        last_run_m=last_m,
        floor_m=cable.route.floor_m,
        from_storey=cable.start_storey,
        to_storey=cable.end_storey,
        estimated_m=None if cable.measured else cable.route.length_m,
        slack_m=None if cable.measured else cable.slack_m,
        slack_from_m=None if cable.measured else cable.slack_ends_m[0],
        slack_to_m=None if cable.measured else cable.slack_ends_m[1],
        cords_m=cable.cords_m if checked else None,
        channel_m=cable.channel_m if checked else None,
        margin_m=cable.limit_m - cable.length_m if cable.limit_m is not None else None,
        temperature_c=cable.temperature_c if checked else None,
        verdict=("holds" if cable.holds else "fails") if checked else "",
    )
