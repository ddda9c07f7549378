"""What has to stand in the racks of an equipment room: devices, patch panels, cable managers."""

from collections.abc import Mapping, Sequence
from itertools import zip_longest

from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.numbers.numbering import device_code, natural
from proposal.design.owner.owner_devices import OWNER_EQUIPMENT, OwnerDevice
from proposal.design.power.port_power import PoweredPort
from proposal.design.power.typical_power import typical_draw_w, typical_power_w
from proposal.design.racks.panels import Panels
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import NetworkPart, RackPart, Switch
from proposal.model.equipment.entry import Device, Entry
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing that takes units of a rack.

    name: tag of a device, else the code of a panel, manager or strip in its rack, such as PP1.
    kind, entry: of the library.
    units, gap: units it takes, and units left free above it for air.
    depth_m: None where no maker says.
    heat_w: what stays in the rack of what it takes, typically; apparent_va: the most it takes from the mains.
    typical_w, most_w: what it takes from its outlet, with what it feeds onward: typically, and at most.
    inlets, inlet: its mains inlets, and their sort.
    half: whether another goes beside it.
    wished: unit fixed by hand, the lowest it takes.
    rack: tag of the rack it was put into by hand, empty where any will do.
    """

    name: str
    kind: str
    entry: Entry
    units: int
    gap: int = 0
    weight_kg: float = 0.0
    depth_m: float = 0.0
    heat_w: float = 0.0
    apparent_va: float = 0.0
    typical_w: float = 0.0
    most_w: float = 0.0
    inlets: int = 0
    inlet: str = ""
    half: bool = False
    wished: int | None = None
    rack: str = ""


Levels = tuple[tuple[Item, ...], ...]


@dataclass(frozen=True, slots=True)
class Block:
    """Things that belong together, from below upwards, on each level one or two side by side."""

    levels: Levels

    @property
    def length(self) -> int:
        """Units that it takes, gaps included."""
        return sum(height_of(level) for level in self.levels)

    @property
    def weight_kg(self) -> float:
        """Weight of all that is in it."""
        return sum(item.weight_kg for item in self.items)

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything in it, from below upwards."""
        return tuple(item for level in self.levels for item in level)

    @property
    def order(self) -> tuple[float, tuple[tuple[int, int | str], ...]]:
        """What puts it below others: most weight a unit first, then the order of tags.

        Of all orders of stacking this one has the least sum of weight times height (Smith's rule).
        """
        return -self.weight_kg / max(self.length, 1), natural(self.levels[0][0].name)


def height_of(level: Sequence[Item]) -> int:
    """Return the units that a level takes, with the gap above it."""
    return max(item.units for item in level) + max(item.gap for item in level)


def device_items(
    project: Project,
    rack: str,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    ports: Sequence[PoweredPort],
) -> list[Item]:
    """Return the devices that stand in the racks of an equipment room, in order of tags.

    rack: tag of the rack where its cables end, at which everything in its racks is located.
    devices: those located there, or more; entries: of each; ports: of all switches.
    """
    drawn: dict[str, float] = {}
    given: dict[str, float] = {}
    for port in ports:
        if port.attached.poe_class is not None:
            drawn[port.attached.tag] = drawn.get(port.attached.tag, 0.0) + port.drawn_w
            given[port.source] = given.get(port.source, 0.0) + port.drawn_w
    found = []
    for device in devices:
        entry = entries.get(device.tag)
        if device.location != rack or device.kind in ("rack", OWNER_EQUIPMENT) or entry is None:
            continue
        mains = None if device.tag in drawn else entry.mains
        heat_w = typical_power_w(entry) if mains else drawn.get(device.tag, 0.0)
        if isinstance(entry, Switch) and entry.poe_efficiency:
            heat_w += given.get(device.tag, 0.0) * (1 / entry.poe_efficiency - 1)
        elif isinstance(entry, NetworkPart) and mains:
            heat_w += given.get(device.tag, 0.0) * (1 / mains.efficiency - 1)
        fixed = project.fixed.devices.get(device.tag)
        found.append(
            Item(
                name=device.tag,
                kind=device.kind,
                entry=entry,
                units=entry.rack_units,
                gap=entry.rack_gap_above,
                weight_kg=entry.weight,
                depth_m=entry.depth,
                heat_w=heat_w,
                apparent_va=mains.maximum / mains.power_factor if mains else 0.0,
                typical_w=typical_draw_w(entry, given.get(device.tag, 0.0)) if mains else 0.0,
                most_w=mains.maximum if mains else 0.0,
                inlets=mains.supplies if mains else 0,
                inlet=mains.inlet if mains else "",
                half=entry.half_width,
                wished=fixed.rack_unit if fixed and entry.rack_units else None,
                rack=fixed.rack if fixed else "",
            )
        )
    return sorted(found, key=lambda item: natural(item.name))


