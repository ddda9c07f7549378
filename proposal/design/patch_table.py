"""The patch table: every network join from the device's port to the switch's, with all that lies between."""

from proposal.design.design import Design
from proposal.field_classes import dataclass


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
    """Return every join of the network that ends in a port, in order of identities."""
    return tuple(
        Patch(
            identity=one.identity,
            device=one.start.device,
            device_port=one.start.name,
            first_cord=one.first_cord,
            first_panel=one.first_panel,
            cable=one.cable.model if one.cable else "",
            panel=one.panel,
            last_cord=one.last_cord,
            switch=one.end.device,
            switch_port=one.end.name,
            source=one.source,
            source_cord=one.source_cord,
        )
        for one in design.graph.network
        if one.led_on or one.isolated
    )
