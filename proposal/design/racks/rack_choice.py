"""Which racks an equipment room has, and what stands in each."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations_with_replacement

from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.numbers.numbering import device_code, device_tag, natural
from proposal.design.owner.owner_devices import OwnerDevice
from proposal.design.power.port_power import PoweredPort
from proposal.design.racks.cord_ways import with_mains_cords
from proposal.design.racks.panels import Panels
from proposal.design.racks.power_strips import Strips
from proposal.design.racks.rack_items import (
    Block,
    Item,
    blocks_of,
    device_items,
    owner_items,
    panel_items,
    parts_of,
)
from proposal.design.racks.rack_layout import Layout, laid_out, usable_units
from proposal.design.racks.shelves import goes_on_a_shelf, shelf_blocks
from proposal.design.racks.standby_choice import standby_asked
from proposal.design.rooms.device_positions import first_rack
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Rack, RackPart
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

MOST_ADDED = 20
"""Racks that are added to those of an equipment room at most."""
MOST_SETS = 500
"""Sets of rack models that are tried."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RackDesign:
    """One rack.

    device: itself; entry: its model, None where the library has none.
    by_hand: whether its model was chosen by hand.
    layout: what stands where.
    closing: parts that close its front, by model: blank panels, and vented ones over gaps for air.
    earthing: its earthing kit, None where the library has none.
    """

    device: Placed
    entry: Rack | None
    by_hand: bool
    layout: Layout
    closing: tuple[tuple[RackPart, tuple[int, ...]], ...]
    earthing: RackPart | None

    @property
    def heat_w(self) -> float:
        """Heat of all that stands in it, typically."""
        return sum(item.heat_w for item in self.layout.items)

    @property
    def apparent_va(self) -> float:
        """The most that all of it takes from the mains together."""
        return sum(item.apparent_va for item in self.layout.items)

    @property
    def weight_kg(self) -> float:
        """Weight of all that stands in it, without its own."""
        return sum(item.weight_kg for item in self.layout.items) + sum(
            part.weight * len(units) for part, units in self.closing
        )


def rack_designs(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    panels: Sequence[Panels],
    ports: Sequence[PoweredPort],
    owners: Sequence[OwnerDevice],
) -> tuple[RackDesign, ...]:
    """Return every rack with what stands in it, in order of tags.

    devices: of the whole building, racks as the building names them; entries: of each.
    panels: patch panels of the racks; ports: of all switches.
    owners: the owner's equipment, of which nobody says how heavy or deep it is.
    Racks are as many as the building names; more are added only where none of the library's suffice and none
    of them was chosen by hand. Of all sets of models in which everything fits with its units to spare, the
    one with the least cost is taken, then the one whose racks weigh least, then the first in order of codes.
    Switches and panels stand in the first rack, where the cables end.
    """
    located: dict[str, list[Placed]] = {}
    for device in devices:
        located.setdefault(device.location, []).append(device)
    of_racks = [device for device in devices if device.kind == "rack"]
    found: list[RackDesign] = []
    for room in sorted(project.building.equipment_rooms, key=natural):
        racks = [device for device in of_racks if device.room == room]
        racks.sort(key=lambda device: natural(device.tag))
        ending = first_rack(project, room)
        items = [
            *device_items(project, ending, located.get(ending, ()), entries, ports),
            *owner_items([rack.tag for rack in racks], owners),
        ]
        on_shelves = [item for item in items if goes_on_a_shelf(item)]
        others = [item for item in items if not goes_on_a_shelf(item)]
        patched, rest = blocks_of(project, others, *panel_items(project, ending, panels))
        # Shelves stand where the cables end.
        patched += shelf_blocks(project, on_shelves)
        patched.sort(key=lambda block: block.order)
        found += _racks_of_room(project, racks, patched, rest)
    return tuple(found)


