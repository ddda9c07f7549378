"""What may lie in a project folder, and what its files say before it is checked.

The files arrive as bytes by their path relative to the folder; nothing here opens one.
"""

from collections.abc import Mapping
from dataclasses import replace

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.pictures.in_prose import FOLDER, wrong_pictures_in_prose
from proposal.model.reading.table_tree import read_table
from proposal.model.reading.text_files import text_of
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Node, Path, Text, merge
from proposal.model.reading.yaml_tree import read_yaml
from proposal.model.rooms import Room
from proposal.model.wording.placeholders import wrong_placeholders
from proposal.quantities.messages import nearest, shown, wanted_one_of

REQUIRED_FILES = ("project.yaml", "building.yaml", "rooms.csv")
OPTIONAL_FILES = ("fixed.yaml", "requirements.yaml")
TOP_FILES = (*REQUIRED_FILES, *OPTIONAL_FILES)
# Folder → endings of the files in it; an empty tuple: whatever lies there is another command's.
FOLDERS: Mapping[str, tuple[str, ...]] = {
    "room_types": (".yaml",),
    "rooms": (".yaml",),
    "alternates": (".yaml",),
    "wording": (".md",),
    "images": (".svg", ".png", ".jpg", ".jpeg"),
    "readings": (".csv",),
    "library": (".yaml",),
    "library/labour": (".yaml",),
    "issued": (),
    "published": (),
    "build": (),
    "schema": (),
}
READ_FOLDERS = ("room_types", "rooms", "alternates", "wording", "images", "library", "library/labour")
OWN_LIBRARY = "library/"

NO_ROOM_TYPE = "wanted at least one room type, such as room_types/meeting_room.yaml; found none"

ROOM_COLUMNS = ("tag", *(name for name in Room.model_fields if name not in ("layout", "changed")))
OTHER_COLUMN_NAMES = {"room type": "type", "room_type": "type", "equipment room": "equipment_room"}


@dataclass(frozen=True, slots=True)
class FolderParts:
    """What the files of a project folder say, each for itself.

    tree: project, building, room_types, fixed, requirements, and the rooms as their schedule has them.
    room_changes: file and content of what single rooms change of their types, by tag; no content where the
        file could not be read.
    alternates: content of each alternate's file by its key.
    broken: paths under which a file could not be read, so that nothing is said of what it lacks.
    wording: prose by name.
    images: content by file name.
    library: the project's own library of equipment and prices: content by file.
    labour: the project's own labour data: content by file.
    """

    tree: Tree
    room_changes: Mapping[str, tuple[str, Tree | None]]
    alternates: Mapping[str, Tree]
    broken: frozenset[Path]
    wording: Mapping[str, str]
    images: Mapping[str, bytes]
    library: Mapping[str, bytes]
    labour: Mapping[str, bytes]


