"""What may lie in a project folder, and the untyped tree that its files make.

The files arrive as bytes by their path relative to the folder; nothing here opens one.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from proposal.errors import Place, Problem
from proposal.model.building import Building
from proposal.model.fields import wanted_at
from proposal.model.messages import nearest, shown, wanted_one_of
from proposal.model.project import Brief, Fixed
from proposal.model.rooms import Room, RoomType
from proposal.model.table_tree import read_table
from proposal.model.text_files import text_of
from proposal.model.tree import Mapping as Tree
from proposal.model.tree import Node, Path, Text, merge, step
from proposal.model.yaml_tree import read_yaml

REQUIRED_FILES = ("project.yaml", "building.yaml", "rooms.csv")
TOP_FILES = (*REQUIRED_FILES, "fixed.yaml")
# Folder → endings of the files in it; an empty tuple: whatever lies there is another command's.
FOLDERS: Mapping[str, tuple[str, ...]] = {
    "room_types": (".yaml",),
    "rooms": (".yaml",),
    "alternates": (".yaml",),
    "wording": (".md",),
    "images": (".svg", ".png", ".jpg", ".jpeg"),
    "readings": (".csv",),
    "library": (".yaml",),
    "issued": (),
    "published": (),
    "build": (),
    "schema": (),
}
READ_FOLDERS = ("room_types", "rooms", "wording", "images", "library")

ROOM_COLUMNS = ("tag", *(name for name in Room.model_fields if name not in ("layout", "changed")))
_OTHER_COLUMN_NAMES = {"room type": "type", "room_type": "type", "equipment room": "equipment_room"}

# First key of a path → the type of what stands under it.
TYPES: Mapping[str, Any] = {
    "project": Brief,
    "building": Building,
    "room_types": Mapping[str, RoomType],
    "rooms": Mapping[str, Room],
    "fixed": Fixed,
}


@dataclass(frozen=True, slots=True)
class ProjectTree:
    """A project folder before it is checked.

    tree: project, building, room_types, rooms, fixed; a room's own file is merged under its `layout`.
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


def project_tree(files: Mapping[str, bytes], problems: list[Problem]) -> ProjectTree:
    """Return the tree that a folder's files make, adding what is wrong with them.

    files: content by path relative to the folder, with forward slashes.
    """
    broken: set[Path] = set()

    def read(name: str, path: Path) -> Tree:
        if name in files:
            found = read_yaml(files[name], name, problems)
            if found is not None:
                return found
        broken.add(path)
        return Tree({}, Place(name))

    room_types = {
        name: (Place(file), read(file, ("room_types", name)))
        for name, file in _in_folder(files, "room_types", ".yaml")
    }
    rooms = _rooms(files, problems, broken)
    rooms = _with_changes(rooms, Tree(room_types, Place("room_types")), files, problems, broken)
    entries: dict[str, tuple[Place, Node]] = {
        "project": (Place("project.yaml"), read("project.yaml", ("project",))),
        "building": (Place("building.yaml"), read("building.yaml", ("building",))),
        "room_types": (Place("room_types"), Tree(room_types, Place("room_types"))),
        "rooms": (Place("rooms.csv"), rooms),
    }
    if "fixed.yaml" in files:
        entries["fixed"] = (Place("fixed.yaml"), read("fixed.yaml", ("fixed",)))
    tree, unknown = without_unknown(Tree(entries, Place("project.yaml")))
    return ProjectTree(
        tree=tree,
        unknown=unknown,
        broken=frozenset(broken),
        wording=_wording(files, problems),
        images={
            name.removeprefix("images/"): data for name, data in files.items() if name.startswith("images/")
        },
        library={file: files[file] for _, file in _in_folder(files, "library", ".yaml")},
    )


def _in_folder(files: Mapping[str, bytes], folder: str, ending: str) -> list[tuple[str, str]]:
    """Return name and path of the files of a folder, in order."""
    return [
        (file.removeprefix(f"{folder}/").removesuffix(ending), file)
        for file in sorted(files)
        if file.startswith(f"{folder}/") and file.endswith(ending)
    ]


def _rooms(files: Mapping[str, bytes], problems: list[Problem], broken: set[Path]) -> Tree:
    before = len(problems)
    found = None
    if "rooms.csv" in files:
        found = read_table(
            files["rooms.csv"],
            "rooms.csv",
            problems,
            key="tag",
            columns=ROOM_COLUMNS,
            other_names=_OTHER_COLUMN_NAMES,
        )
    if found is None or len(problems) > before:
        # A row or a column may be missing; the names of rooms are not known for certain.
        broken.add(("rooms",))
    return found or Tree({}, Place("rooms.csv"))


