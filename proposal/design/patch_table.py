"""The patch table: every network join from the device's port to the switch's, with all that lies between."""

from collections.abc import Iterator
from dataclasses import dataclass

from proposal.design.connections.data_cables import Cable
from proposal.design.connections.patch_cords import Cord, cord
from proposal.design.connections.patching import UPLINK
from proposal.design.design import Design
from proposal.design.numbers.numbering import cable_identity, natural
from proposal.design.wanted_ports import to_owners_network
from proposal.model.equipment.entry import Device


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """One join of the network, from end to end.

    identity: of its cable; of its cord, where a cord alone joins two devices in a rack.
    device, device_port: what is joined, and its port.
    first_cord: model code of the cord at the device, or at the rack where a cable from rack to rack begins.
    first_panel: rack and panel port where such a cable begins, else empty.
    cable: model code of the cable, empty where a cord alone joins them.
    panel: rack and panel port where the cable ends, empty where it ends in a device.
    last_cord: model code of the cord from there to the switch, or of the one cord.
    switch, switch_port: tag of the switch, or of the breakout that holds it, and its port.
    source: tag of the PoE source between panel and switch, empty where there is none.
    source_cord: model code of the cord from there to the switch.
    """

    identity: str
    device: str
    device_port: str
    first_cord: str
    first_panel: str
    cable: str
    panel: str
    last_cord: str
    switch: str
    switch_port: str
    source: str = ""
    source_cord: str = ""


def patches(design: Design) -> tuple[Patch, ...]:
    """Return every join of the network, in order of identities."""
    found = [*_of_devices(design), *_of_switches(design), *_to_owners_network(design)]
    return tuple(sorted(found, key=lambda one: natural(one.identity)))


def _of_devices(design: Design) -> Iterator[Patch]:
    """Yield the joins of devices to the switches of equipment rooms and to those inside breakouts."""
    cables = {cable.identity: cable for cable in design.cables}
    hosts = {room.host for room in design.rooms if room.host}
    joined = {room.host for room in design.rooms if room.equipment_room}
    for port in design.ports:
        if port.switch in joined and port.port == UPLINK:
            # The breakout is the device of that join, at the switch of the equipment room.
            continue
        device, cable = port.attached.tag, cables.get(port.attached.cable)
        if cable is None:
            yield _by_cord(design, device, port.switch, str(port.port), port.attached.injector)
            continue
        name = cable.end_port if port.switch in hosts else str(port.port)
        in_rack = cable.end != port.switch
        yield Patch(
            identity=cable.identity,
            device=device,
            device_port=cable.start_port,
            first_cord=_model(cable, "device"),
            first_panel="",
            cable=cable.model,
            panel=f"{cable.end}/{cable.end_port}" if in_rack else "",
            last_cord=_model(cable, "rack"),
            switch=port.switch,
            switch_port=name,
            source=port.attached.injector,
            source_cord=cable.cords[-1].model if port.attached.injector and cable.cords else "",
        )


def _by_cord(design: Design, device: str, switch: str, port: str, source: str) -> Patch:
    """Return the join of a device in a rack, which a cord alone ties to its switch."""
    entry = design.every_entry.get(device)
    names = entry.ports_carrying("network") if isinstance(entry, Device) else ()
    name = names[0] if names else ""
    one = cord(design.project, "rack", None)
    return Patch(
        identity=cable_identity(device, name, switch),
        device=device,
        device_port=name,
        first_cord="",
        first_panel="",
        cable="",
        panel="",
        last_cord=one.model if one else "",
        switch=switch,
        switch_port=port,
        source=source,
        source_cord=one.model if one and source else "",
    )


def _of_switches(design: Design) -> Iterator[Patch]:
    """Yield the joins of switches to each other; the owner's network stands without a tag."""
    for link in design.switch_links:
        join, cable = link.join, link.cable
        first, last = _ends(link.cords)
        yield Patch(
            identity=link.identity,
            device=join.start,
            device_port=join.start_port,
            first_cord=first if cable else "",
            first_panel=f"{cable.start_rack}/{cable.start_panel}" if cable else "",
            cable=cable.model if cable else "",
            panel=f"{cable.end}/{cable.end_port}" if cable else "",
            last_cord=last,
            switch=join.end,
            switch_port=join.end_port,
        )


def _to_owners_network(design: Design) -> Iterator[Patch]:
    """Yield the joins of rooms that keep the building's network off to a port of the owner's network."""
    cables = {(cable.start, cable.start_port): cable for cable in design.cables}
    for room in to_owners_network(design.closets, design.rooms):
        cable = cables[room.host, room.isolating_port]
        yield Patch(
            identity=cable.identity,
            device=room.host,
            device_port=room.isolating_port,
            first_cord=_model(cable, "device"),
            first_panel="",
            cable=cable.model,
            panel=f"{cable.end}/{cable.end_port}",
            last_cord=_model(cable, "rack"),
            switch="",
            switch_port=design.project.building.equipment_rooms[room.equipment_room].owner_port,
        )


def _ends(cords: tuple[Cord, ...]) -> tuple[str, str]:
    return (cords[0].model, cords[-1].model) if cords else ("", "")


def _model(cable: Cable, end: str) -> str:
    return next((one.model for one in cable.cords if one.at == end), "")