def folder_parts(files: Mapping[str, bytes], problems: list[Problem]) -> FolderParts:
    """Return what a folder's files say, adding what is wrong with them.

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
    room_changes = {
        tag: (file, read_yaml(files[file], file, problems))
        for tag, file in _in_folder(files, "rooms", ".yaml")
    }
    for tag, (file, _) in room_changes.items():
        if tag not in rooms.entries and ("rooms",) not in broken:
            near = nearest(tag, rooms.entries)
            meant = f" (did you mean {near}?)" if near else ""
            message = f"wanted a file named by the tag of a room in rooms.csv; found {shown(tag)}{meant}"
            problems.append(Problem(Place(file), "", message))
    entries: dict[str, tuple[Place, Node]] = {
        "project": (Place("project.yaml"), read("project.yaml", ("project",))),
        "building": (Place("building.yaml"), read("building.yaml", ("building",))),
        "room_types": (Place("room_types"), Tree(room_types, Place("room_types"))),
        "rooms": (Place("rooms.csv"), rooms),
    }
    for file in OPTIONAL_FILES:
        if file in files:
            top = file.removesuffix(".yaml")
            entries[top] = (Place(file), read(file, (top,)))
    return FolderParts(
        tree=Tree(entries, Place("project.yaml")),
        room_changes=room_changes,
        alternates={
            key: found
            for key, file in _in_folder(files, "alternates", ".yaml")
            if (found := read_yaml(files[file], file, problems)) is not None
        },
        broken=frozenset(broken),
        wording=_wording(files, problems),
        images={
            name.removeprefix("images/"): data for name, data in files.items() if name.startswith("images/")
        },
        library={file: files[file] for _, file in _in_folder(files, "library", ".yaml")},
        labour={file: files[file] for _, file in _in_folder(files, "library/labour", ".yaml")},
    )


def with_revision(parts: FolderParts, named: Mapping[str, str]) -> FolderParts:
    """Return what a folder's files say with the revision that a call names.

    named: fields of the revision, such as `identity`, with what stands in their place.
    """
    if not named:
        return parts
    options = {"identity": Place("--revision")}
    place = Place("project.yaml")
    entries: dict[str, tuple[Place, Node]] = {}
    for key, value in sorted(named.items()):
        where = options.get(key, Place(f"--{key}"))
        entries[key] = (where, Text(value, where))
    change: Tree | Text = Tree(entries, place)
    for key in ("revision", "project"):
        change = Tree({key: (place, change)}, place)
    tree = merge(parts.tree, change)
    assert isinstance(tree, Tree)
    return replace(parts, tree=tree)


def _in_folder(files: Mapping[str, bytes], folder: str, ending: str) -> list[tuple[str, str]]:
    """Return name and path of the files of a folder, in order."""
    return [
        (file.removeprefix(f"{folder}/").removesuffix(ending), file)
        for file in sorted(files)
        if file.startswith(f"{folder}/") and file.endswith(ending) and file.rpartition("/")[0] == folder
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
            other_names=OTHER_COLUMN_NAMES,
        )
    if found is None or len(problems) > before:
        # A row or a column may be missing; the names of rooms are not known for certain.
        broken.add(("rooms",))
    return found or Tree({}, Place("rooms.csv"))


WITHOUT_PROSE = ("cover", "index", "alternates", "requirements", "findings", "network", "radio")
"""Pages for which somebody may write prose, and which take none."""


def _wording(files: Mapping[str, bytes], problems: list[Problem]) -> dict[str, str]:
    images = sorted(name.removeprefix(FOLDER) for name in files if name.startswith(FOLDER))
    found: dict[str, str] = {}
    for name, file in _in_folder(files, "wording", ".md"):
        text = text_of(files[file], file, problems)
        if name in WITHOUT_PROSE:
            message = (
                "wanted the name of a page that takes prose, such as summary.md, or of a part of scope and "
                f"terms; found {name}.md, a page that takes none"
            )
            problems.append(Problem(Place(file), "", message))
        if text is not None:
            wrong_pictures_in_prose(text, file, images, problems)
            wrong_placeholders(text, name, file, problems)
            found[name] = text
    return found


def unexpected(path: str, is_folder: bool) -> str | None:
    """Return what is wrong with something that lies in a project folder, or None.

    path: relative to the folder.
    is_folder: whether it is a folder.
    Files that the program has no use for may lie at the top, unless their name looks like one it knows.
    """
    folder, _, name = path.rpartition("/")
    if is_folder and path in FOLDERS and folder:
        return None
    if not folder and name in (TOP_FILES if is_folder else FOLDERS):
        return f"wanted a {'file' if is_folder else 'folder'}; found a {'folder' if is_folder else 'file'}"
    if not folder:
        known = tuple(one for one in FOLDERS if "/" not in one) if is_folder else TOP_FILES
        if name in known:
            return None
        near = nearest(name, known)
        data_file = not is_folder and name.lower().endswith((".yaml", ".yml", ".csv"))
        return wanted_one_of(name, known) if near or data_file else None
    endings = FOLDERS.get(folder, FOLDERS.get(folder.partition("/")[0], ()))
    if not endings:
        return None
    if is_folder:
        return f"wanted files only in {folder}; found a folder"
    if not name.endswith(endings):
        return f"wanted a name ending in {' or '.join(endings)}; found {shown(name)}"
    return None
