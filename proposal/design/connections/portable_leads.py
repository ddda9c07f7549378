"""The leads between the devices of a portable set."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import DEVICE_CORD_USE
from proposal.design.connections.cable_ends import PLUG
from proposal.design.connections.cable_runs import CableRun
from proposal.design.connections.data_cables import UNCABLED, data_cable_of
from proposal.design.equipment.placed_devices import Placed
from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

ON_THE_CART = "on the cart"


def leads_of_the_cart(project: Project, devices: Sequence[Placed], host: Placed | None) -> list[Cable]:
    """Return the leads between the devices of a portable set and the breakout whose own switch serves it.

    devices: of the set.  host: that breakout; None where no breakout's switch holds them, and then nothing
    joins them.
    A set has no cable to a rack: it stands alone wherever it is used.
    """
    leads = []
    for device in devices:
        entry = project.library.entry(device.model) if device.model else None
        if host is None or device == host or not isinstance(entry, Device) or device.kind in UNCABLED:
            continue
        ports = entry.ports_carrying("network")
        if ports:
            leads.append(data_cable_of(project, device, entry, ports[0], _lead(project, device, host), ()))
    return [replace(lead, start_connector=PLUG) for lead in leads]


def _lead(project: Project, start: Placed, end: Placed) -> CableRun:
    """Return how a lead lies on a cart: up or down the mast, and as long as a cord at a device besides."""
    cord_m = project.brief.rules.cabling.device_cord
    length_m = abs(start.height_m - end.height_m) + cord_m
    return CableRun(
        end=end.tag,
        end_storey=start.storey,
        route=CableRoute((Stretch(ON_THE_CART, length_m, in_rack=True),)),
        slack_m=0.0,
        slack_ends_m=(0.0, 0.0),
        uses=(DEVICE_CORD_USE, *start.uses, *end.uses),
    )
