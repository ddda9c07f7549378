"""What the numbers of a project follow from: all that is written but its words.

Words are names, notes and sentences that are printed as they stand. Another word leaves every length, count
and price as it is, and so do the places in the files where values stand.
"""

from collections.abc import Iterable

from proposal.model.folder import FolderParts
from proposal.model.reading.tree import Mapping, Node, Text

_ANY = "*"
_WORDS: tuple[tuple[str, ...], ...] = (
    ("building", "equipment_rooms", _ANY, "name"),
    ("building", "pathways", _ANY, "name"),
    ("building", "shafts", _ANY, "name"),
    ("building", "storeys", _ANY, "name"),
    ("project", "client", "contact"),
    ("project", "client", "name"),
    ("project", "integrator", "contact"),
    ("project", "integrator", "name"),
    ("project", "internal_note"),
    ("project", "name"),
    ("project", "revision", "changes"),
    ("project", "revision", "checked_by"),
    ("project", "revision", "prepared_by"),
    ("project", "revision", "purpose"),
    ("project", "site"),
    ("room_types", _ANY, "furniture", _ANY, "name"),
    ("room_types", _ANY, "internal_note"),
    ("room_types", _ANY, "name"),
    ("room_types", _ANY, "seats", _ANY, "name"),
    ("room_types", _ANY, "use"),
    ("rooms", _ANY, "internal_note"),
    ("rooms", _ANY, "name"),
)
"""Where words stand in the tree of a project; `*` is any key."""
_OF_A_ROOM = tuple(path[2:] for path in _WORDS if path[0] == "room_types")
"""Where words stand in what a room changes of its type."""
_OF_AN_ALTERNATE = (("description",), ("internal_note",), ("name",))


def numbers_alone(parts: FolderParts) -> list[object]:
    """Return what the files of a project say, as plain lists and texts, without words and places.

    What lies beside the tree, prose and pictures, is told by name alone.
    """
    return [
        _told(parts.tree, _WORDS),
        [
            [tag, None if tree is None else _told(tree, _OF_A_ROOM)]
            for tag, (_, tree) in sorted(parts.room_changes.items())
        ],
        [[key, _told(tree, _OF_AN_ALTERNATE)] for key, tree in sorted(parts.alternates.items())],
        sorted(parts.wording),
        sorted(parts.images),
    ]


def _told(node: Node, words: Iterable[tuple[str, ...]]) -> object:
    """Return a node without its words.

    words: where they stand below it.
    """
    if isinstance(node, Text):
        is_word = () in words and not (node.is_null or node.is_unknown or not node.value.strip())
        return "word" if is_word else ["text", node.value, node.plain]
    if isinstance(node, Mapping):
        return [
            "mapping",
            [[key, _told(inner, _below(key, words))] for key, (_, inner) in node.entries.items()],
            sorted(node.absent),
        ]
    return ["list", [_told(item, ()) for item in node.items]]


def _below(key: str, words: Iterable[tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    return tuple(path[1:] for path in words if path and path[0] in (key, _ANY))
