"""Shelves of a rack, and what stands on them: small things without units of their own."""

from collections.abc import Sequence

from proposal.design.racks.rack_items import Block, Item, part_item, parts_of
from proposal.model.equipment.devices import RackPart
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.standards.rack_units import OPENING_M, UNIT_M

NETWORK_PART = "network_part"
SHELF = "SH"
"""How the codes of shelves begin."""


def shelf_blocks(project: Project, items: Sequence[Item]) -> list[Block]:
    """Return shelves with what stands on each, from the left, in order of names.

    items: what takes no units of its own and may be mounted in a rack.
    Things stand side by side, one layer. The least-cost shelf that is deep and high enough for all of them is
    taken; without one in the library nothing has a place.
    """
    waiting = [item for item in items if _size(item) is not None]
    shelf = _shelf_for(project, waiting)
    if shelf is None:
        return [Block(((item,),)) for item in items]
    rows: list[list[Item]] = []
    left_m = 0.0
    for item in waiting:
        entry = _size(item)
        assert entry is not None
        if not rows or entry.width > left_m + 1e-9:
            rows.append([])
            left_m = OPENING_M
        rows[-1].append(item)
        left_m -= entry.width
    return [Block(((part_item(shelf, f"{SHELF}{n}"), *row),)) for n, row in enumerate(rows, 1)]


def goes_on_a_shelf(item: Item) -> bool:
    """Return whether a thing is a small part of the network without rack units, no wider than a shelf."""
    entry = _size(item)
    return entry is not None and entry.kind == NETWORK_PART and not item.units and entry.width <= OPENING_M


def _size(item: Item) -> Device | None:
    return item.entry if isinstance(item.entry, Device) else None


def _shelf_for(project: Project, items: Sequence[Item]) -> RackPart | None:
    """Return the least-cost shelf that holds the deepest and the highest of some things."""
    entries = [entry for item in items if (entry := _size(item))]
    if not entries:
        return None
    depth_m, height_m = max(one.depth for one in entries), max(one.height for one in entries)
    fitting = (
        one
        for one in parts_of(project, "shelf")
        if one.depth >= depth_m - 1e-9 and one.rack_units * UNIT_M >= height_m - 1e-9
    )
    return next(fitting, None)
