"""What files say before it is checked: a tree in which every part knows the place it was written.

Scalars stay text, so that no reader of YAML changes `NO`, `1:30` or `007` on the way.
"""

from collections.abc import Iterator
from collections.abc import Mapping as AnyMapping
from collections.abc import Sequence as AnySequence
from dataclasses import field, replace
from typing import Any, NamedTuple

from proposal.errors import Place
from proposal.field_classes import dataclass


class Text(NamedTuple):
    """A scalar; there are so many that they are tuples, which are made quicker.

    value: the text as written, without quotes.
    place: where it begins.
    plain: whether it was written without quotes, so that `null` may mean nothing.
    """

    value: str
    place: Place
    plain: bool = False

    @property
    def is_null(self) -> bool:
        """Say whether it stands for nothing in a merge patch."""
        return self.plain and self.value in ("null", "~")

    @property
    def is_unknown(self) -> bool:
        """Say whether its author does not know the value yet."""
        return self.plain and self.value == "unknown"


@dataclass(frozen=True, slots=True)
class Mapping:
    """Names with what they name.

    entries: key → (place of the key, what it names), in the order of the file.
    place: where it begins.
    absent: places of keys that are not here for a reason that can be shown: an empty cell, a removal.
    """

    entries: AnyMapping[str, tuple[Place, "Node"]]
    place: Place
    absent: AnyMapping[str, Place] = field(default_factory=dict)

    def get(self, key: str) -> "Node | None":
        """Return what a key names, or None."""
        entry = self.entries.get(key)
        return entry[1] if entry else None


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list.

    items: in order.
    place: where it begins.
    """

    items: tuple["Node", ...]
    place: Place


Node = Text | Mapping | Sequence
Path = tuple[str | int, ...]


def plain(node: Node) -> Any:
    """Return a tree as dict, list and str, for pydantic."""
    if isinstance(node, Mapping):
        return {key: plain(inner) for key, (_, inner) in node.entries.items()}
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    return node.value


def step(node: Node, key: str | int) -> Node | None:
    """Return what stands under one key or index of a node, or None."""
    if isinstance(node, Mapping):
        return node.get(str(key))
    if isinstance(node, Sequence) and isinstance(key, int) and 0 <= key < len(node.items):
        return node.items[key]
    return None


def node_at(node: Node, path: AnySequence[str | int]) -> Node | None:
    """Return what stands at a path, or None."""
    found: Node | None = node
    for key in path:
        found = step(found, key) if found is not None else None
    return found


def place_of(node: Node, path: AnySequence[str | int], *, key: bool = False) -> Place:
    """Return the place of the deepest part of a path that exists.

    path: keys and indices, such as pydantic's location of an error; parts that name nothing end the search.
    key: whether the place of the last key is meant and not of what it names.
    """
    place = node.place
    for part in path:
        if isinstance(node, Mapping):
            if str(part) in node.absent and str(part) not in node.entries:
                return node.absent[str(part)]
            entry = node.entries.get(str(part))
            if entry is None:
                return place
            key_place, node = entry
            place = key_place if key and part is path[-1] else node.place
        else:
            inner = step(node, part)
            if inner is None:
                return place
            node, place = inner, inner.place
    return place


def places(node: Node, path: Path = ()) -> Iterator[tuple[Path, Place]]:
    """Yield every path of a tree with its place: a mapping's entry at its key, all else where it begins."""
    if isinstance(node, Mapping):
        for key, (place, inner) in node.entries.items():
            yield (*path, key), place if isinstance(inner, Mapping | Sequence) else inner.place
            yield from places(inner, (*path, key))
    elif isinstance(node, Sequence):
        for index, item in enumerate(node.items):
            yield (*path, index), item.place
            yield from places(item, (*path, index))


def merge(base: Node, patch: Node) -> Node:
    """Return a tree with a merge patch (RFC 7396) applied, every part keeping the place it was written.

    A plain `null` in the patch removes what the base has under that key.
    """
    if not isinstance(patch, Mapping):
        return patch
    under = base if isinstance(base, Mapping) else Mapping({}, patch.place)
    entries = dict(under.entries)
    absent = dict(under.absent)
    for key, (place, change) in patch.entries.items():
        if isinstance(change, Text) and change.is_null:
            entries.pop(key, None)
            absent[key] = place
        else:
            before = entries.get(key)
            # A patch of a patch: what is new may itself hold removals, which then remove nothing.
            entries[key] = (place, merge(before[1] if before else Mapping({}, place), change))
    return replace(under, entries=entries, absent=absent)
