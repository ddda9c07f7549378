"""Where everything stands in one rack."""

import math
from collections.abc import Mapping, Sequence

from proposal.design.numbers.numbering import natural
from proposal.design.racks.power_strips import Plugged, Strips, strips_for
from proposal.design.racks.rack_items import Block, Item, height_of, part_item, parts_of
from proposal.design.racks.standby_choice import StandbyAsked, StandbyDesign, fed_by_standby, standby_for
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Rack, RackPart
from proposal.model.project import Project
from proposal.standards.cooling import airflow_m3_h

MOST_FANS = 4
"""More fan panels than these are no answer to the heat of a rack."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One thing where it stands in a rack.

    unit: lowest unit it takes, counted from below, from 1.
    face: front, or rear for what hangs on the rails behind.
    side: left or right, empty where it takes the whole width.
    """

    item: Item
    unit: int
    face: str = "front"
    side: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One rack with what stands in it.

    slots: from below upwards, the front first.
    left: what found no place.
    overlaps: what was to stand by hand where something else stands, or outside the rack.
    used, units_left: units taken, and those that would be taken by what found no place, with gaps for air.
    strips: with what is plugged into them; standby: the standby supply, with what is plugged into it.
    air_wanted_m3_h, air_m3_h: for its heat, and what moves; none is wanted of a rack that cools by itself.
    """

    slots: tuple[Slot, ...]
    left: tuple[Item, ...]
    overlaps: tuple[tuple[Item, str], ...]
    used: int
    units_left: int
    strips: Strips
    air_wanted_m3_h: float
    air_m3_h: float
    standby: StandbyDesign | None = None

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything that stands in it."""
        return tuple(slot.item for slot in self.slots)

    @property
    def shelved(self) -> Mapping[str, str]:
        """The shelf on which each thing stands that stands on one, by name."""
        shelves = {slot.unit: slot.item.name for slot in self.slots if slot.item.kind == "shelf"}
        return {
            slot.item.name: shelves[slot.unit]
            for slot in self.slots
            if slot.unit in shelves and slot.face == "front" and not slot.item.units
        }

    @property
    def inlets(self) -> Mapping[str, str]:
        """The sort of mains inlet of everything that is to stand in it, by name."""
        return {
            item.name: item.inlet for item in (*self.items, *self.left, *(item for item, _ in self.overlaps))
        }

    @property
    def outlet_forms(self) -> Mapping[str, str]:
        """The sort of outlets of each power strip and of the standby supply, by name."""
        forms = {
            item.name: item.entry.outlet_form
            for item in self.strips.items
            if isinstance(item.entry, RackPart)
        }
        if self.standby and self.standby.entry:
            forms[self.standby.asked.tag] = self.standby.entry.outlet_form
        return forms

    @property
    def plugged(self) -> tuple[Plugged, ...]:
        """Which outlet feeds which inlet."""
        return (*self.strips.plugged, *(self.standby.plugged if self.standby else ()))


def usable_units(project: Project, rack: Rack) -> int:
    """Return the units of a rack that may be used, its spare share left free."""
    return math.floor(rack.units * (1 - project.brief.rules.racks.spare_units) + 1e-9)


def laid_out(
    project: Project, rack: Rack, blocks: Sequence[Block], asked: StandbyAsked | None = None
) -> Layout:
    """Return where everything stands: what is fixed by hand first, then from below, most weight a unit first.

    blocks: what stands in it, in the order of stacking.  asked: of a standby supply in it.
    Power strips hang on the rear rails where there are such, else in front. Fan panels are added at the top
    until the air suffices. What the standby supply feeds is plugged into no strip.
    """
    standby, fans = _standby_and_fans(project, rack, blocks, asked)
    if standby and standby.items:
        blocks = _stacked(blocks, Block(tuple((item,) for item in standby.items)))
    items = [item for block in blocks for item in block.items]
    fed = {id(item) for item in standby.fed} if standby else set()
    strips = strips_for(project, [item for item in (*items, *fans) if id(item) not in fed])
    slots: list[Slot] = []
    taken: set[int] = set()
    overlaps: list[tuple[Item, str]] = []
    for item in sorted(items, key=lambda one: natural(one.name)):
        if item.wished is None:
            continue
        units = set(range(item.wished, item.wished + item.units))
        others = [slot.item.name for slot in slots if units & set(_units(slot))]
        if others or max(units) > rack.units:
            overlaps.append((item, others[0] if others else ""))
            continue
        slots.append(Slot(item=item, unit=item.wished))
        taken |= units | set(range(max(units) + 1, min(max(units) + item.gap, rack.units) + 1))
    rear, front_strips = _rear_strips(rack, strips.items)
    free_blocks = [Block(levels) for block in blocks if (levels := _not_by_hand(block))]
    left: list[Item] = []
    units_left = 0
    for block in [*free_blocks, *(Block(((one,),)) for one in (*front_strips, *fans))]:
        start = _lowest(taken, block.length, rack.units)
        if start is None:
            left += block.items
            units_left += block.length
            continue
        for level in block.levels:
            # On a shelf several stand side by side, at its unit.
            sides = ("left", "right") if level[0].half else ("",) * len(level)
            slots += [
                Slot(item=item, unit=start, side=side) for item, side in zip(level, sides, strict=False)
            ]
            taken |= set(range(start, start + height_of(level)))
            start += height_of(level)
    behind = tuple(Slot(item=one, unit=unit, face="rear") for one, unit in rear)
    return Layout(
        slots=(*sorted(slots, key=lambda slot: (slot.unit, slot.side)), *behind),
        left=tuple(left),
        overlaps=tuple(overlaps),
        used=len(taken),
        units_left=units_left,
        strips=strips,
        air_wanted_m3_h=_air_wanted(project, items),
        air_m3_h=rack.fan_airflow_m3_h + sum(_airflow(fan) for fan in fans),
        standby=standby,
    )


