"""Whether the small switch inside a breakout serves a room, so that it needs no other."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.design.equipment.audio_needs import MIXES, AudioNeeds
from proposal.design.equipment.device_capacity import Size, size_of
from proposal.design.equipment.mixing_choice import least_mixing, with_carried
from proposal.design.equipment.poe_sources import sources_cost, sources_wanted
from proposal.design.equipment.room_network import APART, further_ports, isolates, network_of
from proposal.design.equipment.unit_costs import unit_cost
from proposal.model.equipment.devices import Breakout, BuiltInSwitch, Switch
from proposal.model.equipment.entry import Device, Entry
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.standards import ieee8023
from proposal.standards.reserve import usable_power_w

GIGABIT_PER_S = 1e9
BUILT_IN_HEADROOM_USE = "project.rules.power.built_in_headroom"


def with_own_switch(
    project: Project, layout: RoomType, alone: Size, others: Sequence[Size], needs: AudioNeeds
) -> tuple[str, Size]:
    """Return the breakout whose own switch serves the room, empty for none, and the room's breakouts.

    alone: the breakouts where the room is cabled to the equipment room.
    others: access points and chargers, which need a port each where they are on the network.
    needs: what the room's breakouts have to carry.
    A room that sends or takes networked audio besides needs a managed switch. Cabling to the equipment room
    is charged with the least cost of a managed switch's port for each device. A room whose network is kept
    apart takes a breakout's own switch wherever one serves; one that is isolated, only with a port for that.
    """
    network = network_of(project, layout)
    further, apart = further_ports(layout), network in APART
    if network == "rack" or (alone.by_hand and not alone.models) or (further and not apart):
        return "", alone
    kept = further + (network != "alone")
    entries = project.library.of_kind("breakout")
    plugged = [project.library.entry(model) for size in others for model in size.models]
    ports = sum(_has_port(entry) for entry in plugged) + len(alone.models)
    rack_cost = _cost(project, alone) + _port_cost(project) * ports
    best: tuple[Decimal, int, int, str, Size] | None = None
    for host, entry in entries.items():
        if not isinstance(entry, Breakout) or entry.switch is None:
            continue
        if (network == "isolated" and not isolates(entry)) or (further and not _sorts_streams(entry.switch)):
            continue
        boxes = _hosting(project, host, alone, needs, entries)
        if boxes is None:
            continue
        more = list(boxes.models)
        more.remove(host)
        left_free = project.brief.rules.power.built_in_headroom
        on_it = [*plugged, *(entries[model] for model in more)]
        sources = sources_beside(project, entry, on_it, left_free, kept)
        if sources is None:
            continue
        cost = _cost(project, boxes) + sources_cost(project, sources)
        candidate = (cost, len(boxes.models) + sum(sources.values()), boxes.spare, host, boxes)
        if best is None or candidate[:4] < best[:4]:
            best = candidate
    if best is None or (best[0] > rack_cost and not apart):
        return "", alone
    return best[3], best[4]


def _sorts_streams(switch: BuiltInSwitch) -> bool:
    """Return whether a switch keeps networked audio from ports that did not ask for it, at gigabit speed."""
    return switch.managed and switch.speed >= GIGABIT_PER_S


def _hosting(
    project: Project, host: str, alone: Size, needs: AudioNeeds, entries: Mapping[str, Entry]
) -> Size | None:
    """Return the breakouts of which one is the host: the designer's, or the least-cost ones."""
    if alone.by_hand:
        return alone if host in alone.models else None
    # What no breakout can give is told of, and does not choose the switch.
    short = {one.what for one in alone.lacking}
    wanted = replace(needs, mixed=()) if MIXES in short else needs
    chosen = least_mixing(project, "breakout", wanted, host)
    if chosen is None:
        return None
    return with_carried(size_of("breakout", alone.need, chosen, entries, by_hand=False), needs, entries)


