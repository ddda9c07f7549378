"""The untyped tree of a whole project: what its files say, changed by merge patches and by single rooms."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from typing import Any

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.folder import FolderParts
from proposal.model.pathways.building import Building
from proposal.model.project import Brief, Fixed
from proposal.model.reading.fields import wanted_at
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Node, Path, Text, merge, step
from proposal.model.requirements.requirements import Requirement
from proposal.model.rooms import Room, RoomType
from proposal.model.single_places import with_single_places
from proposal.quantities.messages import wanted_one_of

# First key of a path → the type of what stands under it.
CHANGEABLE: Mapping[str, Any] = {
    "project": Brief,
    "building": Building,
    "room_types": Mapping[str, RoomType],
    "rooms": Mapping[str, Room],
    "fixed": Fixed,
}
"""What alternates may change; what the client asks for stays the same."""
TYPES: Mapping[str, Any] = {**CHANGEABLE, "requirements": Mapping[str, Requirement]}


@dataclass(frozen=True, slots=True)
class ProjectTree:
    """A project folder before it is checked.

    tree: project, building, room_types, rooms, fixed, requirements; a room's own file is merged under its
        `layout`.
    unknown: path → place of every value said to be unknown; it is not in the tree.
    broken: paths under which a file could not be read, so that nothing is said of what it lacks.
    wording: prose by name.
    images: content by file name.
    library: the project's own library: content by file.
    """

    tree: Tree
    unknown: Mapping[Path, Place] = field(default_factory=dict)
    broken: frozenset[Path] = frozenset()
    wording: Mapping[str, str] = field(default_factory=dict)
    images: Mapping[str, bytes] = field(default_factory=dict)
    library: Mapping[str, bytes] = field(default_factory=dict)


def assembled(
    parts: FolderParts, patches: Sequence[Tree], problems: list[Problem], cleaned: "Cleaned"
) -> ProjectTree:
    """Return the tree of a project, adding what is wrong with what single rooms change.

    patches: merge patches (RFC 7396) on the whole tree, in the order in which they are applied. They change
        room types before single rooms change them; under `layout` of a room they change the room's own.
    cleaned: parts of other states of the same project.
    """
    tree, broken = parts.tree, set(parts.broken)
    for patch in patches:
        patched = merge(tree, _without_layouts(patch))
        assert isinstance(patched, Tree)
        tree = patched
    rooms, room_types = tree.get("rooms"), tree.get("room_types")
    if isinstance(rooms, Tree) and isinstance(room_types, Tree):
        rooms = _with_changes(rooms, room_types, parts.room_changes, problems, broken)
        for patch in patches:
            rooms = _with_layouts(rooms, room_types, patch)
        tree = replace(tree, entries={**tree.entries, "rooms": (tree.entries["rooms"][0], rooms)})
    tree, unknown = without_unknown(_with_single_places(tree), cleaned)
    return ProjectTree(
        tree=tree,
        unknown=unknown,
        broken=frozenset(broken),
        wording=parts.wording,
        images=parts.images,
        library=parts.library,
    )


def _with_single_places(tree: Tree) -> Tree:
    """Return a tree in which rows of seats and microphones stand place by place too."""
    inside: Mapping[str, tuple[str, ...]] = {"room_types": (), "rooms": ("layout",)}
    for top, keys in inside.items():
        collection = tree.get(top)
        if isinstance(collection, Tree):
            made = {key: (place, _spread(node, keys)) for key, (place, node) in collection.entries.items()}
            if any(made[key][1] is not node for key, (_, node) in collection.entries.items()):
                where = tree.entries[top][0]
                tree = replace(
                    tree, entries={**tree.entries, top: (where, replace(collection, entries=made))}
                )
    return tree


def _spread(node: Node, inside: tuple[str, ...]) -> Node:
    """Return a layout, or what holds it under some keys, with single places; the same one without rows."""
    if not isinstance(node, Tree):
        return node
    if not inside:
        return with_single_places(node)
    key, *rest = inside
    entry = node.entries.get(key)
    made = _spread(entry[1], tuple(rest)) if entry else None
    if entry is None or made is None or made is entry[1]:
        return node
    return replace(node, entries={**node.entries, key: (entry[0], made)})


def _without_layouts(patch: Tree) -> Tree:
    """Return a patch without what it changes of the layouts of single rooms."""
    place, rooms = patch.entries.get("rooms", (None, None))
    if place is None or not isinstance(rooms, Tree):
        return patch
    changed: dict[str, tuple[Place, Node]] = {
        tag: (
            where,
            replace(room, entries={key: one for key, one in room.entries.items() if key != "layout"})
            if isinstance(room, Tree)
            else room,
        )
        for tag, (where, room) in rooms.entries.items()
    }
    return replace(patch, entries={**patch.entries, "rooms": (place, replace(rooms, entries=changed))})


def _with_layouts(rooms: Tree, room_types: Tree, patch: Tree) -> Tree:
    """Return the rooms, each with its layout as a patch changes it."""
    changes = patch.get("rooms")
    if not isinstance(changes, Tree):
        return rooms
    entries = dict(rooms.entries)
    for tag, (_, change) in changes.entries.items():
        place, row = entries.get(tag, (None, None))
        layout = change.entries.get("layout") if isinstance(change, Tree) else None
        if place is None or not isinstance(row, Tree) or layout is None:
            continue
        own = row.get("layout")
        type_name = row.get("type")
        base = own or (room_types.get(type_name.value) if isinstance(type_name, Text) else None)
        if base is None:
            # The type is not known, and complained about where it is named.
            continue
        marked = {
            "layout": (layout[0], merge(base, layout[1])),
            "changed": (layout[0], Text("True", layout[0])),
        }
        entries[tag] = (place, replace(row, entries={**row.entries, **marked}))
    return replace(rooms, entries=entries)


def _with_changes(
    rooms: Tree,
    room_types: Tree,
    changes: Mapping[str, tuple[str, Tree | None]],
    problems: list[Problem],
    broken: set[Path],
) -> Tree:
    """Return the rooms, each with its type's layout merged with what its own file changes."""
    entries = dict(rooms.entries)
    for tag, (file, change) in changes.items():
        if tag not in entries:
            continue
        if change is None:
            broken.add(("rooms", tag, "layout"))
            continue
        place, row = entries[tag]
        if not isinstance(row, Tree):
            continue
        written = row.get("type")
        type_name = written.value if isinstance(written, Text) else ""
        base = room_types.get(type_name)
        if not isinstance(base, Tree) or ("room_types", type_name) in broken:
            broken.add(("rooms", tag, "layout"))
            continue
        problems += wrong_removals(RoomType, base, change)
        layout = merge(base, change)
        marked = {"layout": (Place(file), layout), "changed": (Place(file), Text("True", Place(file)))}
        entries[tag] = (place, replace(row, entries={**row.entries, **marked}))
    return replace(rooms, entries=entries)