def _standby_and_fans(
    project: Project, rack: Rack, blocks: Sequence[Block], asked: StandbyAsked | None
) -> tuple[StandbyDesign | None, list[Item]]:
    """Return the standby supply of a rack, and the fans that carry away its heat too, which it may feed."""
    items = [item for block in blocks for item in block.items]
    fans = _fans(project, rack, items)
    if asked is None or not (asked.named or fed_by_standby(asked, items)):
        return None, fans
    standby = standby_for(project, asked, [*items, *fans])
    for _ in range(MOST_FANS):
        more = _fans(project, rack, [*items, *standby.items])
        if len(more) == len(fans):
            break
        fans = more
        standby = standby_for(project, asked, [*items, *fans])
    return standby, fans


def _stacked(blocks: Sequence[Block], added: Block) -> list[Block]:
    """Return blocks in the order of stacking with one more."""
    place = next((n for n, block in enumerate(blocks) if block.order > added.order), len(blocks))
    return [*blocks[:place], added, *blocks[place:]]


def _not_by_hand(block: Block) -> tuple[tuple[Item, ...], ...]:
    """Return the levels of a block without what stands somewhere by hand."""
    levels = (tuple(item for item in level if item.wished is None) for level in block.levels)
    return tuple(level for level in levels if level)


def _units(slot: Slot) -> range:
    return range(slot.unit, slot.unit + slot.item.units)


def _lowest(taken: set[int], length: int, units: int) -> int | None:
    """Return the lowest unit from which so many are free, None where there is none."""
    for start in range(1, units - length + 2):
        if not taken & set(range(start, start + length)):
            return start
    return None


def _rear_strips(rack: Rack, strips: Sequence[Item]) -> tuple[list[tuple[Item, int]], list[Item]]:
    """Return the strips on the rear rails, from below, each with its unit, and those that stand in front.

    What stands in front keeps clear of the rear rails, since the usable depth is that in front of them.
    """
    if rack.rails == "front":
        return [], list(strips)
    behind, front = [], []
    unit = 1
    for strip in strips:
        if unit + strip.units - 1 <= rack.units:
            behind.append((strip, unit))
            unit += strip.units
        else:
            front.append(strip)
    return behind, front


def _air_wanted(project: Project, items: Sequence[Item]) -> float:
    """Return the air that carries the heat of a rack away, m³/h; 0 where still air suffices."""
    rules = project.brief.rules.racks
    heat_w = sum(item.heat_w for item in items)
    return airflow_m3_h(heat_w, rules.air_rise) if heat_w > rules.still_air else 0.0


def _fans(project: Project, rack: Rack, items: Sequence[Item]) -> list[Item]:
    """Return the fan panels that bring the air of a rack to what its heat wants."""
    wanted = _air_wanted(project, items) - rack.fan_airflow_m3_h
    panels = [part for part in parts_of(project, "fan panel") if part.airflow_m3_h > 0]
    if wanted <= 0 or not panels:
        return []
    count = min(math.ceil(wanted / panels[0].airflow_m3_h - 1e-9), MOST_FANS)
    return [part_item(panels[0], f"FN{number}") for number in range(1, count + 1)]


def _airflow(item: Item) -> float:
    airflow = getattr(item.entry, "airflow_m3_h", 0.0)
    return float(airflow)
