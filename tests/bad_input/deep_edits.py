"""Edits that know what files mean: values of the model's own types, entries, rows, files, alternates."""

import csv
import io
import random
import re
import typing
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from proposal.model.alternate import AlternateFile
from proposal.model.assembly import TYPES
from proposal.model.equipment.library import Library
from proposal.model.folder import OTHER_COLUMN_NAMES, ROOM_COLUMNS
from proposal.model.labour.labour import Labour
from proposal.model.pathways.building import Building
from proposal.model.project import Brief, Fixed
from proposal.model.reading.fields import wanted_at
from proposal.model.rooms import Room, RoomType
from tests.bad_input import random_edits
from tests.bad_input.bases import WEIGHTS, Base, base
from tests.bad_input.odd_values import ODD_NAMES, ODD_TEXTS, key_of, odd, wild
from tests.editing import PlainDumper

Path = tuple[str | int, ...]
MOST_COPIES = 3000


@dataclass
class Folder:
    """A project's files, and those of a company's library under `company/`, while they are edited."""

    base: Base
    files: dict[str, bytes]

    def tree(self, path: str) -> Any:
        """Return a YAML file as plain data, an empty mapping where it is none."""
        try:
            return yaml.load(self.files.get(path, b"{}"), yaml.CBaseLoader) or {}
        except (yaml.YAMLError, UnicodeDecodeError):
            return {}

    def put(self, path: str, tree: Any) -> None:
        """Write plain data as a YAML file, every text plain where it can be."""
        text = yaml.dump(tree, Dumper=PlainDumper, sort_keys=False, allow_unicode=True)
        self.files[path] = text.encode("utf-8", "surrogatepass")

    def trees(self, *beginnings: str) -> list[str]:
        """Return the paths of YAML files in some places, in order."""
        return sorted(path for path in self.files if path.endswith(".yaml") and path.startswith(beginnings))

    def rows(self) -> list[list[str]]:
        """Return the room schedule as rows of cells, the heading first."""
        text = self.files.get("rooms.csv", b"").decode("utf-8", "replace")
        return list(csv.reader(io.StringIO(text))) or [["tag"]]

    def put_rows(self, rows: list[list[str]]) -> None:
        """Write the room schedule."""
        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerows(rows)
        self.files["rooms.csv"] = text.getvalue().encode("utf-8", "surrogatepass")


Edit = Callable[[random.Random, Folder], None]
_ANY = ("project.yaml", "building.yaml", "fixed.yaml", "room_types/", "rooms/", "alternates/", "library/")


def annotation_of(path: str) -> Any:
    """Return the type of what a YAML file holds."""
    if path.startswith("company/labour/"):
        return Labour
    if path.startswith(("company/", "library/")):
        return Library
    if path.startswith("alternates/"):
        return AlternateFile
    if path.startswith(("room_types/", "rooms/")):
        return RoomType
    return {"project.yaml": Brief, "building.yaml": Building, "fixed.yaml": Fixed}.get(path, Brief)


def _spot(chance: random.Random, folder: Folder, annotation: Any, tree: Any) -> Path:
    """Return a path of keys to a field of a type, there or not."""
    path: Path = ()
    while True:
        wanted = wanted_at(annotation, path)
        if wanted is None or (path and chance.random() < 0.08):
            return path
        held = tree if isinstance(tree, dict | list) else {}
        origin = typing.get_origin(wanted.annotation)
        key: str | int
        if wanted.names:
            names = [name for name in wanted.names if name in held] if chance.random() < 0.6 else []
            key = chance.choice(names or wanted.names)
        elif isinstance(origin, type) and issubclass(origin, Mapping):
            is_there = isinstance(held, dict) and held and chance.random() < 0.85
            key = chance.choice(sorted(held)) if is_there else _name(chance, folder, path)
        elif isinstance(held, list) and held:
            key = chance.randrange(len(held))
        else:
            return path
        path = (*path, key)
        tree = at_key(held, key)


def at_key(tree: Any, key: str | int) -> Any:
    """Return what stands under a key or an index, None where nothing does."""
    if isinstance(tree, dict):
        return tree.get(str(key))
    if isinstance(tree, list) and isinstance(key, int) and key < len(tree):
        return tree[key]
    return None


