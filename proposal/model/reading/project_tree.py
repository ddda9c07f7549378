"""Looking into an untyped project, of which nothing is certain yet."""

from collections.abc import Mapping
from typing import Any

Untyped = Mapping[str, Any]


def mapping_at(tree: Any, *path: str) -> Mapping[str, Any]:
    """Return the mapping at a path, empty where there is none.

    tree: what a file holds.
    path: keys from its root.
    """
    for key in path:
        tree = tree.get(key) if isinstance(tree, Mapping) else None
    return tree if isinstance(tree, Mapping) else {}


def text_at(tree: Any, *path: str) -> str:
    """Return the text at a path, empty where there is none.

    tree: what a file holds.
    path: keys from its root.
    """
    found = mapping_at(tree, *path[:-1]).get(path[-1])
    return found if isinstance(found, str) else ""


def layouts(tree: Untyped) -> list[tuple[str, ...]]:
    """Return the paths of all layouts: room types, and rooms that change theirs."""
    changed = [
        ("rooms", tag, "layout")
        for tag in mapping_at(tree, "rooms")
        if mapping_at(tree, "rooms", tag, "layout")
    ]
    return [*(("room_types", name) for name in mapping_at(tree, "room_types")), *changed]