def _with_changes(
    rooms: Tree, room_types: Tree, files: Mapping[str, bytes], problems: list[Problem], broken: set[Path]
) -> Tree:
    """Return the rooms, each with its type's layout merged with what its own file changes."""
    entries = dict(rooms.entries)
    for tag, file in _in_folder(files, "rooms", ".yaml"):
        change = read_yaml(files[file], file, problems)
        if tag not in entries:
            if ("rooms",) not in broken:
                near = nearest(tag, entries)
                meant = f" (did you mean {near}?)" if near else ""
                message = f"wanted a file named by the tag of a room in rooms.csv; found {shown(tag)}{meant}"
                problems.append(Problem(Place(file), "", message))
            continue
        if change is None:
            broken.add(("rooms", tag, "layout"))
            continue
        place, row = entries[tag]
        assert isinstance(row, Tree)
        written = row.get("type")
        type_name = written.value if isinstance(written, Text) else ""
        base = room_types.get(type_name)
        if base is None or ("room_types", type_name) in broken:
            broken.add(("rooms", tag, "layout"))
            continue
        problems += _wrong_removals(base, change, ())
        layout = merge(base, change)
        marked = {"layout": (Place(file), layout), "changed": (Place(file), Text("True", Place(file)))}
        entries[tag] = (place, replace(row, entries={**row.entries, **marked}))
    return replace(rooms, entries=entries)


def _wrong_removals(base: Node | None, change: Node, path: Path) -> Iterator[Problem]:
    """Yield what a change takes away though no such thing can be there or is there."""
    if not isinstance(change, Tree):
        return
    for key, (place, inner) in change.entries.items():
        under = step(base, key) if base is not None else None
        if not (isinstance(inner, Text) and inner.is_null):
            yield from _wrong_removals(under, inner, (*path, key))
            continue
        field = ".".join(str(part) for part in path)
        wanted = wanted_at(RoomType, (*path, key))
        if wanted is None:
            holder = wanted_at(RoomType, path)
            if holder is not None and holder.names:
                yield Problem(place, field, wanted_one_of(key, holder.names))
        elif wanted.field is None and under is None:
            known = tuple(base.entries) if isinstance(base, Tree) else ()
            yield Problem(place, field, wanted_one_of(key, known, "something to take away"))


def _wording(files: Mapping[str, bytes], problems: list[Problem]) -> dict[str, str]:
    return {
        name: text
        for name, file in _in_folder(files, "wording", ".md")
        if (text := text_of(files[file], file, problems)) is not None
    }


def without_unknown(tree: Tree) -> tuple[Tree, dict[Path, Place]]:
    """Return a tree without the fields whose value is `unknown`, and where they stood.

    Only a model's field can be unknown: an entry of a collection that says so is left in, for its type to
    refuse.
    """
    unknown: dict[Path, Place] = {}
    return _without(tree, (), unknown), unknown


def _without(tree: Tree, path: Path, unknown: dict[Path, Place]) -> Tree:
    entries: dict[str, tuple[Place, Node]] = {}
    for key, (place, inner) in tree.entries.items():
        here = (*path, key)
        if isinstance(inner, Text) and inner.is_unknown and _is_field(here):
            unknown[here] = inner.place
        else:
            entries[key] = (place, _without(inner, here, unknown) if isinstance(inner, Tree) else inner)
    return replace(tree, entries=entries)


def _is_field(path: Path) -> bool:
    wanted = wanted_at(TYPES.get(str(path[0])), path[1:])
    return wanted is not None and wanted.field is not None


def unexpected(path: str, is_folder: bool) -> str | None:
    """Return what is wrong with something that lies in a project folder, or None.

    path: relative to the folder.
    is_folder: whether it is a folder.
    Files that the program has no use for may lie at the top, unless their name looks like one it knows.
    """
    folder, _, name = path.rpartition("/")
    if not folder and name in (TOP_FILES if is_folder else FOLDERS):
        return f"wanted a {'file' if is_folder else 'folder'}; found a {'folder' if is_folder else 'file'}"
    if not folder:
        known = tuple(FOLDERS) if is_folder else TOP_FILES
        if name in known:
            return None
        near = nearest(name, known)
        data_file = not is_folder and name.lower().endswith((".yaml", ".yml", ".csv"))
        return wanted_one_of(name, known) if near or data_file else None
    endings = FOLDERS.get(folder.partition("/")[0], ())
    if not endings:
        return None
    if is_folder:
        return f"wanted files only in {folder}; found a folder"
    if not name.endswith(endings):
        return f"wanted a name ending in {' or '.join(endings)}; found {shown(name)}"
    return None
