"""What changed between two states of a project folder, value by value, with file and line."""

from collections.abc import Iterator, Mapping
from itertools import zip_longest

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.folder import OTHER_COLUMN_NAMES, ROOM_COLUMNS
from proposal.model.reading.table_tree import read_table
from proposal.model.reading.text_files import text_of
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Node, Sequence, Text
from proposal.model.reading.yaml_tree import read_yaml

InputPath = tuple[str, ...]
_LONGEST = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class InputChange:
    """A value that is written otherwise, or in one state only.

    path: keys from the top: project, building, room_types, rooms, fixed, wording, images, library …
    before, after: as written; empty where the state does not have it.
    place: file and line in the later state, in the earlier one for what is gone.
    kind: added, removed, changed, or reordered where the same entries stand in another order.
    """

    path: InputPath
    before: str
    after: str
    place: Place
    kind: str

    @property
    def name(self) -> str:
        """The path as one word, `room_types.chamber.seats.S1.at`."""
        return ".".join(self.path)


def input_changes(before: Mapping[str, bytes], after: Mapping[str, bytes]) -> tuple[InputChange, ...]:
    """Return what changed between two states of a project folder, in order of files and lines.

    before, after: content of each file by path relative to the folder. Only files that differ are read; one
    that cannot be understood counts as a whole.
    """
    found: list[InputChange] = []
    for file in sorted({*before, *after}):
        old, new = before.get(file), after.get(file)
        if old != new:
            found += _file_changes(file, old, new)
    return tuple(sorted(found, key=lambda one: (one.place, one.path)))


def _file_changes(file: str, old: bytes | None, new: bytes | None) -> Iterator[InputChange]:
    path = _path_of(file)
    if file.endswith(".md"):
        yield _prose_change(file, path, old, new)
        return
    then = None if old is None else _tree(file, old)
    now = None if new is None else _tree(file, new)
    if (old is not None and then is None) or (new is not None and now is None):
        yield _whole(file, path, old, new)
    elif then is None or now is None:
        yield from _entries(file, path, then, now)
    else:
        yield from _nodes(then, now, path, Place(file))


def _path_of(file: str) -> InputPath:
    folder, _, name = file.rpartition("/")
    stem = name.rpartition(".")[0] or name
    if folder == "rooms":
        return ("rooms", stem, "layout")
    return (*folder.split("/"), stem if folder != "images" else name) if folder else (stem,)


def _tree(file: str, data: bytes) -> Tree | None:
    problems: list[Problem] = []
    if file == "rooms.csv":
        columns, others = ROOM_COLUMNS, OTHER_COLUMN_NAMES
        return read_table(data, file, problems, key="tag", columns=columns, other_names=others)
    return read_yaml(data, file, problems) if file.endswith(".yaml") else None


def _whole(file: str, path: InputPath, old: bytes | None, new: bytes | None) -> InputChange:
    kind = "added" if old is None else "removed" if new is None else "changed"
    return InputChange(path=path, before="", after="", place=Place(file), kind=kind)


def _prose_change(file: str, path: InputPath, old: bytes | None, new: bytes | None) -> InputChange:
    """Return a change of prose, at its first line that differs."""
    then = text_of(old, file, []) if old is not None else None
    now = text_of(new, file, []) if new is not None else None
    if then is None or now is None:
        return _whole(file, path, old, new)
    pairs = zip_longest(then.splitlines(), now.splitlines())
    line, (was, has) = next(
        ((n, pair) for n, pair in enumerate(pairs, 1) if pair[0] != pair[1]), (1, (None, None))
    )
    return InputChange(
        path=path,
        before=_short(was or ""),
        after=_short(has or ""),
        place=Place(file, line, 1),
        kind="changed",
    )


def _entries(file: str, path: InputPath, then: Tree | None, now: Tree | None) -> Iterator[InputChange]:
    """Yield the entries of a file that is in one state only: of itself one for all."""
    tree = now or then
    kind = "added" if then is None else "removed"
    if tree is None or not tree.entries:
        return
    yield InputChange(path=path, before="", after="", place=Place(file, 1, 1), kind=kind)


def _nodes(then: Node, now: Node, path: InputPath, place: Place) -> Iterator[InputChange]:
    if isinstance(then, Tree) and isinstance(now, Tree):
        for key in then.entries:
            if key not in now.entries:
                key_place, node = then.entries[key]
                yield InputChange(
                    path=(*path, key), before=written(node), after="", place=key_place, kind="removed"
                )
        for key, (key_place, node) in now.entries.items():
            if key in then.entries:
                yield from _nodes(then.entries[key][1], node, (*path, key), key_place)
            else:
                yield InputChange(
                    path=(*path, key), before="", after=written(node), place=key_place, kind="added"
                )
        old_order = [key for key in then.entries if key in now.entries]
        new_order = [key for key in now.entries if key in then.entries]
        if old_order != new_order:
            first = next(new for old, new in zip(old_order, new_order, strict=True) if old != new)
            yield InputChange(
                path=path,
                before=_short(", ".join(old_order)),
                after=_short(", ".join(new_order)),
                place=now.entries[first][0],
                kind="reordered",
            )
    elif written(then, full=True) != written(now, full=True):
        yield InputChange(
            path=path,
            before=written(then),
            after=written(now),
            place=now.place if isinstance(now, Text) else place,
            kind="changed",
        )


def written(node: Node, *, full: bool = False) -> str:
    """Return what stands in a file as one line; unless wanted in full, shortened and without entries."""
    if isinstance(node, Text):
        text = node.value
    elif isinstance(node, Sequence):
        text = "[" + ", ".join(written(item, full=True) for item in node.items) + "]"
    elif full:
        inside = (f"{key}: {written(inner, full=True)}" for key, (_, inner) in node.entries.items())
        text = "{" + ", ".join(inside) + "}"
    else:
        # What is inside may be for fewer readers than the entry as a whole.
        text = ""
    return text if full else _short(text)


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