def with_value(tree: Any, path: Path, value: Any) -> Any:
    """Return a tree with a value at a path, what leads there made where it is not."""
    if not path:
        return value
    key = path[0]
    if isinstance(tree, list) and isinstance(key, int) and key < len(tree):
        return [*tree[:key], with_value(tree[key], path[1:], value), *tree[key + 1 :]]
    held = dict(tree) if isinstance(tree, dict) else {}
    held[str(key)] = with_value(held.get(str(key)), path[1:], value)
    return held


def _leaves(tree: Any, path: Path = ()) -> Iterator[Path]:
    if path:
        yield path
    if isinstance(tree, dict):
        for key, inner in tree.items():
            yield from _leaves(inner, (*path, key))
    elif isinstance(tree, list):
        for n, inner in enumerate(tree):
            yield from _leaves(inner, (*path, n))


def _value(chance: random.Random, folder: Folder, annotation: Any, path: Path) -> Any:
    """Return an odd value for a path of a type."""
    wanted = wanted_at(annotation, path)
    names = [str(key) for key in path if isinstance(key, str)] or [""]
    return wild(chance) if wanted is None else odd(chance, wanted, folder.base, names[-1])


def odd_field(chance: random.Random, folder: Folder) -> None:
    """Write an odd value that a field may hold."""
    file = chance.choice(folder.trees("project", "building", "fixed", "room_types/", "rooms/", "room_types/"))
    annotation, tree = annotation_of(file), folder.tree(file)
    path = _spot(chance, folder, annotation, tree)
    if path:
        folder.put(file, with_value(tree, path, _value(chance, folder, annotation, path)))


def odd_number(chance: random.Random, folder: Folder) -> None:
    """Make a number that is written somewhere larger or smaller."""
    file = chance.choice(folder.trees(*_ANY))
    text = folder.files[file].decode("utf-8", "replace")
    found = list(re.finditer(r"(?<![\w#.-])[0-9]+(?:\.[0-9]+)?(?= ?[\w%°Ω\"'\],}\n])", text))
    if found:
        one = chance.choice(found)
        factor = 10 ** chance.uniform(-1, 1) if chance.random() < 0.8 else 10 ** chance.uniform(-6, 9)
        scaled = float(one[0]) * factor
        new = f"{scaled:.2f}" if "." in one[0] or scaled < 1 else str(round(scaled))
        folder.files[file] = (text[: one.start()] + new + text[one.end() :]).encode()


def odd_entry_of_the_library(chance: random.Random, folder: Folder) -> None:
    """Let the project's or the company's library say one field of a device or material otherwise."""
    kind = chance.choice(tuple(Library.model_fields))
    entry = wanted_at(Library, (kind, "x"))
    codes = folder.base.keys.get(kind, ()) or folder.base.texts.get("model", ())
    if entry is None or not codes:
        return
    code = chance.choice(codes)
    path = _spot(chance, folder, entry.annotation, {})
    if not path or path[0] in ("kind", "model", "layer"):
        return
    file = chance.choice(("library/own.yaml", "library/own.yaml", "company/own.yaml"))
    value = _value(chance, folder, entry.annotation, path)
    folder.put(file, with_value(folder.tree(file), (kind, code, *path), value))


def odd_labour(chance: random.Random, folder: Folder) -> None:
    """Let the company's labour data say something otherwise."""
    file = "company/labour/own.yaml"
    tree = folder.tree(file)
    path = _spot(chance, folder, Labour, tree)
    if path:
        folder.put(file, with_value(tree, path, _value(chance, folder, Labour, path)))


def odd_cell(chance: random.Random, folder: Folder) -> None:
    """Write an odd value into a cell of the room schedule."""
    heading, *rows = folder.rows()
    if not rows or not heading:
        return
    row, n = chance.choice(rows), chance.randrange(len(heading))
    column = re.sub(r" *\(.*\)", "", heading[n]).strip()
    name = OTHER_COLUMN_NAMES.get(column, column)
    wanted = wanted_at(Room, (name,))
    new = odd(chance, wanted, folder.base, name) if wanted is not None else chance.choice(ODD_NAMES)
    if "(" in heading[n]:
        new = new.partition(" ")[0]
    row[n : n + 1] = [str(new)]
    folder.put_rows([heading, *rows])


