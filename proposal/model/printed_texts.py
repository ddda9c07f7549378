"""Texts that a document prints as they stand, each in one field, and that nothing else is told by.

They are what room types are used for, and internal notes of types, rooms and the project.
"""

from proposal.model.reading.tree import Mapping, Node, Text

_ANY = "*"
_PRINTED: tuple[tuple[str, ...], ...] = (
    ("project", "internal_note"),
    ("room_types", _ANY, "internal_note"),
    ("room_types", _ANY, "use"),
    ("rooms", _ANY, "internal_note"),
)
"""Where they stand in the tree of a project; `*` is any key."""


def without_printed_texts(tree: Mapping) -> Mapping:
    """Return the tree of a project with its printed texts left out, each in its place.

    Where one is missing, blank, unknown or null, that stays to be seen.
    """
    told = _without(tree, _PRINTED)
    assert isinstance(told, Mapping)
    return told


def _without(node: Node, printed: tuple[tuple[str, ...], ...]) -> Node:
    """Return a node without its printed texts.

    printed: where they stand below it.
    """
    if isinstance(node, Text):
        kept = () not in printed or node.is_null or node.is_unknown or not node.value.strip()
        return node if kept else node._replace(value="printed")
    if not isinstance(node, Mapping) or not printed:
        return node
    entries = {}
    for key, (place, inner) in node.entries.items():
        below = tuple(path[1:] for path in printed if path and path[0] in (key, _ANY))
        entries[key] = (place, _without(inner, below))
    return Mapping(entries, node.place, node.absent)