def _racks_of_room(
    project: Project, racks: Sequence[Placed], patched: Sequence[Block], rest: Sequence[Block]
) -> list[RackDesign]:
    """Return the racks of one equipment room.

    patched: switches and panels; rest: all else; each in the order of stacking.
    """
    by_hand = [bool(_by_hand(project, rack)) for rack in racks]
    units = sum(block.length for block in (*patched, *rest))
    for added in range(MOST_ADDED + 1):
        here = [*racks, *_added(racks, added)]
        for models in _model_sets(project, here, units):
            shared = _shared(project, here, models, patched, rest)
            if shared is not None:
                return [
                    _designed(project, rack, model, one, fixed)
                    for rack, model, one, fixed in zip(
                        here, models, shared, [*by_hand, *[False] * added], strict=True
                    )
                ]
        if any(by_hand):
            break
    # Nothing holds it all: the largest racks, or those chosen by hand, with what finds a place in them.
    return [
        _designed(
            project,
            rack,
            _by_hand(project, rack) or _largest(project, rack),
            [*patched, *rest] if rack is racks[0] else [],
            fixed,
        )
        for rack, fixed in zip(racks, by_hand, strict=True)
    ]


def _by_hand(project: Project, rack: Placed) -> Rack | None:
    return project.library.racks.get(rack.model) if rack.model else None


def _fitting(project: Project, rack: Placed) -> list[Rack]:
    """Return the models that a rack may be, those that cost least first."""
    if fixed := _by_hand(project, rack):
        return [fixed]
    named = project.building.equipment_rooms[rack.room].racks.get(rack.code)
    style = named.style if named else "any"
    models = [one for one in project.library.racks.values() if style in ("any", one.style)]
    return sorted(models, key=lambda one: (cost_of_one(project, one), one.weight, one.model))


def _largest(project: Project, rack: Placed) -> Rack | None:
    models = _fitting(project, rack) or list(project.library.racks.values())
    return max(models, key=lambda one: (one.units, one.load, one.model), default=None)


def _added(racks: Sequence[Placed], count: int) -> list[Placed]:
    """Return racks beside those that the building names, with the next codes."""
    codes = {rack.code for rack in racks}
    free = (code for n in range(1, 1000) if (code := device_code("rack", n)) not in codes)
    first = racks[0]
    found = []
    for _ in range(count):
        code = next(free)
        tag = device_tag(first.room, code)
        found.append(replace(first, code=code, tag=tag, location=tag, model=""))
    return found


def _model_sets(project: Project, racks: Sequence[Placed], units: int) -> list[tuple[Rack, ...]]:
    """Return the sets of models to try, those that cost least first; racks of free choice are alike.

    units: that all of them together have to give.
    """
    choices = [_fitting(project, rack) for rack in racks]
    if not all(choices):
        return []
    first, *others = choices
    alike = others and all(one == others[0] for one in others)
    tails = (
        list(combinations_with_replacement(others[0], len(others)))
        if alike
        else [tuple(one[0] for one in others)]
    )
    usable = {one.model: usable_units(project, one) for each in choices for one in each}
    sets = [(head, *tail) for head in first for tail in tails]
    sets = [models for models in sets if sum(usable[one.model] for one in models) >= units]
    cost = {one.model: cost_of_one(project, one) for each in choices for one in each}
    sets.sort(
        key=lambda models: (
            sum(cost[one.model] for one in models),
            sum(one.weight for one in models),
            [one.model for one in models],
        )
    )
    return sets[:MOST_SETS]