def further_room(chance: random.Random, folder: Folder) -> None:
    """Add a room like another one, at some distance or none."""
    heading, *rows = folder.rows()
    if not rows:
        return
    row = list(chance.choice(rows))
    for n, column in enumerate(heading[: len(row)]):
        if column == "tag":
            row[n] = chance.choice((f"B{chance.randrange(1000)}", *ODD_NAMES))
        elif column[:1] in ("x", "y"):
            with_unit = " m" if "(" not in column else ""
            row[n] = f"{10 ** chance.uniform(0, 3):.1f}{with_unit}"
    rows.insert(chance.randrange(len(rows) + 1), row)
    folder.put_rows([heading, *rows])


def table_otherwise(chance: random.Random, folder: Folder) -> None:
    """Change the shape of the room schedule: a row, a column, a heading."""
    heading, *rows = folder.rows()
    n = chance.randrange(len(heading))
    match chance.randrange(6):
        case 0 if rows:
            del rows[chance.randrange(len(rows))]
        case 1 if rows:
            rows.append(list(chance.choice(rows)))
        case 2:
            for row in (heading, *rows):
                del row[n : n + 1]
        case 3:
            heading[n] = chance.choice((*ROOM_COLUMNS, "", "x (ft)", "y (in)", "rotation (deg)", *ODD_TEXTS))
        case 4:
            heading.append(chance.choice(ROOM_COLUMNS))
            for row in rows:
                row.append(chance.choice(("", "yes", "0", *ODD_NAMES)))
        case _:
            rows = rows[::-1]
    folder.put_rows([heading, *rows])


def wild_value(chance: random.Random, folder: Folder) -> None:
    """Put something that nobody means where a value or an entry is."""
    file = chance.choice(folder.trees(*_ANY, "company/"))
    tree = folder.tree(file)
    paths = list(_leaves(tree))
    if paths:
        folder.put(file, with_value(tree, chance.choice(paths), wild(chance)))


def wild_key(chance: random.Random, folder: Folder) -> None:
    """Rename, take away, double, add or reorder entries."""
    file = chance.choice(folder.trees(*_ANY, "company/"))
    tree = folder.tree(file)
    holders = [path for path in ((), *_leaves(tree)) if isinstance(_whole(tree, path), dict)]
    if not holders:
        return
    path = chance.choice(holders)
    held = dict(_whole(tree, path))
    if held:
        key = chance.choice(sorted(held))
        match chance.randrange(6):
            case 0:
                del held[key]
            case 1:
                held = {
                    (_name(chance, folder, path) if name == key else name): one for name, one in held.items()
                }
            case 2:
                held[_name(chance, folder, path)] = held[key]
            case 3:
                held[chance.choice(ODD_TEXTS)] = wild(chance)
            case 4:
                held = dict(reversed(held.items()))
            case _:
                held[key] = held[chance.choice(sorted(held))]
    folder.put(file, with_value(tree, path, held))


def _name(chance: random.Random, folder: Folder, path: Path) -> str:
    return key_of(chance, folder.base, str(path[-1]) if path else "")


def _whole(tree: Any, path: Path) -> Any:
    for key in path:
        tree = at_key(tree, key)
    return tree


def many_copies(chance: random.Random, folder: Folder) -> None:
    """Copy an entry of a collection many times."""
    file = chance.choice(folder.trees("building", "room_types/", "fixed", "project"))
    tree = folder.tree(file)
    holders = [path for path in _leaves(tree) if isinstance(_whole(tree, path), dict) and _whole(tree, path)]
    if holders:
        path = chance.choice(holders)
        held = dict(_whole(tree, path))
        key = chance.choice(sorted(held))
        stem = re.sub(r"[0-9]*$", "", key) or "X"
        count = round(10 ** chance.uniform(0, 1.5 if chance.random() < 0.9 else 3.5))
        held |= {f"{stem}{100 + n}": held[key] for n in range(min(count, MOST_COPIES))}
        folder.put(file, with_value(tree, path, held))


