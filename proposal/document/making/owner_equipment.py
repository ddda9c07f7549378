"""Rows of what the owner furnishes: what it needs, and how it is joined."""

from collections.abc import Collection, Iterator, Sequence
from typing import TypedDict

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.owner.owner_devices import OwnerDevice
from proposal.design.patch_table import patches
from proposal.design.rooms.room_kinds import RoomKind
from proposal.document.rows.owner_equipment import OwnerEquipmentRow, OwnerJoinRow
from proposal.model.equipment.entry import Device
from proposal.model.joined_sound import TO_JOINED, from_joined


class OwnerEquipmentParts(TypedDict):
    """The rows of the owner's equipment."""

    owner_equipment: tuple[OwnerEquipmentRow, ...]
    owner_joins: tuple[OwnerJoinRow, ...]


def control_processors(owners: Sequence[OwnerDevice], rooms: Collection[str]) -> tuple[str, ...]:
    """Return the names of the owner's control processors that serve one of some rooms.

    owners: the owner's equipment.  rooms: tags.
    """
    return tuple(
        one.written.name
        for one in owners
        if one.written.kind == "control processor" and any(tag in rooms for tag in one.rooms)
    )


def brought_by_nobody(owners: Sequence[OwnerDevice], kind: RoomKind) -> tuple[str, ...]:
    """Return the names of what the sound of a kind of room goes to or comes from and nobody brings.

    owners: the owner's equipment.
    """
    served = {(room, code) for one in owners for room in one.rooms for code in one.written.serves}
    ends = (*kind.layout.destinations.items(), *kind.layout.returns.items())
    return tuple(
        dict.fromkeys(
            end.name
            for code, end in ends
            if code != TO_JOINED
            and not code.startswith(from_joined(""))
            and any((room, code) not in served for room in kind.rooms)
        )
    )


def owner_equipment_parts(design: Design, furnishing: Sequence[str] = ()) -> OwnerEquipmentParts:
    """Return the fields of the document that hold the owner's equipment, by name.

    furnishing: letters of the parties that furnish it, where nothing else is written of a device.
    """
    if not design.owners:
        return {"owner_equipment": (), "owner_joins": ()}
    found = (*_on_the_network(design), *_to_audio(design))
    joins = sorted(found, key=lambda row: (natural(row.device), natural(row.port)))
    return {
        "owner_equipment": tuple(
            _equipment(design, one, joins, (one.written.party,) if one.written.party else furnishing)
            for one in design.owners
        ),
        "owner_joins": tuple(joins),
    }


def _equipment(
    design: Design, one: OwnerDevice, joins: list[OwnerJoinRow], furnishing: Sequence[str]
) -> OwnerEquipmentRow:
    tag, written = one.device.tag, one.written
    network = {row.port for row in joins if row.device == tag and row.signal == "network"}
    audio = {row.port for row in joins if row.device == tag and row.signal != "network" and row.port}
    # A switch has on the network the ports that its owner left free, whatever else is told of its ports.
    there = sum(
        ports.count for ports in written.ports.values() if ports.signal != "network" or not written.switch
    )
    there += len(written.switch.free) if written.switch else 0
    return OwnerEquipmentRow(
        tag=tag,
        name=written.name,
        kind=written.kind,
        room=one.device.room,
        location=one.device.location,
        serves=one.rooms,
        parties=tuple(furnishing),
        rack_units=written.rack_units,
        power_w=written.power,
        heat_w=written.power if written.heat is None else written.heat,
        network_ports=len(network),
        audio_ports=len(audio),
        spare_ports=there - len(network) - len(audio),
        addresses=design.addresses.by_tag.get(tag, ()),
    )


def _on_the_network(design: Design) -> Iterator[OwnerJoinRow]:
    """Yield the join of each thing that is on the network to its switch, and of each owner's switch."""
    owners = {one.device.tag: one for one in design.owners}
    for patch in patches(design):
        if patch.device in owners:
            yield OwnerJoinRow(
                device=patch.device,
                port=patch.device_port,
                connector=_connector(owners[patch.device], patch.device_port),
                signal="network",
                carries="network",
                joined_to=patch.switch,
                joined_port=patch.switch_port,
                cable=patch.identity if patch.cable else "",
            )
        if patch.switch in owners:
            yield OwnerJoinRow(
                device=patch.switch,
                port=patch.switch_port,
                connector="",
                signal="network",
                carries="network",
                joined_to=patch.device,
                joined_port=patch.device_port,
                cable=patch.identity if patch.cable else "",
            )


def _to_audio(design: Design) -> Iterator[OwnerJoinRow]:
    """Yield the joins of the owner's equipment to mixers and breakouts."""
    owners = {one.device.tag: one for one in design.owners}
    for join in design.owner_joins:
        channel = f", channel {join.channel}" if join.channel > 1 else ""
        yield OwnerJoinRow(
            device=join.owner,
            port=join.owner_port,
            connector=_connector(owners[join.owner], join.owner_port),
            signal=join.end.signal,
            carries=f"{join.end.name}{channel}",
            joined_to=join.end.device,
            joined_port=join.end.port,
            joined_connector=_connector_of(design.entries.get(join.end.device), join.end.port),
            cable=join.cable,
        )


def _connector(one: OwnerDevice, port: str) -> str:
    return _connector_of(one.entry, port)


def _connector_of(entry: Device | None, port: str) -> str:
    sort = entry.ports.get(port.rstrip("0123456789")) if entry else None
    return sort.connector if sort else ""
