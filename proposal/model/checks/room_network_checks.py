"""Whether the network that a room type asks for can be had in its building."""

from collections.abc import Iterator

from proposal.model.project import Path
from proposal.model.reading.project_tree import Untyped, layouts, mapping_at, text_at
from proposal.quantities.messages import shown

_LEADING_OUT = ("rack", "isolated")


def wrong_room_networks(tree: Untyped) -> Iterator[tuple[Path, str]]:
    """Yield path and message of rooms to be joined to a building without equipment rooms.

    tree: the untyped project.
    """
    if mapping_at(tree, "building", "equipment_rooms"):
        return
    for above in layouts(tree):
        network = text_at(tree, *above, "network")
        if network in _LEADING_OUT:
            yield (
                (*above, "network"),
                f"wanted alone, or an equipment room in building.yaml; found {shown(network)}",
            )