def fits_on(host: Breakout, plugged: Iterable[Entry], headroom: float = 0.0, kept: int = 1) -> bool:
    """Return whether devices fit on a breakout's own switch.

    host: the breakout.
    plugged: access points, chargers and further breakouts of the room.
    headroom: share of the switch's power that stays free, 0 to 1.
    kept: ports kept for others: the building's network, equipment that others furnish.
    """
    switch = host.switch
    if switch is None:
        return False
    devices = [entry for entry in plugged if isinstance(entry, Device) and _has_port(entry)]
    powered = [entry.poe for entry in devices if entry.poe and entry.powered_by == "PoE"]
    return (
        len(devices) <= switch.ports - kept
        and len(powered) <= switch.poe_ports
        and all(poe.device_class <= switch.poe_class for poe in powered)
        and sum(ieee8023.CLASSES[poe.device_class].source_power_w for poe in powered)
        <= usable_power_w(switch.budget, headroom) + 1e-9
    )


def sources_beside(
    project: Project, host: Breakout, plugged: Sequence[Entry], headroom: float, kept: int
) -> Mapping[int, int] | None:
    """Return for how many devices of each class a breakout's own switch wants PoE sources beside it.

    project, host: the library, and the breakout.  plugged: access points, chargers, further breakouts.
    headroom: share of the switch's power that stays free, 0 to 1.  kept: ports kept for others.
    Empty where all devices fit by themselves, None where they do not fit with sources either.
    """
    if fits_on(host, plugged, headroom, kept):
        return {}
    devices = [entry for entry in plugged if isinstance(entry, Device) and _has_port(entry)]
    if host.switch is None or len(devices) > host.switch.ports - kept:
        return None
    classes = [one.poe.device_class for one in devices if one.poe and one.powered_by == "PoE"]
    usable_w = usable_power_w(host.switch.budget, headroom)
    return sources_wanted(project, host.switch.poe_ports, host.switch.poe_class, usable_w, classes)


def _has_port(entry: Entry) -> bool:
    """Return whether a device is on the network; a charger need not be."""
    return isinstance(entry, Device) and bool(entry.ports_carrying("network"))


def still_serves(project: Project, layout: RoomType, host: str, sizes: Iterable[Size]) -> bool:
    """Return whether a switch of the room still serves it where its models were changed by hand.

    layout: of the room.
    host: model code of the breakout, or of the switch that stands in the room; empty for none.
    sizes: access points, chargers, breakouts and what stands in the rack.
    """
    made = list(sizes)
    in_room = [model for size in made if size.kind in _IN_ROOM for model in size.models]
    if host not in in_room:
        return any(size.kind == "switch" and host in size.models for size in made)
    in_room.remove(host)
    entry = project.library.entry(host)
    if not isinstance(entry, Breakout):
        return False
    plugged = [project.library.entry(model) for model in in_room]
    network = network_of(project, layout)
    if network == "isolated" and not isolates(entry):
        return False
    kept = further_ports(layout) + (network != "alone")
    left_free = project.brief.rules.power.built_in_headroom
    return sources_beside(project, entry, plugged, left_free, kept) is not None


_IN_ROOM = ("access_point", "charger", "breakout")


def carries_audio(switch: Switch) -> bool:
    """Return whether a switch is fit for networked audio: managed, gigabit, energy saving not always on."""
    return (
        switch.managed and switch.speed >= GIGABIT_PER_S and switch.energy_efficient_ethernet != "always on"
    )


def _cost(project: Project, size: Size) -> Decimal:
    entries = project.library.of_kind(size.kind)
    return sum((unit_cost(project, entries[model]) for model in size.models), Decimal(0))


def _port_cost(project: Project) -> Decimal:
    """Return the least cost of one port of a switch that is fit for networked audio."""
    shares = [
        unit_cost(project, switch) / switch.access_ports
        for switch in project.library.switches.values()
        if carries_audio(switch)
    ]
    return min(shares, default=Decimal(0))
