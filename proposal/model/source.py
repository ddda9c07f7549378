"""A project that can be made with any of its alternates: pure, everything it needs is read already."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import field

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.alternate import ALTERNATES, Alternate
from proposal.model.alternate_files import (
    ReadAlternate,
    conflict,
    pointed_into,
    read_alternate,
    without_rooms,
    wrong_removals_of,
)
from proposal.model.assembly import assembled
from proposal.model.checks.checking import Memory, Surroundings, checked, problems_of_tree
from proposal.model.folder import FolderParts
from proposal.model.numbers_alone import numbers_alone
from proposal.model.printed_texts import without_printed_texts
from proposal.model.project import Project
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Path, Text, node_at
from proposal.model.reading.tree import Sequence as List
from proposal.quantities.messages import shown, wanted_one_of

_ACCEPTED = ("project", "accepted_alternates")


@dataclass(frozen=True, kw_only=True)
class ProjectSource:
    """What makes a project with any set of its alternates.

    base: the project with the alternates it has accepted.
    parts: what the files say.
    surroundings: what it is checked against.
    alternates: every alternate by key, in order of the keys.
    memory: what was found good already.
    """

    base: Project
    parts: FolderParts
    surroundings: Surroundings
    alternates: Mapping[str, ReadAlternate]
    memory: Memory = field(default_factory=Memory, repr=False, compare=False)

    @property
    def accepted(self) -> tuple[str, ...]:
        """Return the keys of the alternates that the base holds, in order of application."""
        return self.base.brief.accepted_alternates

    @property
    def open(self) -> tuple[str, ...]:
        """Return the keys of the alternates that may still be chosen, in order."""
        return tuple(key for key in self.alternates if key not in self.accepted)

    @property
    def priced(self) -> tuple[str, ...]:
        """Return the keys of those among them whose price the client reads."""
        return tuple(key for key in self.open if self.alternates[key].alternate.price == "stated")

    def fingerprint(self) -> str:
        """Return SHA-256 of everything that the project follows from, whatever is chosen or varied."""
        return self._fingerprint(self.parts.tree)

    def fingerprint_but_printed(self) -> str:
        """Return SHA-256 of the same without the texts that a document prints and nothing follows from."""
        return self._fingerprint(without_printed_texts(self.parts.tree))

    def _fingerprint(self, tree: Tree) -> str:
        parts, around = self.parts, self.surroundings
        told = hashlib.sha256()
        for one in (
            tree,
            parts.room_changes,
            parts.alternates,
            parts.wording,
            parts.images,
            *around.libraries,
            *around.labour_files,
            around.standing.model_dump_json(),
            around.radio_losses.model_dump_json(),
            around.client_knowledge.model_dump_json(),
            [(name, number.model_dump_json()) for name, number in sorted(around.issued.items())],
        ):
            told.update(repr(one).encode("utf-8") + b"\0")
        return told.hexdigest()

    def numbers_fingerprint(self) -> str:
        """Return SHA-256 of everything that prices follow from: another word leaves it as it is."""
        around = self.surroundings
        told = hashlib.sha256(json.dumps(numbers_alone(self.parts)).encode("ascii"))
        for one in (
            *around.libraries,
            *around.labour_files,
            around.standing.model_dump_json(),
            around.radio_losses.model_dump_json(),
            around.client_knowledge.model_dump_json(),
            [(name, number.model_dump_json()) for name, number in sorted(around.issued.items())],
        ):
            told.update(repr(one).encode("utf-8") + b"\0")
        return told.hexdigest()

    def project(self, chosen: Sequence[str]) -> Project:
        """Return the project with some of its open alternates, applied in order of their keys.

        Raises InputError where they cannot stand together, or make something wrong of the project; every
        problem names one of them.
        """
        keys = [key for key in self.open if key in chosen]
        if not keys:
            return self.base
        alternates = [self.alternates[key] for key in keys]
        clashes = [
            problem
            for n, first in enumerate(alternates)
            for second in alternates[n + 1 :]
            if (problem := conflict(first, second)) is not None
        ]
        if clashes:
            raise InputError(clashes)
        patches = [self.alternates[key].patch for key in (*self.accepted, *keys)]
        problems: list[Problem] = []
        try:
            written = assembled(self.parts, patches, problems, self.memory.cleaned)
            return checked(written, self.surroundings, problems, self.memory, self.base.alternates)
        except InputError as error:
            raise self.caused(chosen, error) from None

    def caused(self, chosen: Sequence[str], error: InputError) -> InputError:
        """Return an error that comes of some alternates, its problems placed in their files."""
        alternates = [self.alternates[key] for key in self.open if key in chosen]
        return InputError(pointed_into(alternates, self.parts.tree, error.problems)) if alternates else error

    def varied(self, path: Path, value: str) -> Project:
        """Return the base project with one value written otherwise, its defaults and questions left out.

        path: keys from the top, such as `project`, `rules`, `cabling`, `rack_slack`.
        value: as a file would have it.
        Raises InputError where the project cannot be with that value.
        """
        place = Place("project.yaml")
        change: Tree | Text = Text(value, place, plain=True)
        for key in reversed(path):
            change = Tree({str(key): (place, change)}, place)
        assert isinstance(change, Tree)
        patches = [*(self.alternates[key].patch for key in self.accepted), change]
        problems: list[Problem] = []
        written = assembled(self.parts, patches, problems, self.memory.cleaned)
        return checked(written, self.surroundings, problems, self.memory, self.base.alternates, told=False)


def source_of(parts: FolderParts, surroundings: Surroundings, problems: list[Problem]) -> ProjectSource:
    """Return the source of a project, its base and each of its alternates checked.

    parts: what the files say.
    problems: what was wrong with the files already.
    Raises InputError with everything that is wrong with the base and with the alternates.
    """
    memory = Memory()
    alternates = _alternates(parts, problems)
    accepted = _accepted(parts, alternates, problems)
    applied = [alternates[key] for key in accepted]
    described: dict[str, Alternate] = {key: one.alternate for key, one in alternates.items()}
    patches = [one.patch for one in applied]
    base: Project | None = None
    before = tuple(problems)
    written = assembled(parts, patches, problems, memory.cleaned)
    try:
        base = checked(written, surroundings, problems, memory, described)
    except InputError as error:
        problems = list(error.problems)
    if base is None and applied:
        # What is wrong without them too is no fault of theirs.
        alone = list(before)
        alone += problems_of_tree(assembled(parts, (), alone, memory.cleaned), surroundings, memory)
        problems = [
            *(one for one in problems if one in alone),
            *pointed_into(applied, parts.tree, [one for one in problems if one not in alone]),
        ]
    known = frozenset(problems)
    for key, one in alternates.items():
        if key not in accepted and ("rooms",) not in parts.broken:
            problems += _problems_with(parts, patches, written.tree, one, surroundings, memory, known)
    if problems or base is None:
        raise InputError(problems)
    return ProjectSource(
        base=base, parts=parts, surroundings=surroundings, alternates=alternates, memory=memory
    )


def _alternates(parts: FolderParts, problems: list[Problem]) -> dict[str, ReadAlternate]:
    """Return the alternates whose files can be understood, adding what is wrong with the others."""
    found: dict[str, ReadAlternate] = {}
    folded: dict[str, str] = {}
    for key, tree in sorted(parts.alternates.items()):
        first = folded.setdefault(key.casefold(), key)
        if first != key:
            message = f"wanted names that differ in more than capitals; found {shown(key)} beside {first}"
            problems.append(Problem(Place(f"{ALTERNATES}/{key}.yaml"), "", message))
        read = read_alternate(key, tree, problems)
        if read is not None:
            found[key] = read
    return found


def _accepted(
    parts: FolderParts, alternates: Mapping[str, ReadAlternate], problems: list[Problem]
) -> tuple[str, ...]:
    """Return the keys of the alternates that the project accepts, adding what is wrong with them."""
    named = node_at(parts.tree, _ACCEPTED)
    accepted: list[str] = []
    for n, item in enumerate(named.items if isinstance(named, List) else ()):
        if not isinstance(item, Text):
            continue  # validation says so
        name = f"accepted_alternates.{n + 1}"
        if item.value not in parts.alternates:
            message = wanted_one_of(item.value, tuple(parts.alternates), "a file in alternates/")
            problems.append(Problem(item.place, name, message))
        elif item.value in accepted:
            message = f"wanted each alternate once; found {shown(item.value)} again"
            problems.append(Problem(item.place, name, message))
        elif item.value in alternates:
            accepted.append(item.value)
    return tuple(accepted)


def _problems_with(
    parts: FolderParts,
    patches: Sequence[Tree],
    base: Tree,
    one: ReadAlternate,
    surroundings: Surroundings,
    memory: Memory,
    known: frozenset[Problem],
) -> list[Problem]:
    """Return what is wrong with a project as one alternate changes it, and was not wrong before.

    patches: those that hold already; base: the tree that they make.
    known: what is wrong without it.
    """
    for_rooms = base
    if "rooms" in one.patch.entries and len(one.patch.entries) > 1:
        for_rooms = assembled(parts, [*patches, without_rooms(one.patch)], [], memory.cleaned).tree
    problems = list(wrong_removals_of(one, base, for_rooms))
    written = assembled(parts, [*patches, one.patch], problems, memory.cleaned)
    problems += problems_of_tree(written, surroundings, memory)
    new = [problem for problem in problems if problem not in known]
    return pointed_into([one], base, new) if new else []
