"""Which models of the library would mend a finding, and how many of each: for remedies that name them."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from proposal.design.design import Design
from proposal.design.equipment.device_capacity import works_here
from proposal.design.equipment.mixing_choice import mixing_size, needs_of
from proposal.design.equipment.poe_sources import injector_for
from proposal.design.equipment.sizing import Sizing, size_room
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.network.port_demand import SwitchPorts
from proposal.design.numbers.numbering import natural
from proposal.design.power.port_power import PoweredPort
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.muting import BY_GROUP
from proposal.model.base import unwritten
from proposal.model.equipment.devices import Breakout, Microphone, SystemDevice
from proposal.model.equipment.entry import Device
from proposal.model.project import FixedRoom, Project
from proposal.quantities.formatting import listed
from proposal.standards.reserve import budget_needed_w


def higher_class(project: Project, design: Design, port: PoweredPort) -> str:
    """Return what gives a device the class that it asks for: model and number, as one sentence.

    port: a port, or the PoE source before it, of too low a class.
    """
    wanted = port.attached.poe_class or 0
    if port.attached.injector:
        source = injector_for(project, wanted)
        if source is None:
            return f"Put a PoE source whose port gives class {wanted} into a library."
        return (
            f"Use 1 × {source.model} instead of {port.attached.injector}: its port gives class "
            f"{source.poe_class}."
        )
    power = next(one for one in design.switches if one.switch.device.tag == port.switch)
    switch = power.switch
    classes = [one.attached.poe_class or 0 for one in power.order if not one.attached.injector]
    highest = max(wanted, *classes)
    ports = max(len(switch.ports), 1)
    budget_w = budget_needed_w(power.allocated_w, switch.headroom)
    asked = (
        f"{ports} or more ports for devices, {len(classes)} of them of PoE class {highest}, and a budget of "
        f"{_up(budget_w)} W for them"
    )
    fitting = _switches(project, design, switch, highest, len(classes), budget_w)
    if not fitting:
        return f"Put a switch into a library with {asked}: none there has all of it."
    return f"Use 1 × {fitting} instead of {switch.device.model or port.switch}: it has {asked}."


def _switches(
    project: Project, design: Design, now: SwitchPorts, poe_class: int, powered: int, budget_w: float
) -> str:
    """Return the least-cost model with a switch that feeds what one feeds now; empty where there is none."""
    entry = design.entries.get(now.device.tag)
    found: list[Device] = []
    if isinstance(entry, Breakout):
        found += [
            one
            for one in project.library.breakouts.values()
            if one.switch is not None
            and works_here(project, one)
            and one.channels >= entry.channels
            and one.return_inputs >= entry.return_inputs
            and one.switch.ports >= len(now.ports)
            and one.switch.poe_ports >= powered
            and one.switch.poe_class >= poe_class
            and one.switch.budget >= budget_w - 1e-9
        ]
    else:
        highest = max(now.ports, default=0)
        found += [
            one
            for one in project.library.switches.values()
            if one.managed
            and works_here(project, one)
            and one.access_ports >= max(len(now.ports), highest if highest <= now.access_ports else 0)
            and one.poe_ports >= powered
            and one.poe_class >= poe_class
            and one.budget >= budget_w - 1e-9
        ]
    costs = [(unit_cost(project, one), natural(one.model), one.model) for one in found]
    return min(costs)[2] if costs else ""


def _up(watts: float) -> str:
    """Return a power rounded up to a tenth, so that as much as is printed is enough."""
    return f"{-(-watts * 10 // 1) / 10:g}"


def feeding(project: Project, kind: RoomKind) -> str:
    """Return what would feed all destinations of a kind of room: mixers or breakouts, as a sentence."""
    chosen = _carrying(project, kind)
    if chosen:
        return f"Choose {chosen}, which feeds it, or leave the destination out."
    return (
        "Put a mixer or breakout with enough outputs for all destinations of the room into a library, or "
        "leave the destination out."
    )


def with_ports(project: Project, kind: RoomKind) -> str:
    """Return what has ports for all sound of a kind of room: mixers or breakouts, as a sentence."""
    chosen = _carrying(project, kind)
    if chosen:
        return f"Choose {chosen}, with ports for all of it, or carry the signal as networked audio."
    return (
        "Put a mixer or breakout with ports for all sound of the room into a library, or carry the signal as "
        "networked audio."
    )


def _carrying(project: Project, kind: RoomKind) -> str:
    """Return the least-cost mixers or breakouts that carry all of a room's sound; empty where none do.

    What stands in the room now is no remedy.
    """
    access_points = kind.sizing.size("access_point")
    needs = needs_of(project, kind.layout, access_points.models if access_points else ())
    usual = "mixer" if kind.layout.output == "mixer" else "breakout"
    for noun in (usual, *(one for one in ("mixer", "breakout") if one != usual)):
        size = mixing_size(project, noun, needs, None)
        there = kind.sizing.size(noun)
        same = there is not None and sorted(there.models) == sorted(size.models)
        if size.models and not size.lacking and not same:
            return _counted(size.models) + ("" if noun == usual else f" (`output: {noun}`)")
    return ""


def muting(project: Project, kind: RoomKind) -> str:
    """Return what lets the groups of a room be muted, as a sentence: the mixers that it would get.

    They are named only where each of their models mutes by group.
    """
    access_points = kind.sizing.size("access_point")
    needs = needs_of(project, kind.layout, access_points.models if access_points else ())
    size = mixing_size(project, "mixer", needs, None)
    entries = [project.library.mixers[model] for model in size.models]
    named = (
        entries
        and not size.lacking
        and all(
            BY_GROUP in one.control_points and "set" in one.control_points[BY_GROUP].access for one in entries
        )
    )
    mixers = _counted(size.models) if named else "a mixer"
    which = "which has" if named else "whose entry has"
    return (
        f"Write output: mixer, with {mixers}, {which} a control point `mute`, or leave muting to the switch "
        "of each microphone and write one mute_group."
    )


def one_for_all(project: Project, kinds: Sequence[RoomKind]) -> str:
    """Return how all rooms get one system, as sentences: those that serve each of them are named.

    kinds: the kinds of room that have microphones.
    """
    fitting = [
        system
        for system in project.library.systems
        if all(not _with_system(project, kind, system).unmet for kind in kinds)
    ]
    if not fitting:
        return "No system of the library serves all of them: write the system of each room, if that is meant."
    write = f"Write rules.microphones.system: {fitting[0]}"
    others = f" (or {' or '.join(fitting[1:])})" if fitting[1:] else ""
    return f"{write}{others}, which serves every room; or write the system of each room, if that is meant."


def _with_system(project: Project, kind: RoomKind, system: str) -> Sizing:
    layout = kind.layout.model_copy(update={"system": system})
    return size_room(project, layout, unwritten(FixedRoom))


def of_one_system(project: Project, kind: RoomKind, foreign: Sequence[tuple[str, str]]) -> str:
    """Return what to have instead of devices of other systems than the room's, with numbers, as sentences.

    foreign: code and model of each device, or of an accessory `MODEL at CODE`.
    """
    system = kind.sizing.system
    chosen = _with_system(project, kind, system)
    words = list(_instead(project, kind.sizing, chosen, foreign))
    if not words:
        return "Choose microphones, accessories, access points and chargers of one system."
    return f"Have all of the system {system}: {'; '.join(words)}; and none of another system."


def _instead(
    project: Project, now: Sizing, chosen: Sizing, foreign: Iterable[tuple[str, str]]
) -> Iterator[str]:
    """Yield what takes the place of each sort of foreign device, `1 × M at M1 instead of N`."""
    codes = dict(foreign)
    spares = chosen.spares_by_code
    for code in sorted(codes, key=natural):
        model = chosen.microphones.get(code) or spares.get(code)
        if model:
            yield f"1 × {model} at {code} instead of {codes[code]}"
    for size in now.sizes:
        wrong = [code for code in size.by_code if code in codes]
        fresh = chosen.size(size.kind)
        if wrong and fresh is not None and fresh.models:
            noun = "access points" if size.kind == "access_point" else f"{size.kind}s"
            yield f"{_counted(fresh.models)} as the {noun} instead of {_counted(size.models)}"
    for name, model in sorted(codes.items()):
        if " at " in name:
            yield _accessory(project, chosen.system, name, model)


def fitting_microphones(project: Project, kind: RoomKind, path: Sequence[str]) -> str:
    """Return which microphones of other systems suit a position that its own has none for; empty without any.

    path: of the position in the layout.
    """
    position = kind.layout.microphones.get(path[1]) if path[0] == "microphones" and len(path) > 1 else None
    if position is None:
        return ""
    fitting = [
        f"{model} ({entry.works_with})"
        for model, entry in sorted(project.library.of_kind("microphone").items())
        if isinstance(entry, Microphone)
        and (entry.form, entry.pattern) == (position.form, position.pattern)
        and (entry.hears_return or not position.return_audio)
        and works_here(project, entry)
        and position.mounting in (None, *entry.mounting)
    ]
    if not fitting:
        return ""
    return f"Take another system: {', '.join(fitting)} would suit; or add an entry to the library."


def _accessory(project: Project, system: str, name: str, model: str) -> str:
    """Return what goes with a microphone instead of an accessory of another system."""
    old = project.library.accessories[model]
    fitting = [
        (unit_cost(project, one), natural(code), code)
        for code, one in project.library.accessories.items()
        if one.works_with == system and one.role == old.role and not set(old.forms).isdisjoint(one.forms)
    ]
    where = name.partition(" at ")[2]
    if not fitting:
        return f"no {old.role} at {where}, as the library has none of that system"
    return f"1 × {min(fitting)[2]} at {where} instead of {model}"


def is_foreign(project: Project, system: str, model: str) -> bool:
    """Say whether a model works in another system only."""
    entry = project.library.entry(model)
    return isinstance(entry, SystemDevice) and entry.works_with != system


def _counted(models: Iterable[str]) -> str:
    return listed([f"{count} × {model}" for model, count in sorted(Counter(models).items())])
