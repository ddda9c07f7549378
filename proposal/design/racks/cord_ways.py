"""How long the way of a cord in a rack is, and which mains cord reaches."""

from dataclasses import replace

from proposal.design.racks.power_strips import Plugged, mains_cord
from proposal.design.racks.rack_layout import Layout, Slot
from proposal.model.equipment.devices import Rack
from proposal.model.project import Project
from proposal.standards.rack_units import FRONT_M, UNIT_M


def with_mains_cords(project: Project, rack: Rack, layout: Layout) -> Layout:
    """Return a rack, each thing in it with the least-cost mains cords that reach all its outlets."""
    slots = {slot.item.name: slot for slot in layout.slots}
    inlets, forms = layout.inlets, layout.outlet_forms
    ways_m: dict[str, float] = {}
    for one in layout.plugged:
        ends = [slots[name] for name in (one.device, one.strip) if name in slots]
        if len(ends) == len((one.device, one.strip)):
            at_m = [behind_m(rack, slot) for slot in ends]
            found_m = way_m(project, abs(middle_m(ends[0]) - middle_m(ends[1])), abs(at_m[0] - at_m[1]))
            ways_m[one.device] = max(ways_m.get(one.device, 0.0), found_m)

    def corded(one: Plugged) -> Plugged:
        wanted_m = ways_m.get(one.device, 0.0)
        cord = mains_cord(project, inlets[one.device], forms[one.strip], wanted_m)
        return replace(one, cord=cord, way_m=wanted_m)

    standby = layout.standby
    return replace(
        layout,
        strips=replace(layout.strips, plugged=tuple(map(corded, layout.strips.plugged))),
        standby=replace(standby, plugged=tuple(map(corded, standby.plugged))) if standby else None,
    )


def middle_m(slot: Slot) -> float:
    """Return how high the middle of a thing is above the foot of its rack, m."""
    return (slot.unit - 1 + slot.item.units / 2) * UNIT_M


def behind_m(rack: Rack, slot: Slot) -> float:
    """Return how far the back of a thing is behind the front, m: at the rear rails where nobody says."""
    if slot.face == "rear" or not slot.item.depth_m:
        return rack.usable_depth
    return slot.item.depth_m


def way_m(project: Project, up_m: float, forward_m: float) -> float:
    """Return how long a cord in a rack has to be, m.

    up_m, forward_m: how far its ends are from each other upwards, and from front to back, m.
    From one end it goes to the side of the rack, along that up or down and to the front or the back, and in
    again: across, one width of a front is enough for any two places, as it takes the nearer side.
    """
    return up_m + forward_m + FRONT_M + project.brief.rules.racks.cord_slack