def wrong_removals(annotation: Any, base: Node | None, change: Node, path: Path = ()) -> Iterator[Problem]:
    """Yield what a change removes that does not exist or cannot exist.

    annotation: the type of what is changed.
    base: what is changed.
    path: from there to what `change` changes.
    """
    if not isinstance(change, Tree):
        return
    for key, (place, inner) in change.entries.items():
        under = step(base, key) if base is not None else None
        if not (isinstance(inner, Text) and inner.is_null):
            yield from wrong_removals(annotation, under, inner, (*path, key))
            continue
        field = ".".join(str(part) for part in path)
        wanted = wanted_at(annotation, (*path, key))
        if wanted is None:
            holder = wanted_at(annotation, path)
            if holder is not None and holder.names:
                yield Problem(place, field, wanted_one_of(key, holder.names))
        elif wanted.field is None and under is None:
            known = tuple(base.entries) if isinstance(base, Tree) else ()
            yield Problem(place, field, wanted_one_of(key, known, "something to take away"))


Cleaned = dict[tuple[int, Path], tuple[Tree, Tree, dict[Path, Place]]]
"""By a part and its path: the part, what is left of it, and where it says `unknown`."""


def without_unknown(tree: Tree, cleaned: Cleaned) -> tuple[Tree, dict[Path, Place]]:
    """Return a tree without the fields whose value is `unknown`, and where they stood.

    cleaned: what was made of parts before, so that an unchanged part stays the same part.
    Only a model's field can be unknown: an entry of a collection that says so is left in, for its type to
    refuse.
    """
    unknown: dict[Path, Place] = {}
    return _without(tree, (), unknown, cleaned), unknown


def _without(tree: Tree, path: Path, unknown: dict[Path, Place], cleaned: Cleaned) -> Tree:
    """Return a tree without what is unknown: the same tree where nothing is, so that it is known again."""
    entries: dict[str, tuple[Place, Node]] = {}
    changed = False
    for key, (place, inner) in tree.entries.items():
        here = (*path, key)
        if isinstance(inner, Text) and inner.is_unknown and _is_field(here):
            unknown[here] = inner.place
            changed = True
            continue
        kept = inner
        if isinstance(inner, Tree):
            kept = (
                _without_once(inner, here, unknown, cleaned)
                if len(here) == _KNOWN_DEPTH
                else _without(inner, here, unknown, cleaned)
            )
        changed = changed or kept is not inner
        entries[key] = (place, kept)
    return replace(tree, entries=entries) if changed else tree


_KNOWN_DEPTH = 2
"""Depth of room types, rooms and the parts of other files, which are mostly unchanged as a whole."""


def _without_once(part: Tree, path: Path, unknown: dict[Path, Place], cleaned: Cleaned) -> Tree:
    known = cleaned.get((id(part), path))
    if known is None:
        found: dict[Path, Place] = {}
        # The part is kept, so that no other can take its place in memory.
        known = cleaned[id(part), path] = (part, _without(part, path, found, cleaned), found)
    unknown.update(known[2])
    return known[1]


def _is_field(path: Path) -> bool:
    wanted = wanted_at(TYPES.get(str(path[0])), path[1:])
    return wanted is not None and wanted.field is not None