def _shared(
    project: Project,
    racks: Sequence[Placed],
    models: Sequence[Rack],
    patched: Sequence[Block],
    rest: Sequence[Block],
) -> list[list[Block]] | None:
    """Return what stands in each rack, in the order of stacking; None where it does not all fit.

    What is fixed to a rack by hand stands there; of the rest, what needs most units is given a rack first,
    the first in which it fits.
    """
    shares: list[list[Block]] = [list(patched), *([] for _ in racks[1:])]
    if not _fits(project, racks[0], models[0], shares[0]):
        return None
    place_of = {rack.tag: n for n, rack in enumerate(racks)}
    for block in sorted(rest, key=lambda one: (not _wished(one), -one.length, one.order)):
        wished = _wished(block)
        asked = [place_of[tag] for tag in wished if tag in place_of] or list(range(len(racks)))
        for n in asked:
            if _fits(project, racks[n], models[n], [*shares[n], block]):
                shares[n].append(block)
                break
        else:
            return None
    return [sorted(share, key=lambda block: block.order) for share in shares]


def _wished(block: Block) -> set[str]:
    """Return the racks that things were put into by hand."""
    return {item.rack for item in block.items} - {""}


def _fits(project: Project, rack: Placed, model: Rack, blocks: Sequence[Block]) -> bool:
    """Return whether things fit a rack: units with their spare share, depth, weight, rails, air, outlets."""
    items = [item for block in blocks for item in block.items]
    usable = usable_units(project, model)
    if sum(block.length for block in blocks) > usable:
        return False
    if any(not holds(project, model, item) for item in items):
        return False
    asked = standby_asked(project, rack.room, rack.code)
    layout = laid_out(project, model, sorted(blocks, key=lambda block: block.order), asked)
    standby = layout.standby.items if layout.standby else ()
    return (
        not layout.left
        and all(holds(project, model, item) for item in standby)
        and layout.used <= usable
        and sum(item.weight_kg for item in layout.items) <= model.load
        and layout.air_m3_h >= layout.air_wanted_m3_h
    )


def holds(project: Project, rack: Rack, item: Item) -> bool:
    """Return whether a rack is deep enough for a thing and has the rails that its weight wants."""
    heavy = item.weight_kg >= project.brief.rules.racks.rear_rails_from
    return item.depth_m <= rack.usable_depth and (not heavy or rack.rails == "front and rear")


def _designed(
    project: Project, rack: Placed, model: Rack | None, blocks: Sequence[Block], by_hand: bool
) -> RackDesign:
    """Return one rack laid out, its front closed."""
    if model is None:
        layout = Layout(
            slots=(),
            left=tuple(item for block in blocks for item in block.items),
            overlaps=(),
            used=0,
            units_left=sum(block.length for block in blocks),
            strips=Strips(),
            air_wanted_m3_h=0.0,
            air_m3_h=0.0,
        )
        return RackDesign(device=rack, entry=None, by_hand=by_hand, layout=layout, closing=(), earthing=None)
    layout = laid_out(project, model, blocks, standby_asked(project, rack.room, rack.code))
    layout = with_mains_cords(project, model, layout)
    return RackDesign(
        device=replace(rack, model=model.model),
        entry=model,
        by_hand=by_hand,
        layout=layout,
        closing=_closing(project, model, layout),
        earthing=next(iter(parts_of(project, "earthing kit")), None),
    )


def _closing(project: Project, model: Rack, layout: Layout) -> tuple[tuple[RackPart, tuple[int, ...]], ...]:
    """Return the panels of one unit that close the front, with their units: vented ones over gaps for air."""
    front = [slot for slot in layout.slots if slot.face == "front"]
    taken = {unit for slot in front for unit in range(slot.unit, slot.unit + slot.item.units)}
    gaps = {
        unit
        for slot in front
        for unit in range(slot.unit + slot.item.units, slot.unit + slot.item.units + slot.item.gap)
    } - taken
    found = []
    empty = sorted(set(range(1, model.units + 1)) - taken)
    for role, units in (
        ("vent panel", tuple(unit for unit in empty if unit in gaps)),
        ("blank panel", tuple(unit for unit in empty if unit not in gaps)),
    ):
        part = next((one for one in parts_of(project, role) if one.rack_units == 1), None)
        if part and units:
            found.append((part, units))
    return tuple(found)
