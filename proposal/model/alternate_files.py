"""Files of alternates: reading them, checking them, and which alternates exclude each other."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from pydantic import ValidationError

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.alternate import ALTERNATES, Alternate, AlternateFile
from proposal.model.assembly import CHANGEABLE, TYPES, wrong_removals
from proposal.model.folder import ROOM_COLUMNS
from proposal.model.reading.fields import wanted_at
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Node, Path, Text, plain, step
from proposal.model.reading.tree import Sequence as List
from proposal.model.reading.validation_messages import dotted, problems_of
from proposal.quantities.messages import shown, wanted_one_of

# What all of a proposal has in common, whatever is chosen: prices and revisions must stay comparable.
COMMON_FIELDS = ("accepted_alternates", "currency", "history", "locale", "revision", "units")
_KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,59}")


@dataclass(frozen=True, slots=True)
class ReadAlternate:
    """An alternate and its merge patch on the whole project.

    key: name of its file, without ending.
    """

    key: str
    alternate: Alternate
    patch: Tree

    @property
    def file(self) -> str:
        """Return the path of its file."""
        return f"{ALTERNATES}/{self.key}.yaml"


def read_alternate(key: str, tree: Tree, problems: list[Problem]) -> ReadAlternate | None:
    """Return what the file of an alternate says, or None after adding what is wrong with it.

    key: name of the file without its ending.
    tree: what the file holds.
    problems: gets what is wrong.
    """
    before = len(problems)
    if not _KEY.fullmatch(key):
        wanted = "wanted a name of letters, digits, - and _, such as gooseneck_microphones.yaml"
        problems.append(Problem(Place(f"{ALTERNATES}/{key}.yaml"), "", f"{wanted}; found {shown(key)}.yaml"))
    read: AlternateFile | None = None
    try:
        read = AlternateFile.model_validate(plain(tree))
    except ValidationError as error:
        problems += problems_of(error, AlternateFile, tree, {}, dotted)
    patch = tree.get("changes")
    if isinstance(patch, Tree):
        problems += _not_changeable(patch)
    if read is None or not isinstance(patch, Tree) or len(problems) > before:
        return None
    described = Alternate.model_validate(read.model_dump(exclude={"changes"}))
    return ReadAlternate(key, described, _with_what_is_given_up(patch, tree.get("gives_up")))


def _with_what_is_given_up(patch: Tree, named: Node | None) -> Tree:
    """Return a patch that takes away the requirements that an alternate does not meet, too."""
    if not isinstance(named, List) or not named.items:
        return patch
    removals: dict[str, tuple[Place, Node]] = {
        one.value: (one.place, Text("null", one.place, plain=True))
        for one in named.items
        if isinstance(one, Text)
    }
    return replace(
        patch, entries={**patch.entries, "requirements": (named.place, Tree(removals, named.place))}
    )


def _not_changeable(patch: Tree) -> Iterator[Problem]:
    """Yield what a patch names at its top that no alternate can change."""
    for top, (place, node) in patch.entries.items():
        if top not in CHANGEABLE:
            yield Problem(place, "changes", wanted_one_of(top, tuple(CHANGEABLE)))
        elif not isinstance(node, Tree):
            found = "a list" if not isinstance(node, Text) else shown(node.value)
            yield Problem(node.place, f"changes.{top}", f"wanted names with values; found {found}")
    project = patch.get("project")
    if isinstance(project, Tree):
        for name in COMMON_FIELDS:
            if name in project.entries:
                wanted = "wanted what one alternate alone may change"
                message = f"{wanted}; found {name}, which the whole proposal has in common"
                yield Problem(project.entries[name][0], "changes.project", message)
    rooms = patch.get("rooms")
    for tag, (_, room) in rooms.entries.items() if isinstance(rooms, Tree) else ():
        if isinstance(room, Tree) and "changed" in room.entries:
            message = wanted_one_of("changed", (*ROOM_COLUMNS[1:], "layout"))
            yield Problem(room.entries["changed"][0], f"changes.rooms.{shown(tag)}", message)


def without_rooms(patch: Tree) -> Tree:
    """Return a merge patch without its changes to single rooms."""
    return replace(patch, entries={top: one for top, one in patch.entries.items() if top != "rooms"})


def wrong_removals_of(one: ReadAlternate, base: Tree, for_rooms: Tree) -> Iterator[Problem]:
    """Yield what an alternate removes that does not exist or cannot exist.

    base: the tree of the project without it.
    for_rooms: the same with what it changes beside rooms.
    """
    for top, (_, change) in one.patch.entries.items():
        under = base.get(top)
        rooms = for_rooms.get("rooms")
        if top == "rooms" and isinstance(rooms, Tree):
            under = _with_every_layout(rooms, for_rooms.get("room_types"))
        for problem in wrong_removals(TYPES[top], under, change):
            inside = f".{problem.field}" if problem.field else ""
            yield replace(
                problem, field="gives_up" if top == "requirements" else shown(f"changes.{top}{inside}")
            )


def _with_every_layout(rooms: Tree, room_types: Node | None) -> Tree:
    """Return the rooms, each with the layout that holds for it."""
    entries = dict(rooms.entries)
    for tag, (place, room) in rooms.entries.items():
        type_name = step(room, "type")
        layout = step(room_types, type_name.value) if room_types and isinstance(type_name, Text) else None
        if isinstance(room, Tree) and "layout" not in room.entries and layout is not None:
            entries[tag] = (place, replace(room, entries={**room.entries, "layout": (place, layout)}))
    return replace(rooms, entries=entries)


def conflict(first: ReadAlternate, second: ReadAlternate) -> Problem | None:
    """Return why two alternates cannot be chosen together, or None where they can.

    They cannot where both decide one thing differently: the later one would undo the other.
    """
    for path, place in _clashes(first.patch, second.patch, ()):
        name = shown(".".join(("changes", *(str(key) for key in path))))
        message = f"wanted what no other chosen alternate decides; found it decided in {first.file} too"
        return Problem(place, name, message)
    return None


def _clashes(first: Node, second: Node, path: Path) -> Iterator[tuple[Path, Place]]:
    """Yield path and place, in the second, of all that two patches decide differently."""
    if isinstance(first, Tree) and isinstance(second, Tree):
        for key, (_, inner) in second.entries.items():
            if key in first.entries:
                yield from _clashes(first.entries[key][1], inner, (*path, key))
    elif not _same(first, second):
        yield path, second.place


def _same(first: Node, second: Node) -> bool:
    if isinstance(first, Text) and isinstance(second, Text):
        return first.value == second.value and first.is_null == second.is_null
    return type(first) is type(second) and plain(first) == plain(second)


def pointed_into(
    alternates: Sequence[ReadAlternate], base: Tree, problems: Sequence[Problem]
) -> list[Problem]:
    """Return the problems that alternates cause, each with its place in a file of an alternate.

    base: the tree of the project without them.
    problems: some stand where the base says what the alternate has made wrong.
    A new entry that lacks nearly everything seems meant for a known one, and is told as one problem.
    """
    files = {one.file for one in alternates}
    leaves = [(one, path, place) for one in alternates for path, place in _leaves(one.patch, ())]
    found: list[Problem] = []
    for problem in problems:
        if problem.place.file in files:
            found.append(problem)
            continue
        words = _words(f"{problem.field} {problem.message.partition('; found ')[2]}")
        _, path, place = max(leaves, key=lambda leaf: len(words & {str(key) for key in leaf[1]}))
        where = f"{problem.place}: {problem.field}" if problem.field else str(problem.place)
        name = shown(".".join(("changes", *(str(key) for key in path))))
        found.append(Problem(place, name, f"{problem.message} ({where})"))
    return _misspelt_as_one(alternates, base, _once(found))


def _once(problems: Sequence[Problem]) -> list[Problem]:
    """Return the problems, what is wrong with a room type not said again of the rooms that change it."""

    def inside(problem: Problem) -> tuple[Place, str, str]:
        parts = problem.field.split(".")
        own = parts[4:] if parts[1:2] == ["rooms"] and parts[3:4] == ["layout"] else parts[3:]
        return problem.place, ".".join(own), problem.message

    of_types = {inside(one) for one in problems if one.field.startswith("changes.room_types.")}
    return [
        one for one in problems if not one.field.startswith("changes.rooms.") or inside(one) not in of_types
    ]


def _leaves(node: Node, path: Path) -> Iterator[tuple[Path, Place]]:
    """Yield path and place of everything that a patch decides."""
    if not isinstance(node, Tree):
        return
    for key, (place, inner) in node.entries.items():
        if isinstance(inner, Tree) and inner.entries:
            yield from _leaves(inner, (*path, key))
        else:
            yield (*path, key), place


def _words(text: str) -> set[str]:
    return set(re.findall(r"[^\s.,:;()]+", text))


def _misspelt_as_one(
    alternates: Sequence[ReadAlternate], base: Tree, problems: list[Problem]
) -> list[Problem]:
    """Return the problems, those of an entry whose name seems misspelt as one problem."""
    for one in alternates:
        for path, place, known in _new_entries(one.patch, base, ()):
            field = ".".join(("changes", *(str(key) for key in path)))
            lacking = [
                problem
                for problem in problems
                if problem.field.startswith(f"{field}.") and problem.message.endswith("; found nothing")
            ]
            if lacking:
                wanted = "one to change, or all that a new one needs"
                message = wanted_one_of(str(path[-1]), known, wanted)
                problems = [problem for problem in problems if problem not in lacking]
                problems.append(Problem(place, field.rpartition(".")[0], message))
    return problems


def _new_entries(patch: Node, base: Node | None, path: Path) -> Iterator[tuple[Path, Place, tuple[str, ...]]]:
    """Yield path, place and known names of every entry that a patch adds to a collection."""
    if not isinstance(patch, Tree):
        return
    for key, (place, inner) in patch.entries.items():
        under = step(base, key) if base is not None else None
        here = (*path, key)
        wanted = wanted_at(CHANGEABLE.get(str(here[0])), here[1:])
        if under is None and len(here) > 1 and wanted is not None and wanted.field is None:
            yield here, place, tuple(base.entries) if isinstance(base, Tree) else ()
        else:
            yield from _new_entries(inner, under, here)