def alternate(chance: random.Random, folder: Folder) -> None:
    """Write an alternate of one to three changes; sometimes it is accepted."""
    patch: Any = {}
    for _ in range(chance.choice((1, 1, 2, 3))):
        top = chance.choice(("project", "building", "room_types", "room_types", "rooms", "rooms", "fixed"))
        under = _merged(folder, top)
        path = _spot(chance, folder, TYPES[top], under)
        value = _value(chance, folder, TYPES[top], path)
        if chance.random() < 0.15:
            value = chance.choice((None, None, wild(chance)))
        patch = with_value(patch, (top, *path), value)
    key = chance.choice(("further", "third_room", "spares", "goosenecks"))
    folder.put(f"alternates/{key}.yaml", {"name": "Otherwise", "description": "To choose.", "changes": patch})
    if chance.random() < 0.15:
        project = folder.tree("project.yaml")
        folder.put("project.yaml", with_value(project, ("accepted_alternates",), [key]))


def _merged(folder: Folder, top: str) -> Any:
    """Return what an alternate changes, as far as the names in it are known."""
    if top == "room_types":
        return {path[11:-5]: folder.tree(path) for path in folder.trees("room_types/")}
    if top == "rooms":
        return {tag: {"layout": {}} for tag in folder.base.keys.get("rooms", ())}
    return folder.tree(f"{top}.yaml")


def wording(chance: random.Random, folder: Folder) -> None:
    """Write prose of another kind, under a name that is known or not."""
    known = sorted(path for path in folder.files if path.startswith("wording/"))
    names = (*known, "wording/scope.md", "wording/price.md", "wording/system.md", "wording/own.md")
    signs = (*ODD_TEXTS, "", "", "---", "```", "| a | b |", "|--|--|", "> x", "<!--", "[1]: /x")
    lines = [chance.choice(signs) for _ in range(chance.randrange(12))]
    folder.files[chance.choice(names)] = "\n".join(lines).encode()


def files_otherwise(chance: random.Random, folder: Folder) -> None:
    """Take a file away, empty it, copy another over it, or call it otherwise."""
    path, other = (chance.choice(sorted(folder.files)) for _ in range(2))
    match chance.randrange(5):
        case 0:
            del folder.files[path]
        case 1:
            folder.files[path] = chance.choice(
                (b"", b"\n", b"# none\n", b"{}", b"[]", b"null\n", b"\xef\xbb\xbf")
            )
        case 2:
            folder.files[path] = folder.files[other]
        case 3:
            place, _, name = path.rpartition("/")
            ending = name.rpartition(".")[2]
            stem = chance.choice(("other", "B101", "hall", "Ünï", "two words", "index", "a.b"))
            folder.files[f"{place}/{stem}.{ending}" if place else f"{stem}.{ending}"] = folder.files.pop(path)
        case _:
            folder.files["images/logo.svg"] = chance.choice(
                (b"<svg/>", b"<svg xmlns='http://www.w3.org/2000/svg' width='1e9' height='0'/>", b"", b"<a/>")
            )


def text_edit(chance: random.Random, folder: Folder) -> None:
    """Edit bytes, lines, words or marks of a file, whatever they mean."""
    changed = random_edits.edited(chance.randrange(1 << 30), folder.files)
    folder.files |= changed


# What may still compute, and what hardly can; each as often as it stands here.
GENTLE: tuple[Edit, ...] = (
    odd_field, odd_field, odd_field, odd_field, odd_number, odd_number, odd_number, odd_cell, further_room,
    alternate, odd_entry_of_the_library, odd_entry_of_the_library, odd_labour, wording, many_copies,
)  # fmt: skip
ROUGH: tuple[Edit, ...] = (
    *GENTLE, wild_value, wild_value, wild_value, wild_key, wild_key, table_otherwise, files_otherwise,
    text_edit, text_edit, text_edit,
)  # fmt: skip


def edited(seed: int, weights: Mapping[str, int] = WEIGHTS) -> tuple[Folder, list[str]]:
    """Return a good project with some random edits, the same ones for the same seed, and what they were.

    weights: how often each of the good projects is taken.
    """
    chance = random.Random(seed)
    names = sorted(weights)
    one = base(chance.choices(names, [weights[name] for name in names])[0])
    company = {f"company/{path}": data for path, data in one.company.items()}
    folder = Folder(one, {**one.files, **company})
    edits = GENTLE if chance.random() < 0.6 else ROUGH
    made = [chance.choice(edits) for _ in range(chance.choice((1, 1, 2, 2, 3, 4)))]
    for edit in made:
        edit(chance, folder)
    return folder, [one.name, *(edit.__name__ for edit in made)]