def owner_items(racks: Sequence[str], owners: Sequence[OwnerDevice]) -> list[Item]:
    """Return the owner's equipment that takes units of some racks.

    racks: their tags; owners: all of it.
    It brings its own mains cord, and nobody says how heavy or deep it is.
    """
    found = []
    for one in owners:
        written = one.written
        if one.device.location in racks and written.rack_units:
            fed = written.power > 0 and written.poe is None
            found.append(
                Item(
                    name=one.device.tag,
                    kind=one.device.kind,
                    entry=one.entry,
                    units=written.rack_units,
                    heat_w=written.power if written.heat is None else written.heat,
                    apparent_va=written.power if fed else 0.0,
                    typical_w=written.power if fed else 0.0,
                    most_w=written.power if fed else 0.0,
                    inlets=1 if fed else 0,
                    rack=one.device.location,
                )
            )
    return found


def panel_items(project: Project, rack: str, panels: Sequence[Panels]) -> tuple[list[Item], list[Item]]:
    """Return the copper panels of a rack with their managers beneath them, and its fibre panels.

    rack: its tag; panels: of all racks.
    """
    copper: list[Item] = []
    fibre: list[Item] = []
    for one in panels:
        if one.rack != rack:
            continue
        kind, into = ("patch_panel", copper) if one.entry.medium == "copper" else ("fibre_panel", fibre)
        for number in one.numbers:
            into.append(
                Item(
                    name=device_code(kind, number),
                    kind=kind,
                    entry=one.entry,
                    units=one.entry.rack_units,
                    weight_kg=one.entry.weight or 0.0,
                    depth_m=one.entry.depth,
                )
            )
    return copper, fibre


def part_item(part: RackPart, code: str) -> Item:
    """Return a part of the library as something in a rack.

    code: its code there, such as PS1.
    What a strip takes is counted with what is plugged into it.
    """
    mains = part.mains if part.role != "power strip" else None
    return Item(
        name=code,
        kind=part.role,
        entry=part,
        units=part.rack_units,
        gap=part.rack_gap_above,
        weight_kg=part.weight,
        depth_m=part.depth,
        heat_w=mains.typical if mains else 0.0,
        apparent_va=mains.maximum / mains.power_factor if mains else 0.0,
        typical_w=mains.typical if mains else 0.0,
        most_w=mains.maximum if mains else 0.0,
        inlets=mains.supplies if mains else 0,
        inlet=mains.inlet if mains else "",
    )


def parts_of(project: Project, role: str) -> tuple[RackPart, ...]:
    """Return the parts of the library with a role, those that cost least first."""
    fitting = [part for part in project.library.rack_parts.values() if part.role == role]
    return tuple(sorted(fitting, key=lambda part: (cost_of_one(project, part), part.model)))


def blocks_of(
    project: Project, devices: Sequence[Item], copper: Sequence[Item], fibre: Sequence[Item]
) -> tuple[list[Block], list[Block]]:
    """Return what has to be where the cables end, and all else, each in the order of stacking.

    devices: in order of tags; copper, fibre: panels.
    A switch stands under a panel, with the manager of that panel between; two devices of half the width that
    are alike share a level.
    """
    managers = parts_of(project, "cable manager")
    share = project.brief.rules.racks.panels_a_manager
    with_manager: list[Levels] = []
    for number, panel in enumerate(copper):
        level: Levels = ((panel,),)
        if managers and number % share == 0:
            manager = part_item(managers[0], f"CM{number // share + 1}")
            level = ((manager,), (panel,))
        with_manager.append(level)
    switches = [item for item in devices if item.kind == "switch"]
    others = [item for item in devices if item.kind != "switch"]
    patched = [
        Block((*(switch or ()), *(panel or ())))
        for switch, panel in zip_longest(_levels(switches), with_manager)
    ]
    patched += [Block(((panel,),)) for panel in fibre]
    rest = [Block(level) for level in _levels(others)]
    return sorted(patched, key=lambda block: block.order), sorted(rest, key=lambda block: block.order)


def _levels(items: Sequence[Item]) -> list[Levels]:
    """Return each device on a level of its own, two alike of half the width side by side."""
    found: list[Levels] = []
    waiting: dict[str, Item] = {}
    for item in items:
        beside = waiting.pop(item.entry.model, None) if item.half and item.wished is None else None
        if beside is not None:
            found.remove(((beside,),))
            found.append(((beside, item),))
            continue
        found.append(((item,),))
        if item.half and item.wished is None:
            waiting[item.entry.model] = item
    return found
